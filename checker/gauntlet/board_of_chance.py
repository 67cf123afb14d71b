"""Prints the board of a number as it is before anything is spoiled: `make board-of-chance SEED=7`."""

from __future__ import annotations

import argparse

from gauntlet.good_boards import good_board


def main() -> None:
    parser = argparse.ArgumentParser(prog="board-of-chance", description=__doc__)
    parser.add_argument("seed", type=int, help="the board's number")
    print(good_board(parser.parse_args().seed).text(), end="")


if __name__ == "__main__":
    main()
