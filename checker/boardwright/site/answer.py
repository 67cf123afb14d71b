"""What the checker says about a board, as HTML: the same groups, headings, order and classes as its live page."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from markupsafe import Markup

from boardwright.report.report import Accepted, Finding, Folded, Problem, Promise, Question, Report, Thing, UnusedAccept
from boardwright.report.text import CHECK_FIRST, HEADINGS
from boardwright.rules.verdict import Number, Severity
from boardwright.site.boards import Case, ShownBoard
from boardwright.site.code import answer_name, finding_name, line_name
from boardwright.site.markup import fold, prose, tag, unseen
from boardwright.site.page import Page
from boardwright.site.tables import coverage_summary, coverage_table, power_tables
from boardwright.spec.problem import Span


def answer(page: Page, shown: ShownBoard, level: int = 3) -> Markup:
    """Everything that was found about a board.

    Args:
        level: of the headline; groups and findings are one and two below it.
    """
    return _Answer(page, shown, level).whole()


def verdict(page: Page, case: Case) -> Markup:
    """What a case's rule says about it: its verdict, and what was found or asked, without figures and coverage."""
    view = _Answer(page, case, level=2, links=False)
    report = case.report
    cards = [view.finding(finding, index) for index, finding in enumerate(report.findings)]
    cards += [view.question(question, f"question-{index}") for index, question in enumerate([*report.check_first, *report.undecided])]
    said = tag("p", {"class": "bw-verdict"}, "Verdict: ", tag("strong", {}, case.verdict))
    return tag("div", {"class": "bw-answer"}, said, tag("ul", {"class": "bw-cards"}, cards) if cards else None)


