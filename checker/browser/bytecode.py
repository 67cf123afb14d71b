"""Adds wheels to a lock and compiles them to bytecode. Runs inside the browser's Python (inside.mjs).

/tools has pyodide-build, unpacked. /wheels has what to compile, in place, and the lock to add it to; what the wheels need
must be beside them or in the lock already.
"""

import sys
from pathlib import Path

sys.path.insert(0, "/tools")

from pyodide_build._py_compile import _py_compile_archive_dir
from pyodide_lock.spec import PyodideLockSpec
from pyodide_lock.utils import add_wheels_to_spec

WHEELS = Path("/wheels")
LOCK = WHEELS / "pyodide-lock.json"

add_wheels_to_spec(PyodideLockSpec.from_json(LOCK), sorted(WHEELS.glob("*.whl"))).to_json(LOCK)
# Not compressed: the page gets every archive packed as a whole, which the browser undoes faster than Python would.
_py_compile_archive_dir(WHEELS, keep=False, verbose=False, compression_level=0)
