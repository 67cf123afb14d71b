"""Refusing input that no real thing could have."""

# No quantity of a board comes anywhere near these in SI units. Holding inputs between them (or to zero, where nothing
# is divided by them) means that no product or quotient in this package can overflow.
LARGEST = 1e30
SMALLEST = 1e-30
MOST_DECIBELS = 600.0  # 20 log10(LARGEST)


def positive(**quantities: float) -> None:
    """Refuse any quantity that is not a number above zero."""
    for name, value in quantities.items():
        if not (_is_number(value) and SMALLEST <= value <= LARGEST):
            raise ValueError(f"{_spoken(name)} must be a number above zero, but it is {value!r}")


def not_negative(**quantities: float) -> None:
    """Refuse any quantity that is neither zero nor a number above zero."""
    for name, value in quantities.items():
        if not (_is_number(value) and 0 <= value <= LARGEST):
            raise ValueError(f"{_spoken(name)} must be zero or a number above zero, but it is {value!r}")


def finite(**quantities: float) -> None:
    """Refuse any quantity that is not an ordinary number, of either sign."""
    for name, value in quantities.items():
        if not (_is_number(value) and abs(value) <= LARGEST):
            raise ValueError(f"{_spoken(name)} must be an ordinary number, but it is {value!r}")


def decibels(**quantities: float) -> None:
    """Refuse any level or gain that is not a number of decibels that could be met."""
    for name, value in quantities.items():
        if not (_is_number(value) and abs(value) <= MOST_DECIBELS):
            raise ValueError(f"{_spoken(name)} must be a number of decibels up to 600 either way, but it is {value!r}")


def share(**quantities: float) -> None:
    """Refuse any share that is not above zero and up to one."""
    positive(**quantities)
    for name, value in quantities.items():
        if value > 1:
            raise ValueError(f"{_spoken(name)} must be a share of one at most, but it is {value!r}")


def within(low: float, high: float, **quantities: float) -> None:
    """Refuse any quantity outside low to high, both included."""
    for name, value in quantities.items():
        if not (_is_number(value) and low <= value <= high):
            raise ValueError(f"{_spoken(name)} must be a number from {low:g} to {high:g}, but it is {value!r}")


def whole(low: int, high: int, **quantities: int) -> None:
    """Refuse any count that is not a whole number from low to high, both included."""
    for name, value in quantities.items():
        if not (isinstance(value, int) and low <= value <= high):
            raise ValueError(f"{_spoken(name)} must be a whole number from {low} to {high}, but it is {value!r}")


def _is_number(value: object) -> bool:
    return isinstance(value, (int, float))


def _spoken(name: str) -> str:
    return name.replace("_", " ")
