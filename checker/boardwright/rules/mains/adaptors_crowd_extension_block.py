"""Extension blocks are crowded or chained.

## What it finds
More plug-in supplies on a block than fit side by side; heavy ones, or ones that hang out sideways; blocks that are plugged
into blocks; a block where a drink can reach it.

## Why it matters
A row of plug-in supplies falls out at the worst moment, and a contact that is levered open arcs. Blocks that feed blocks
overload the first one, and at the end of the chain a fault draws too little current to trip anything.

## How it decides
A plug-in supply takes as many outlets as its width covers at the block's pitch ({{ limit block-pitch }} where it is not
stated), any other plug one; more than the block has is a risk. So is one of more than {{ limit adaptor-weight }} or one that hangs sideways.
{{ limit blocks-in-a-row }} blocks in a row are a risk, {{ limit blocks-in-a-row-danger }} a danger. More than
{{ limit adaptors-loose }} supplies with a mains cord and no block described are an advice.

## How to mend it
One proper supply with several outlets instead of a row of adaptors; one block of enough outlets, plugged into the wall
itself. The outlet behind it is a matter for the local electrical code and a qualified person.

## Source
Fire-safety guidance on extension leads; otherwise common practice, no published source.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from boardwright import limits
from boardwright.board.assemble import Board
from boardwright.board.mains import Link
from boardwright.rules.registry import rule
from boardwright.rules.verdict import Judgement, Number, Severity, Thing, cannot_tell, clear, limit, number, over, trips
from boardwright.rules.wall import defer, of_item, of_link
from boardwright.spec.figure import figure, tell
from boardwright.spec.sections.mains import Block
from boardwright.spec.sections.supplies import Supply


@rule(Severity.DANGER, Severity.RISK, Severity.ADVICE, lesson="the-wall")
def adaptors_crowd_extension_block(board: Board) -> Iterator[Judgement]:
    blocks = [link for link in board.wall.links.values() if isinstance(link.section, Block) and link.declared]
    for link in blocks:
        assert isinstance(link.section, Block)
        found = [*_chained(board, link), *_crowded(link, link.section), *_heavy(link, link.section)]
        if link.section.splashed:
            found.append(_splashed(link))
        yield from found or [clear(of_link(link))]
    supplies = [item for item in board.wall.items.values() if isinstance(item.section, Supply) and item.says_mains]
    if not blocks and len(supplies) > limits.ADAPTORS_LOOSE.value:
        yield trips(
            Severity.ADVICE,
            [of_item(item) for item in supplies],
            f"{len(supplies)} supplies have a mains plug each. What they are plugged into together is worth a thought, and it is not described.",
            defer("One supply with more outlets does away with the row of adaptors."),
        )


def _chained(board: Board, link: Link) -> Iterator[Judgement]:
    """Blocks in a row, said at the last of them."""
    if any(isinstance(each.section, Block) for each in board.wall.links_behind(link.name)):
        return
    row = [link, *(each for each in board.wall.way(link.name) if isinstance(each.section, Block))]
    if len(row) >= limits.BLOCKS_IN_ROW.value:
        danger = len(row) >= limits.BLOCKS_IN_ROW_DANGER.value
        yield trips(
            Severity.DANGER if danger else Severity.RISK,
            [*map(of_link, row)],
            f"{len(row)} blocks are plugged into each other: {', into '.join(f'`{each.name}`' for each in row)}. The first one "
            "carries it all, and a fault at "
            "the far end may trip nothing.",
            defer("Plug each block into the wall itself, or use one with enough outlets."),
            [
                Number("blocks in a row", str(len(row)), len(row), "", "stated"),
                limit("risk from", limits.BLOCKS_IN_ROW),
                limit("danger from", limits.BLOCKS_IN_ROW_DANGER),
            ],
        )


def _crowded(link: Link, block: Block) -> Iterator[Judgement]:
    adaptors, plugs = block.adaptors or [], len(block.feeds or ())
    thing = of_link(link)
    if not adaptors:
        if block.outlets is not None and plugs > block.outlets:
            yield trips(
                Severity.RISK,
                [thing],
                f"{plugs} plugs go into `{link.name}`, and it has {block.outlets} outlets.",
                defer("Use a block with enough outlets, not a block in a block."),
                [Number("plugs", str(plugs), plugs, "", "stated")],
            )
        return
    if block.outlets is None or any(each.width is None or not each.width.known for each in adaptors):
        yield cannot_tell(Severity.RISK, [thing], f"How many outlets does `{link.name}` have, and how wide are the adaptors on it?")
        return
    pitch = block.pitch.value if block.pitch is not None and block.pitch.known else limits.BLOCK_PITCH.value
    taken = sum(max(1, math.ceil(each.width.value / pitch - 1e-9)) for each in adaptors if each.width) + plugs
    if taken > block.outlets:
        yield trips(
            Severity.RISK,
            [thing],
            f"What is on `{link.name}` covers {taken} outlets, and it has {block.outlets}. Wide adaptors push each other out.",
            defer("Use one supply with several outlets, or a block with wider spacing."),
            [Number("covered", str(taken), taken, "", "stated"), number("from outlet to outlet", figure(pitch, "m"))],
        )


def _heavy(link: Link, block: Block) -> Iterator[Judgement]:
    for place, each in enumerate(block.adaptors or ()):
        heavy = each.weight is not None and each.weight.known and over(each.weight.value, limits.ADAPTOR_WEIGHT.value)
        if heavy or each.sideways:
            why = f"weighs {tell(each.weight.value, 'g')}" if heavy and each.weight else "hangs out sideways"
            yield trips(
                Severity.RISK,
                [Thing(link.name, (*link.path, "adaptors", place))],
                f"An adaptor on `{link.name}` {why} and levers its contacts open. They get hot, and one bump puts the board out.",
                defer("Lay it on the floor on a factory-made short lead, or use a supply with a cord."),
                [limit("at most", limits.ADAPTOR_WEIGHT)] if heavy else [],
            )


def _splashed(link: Link) -> Judgement:
    return trips(
        Severity.ADVICE,
        [of_link(link)],
        f"`{link.name}` lies where a drink or rain can reach it.",
        defer("Put it higher or under cover, away from where people walk and drink."),
        at=(*link.path, "splashed"),
    )
