"""Work in a copy of this process: whatever it does there, this process has nothing to remember, and outlives it."""

from __future__ import annotations

import marshal
import os
from collections.abc import Callable
from typing import Any


def in_copy(work: Callable[[], Any]) -> Any:
    """What ``work`` gives (plain values), done in a copy of this process.

    Raises: RuntimeError, with what went wrong there; ChildProcessError, if the copy ended without a word.
    """
    reading, writing = os.pipe()
    pid = os.fork()
    if not pid:
        # Nothing may leave this branch alive: there would be two of whatever called.
        try:
            os.close(reading)
            try:
                said = (True, work())
            except BaseException as error:
                said = (False, str(error))
            with os.fdopen(writing, "wb") as pipe:
                marshal.dump(said, pipe)
        finally:
            os._exit(0)
    os.close(writing)
    with os.fdopen(reading, "rb") as pipe:
        heard = pipe.read()
    os.waitpid(pid, 0)
    if not heard:
        raise ChildProcessError("a copy of this process ended without a word")
    done, said = marshal.loads(heard)
    if not done:
        raise RuntimeError(said)
    return said
