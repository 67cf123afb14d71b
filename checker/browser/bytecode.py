"""Compiles wheels to bytecode, in place. Runs inside the browser's Python (inside.mjs).

/tools has pyodide-build, unpacked. /wheels has what to compile.
"""

import sys
from pathlib import Path

sys.path.insert(0, "/tools")

from pyodide_build._py_compile import _py_compile_archive_dir

# Not compressed: the page gets every archive packed as a whole, which the browser undoes faster than Python would.
_py_compile_archive_dir(Path("/wheels"), keep=False, verbose=False, compression_level=0)
