"""Copper wire: size, area and resistance of leads, contacts included."""

import math

from ._inputs import finite, not_negative, positive, whole, within

COPPER_RESISTIVITY = 1 / 58e6
"""Resistivity of annealed copper at 20 °C [ohm m], exact by definition. Source: IEC 60028."""

COPPER_TEMPERATURE_COEFFICIENT = 0.00393
"""Rise of copper's resistance per kelvin, as a share of its value at 20 °C [1/K]. Source: IEC 60028."""

STRANDING = 1.02
"""Resistance of a stranded conductor against a solid one of the same gauge [1]. Source: common practice."""

CLASS_5_PLAIN = {0.5: 39.0, 0.75: 26.0, 1.0: 19.5, 1.5: 13.3, 2.5: 7.98, 4.0: 4.95, 6.0: 3.30}
"""Greatest resistance at 20 °C of a flexible plain copper conductor [ohm/km] by nominal area [mm²].
Source: IEC 60228 class 5, as tabulated by cable makers."""

CLASS_5_TINNED = {0.5: 40.1, 0.75: 26.7, 1.0: 20.0, 1.5: 13.7, 2.5: 8.21, 4.0: 5.09, 6.0: 3.39}
"""The same for tinned copper [ohm/km] by nominal area [mm²]. Source: as CLASS_5_PLAIN."""


def awg_diameter(gauge: int) -> float:
    """Diameter of a solid round wire, from its American gauge number.

    Args:
        gauge: AWG number, from -3 (written 0000) to 56.

    Returns:
        Diameter [m].

    Raises:
        ValueError: gauge is not a whole number of that range.

    Source:
        ASTM B258: 0.005 inch is 36 AWG, 0.46 inch is 0000, and 39 steps of equal ratio lie between them.
    """
    whole(-3, 56, gauge=gauge)
    return 0.005 * 0.0254 * 92 ** ((36 - gauge) / 39)


def round_area(diameter: float) -> float:
    """Cross-section of a solid round wire.

    Args:
        diameter: diameter of the bare wire [m].

    Returns:
        Area [m²].

    Raises:
        ValueError: diameter is not above zero.

    Source:
        Geometry.
    """
    positive(diameter=diameter)
    return math.pi * diameter**2 / 4


def conductor_resistance(length: float, area: float, resistivity: float = COPPER_RESISTIVITY) -> float:
    """Resistance of one conductor of even cross-section.

    Args:
        length: length of the conductor [m].
        area: cross-section of its metal [m²].
        resistivity: resistivity of its metal [ohm m]; annealed copper at 20 °C unless given.

    Returns:
        Resistance [ohm].

    Raises:
        ValueError: a length below zero, or an area or resistivity not above it.

    Source:
        Definition of resistivity, R = rho l / A; copper by IEC 60028.
    """
    not_negative(length=length)
    positive(area=area, resistivity=resistivity)
    return resistivity * length / area


def resistance_at(temperature: float, resistance_at_20: float, coefficient: float = COPPER_TEMPERATURE_COEFFICIENT) -> float:
    """Resistance of a conductor that is not at 20 °C.

    Args:
        temperature: temperature of the conductor [°C].
        resistance_at_20: its resistance at 20 °C [ohm].
        coefficient: temperature coefficient at 20 °C [1/K]; copper's unless given.

    Returns:
        Resistance [ohm].

    Raises:
        ValueError: a resistance below zero, or a temperature so far from 20 °C that the straight-line law ends.

    Source:
        IEC 60028: R = R20 (1 + alpha (t - 20 °C)).
    """
    finite(temperature=temperature, coefficient=coefficient)
    not_negative(resistance_at_20=resistance_at_20)
    factor = 1 + coefficient * (temperature - 20)
    if factor <= 0:
        raise ValueError(f"at {temperature:g} °C this metal is outside the law used here")
    return resistance_at_20 * factor


def awg_resistance(gauge: int, stranded: bool = False) -> float:
    """Resistance of one metre of one copper conductor, from its American gauge number, at 20 °C.

    Args:
        gauge: AWG number, from -3 (written 0000) to 56.
        stranded: whether the conductor is made of many thin wires, which lie a little longer than the lead.

    Returns:
        Resistance per length [ohm/m].

    Raises:
        ValueError: gauge is not a whole number of that range.

    Source:
        ASTM B258 for the diameter, IEC 60028 for copper; the allowance for stranding is common practice.
    """
    solid = conductor_resistance(1, round_area(awg_diameter(gauge)))
    return solid * STRANDING if stranded else solid


def cord_resistance(nominal_area: float, tinned: bool = False) -> float:
    """Greatest resistance of one metre of one conductor of a flexible cord, from its metric size, at 20 °C.

    A size that the standard does not list gets the widest margin over solid copper that its listed sizes allow.

    Args:
        nominal_area: the size as marked on the cord [mm²].
        tinned: whether the copper is tinned.

    Returns:
        Resistance per length [ohm/m].

    Raises:
        ValueError: nominal_area is not a conductor's size, 0.01 to 1000 mm².

    Source:
        IEC 60228 class 5. A nominal area is a name, not a measure: the standard limits the resistance instead.
    """
    within(0.01, 1000, nominal_area=nominal_area)
    table = CLASS_5_TINNED if tinned else CLASS_5_PLAIN
    ohms_per_km = table.get(nominal_area) or max(a * r for a, r in table.items()) / nominal_area
    return ohms_per_km / 1000


def loop_resistance(length: float, resistance_per_metre: float, contacts: int, contact_resistance: float) -> float:
    """Resistance of a lead there and back: two conductors and the contacts in each.

    Args:
        length: length of the lead [m].
        resistance_per_metre: resistance per length of one conductor [ohm/m].
        contacts: number of contacts that the current passes in each conductor [1].
        contact_resistance: resistance of one contact [ohm].

    Returns:
        Resistance of go and return in series [ohm].

    Raises:
        ValueError: a length, resistance or count below zero.

    Source:
        Resistances in series add.
    """
    not_negative(length=length, resistance_per_metre=resistance_per_metre, contact_resistance=contact_resistance)
    whole(0, 1000, contacts=contacts)
    return 2 * (length * resistance_per_metre + contacts * contact_resistance)
