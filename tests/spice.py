"""Runs ngspice, the circuit simulator, as a second opinion on networks.

A netlist here is the list of element lines alone: no title, no `.end`, no analysis. Node 0 is ground.
"""

import math
import re
import shutil
import subprocess
from collections.abc import Sequence

_ACCURACY = ".options reltol=1e-9 vntol=1e-12 abstol=1e-15 gmin=1e-15 itl1=1000"
_PRINTED = re.compile(r"^\s*(\S+) = (\S+)\s*$", re.MULTILINE)


def node_voltages(netlist: Sequence[str], nodes: Sequence[str]) -> dict[str, float]:
    """Voltage [V] of each named node at the direct-current operating point."""
    printed = _run(netlist, ["op", *(f"print v({node})" for node in nodes)])
    return dict(zip(nodes, _values(printed, len(nodes)), strict=True))


def magnitudes(netlist: Sequence[str], node: str, frequencies: Sequence[float]) -> list[float]:
    """Level [dB] of a node against the netlist's 1 V alternating source, at each frequency [Hz]."""
    sweeps = [line for f in frequencies for line in (f"ac lin 1 {f!r} {f!r}", f"print vdb({node})")]
    return _values(_run(netlist, sweeps), len(frequencies))


def constant_power(name: str, node: str, power: float, source: float) -> list[str]:
    """Lines for a load of constant power [W] at a node of a network fed with `source` volts.

    Below three tenths of the source's voltage, where the upper operating point never lies, the load turns into a
    constant current: without that the simulator divides by zero on its way. The second line starts it from above.
    """
    return [f"B{name} {node} 0 I={power!r}/max(v({node}),{0.3 * source!r})", f".nodeset v({node})={source!r}"]


def _run(netlist: Sequence[str], commands: Sequence[str]) -> str:
    program = shutil.which("ngspice")
    if program is None:
        raise RuntimeError("ngspice is not installed, and these tests compare with it. Install it (Debian: apt-get install ngspice).")
    control = [".control", "set numdgt=15", *commands, "quit", ".endc"]
    deck = "\n".join(["second opinion", *netlist, _ACCURACY, *control, ".end", ""])
    answer = subprocess.run([program, "-b", "/dev/stdin"], input=deck, capture_output=True, text=True, timeout=60)
    if "Error" in answer.stderr or "failed" in answer.stderr:
        raise RuntimeError(f"ngspice did not solve this netlist:\n{deck}\n{answer.stderr}")
    return answer.stdout


def _values(printed: str, count: int) -> list[float]:
    values = [float(value) for _, value in _PRINTED.findall(printed)]
    if len(values) != count or not all(map(math.isfinite, values)):
        raise RuntimeError(f"ngspice gave {len(values)} values where {count} were asked for:\n{printed}")
    return values
