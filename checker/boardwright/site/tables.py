"""The tables of an answer: the figures of the power side, and what every rule said."""

from __future__ import annotations

from itertools import groupby

from markupsafe import Markup

from boardwright.report.figures import PowerFigures
from boardwright.report.report import Coverage
from boardwright.site.markup import Child, rows, table, tag
from boardwright.site.page import Page
from boardwright.spec.figure import tell


def power_tables(power: PowerFigures) -> list[Markup]:
    """Outlets, devices and supplies. A figure that nothing gives is said to be unknown, never left blank."""
    tables = []
    if power.outlets:
        each_outlet = [
            (o.name, _told(o.volts, "V"), _told(o.amps, "A", o.complete), _told(o.rating_amps, "A"), _told(o.share, "%", o.complete),
             ", ".join(o.devices) or "free")
            for o in power.outlets
        ]  # fmt: skip
        tables.append(_figures("Outlets", ("outlet", "gives", "flows", "rated", "in use", "feeds"), each_outlet))
    if power.devices:
        each_device = [
            (d.name, d.source or "nowhere", _told(d.volts, "V"), _told(d.amps, "A"), _told(d.watts, "W"), _told(d.lost_volts, "V"), d.origin)
            for d in power.devices
        ]
        tables.append(_figures("Devices", ("device", "from", "gets", "draws", "power", "lost", "known by"), each_device))
    if power.supplies:
        each_supply = [
            (s.name, _told(s.watts, "W", s.complete), _told(s.total_watts, "W"), _told(s.lost_watts, "W"), _told(s.case_celsius, "°C"))
            for s in power.supplies
        ]
        tables.append(_figures("Supplies", ("supply", "gives", "of", "warmth", "case about"), each_supply))
    return tables


def _figures(caption: str, heads: tuple[str, ...], each: list[tuple[str, ...]]) -> Markup:
    return table(caption, heads, rows(each), look="bw-table--figures")


def _told(value: float | None, unit: str, complete: bool = True) -> str:
    if value is None:
        return "not known"
    return tell(value, unit) if complete else f"at least {tell(value, unit)}"


def coverage_summary(coverage: list[Coverage]) -> str:
    """The whole coverage in one line."""
    tripped = sum(1 for each in coverage if each.trips)
    undecided = sum(1 for each in coverage if not each.trips and each.cannot_tell)
    idle = sum(1 for each in coverage if each.not_applicable)
    return f"{len(coverage)} rules, {tripped} tripped, {undecided} could not be decided, {idle} not applicable"


def coverage_table(page: Page, coverage: list[Coverage]) -> Markup:
    """Every rule with its verdicts, family by family."""
    bodies = []
    for family, group in groupby(coverage, key=lambda each: each.family):
        head = tag("tr", {}, tag("th", {"scope": "rowgroup", "colspan": 2, "class": "bw-table__family"}, family))
        body = [
            tag("tr", {}, tag("th", {"scope": "row"}, tag("a", {"href": page.link(each.page)}, each.title)), tag("td", {}, _verdicts(each)))
            for each in group
        ]
        bodies.append(tag("tbody", {}, head, body))
    return table("Every rule, and what it said about this board", ("Rule", "Verdicts"), *bodies)


def _verdicts(row: Coverage) -> Child:
    counts = (("trips", row.trips), ("cannot tell", row.cannot_tell), ("accepted", row.accepted), ("clear", row.clear))
    said = [(word, f"{word} {count}") for word, count in counts if count]
    if not said:
        return tag("span", {"class": "bw-soft"}, "not applicable")
    parts: list[Child] = []
    for place, (word, words) in enumerate(said):
        parts += [", " if place else None, tag("span", {"class": None if word == "clear" else "bw-strong"}, words)]
    return parts
