"""The page's colours against the contrast that WCAG 2.2 asks for.

Formula: "relative luminance" and "contrast ratio" as defined in WCAG 2.2, section 6 (Terms); text needs 4.5 : 1
(success criterion 1.4.3), borders of controls and marks of focus need 3 : 1 (1.4.11).
"""

import re
from pathlib import Path

import pytest

PALETTE = Path(__file__).parents[3] / "checker/browser/page/palette.css"

KINDS = ["danger", "problem", "fault", "risk", "advice", "undecided", "accepted", "unused"]
TEXT = [(name, ground) for name in ("ink", "soft", *KINDS, "code-key", "code-name") for ground in ("paper", "raised")]
TEXT += [(kind, f"{kind}-tint") for kind in KINDS]
EDGES = [(name, ground) for name in ("edge", "focus") for ground in ("paper", "raised")]


def schemes() -> dict[str, dict[str, str]]:
    blocks = re.findall(r'\[data-md-color-scheme="(\w+)"\] \{(.*?)\n *\}', PALETTE.read_text(), flags=re.DOTALL)
    return {scheme: dict(re.findall(r"--bw-([\w-]+): (#\w{3,6});", block)) for scheme, block in blocks}


def luminance(colour: str) -> float:
    digits = colour[1:] if len(colour) == 7 else "".join(digit * 2 for digit in colour[1:])
    channels = [int(digits[at : at + 2], 16) / 255 for at in (0, 2, 4)]
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    lighter, darker = sorted((luminance(one), luminance(other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def test_the_formula_gives_the_published_extremes():
    # WCAG 2.2: black on white is 21 : 1; #767676 is the well-known lightest grey that still gives 4.5 : 1 on white.
    assert contrast("#000", "#fff") == pytest.approx(21)
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.01)


def test_both_schemes_name_the_same_colours():
    light, dark = schemes()["default"], schemes()["slate"]
    assert light.keys() == dark.keys()
    assert set(KINDS) < light.keys()


@pytest.mark.parametrize("scheme", ["default", "slate"])
@pytest.mark.parametrize(("wanted", "pairs"), [(4.5, TEXT), (3.0, EDGES)], ids=["text", "edges"])
def test_contrast(scheme, wanted, pairs):
    colours = schemes()[scheme]
    weak = {f"{name} on {ground}": round(contrast(colours[name], colours[ground]), 2) for name, ground in pairs}
    assert {pair: ratio for pair, ratio in weak.items() if ratio < wanted} == {}
