"""From text to ``Spec``: the language that boards are written in."""
