"""The head of a generated page."""

from __future__ import annotations

import json


def front_matter(title: str, description: str) -> str:
    """Title and description for the theme and for search; JSON strings are YAML strings too."""
    plain = description.replace("`", "")
    return f"---\ntitle: {json.dumps(title, ensure_ascii=False)}\ndescription: {json.dumps(plain, ensure_ascii=False)}\n---"