class _Answer:
    def __init__(self, page: Page, shown: ShownBoard, level: int, links: bool = True) -> None:
        self.page = page
        self.links = links
        self.shown = shown
        self.level = level
        self.prefix = answer_name(shown)

    def whole(self) -> Markup:
        report = self.shown.report
        parts = [
            self._heading(0, {"id": self.prefix, "class": "bw-headline"}, prose(report.headline)),
            self._group("problem", "problem", "The text cannot be read here", [self._problem(each) for each in report.problems]),
            self._skipped(report.skipped),
            *self._groups(report),
            self._group("undecided", "undecided", "Could not decide", self._questions("undecided", report.undecided)),
            self._group(
                "accepted",
                "accepted",
                "Accepted",
                [*map(self._accepted, report.accepted), *map(self._unused, report.unused_accepts)],
            ),
            self._group("accepted", "promises", "Promises", [self._promise(each) for each in report.promises]),
            self._figures(report),
            fold(
                f"What was looked at: {coverage_summary(report.coverage)}",
                coverage_table(self.page, report.coverage),
                name=f"{self.prefix}-coverage",
            ),
        ]
        return tag("div", {"class": "bw-answer"}, parts)

    def _groups(self, report: Report) -> Iterable[Markup | None]:
        for severity in Severity:
            cards = [self.finding(each, index) for index, each in enumerate(report.findings) if each.severity == severity]
            yield self._group(severity.value, severity.value, HEADINGS[severity], cards)
            if severity is Severity.DANGER:
                yield self._group("undecided", "check-first", CHECK_FIRST, self._questions("check-first", report.check_first))

    def _group(self, kind: str, name: str, heading: str, cards: Sequence[Markup]) -> Markup | None:
        if not cards:
            return None
        anchor = f"{self.prefix}-{name}"
        count = tag("span", {"class": "bw-group__count"}, unseen(", "), len(cards))
        head = self._heading(1, {"id": anchor, "class": "bw-group__head"}, self.page.kinds[kind].shape, tag("span", {}, heading), count)
        # No region with a name of its own: a page of prose may hold several answers, with the same groups in each.
        return tag("div", {"class": f"bw-group bw-group--{kind}"}, head, tag("ul", {"class": "bw-cards"}, cards))

    def _card(self, kind: str, anchor: str | None, title: str, *parts: Markup | None, word: str | None = None) -> Markup:
        """``word``: in the place of the kind's own."""
        of = self.page.kinds[kind]
        words = tag("span", {"class": "bw-tag"}, of.shape, word or of.word)
        head = self._heading(2, {"class": "bw-card__head"}, words, unseen(": "), tag("span", {"class": "bw-card__title"}, title))
        return tag("li", {"id": anchor, "class": f"bw-card bw-card--{kind}"}, head, parts)

    def _heading(self, below: int, attributes: dict[str, str], *children: Markup) -> Markup:
        return tag(f"h{min(self.level + below, 6)}", attributes, *children)

    # ---- one thing said

    def finding(self, finding: Finding, index: int) -> Markup:
        return self._card(
            finding.severity,
            finding_name(self.shown, index),
            finding.title,
            tag("p", {}, prose(finding.sentence)),
            _numbers(finding.numbers),
            _labelled("How to mend it", finding.remedy),
            _labelled("Seen", finding.witness) if finding.witness else None,
            _folded(finding.folded),
            self._foot(finding.at, finding.things, finding),
        )

    def question(self, question: Question, name: str) -> Markup:
        before = tag("p", {"class": "bw-strong"}, "Before you plug in:") if question.before_power and question.severity != Severity.DANGER else None
        words = tag("p", {}, prose(question.question))
        return self._card("undecided", f"{self.prefix}-{name}", _what_is_asked(question.things), before, words, self._foot(question.at, question.things, question))

    def _questions(self, name: str, questions: list[Question]) -> list[Markup]:
        return [self.question(each, f"{name}-{index}") for index, each in enumerate(questions)]

    def _problem(self, problem: Problem) -> Markup:
        expected = _labelled("What may stand here", problem.expected) if problem.expected else None
        title = problem.where or "The text as a whole"
        return self._card("problem", None, title, tag("p", {}, prose(problem.message)), expected, self._foot(problem.at))

    def _accepted(self, accepted: Accepted) -> Markup:
        said = tag("p", {}, prose(accepted.sentence))
        return self._card(
            "accepted", None, accepted.title, said, _labelled("The reason given", accepted.because), self._foot(accepted.at, accepted.things)
        )

    def _unused(self, unused: UnusedAccept) -> Markup:
        return self._card("unused", None, unused.rule, tag("p", {}, unused.why), self._foot(unused.at))

    def _promise(self, promise: Promise) -> Markup:
        kind = {"holds": "accepted", "broken": "fault"}.get(promise.kept, "undecided")
        proof = [tag("p", {}, prose(line)) for line in promise.proof]
        seen = _labelled("Seen", promise.witness) if promise.witness else None
        question = tag("p", {}, prose(promise.question)) if promise.question else None
        foot = self._foot(promise.at, promise.things)
        return self._card(kind, None, promise.promise, *proof, seen, question, foot, word=promise.kept.capitalize())

    # ---- where it is, and where to read more

    def _foot(self, at: Span | None, things: Sequence[Thing] = (), read: Finding | Question | None = None) -> Markup | None:
        parts = [self._places(at, things), self._links(read) if read and self.links else None]
        return tag("div", {"class": "bw-foot"}, parts) if any(parts) else None

    def _places(self, at: Span | None, things: Sequence[Thing]) -> Markup | None:
        """Every line that is concerned, each once."""
        names: dict[int, str] = {}
        for name, span in [("", at), *((thing.name, thing.at) for thing in things)]:
            if span:
                names[span.line] = names.get(span.line) or name
        places = [self._place(line, name) for line, name in names.items()]
        return tag("p", {"class": "bw-places"}, places) if places else None

    def _place(self, line: int, name: str) -> Markup:
        named = [tag("span", {"class": "bw-jump__name"}, name), unseen(", ")] if name else None
        words = [named, tag("span", {"class": "bw-jump__line"}, f"line {line}" if name else f"Line {line}")]
        if self.shown.name in self.page.shown:
            return tag("a", {"class": "bw-jump", "href": f"#{line_name(self.shown, line)}"}, words)
        return tag("span", {"class": "bw-jump"}, words)

    def _links(self, said: Finding | Question) -> Markup:
        links = [
            tag("a", {"href": self.page.link(path)}, word, unseen(f": {said.title}")) for word, path in (("Lesson", said.lesson), ("Rule", said.page))
        ]
        return tag("p", {"class": "bw-links"}, links)

    # ---- the rest

    def _skipped(self, skipped: list[str]) -> Markup | None:
        if not skipped:
            return None
        items = [tag("li", {}, tag("code", {}, each)) for each in skipped]
        return tag("div", {"class": "bw-group bw-skipped"}, tag("p", {}, "Not judged because of this"), tag("ul", {"class": "bw-list"}, items))

    def _figures(self, report: Report) -> Markup | None:
        tables = power_tables(report.power)
        name = f"{self.prefix}-figures"
        return fold("Volts, current and power of every outlet and device", *tables, name=name) if tables else None


def _numbers(numbers: list[Number]) -> Markup | None:
    if not numbers:
        return None
    pairs = [
        tag(
            "div",
            {},
            tag("dt", {}, each.name),
            tag("dd", {}, tag("span", {"class": "bw-numbers__value"}, each.text), " ", tag("span", {"class": "bw-numbers__origin"}, each.origin)),
        )
        for each in numbers
    ]
    return tag("dl", {"class": "bw-numbers"}, pairs)


def _folded(folded: list[Folded]) -> Markup | None:
    if not folded:
        return None
    effects = "1 more effect" if len(folded) == 1 else f"{len(folded)} more effects"
    return fold(f"{effects} of the same cause", tag("ul", {"class": "bw-list"}, [tag("li", {}, prose(each.sentence)) for each in folded]))


def _labelled(label: str, words: str) -> Markup | None:
    if not words:
        return None
    return tag("p", {"class": "bw-labelled"}, tag("span", {"class": "bw-labelled__label"}, label), unseen(": "), tag("span", {}, prose(words)))


def _what_is_asked(things: list[Thing]) -> str:
    """What a question is about. The rule's title names what would be wrong, and nothing is known to be wrong yet."""
    names = list(dict.fromkeys(thing.name for thing in things))
    return ", ".join(names) if len(names) <= 3 else f"{', '.join(names[:3])} and others"
