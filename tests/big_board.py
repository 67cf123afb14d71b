"""A board of 25 pedals in three rows with three supplies below, written the way a person would."""

from __future__ import annotations

KINDS = ("overdrive", "compressor", "chorus", "phaser", "equaliser", "boost", "tremolo", "distortion")


def big_board(given: bool = True) -> str:
    """The text; with ``given`` the places too, else only the rows."""
    lines = [
        "board:",
        "  name: Twenty-five",
        "  for: tour",
        "  fixing: screws",
        "  frame:",
        "    {size: [1100, 520], gap_under: [40, 80], rows: [{span: [0, 160], rise: 0}, {span: [161, 335], rise: 25}, {span: [336, 520], rise: 50}]}",
        "supplies:",
    ]
    outlets = ", ".join(f"{number}: 9V dc centre-negative 300mA" for number in range(1, 11))
    lines += [
        f"  s{number}: {{isolated: yes, class: II, size: [200, 80, 30], at: [{60 + 340 * number}, 390], under: yes, outlets_on: front, outlets: {{{outlets}}}}}"
        for number in range(3)
    ]
    lines.append("pedals:")
    names = []
    for row, count in enumerate((8, 9, 8)):
        for place in range(count):
            name = f"p{row}{place}"
            names.append(name)
            outlet = f"s{min(place // 3, 2)}.{row * 3 + place % 3 + 1}"
            at = f"at: [{15 + place * 121}, {10 + row * 175}]" if given else f"row: {row + 1}"
            kind = KINDS[(row + place) % len(KINDS)]
            lines.append(f"  {name}: {{kind: {kind}, needs: 9V dc centre-negative 20mA, feed: {outlet}, size: [72, 120, 55], {at}, jacks: rear}}")
    chain = " > ".join(names)
    sends = ", ".join(f"{a}.link > {b}.aux" for a, b in zip(names[:9], names[16:], strict=True))
    lines += ["amps: {centre: {kind: valve, class: I}}", f'audio: [guitar > {chain} > centre, "{sends}"]']
    return "\n".join(lines) + "\n"
