"""The boards that the site shows: where they come from, what is said about them, and where the site serves them."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property, lru_cache
from pathlib import Path

from ruamel.yaml import YAML

from boardwright import judge
from boardwright.board.assemble import Board, assemble
from boardwright.report.report import Report, build
from boardwright.rules.registry import RULES
from boardwright.rules.run import Outcome, run
from boardwright.rules.verdict import Verdict
from boardwright.spec.read import read

BEFORE = "-before"
"""How the name of a board ends that is shown as it was before it was mended. Where there are several such boards, each goes
on with what is wrong with it: ``saltmarsh-tour-before-late-tap``."""

_WORST_FIRST = (Verdict.TRIPS, Verdict.ACCEPTED, Verdict.CANNOT_TELL, Verdict.CLEAR)


@lru_cache(maxsize=1024)
def _judged(text: str) -> tuple[Board, Report]:
    return judge(text)


@dataclass(eq=False)
class ShownBoard:
    """A board of which the site shows the text, the drawings or the answer."""

    name: str
    file: Path
    text: str

    @property
    def is_before(self) -> bool:
        """Whether it is shown as it was before it was mended."""
        return self.name.endswith(BEFORE) or f"{BEFORE}-" in self.name

    @property
    def mended_name(self) -> str:
        """The name of the mended board: its own, unless it is one of before."""
        return self.name.partition(BEFORE)[0] if self.is_before else self.name

    @property
    def address(self) -> str:
        """Where the site serves its text."""
        return f"boards/{self.name}.yaml"

    @property
    def answer_address(self) -> str:
        """Where the site serves the checker's answer to a whole board, as the checker's page takes it."""
        return f"boards/{self.name}.answer.json"

    @property
    def checker_link(self) -> str:
        """The checker, with this board in it."""
        return f"checker/#example={self.address}"

    @cached_property
    def board(self) -> Board:
        return _judged(self.text)[0]

    @cached_property
    def report(self) -> Report:
        return _judged(self.text)[1]

    @property
    def title(self) -> str:
        return self.report.board.name or self.name.replace("-", " ").capitalize()

    @property
    def opening(self) -> list[str]:
        """The paragraphs of the comment at its top."""
        lines = []
        for line in self.text.splitlines():
            if not line.startswith("#"):
                break
            lines.append(line.removeprefix("#").strip())
        return [" ".join(part.split()) for part in "\n".join(lines).split("\n\n") if part.strip()]


@dataclass(eq=False)
class Case(ShownBoard):
    """A piece of a board from a rule's case file: what it does not declare are things of which nothing is known."""

    rule: str
    why: str

    @property
    def title(self) -> str:
        return self.why[:1].upper() + self.why[1:] or "A piece of a board"

    @cached_property
    def outcome(self) -> Outcome:
        """What the rule says about it."""
        return run(self.board, [self.rule])

    @property
    def verdict(self) -> str:
        """The worst that the rule says."""
        said = {judged.verdict for _, judged in self.outcome.judgements}
        return next((each.value for each in _WORST_FIRST if each in said), "not applicable")

    @cached_property
    def board(self) -> Board:
        return assemble(read(self.text, fragment=True))

    @cached_property
    def report(self) -> Report:
        return build(self.board, self.outcome)


class Boards:
    """All boards of the project; ``by_path`` has those that stand in a file of their own, as prose names them.

    Raises: ValueError, if two would have the same address.
    """

    def __init__(self, root: Path) -> None:
        self.docs = root / "docs"
        self.root = root
        self.examples = [_read(file) for file in sorted((root / "demo_boards").glob("*.yaml"))]
        taught = [_read(file) for file in sorted((self.docs / "lessons/boards").glob("*.yaml"))]
        self.language = _read(self.docs / "reference/every-section.yaml")
        self.cases = {rule.id: _cases(root / "tests/rules" / rule.family / f"{rule.id}.yaml", rule.id) for rule in RULES.values()}
        self.everything = [*self.examples, *taught, self.language, *(case for cases in self.cases.values() for case in cases.values())]
        addresses = [each.address for each in self.everything]
        if twice := sorted({address for address in addresses if addresses.count(address) > 1}):
            raise ValueError(f"Two boards would be served as {', '.join(twice)}. Rename one.")
        whole = [each for each in self.everything if not isinstance(each, Case)]
        self.by_path = {self.path(each): each for each in whole}

    def path(self, shown: ShownBoard) -> str:
        """How a shortcode names a board: below ``docs/``, or else below the project's root."""
        within = self.docs if shown.file.is_relative_to(self.docs) else self.root
        return shown.file.relative_to(within).as_posix()

    def mended(self, board: ShownBoard) -> ShownBoard | None:
        """Of an example of before, the mended one."""
        return next((each for each in self.examples if board.is_before and each.name == board.mended_name), None)

    def befores(self, board: ShownBoard) -> list[ShownBoard]:
        """Of a mended example, those of before."""
        return [each for each in self.examples if each.is_before and each.mended_name == board.name]


def _read(file: Path) -> ShownBoard:
    return ShownBoard(file.stem, file, file.read_text("utf-8"))


def _cases(file: Path, rule: str) -> dict[str, Case]:
    if not file.is_file():
        return {}  # the tests over all rules ask for it
    loaded = YAML(typ="safe", pure=True).load(file.read_text("utf-8"))
    return {name: Case(f"rules/{rule}/{name}", file, case["board"], rule, case.get("why", "")) for name, case in loaded.items()}
