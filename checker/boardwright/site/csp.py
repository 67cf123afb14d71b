"""The content security policy that each page of the site carries.

A static host sends no headers that we could count on, so the policy stands in the page itself, before anything that it is to
govern. It allows this site's own files and, by their hashes, the few inline scripts and styles of the theme; nothing else, from
nowhere else. (Who may frame a page is the one thing that a page cannot say: a host can, with a header.)
"""

from __future__ import annotations

import base64
import hashlib
import re

from boardwright.site.unfit import Unfit

_INLINE = re.compile(r"<(?P<tag>script|style)\b(?P<attributes>[^>]*)>(?P<code>.*?)</(?P=tag)>", re.DOTALL | re.IGNORECASE)
_COMMENT = re.compile(r"<!--.*?-->", re.DOTALL)
_CHARSET = re.compile(r'<meta charset="utf-8"\s*/?>', re.IGNORECASE)
_IN_ATTRIBUTES = re.compile(r"""<[a-z][^<>]*?\s(?P<name>style|on[a-z]+)\s*=\s*["']""", re.IGNORECASE)


def with_policy(html: str) -> str:
    """The page with its policy right behind its character set, which must come first.

    Raises: Unfit, if the page holds what no policy of ours allows, or has no place for one.
    """
    head = _CHARSET.search(html)
    if not head:
        raise Unfit('A page without <meta charset="utf-8"> has no place for its content security policy.')
    meta = f'<meta http-equiv="Content-Security-Policy" content="{policy(html)}">'
    return f"{html[: head.end()]}\n      {meta}{html[head.end() :]}"


def policy(html: str) -> str:
    """What a page may load and run, worked out from what it holds."""
    bare = _COMMENT.sub("", html)
    if found := _IN_ATTRIBUTES.search(_INLINE.sub("", bare)):
        raise Unfit(f"The content security policy allows no `{found['name']}` attribute: {found[0][:80]} … Write a class, or a listener in a script.")
    allowed = {
        "default-src": ["'none'"],
        "script-src": ["'self'", *_hashes(bare, "script")],
        "style-src": ["'self'", *_hashes(bare, "style")],
        # The theme's icons are images within its styles.
        "img-src": ["'self'", "data:"],
        "connect-src": ["'self'"],
        # The search, the checker, and what keeps the site for reading without a network.
        "worker-src": ["'self'"],
        "frame-src": ["'self'" if re.search(r"<iframe\b", bare, re.IGNORECASE) else "'none'"],
        "base-uri": ["'none'"],
        "form-action": ["'none'"],
    }
    return "; ".join(f"{name} {' '.join(sources)}" for name, sources in allowed.items())


def _hashes(html: str, tag: str) -> list[str]:
    """Of each inline script or style, once. Data that stand in a script element are not run and need none."""
    codes = [found["code"] for found in _INLINE.finditer(html) if found["tag"].lower() == tag and _runs(found["attributes"])]
    return list(dict.fromkeys(f"'sha256-{_digest(code)}'" for code in codes))


def _runs(attributes: str) -> bool:
    return not re.search(r'\bsrc\s*=|type="application/json"', attributes)


def _digest(code: str) -> str:
    # Browsers read every line end as a plain line feed.
    data = code.replace("\r\n", "\n").encode()
    return base64.b64encode(hashlib.sha256(data).digest()).decode()
