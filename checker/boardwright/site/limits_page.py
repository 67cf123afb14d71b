"""The page of the limits: every threshold and default that a verdict depends on."""

from __future__ import annotations

import inspect
import re
from collections.abc import Iterator

from markupsafe import Markup

from boardwright import limits as module
from boardwright.limits import LIMITS, Limit
from boardwright.report.prose import say_limit
from boardwright.rules.registry import RULES
from boardwright.site.markup import prose, rows, table, tag
from boardwright.site.page import Page
from boardwright.site.rule_pages import limits_of

_HEADING_OR_LIMIT = re.compile(r'^# --- (?P<heading>.+?) -+$|_limit\(\s*"(?P<limit>[\w-]+)"', re.MULTILINE)


def subjects() -> Iterator[tuple[str, list[Limit]]]:
    """The limits under the headings that stand in the module that holds them."""
    groups: dict[str, list[Limit]] = {}
    heading = ""
    for found in _HEADING_OR_LIMIT.finditer(inspect.getsource(module)):
        if found["heading"]:
            heading = found["heading"]
        else:
            groups.setdefault(heading, []).append(LIMITS[found["limit"]])
    yield from groups.items()


def limits(page: Page) -> str:
    """Every limit with its value, its reason, its source and the rules whose text names it."""
    users = {name: [rule for rule in RULES.values() if limit in limits_of(rule)] for name, limit in LIMITS.items()}
    parts = []
    for heading, group in subjects():
        each = [
            (
                tag("code", {"id": limit.name}, limit.name),
                tag("span", {"class": "bw-value"}, say_limit(limit.name)),
                [prose(limit.why), tag("span", {"class": "bw-from"}, prose(limit.source))],
                [tag("a", {"class": "bw-user", "href": page.link(rule.page_link)}, rule.title) for rule in users[limit.name]],
            )
            for limit in group
        ]
        title = heading[:1].upper() + heading[1:]
        parts.append(f"## {title}")
        parts.append(page.slot(table(title, ("name", "value", "why, and from where", "named by"), rows(each), look="bw-table--prose")))
    return "\n\n".join(parts)


def judgement(page: Page) -> str:
    """Which limits are judgement and which rest on something from outside, subject by subject; each leads to its row."""
    each = []
    for heading, group in subjects():
        ours, others = ([_to_row(page, limit) for limit in group if limit.is_judgement is judged] for judged in (True, False))
        each.append((heading[:1].upper() + heading[1:], _listed(ours), _listed(others)))
    counted = sum(limit.is_judgement for limit in LIMITS.values())
    title = f"Thresholds and defaults by where they come from: {counted} of {len(LIMITS)} are judgement"
    return page.slot(table(title, ("about", "judgement", "from a standard, a handbook, physics"), rows(each), look="bw-table--prose"))


def _to_row(page: Page, limit: Limit) -> Markup:
    return tag("a", {"href": page.link(f"reference/limits/#{limit.name}")}, limit.name)


def _listed(links: list[Markup]) -> Markup | str:
    return Markup(", ").join(links) if links else "none"
