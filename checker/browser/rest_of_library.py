"""The standard library that travels with the page holds what checking boards loads. The rest is fetched when asked for.

Run once by the worker, before anything is imported. So a module left out costs a moment, never an error.
"""

import sys
from importlib.machinery import PathFinder
from pathlib import Path

CORE = "/lib/python314.zip"
REST = "/lib/python314-rest.zip"


class RestOfLibrary:
    """Finds modules in the whole standard library, once the first is asked for."""

    def __init__(self, fetch, names):
        self.fetch = fetch
        self.names = frozenset(names)

    def find_spec(self, name, path=None, target=None):
        if name not in self.names:
            return None
        if not Path(REST).exists():
            Path(REST).write_bytes(self.fetch().to_bytes())
        return PathFinder.find_spec(name, [entry.replace(CORE, REST) for entry in path] if path else [REST], target)


def install(fetch, names):
    """Make the modules ``names`` importable by ``fetch``, a function of JavaScript that returns the zip as an ArrayBuffer.

    Right behind the usual finder, so before Pyodide's own, which answers for missing modules with advice.
    """
    sys.meta_path.insert(sys.meta_path.index(PathFinder) + 1, RestOfLibrary(fetch, names))
