"""Hunting a fault: what may be to blame for what is heard, and which test tells most in the least time."""

from boardwright.board.hunt.hunt import Answer, Ending, Explained, Hunt, Step
from boardwright.board.hunt.probes import Probe, ProbeKind
from boardwright.board.hunt.situation import NoHunt, Situation
from boardwright.board.hunt.suspects import Suspect, What

__all__ = ["Answer", "Ending", "Explained", "Hunt", "NoHunt", "Probe", "ProbeKind", "Situation", "Step", "Suspect", "What"]
