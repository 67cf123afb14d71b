"""Hunts for the lessons: the plan of a board with a symptom, the weights of its parts, and the table of signs."""

from __future__ import annotations

from math import fsum

from markupsafe import Markup

from boardwright.board.hunt import Hunt, Step
from boardwright.board.hunt.causes import SIGNATURES
from boardwright.report.hunt import numbered
from boardwright.site.boards import ShownBoard
from boardwright.site.markup import prose, rows, table, tag
from boardwright.site.page import Page
from boardwright.site.unfit import Unfit
from boardwright.spec.figure import tell


def hunt_of(shown: ShownBoard) -> Hunt:
    """The hunt of a board once the first looks have found nothing.

    Raises: Unfit, if it states no symptom.
    """
    symptom = shown.board.spec.symptom
    if symptom is None:
        raise Unfit("This board states no `symptom`.")
    return Hunt(shown.board, symptom).looked()


def plan(shown: ShownBoard) -> Markup:
    """The tests of the plan, numbered, with where each answer leads."""
    return tag("ol", {}, [_test(step, good, bad) for _, step, good, bad in numbered(hunt_of(shown))])


def _test(step: Step, good: str, bad: str) -> Markup:
    does = tag("span", {}, prose(f"{step.probe.do} {step.probe.ask}"))
    return tag("li", {}, does, tag("br", {}), tag("span", {}, prose(f"Good: {good}. Bad: {bad}.")))


def weights(shown: ShownBoard) -> Markup:
    """The parts in the order of the sound, with their weights and shares."""
    hunt = hunt_of(shown)
    found, total = hunt.weights, fsum(hunt.weights.values())
    each = [(prose(part.words), tell(found[part.id], ""), tell(found[part.id] / total, "%")) for part in hunt.all if found[part.id]]
    return table("What may be to blame", ("part", "weight", "share"), rows(each))


def signs(page: Page) -> Markup:
    each = [(sign.heard, sign.means, sign.first) for sign in SIGNATURES]
    return table("What is heard, what it usually means, and what to try first", ("heard", "means", "first"), rows(each))


def board_choices(page: Page) -> Markup:
    """The boards that the fault finder can open by itself."""
    boards = [tag("option", {"value": shown.address}, shown.title) for shown in page.boards.examples if not shown.is_before]
    first = [tag("option", {"value": ""}, "a board"), tag("option", {"value": "checked"}, "the board that was checked last")]
    return tag("select", {"id": "hunt-example"}, first, tag("optgroup", {"label": "Worked examples"}, boards))
