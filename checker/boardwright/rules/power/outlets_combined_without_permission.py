"""Outlets joined that may not be.

## What it finds
Outlets stacked in series for more volts, or joined in parallel for more current, where the supply does not allow it; and
outlets joined by accident, by a daisy lead that hangs on both.

## Why it matters
Two isolated nine-volt outlets can be stacked for eighteen, like batteries in a torch, but only if they are truly separate
inside: otherwise one of them is shorted. Outlets joined side by side for more current fight each other unless they were
built to share.

## How it decides
Series: a fault unless all outlets are isolated from each other; a risk if they are, but are not listed in `may_series`.
Parallel: a fault unless they are listed in `may_parallel` and give the same volts.

## How to mend it
A native 18 V outlet, or a combination that the supply's manual allows.

## Source
Physics; the supply's manual.
"""

from __future__ import annotations

from collections.abc import Iterator

from boardwright.board.assemble import Board
from boardwright.board.power import Circuit
from boardwright.board.supply import Outlet
from boardwright.rules import things
from boardwright.rules.registry import rule
from boardwright.rules.verdict import Judgement, Severity, cannot_tell, clear, trips
from boardwright.spec.figure import Origin


@rule(Severity.FAULT, Severity.RISK, lesson="quiet-power")
def outlets_combined_without_permission(board: Board) -> Iterator[Judgement]:
    for circuit in board.power.circuits:
        if len(circuit.outlets) < 2:
            continue
        involved = [*(things.of_device(d) for d in circuit.devices), *(things.of_outlet(o) for o in circuit.outlets)]
        where = circuit.hung[0][1].path
        names = things.listed([outlet.id for outlet in circuit.outlets])
        if circuit.mode == "series":
            yield from _series(board, circuit, involved, where, names)
        elif circuit.mode == "parallel":
            yield from _parallel(circuit, involved, where, names)
        else:
            question = f"Does the lead from {names} join them in series or in parallel? Write `mode: series` or `mode: parallel`."
            yield cannot_tell(Severity.FAULT, involved, question, at=where, before_power=True)
    yield from _by_accident(board)


def _series(board: Board, circuit: Circuit, involved, where, names) -> Iterator[Judgement]:
    pools = [board.power.pool(outlet) for outlet in circuit.outlets]
    shared = len(set(pools)) < len(pools)
    if shared and any(outlet.pool_origin is Origin.ASSUMED for outlet in circuit.outlets):
        question = f"Are the outlets {names} isolated from each other? If not, stacking them shorts one of them."
        yield cannot_tell(Severity.FAULT, involved, question, at=where, before_power=True)
    elif shared:
        yield trips(
            Severity.FAULT,
            involved,
            f"{names} are stacked in series, but share a return inside: the lead shorts one of them.",
            "Use a native outlet of the right volts, or outlets that are isolated from each other.",
            at=where,
        )
    elif not _listed(circuit.outlets, "may_series"):
        yield trips(
            Severity.RISK,
            involved,
            f"{names} are stacked in series, and nothing says that the supply allows it.",
            "Look it up in the supply's manual; if it allows it, list them in `may_series`.",
            at=where,
        )
    else:
        yield clear(*involved)


def _parallel(circuit: Circuit, involved, where, names) -> Iterator[Judgement]:
    volts = {outlet.volts for outlet in circuit.outlets}
    if None not in volts and len(volts) > 1:
        yield trips(
            Severity.FAULT,
            involved,
            f"{names} are joined in parallel and give different volts: the higher one drives current into the lower.",
            "Use one outlet that gives enough by itself.",
            at=where,
        )
    elif not _listed(circuit.outlets, "may_parallel"):
        yield trips(
            Severity.FAULT,
            involved,
            f"{names} are joined in parallel, and nothing says that the supply allows it. Outlets that were not built to share fight.",
            "Use one outlet that gives enough; or, if the supply's manual allows it, list them in `may_parallel`.",
            at=where,
        )
    elif None in volts:
        yield cannot_tell(Severity.FAULT, involved, f"Do {names} give the same volts?", at=where, before_power=True)
    else:
        yield clear(*involved)


def _listed(outlets: tuple[Outlet, ...], permission: str) -> bool:
    supplies = {outlet.supply.name for outlet in outlets}
    names = {outlet.name for outlet in outlets}
    allowed = getattr(outlets[0].supply.section, permission) or ()
    return len(supplies) == 1 and any(names <= set(each) for each in allowed)


def _by_accident(board: Board) -> Iterator[Judgement]:
    """A device chained behind another that hangs on a different outlet: the chain joins the two outlets."""
    for circuit in board.power.circuits:
        for device, line in circuit.hung:
            other = board.power.devices.get(line.after or "")
            if other is None or not other.outlets or set(other.outlets) & set(circuit.outlets):
                continue
            names = things.listed([circuit.outlets[0].id, other.outlets[0].id])
            yield trips(
                Severity.FAULT,
                [things.of_device(device), things.of_device(other), things.of_outlet(circuit.outlets[0]), things.of_outlet(other.outlets[0])],
                f"`{device.name}` is chained behind `{other.name}`, which hangs on another outlet: the chain joins {names} in parallel.",
                f"Feed `{device.name}` from the outlet of `{other.name}`, or give it a lead of its own.",
                at=line.path,
            )
