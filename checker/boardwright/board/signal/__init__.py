"""The sound of a board: who hears what, in every state of every switch, with the proof."""

from boardwright.board.signal.diagrams import ALWAYS, NEVER, Diagram, Diagrams, TooManyStates
from boardwright.board.signal.graph import HEARD, Edge, Graph, Node
from boardwright.board.signal.signal import How, Proof, Signal
from boardwright.board.signal.stages import Role, Stage
from boardwright.board.signal.switches import State, Switch, Switches, SwitchKind

__all__ = [
    "ALWAYS", "HEARD", "NEVER", "Diagram", "Diagrams", "Edge", "Graph", "How", "Node", "Proof", "Role", "Signal", "Stage", "State",
    "Switch", "SwitchKind", "Switches", "TooManyStates",
]  # fmt: skip
