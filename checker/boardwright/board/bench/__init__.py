"""The bench: what a meter and an ear should find on a board that was built as described, and the order in which to build it."""
