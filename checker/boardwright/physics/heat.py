"""How warm a supply gets."""

from ._inputs import not_negative, positive, share
from .sources import converter_input_power


def conversion_loss(output_power: float, efficiency: float) -> float:
    """Power that a supply turns into warmth.

    Args:
        output_power: power given to the loads [W].
        efficiency: share of the drawn power that it passes on, above 0 and up to 1 [1].

    Returns:
        Power lost [W].

    Raises:
        ValueError: a power below zero or an efficiency outside its range.

    Source:
        Definition of efficiency, P (1 / eta - 1).
    """
    return converter_input_power(output_power, efficiency) - output_power


def box_area(length: float, width: float, height: float) -> float:
    """Outer area of a box, all six sides.

    Args:
        length: length [m].
        width: width [m].
        height: height [m].

    Returns:
        Area [m²].

    Raises:
        ValueError: a side not above zero.

    Source:
        Geometry.
    """
    positive(length=length, width=width, height=height)
    return 2 * (length * width + width * height + height * length)


def temperature_rise(loss: float, area: float, film: float, exposed: float) -> float:
    """How much warmer than the air around it a box becomes in the end.

    Args:
        loss: power turned into warmth inside [W].
        area: outer area [m²].
        film: heat passed to the air and by radiation per area and kelvin [W/(m² K)]; about 10 in still air.
        exposed: share of the area that air can reach, above 0 and up to 1 [1].

    Returns:
        Temperature rise [K].

    Raises:
        ValueError: a loss below zero, an area or film not above it, or an exposed share outside its range.

    Source:
        Newton's law of cooling, P / (h A f).
    """
    not_negative(loss=loss)
    positive(area=area, film=film)
    share(exposed=exposed)
    return loss / (film * area * exposed)
