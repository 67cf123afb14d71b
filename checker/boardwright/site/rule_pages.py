"""The pages of the rules: each made from its docstring, its limits and its cases."""

from __future__ import annotations

import re
from collections.abc import Iterator
from importlib import import_module
from itertools import groupby

from markupsafe import Markup

from boardwright.limits import LIMITS, Limit
from boardwright.report.prose import say_limit, with_limits
from boardwright.rules.registry import LESSONS, RULES, Rule
from boardwright.site.boards import Boards, Case
from boardwright.site.front import front_matter
from boardwright.site.markup import prose, rows, table, tag
from boardwright.site.page import Page
from boardwright.site.unfit import Unfit, choose

FOLDER = "reference/rules"

_LIMIT = re.compile(r"\{\{ limit ([\w-]+) \}\}")

_CASES = {
    "trips": "It trips",
    "near-miss": "It nearly trips",
    "missing-data": "Something is missing",
}


def limits_of(rule: Rule) -> list[Limit]:
    """The thresholds that a rule's text names.

    Raises: Unfit, if one does not exist.
    """
    try:
        return [choose(LIMITS, name, "a limit") for name in dict.fromkeys(_LIMIT.findall(rule.page))]
    except Unfit as error:
        raise Unfit(f"rule `{rule.id}`: {error}") from None


def source(rule: Rule) -> str:
    """Where a rule comes from, as its docstring says it."""
    return with_limits(rule.page.rpartition("## Source\n")[2].strip())


def families() -> Iterator[tuple[str, str, list[Rule]]]:
    """Each family: its title, what it is about, and its rules."""
    for family, rules in groupby(RULES.values(), key=lambda rule: rule.family):
        about = (import_module(f"boardwright.rules.{family}").__doc__ or family).strip()
        title, _, what = about.partition(": ")
        yield title, what[:1].upper() + what[1:], list(rules)


def rule_page(rule: Rule, boards: Boards) -> str:
    """The Markdown of a rule's page."""
    thresholds = limits_of(rule)
    first = with_limits(rule.page).split("\n\n")[0].partition("\n")[2]
    cases = boards.cases[rule.id]
    parts = [
        front_matter(rule.title, " ".join(first.split())),
        f"# {rule.title}",
        f"{{{{ rule {rule.id} }}}}",
        rule.page,
    ]
    if thresholds:
        parts += ["## Thresholds { #thresholds }", f"{{{{ thresholds {rule.id} }}}}"]
    parts += [
        "## Cases { #cases }",
        "Pieces of boards that the tests hold this rule to. What a piece does not say is not known.",
        *(_case(case, name) for name, case in cases.items()),
    ]
    return "\n\n".join(parts) + "\n"


def _case(case: Case, name: str) -> str:
    title = _CASES.get(name, name.replace("-", " ").capitalize())
    return f"### {title} {{ #{name} }}\n\n{{{{ case {case.rule} {name} }}}}"


def head(page: Page, rule: Rule) -> Markup:
    """What stands below a rule's title: its severities, its name, its lesson, and what it gives way to."""
    severities = [page.kinds[each].tag for each in rule.severities]
    lesson = tag("a", {"href": page.link(rule.lesson_link)}, LESSONS[rule.lesson])
    facts = [
        tag("p", {"class": "bw-rule__severities"}, severities),
        tag("p", {}, "Its name is ", tag("code", {}, rule.id), ". It is taught in ", lesson, "."),
    ]
    if rule.explained_by:
        others = [tag("a", {"href": page.link(RULES[name].page_link)}, RULES[name].title) for name in rule.explained_by]
        joined = [part for place, other in enumerate(others) for part in ((" or " if place else None), other)]
        facts.append(tag("p", {}, "It is folded under ", joined, " where that says the same about the same thing."))
    return tag("div", {"class": "bw-rule"}, facts)


def thresholds(page: Page, rule: Rule) -> Markup:
    """The limits that a rule names, with why they are what they are."""
    each = [
        (tag("a", {"href": page.link(f"reference/limits/#{limit.name}")}, limit.name), say_limit(limit.name), prose(limit.why), prose(limit.source))
        for limit in limits_of(rule)
    ]
    return table("Thresholds of this rule", ("threshold", "value", "why", "from"), rows(each), look="bw-table--prose")


def index(page: Page) -> str:
    """All rules, family by family."""
    parts = []
    for title, about, rules in families():
        each = [
            (
                tag("a", {"href": page.link(rule.page_link)}, rule.title),
                tag("span", {"class": "bw-rule__severities"}, [page.kinds[severity].tag for severity in rule.severities]),
                tag("a", {"href": page.link(rule.lesson_link)}, LESSONS[rule.lesson]),
            )
            for rule in rules
        ]
        heads = ("rule", "how bad it can be", "lesson")
        parts += [
            f"## {title} {{ #{rules[0].family} }}",
            about,
            page.slot(table(f"{title}: {len(rules)} rules", heads, rows(each), look="bw-table--prose")),
        ]
    return "\n\n".join(parts)
