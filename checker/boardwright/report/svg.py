"""Small pieces that every drawing is made of.

Only presentation attributes and ``currentColor``, no style sheet and no script: a drawing looks the same inline on the
page (light or dark), in a file and in print, and any page's security policy lets it through.
"""

from __future__ import annotations

from collections.abc import Iterable
from html import escape

from boardwright.rules.verdict import Severity

FONT = "system-ui, sans-serif"
COLOURS = {Severity.DANGER: "#c4342b", Severity.FAULT: "#c4342b", Severity.RISK: "#b8720a", Severity.ADVICE: "#3b7bbf"}
"""At least 3:1 against white and against a dark page, for shapes; the word beside them is in the text's own colour."""

_INVALID = dict.fromkeys((*(code for code in range(32) if code not in (9, 10, 13)), *range(0xD800, 0xE000), 0xFFFE, 0xFFFF))


def clean(text: str) -> str:
    """Text that XML may hold, escaped."""
    return escape(text.translate(_INVALID))


def fit(text: str, width: float, size: float) -> str:
    """Text cut to a width, by the usual breadth of a letter."""
    most = max(1, int(width / (0.56 * size)))
    return text if len(text) <= most else text[: most - 1] + "…"


def label(x: float, y: float, text: str, size: float = 13, weight: str = "normal", anchor: str = "start", opacity: float = 1) -> str:
    extra = f' font-weight="{weight}"' if weight != "normal" else ""
    extra += f' text-anchor="{anchor}"' if anchor != "start" else ""
    extra += f' opacity="{opacity}"' if opacity != 1 else ""
    return f'<text x="{x:g}" y="{y:g}" font-size="{size:g}"{extra} fill="currentColor">{clean(text)}</text>'


def box(x: float, y: float, width: float, height: float, opacity: float = 1, radius: float = 4, dash: bool = False) -> str:
    dashed = ' stroke-dasharray="5 4"' if dash else ""
    return (
        f'<rect x="{x:g}" y="{y:g}" width="{width:g}" height="{height:g}" rx="{radius:g}" fill="none" stroke="currentColor" '
        f'stroke-opacity="{opacity:g}"{dashed}/>'
    )


def path(d: str, width: float = 1.5, opacity: float = 1, dash: bool = False, colour: str = "currentColor") -> str:
    dashed = ' stroke-dasharray="5 4"' if dash else ""
    return f'<path d="{d}" fill="none" stroke="{colour}" stroke-width="{width:g}" stroke-opacity="{opacity:g}"{dashed}/>'


def mark(x: float, y: float, severity: Severity, said: str = "") -> str:
    """A finding's mark around (x, y): a shape for each severity, the same as on the page, and its word."""
    colour = COLOURS[severity]
    shapes = {
        Severity.DANGER: f"M{x - 3.3:g} {y - 8:g}h6.6l4.7 4.7v6.6l-4.7 4.7h-6.6l-4.7-4.7v-6.6z",
        Severity.FAULT: f"M{x:g} {y - 8:g}l8.5 14.5h-17z",
        Severity.RISK: f"M{x:g} {y - 8:g}l8 8l-8 8l-8-8z",
        Severity.ADVICE: f"M{x - 6.5:g} {y:g}a6.5 6.5 0 1 0 13 0a6.5 6.5 0 1 0 -13 0z",
    }
    word = f'<text x="{x + 12:g}" y="{y + 4:g}" font-size="11" font-weight="bold" fill="currentColor">{clean(said or severity.value)}</text>'
    return f'<path d="{shapes[severity]}" fill="{colour}"/>{word}'


def picture(
    width: float, height: float, title: str, description: str, parts: Iterable[str], name: str, at: tuple[float, float] = (0, 0)
) -> str:
    """A whole drawing with its title and its text alternative.

    Args:
        name: keeps ids apart on a page with several.
        at: where its top left corner is.
    """
    body = "\n".join(parts)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{at[0]:g} {at[1]:g} {width:g} {height:g}" width="{width:g}" height="{height:g}" '
        f'role="img" aria-labelledby="{name}-title {name}-desc" font-family="{FONT}" class="boardwright-drawing">\n'
        f'<title id="{name}-title">{clean(title)}</title>\n<desc id="{name}-desc">{clean(description)}</desc>\n{body}\n</svg>\n'
    )
