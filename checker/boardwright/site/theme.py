"""What the theme's pages lack for readers who do not see them."""

from __future__ import annotations

import re
from html import escape, unescape

_NAV = re.compile(
    r'(?P<start><nav class="md-nav" data-md-level="\d" )aria-labelledby="__nav_[\d_]+_label"(?P<rest>[^>]*>\s*'
    r'<label class="md-nav__title" for="__nav_[\d_]+">\s*<span class="md-nav__icon md-icon"></span>\s*(?P<title>[^<]+?)\s*</label>)'
)


def named(html: str) -> str:
    """Give names to what has none: the search, and the lists of pages whose label is no more than an arrow."""
    html = html.replace('data-md-component="search" role="dialog"', 'data-md-component="search" role="dialog" aria-label="Search"')
    return _NAV.sub(lambda found: f'{found["start"]}aria-label="{escape(unescape(found["title"]))}"{found["rest"]}', html)
