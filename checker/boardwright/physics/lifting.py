"""Lifting by hand: the NIOSH lifting equation."""

import math

from ._inputs import not_negative, positive, within

LOAD_CONSTANT = 23.0
"""Greatest mass to lift under ideal conditions [kg]. Source: NIOSH publication 94-110."""


def horizontal_multiplier(reach: float) -> float:
    """Share of the ideal load that reaching out leaves.

    Args:
        reach: distance of the hands in front of the ankles [m].

    Returns:
        Multiplier, 0 to 1 [1].

    Raises:
        ValueError: reach is below zero.

    Source:
        NIOSH 94-110: 25 cm / H, 1 up to 25 cm, 0 beyond 63 cm.
    """
    not_negative(reach=reach)
    if reach > 0.63:
        return 0.0
    return min(1.0, 0.25 / reach) if reach else 1.0


def vertical_multiplier(height: float) -> float:
    """Share of the ideal load that the height of the hands leaves.

    Args:
        height: height of the hands above the floor when the lift begins [m].

    Returns:
        Multiplier, 0 to 1 [1].

    Raises:
        ValueError: height is below zero.

    Source:
        NIOSH 94-110: 1 - 0.003 |V - 75| with V in cm, 0 above 175 cm.
    """
    not_negative(height=height)
    return 0.0 if height > 1.75 else 1 - 0.3 * abs(height - 0.75)


def distance_multiplier(travel: float) -> float:
    """Share of the ideal load that the height of the lift leaves.

    Args:
        travel: vertical distance lifted [m].

    Returns:
        Multiplier, 0 to 1 [1].

    Raises:
        ValueError: travel is below zero.

    Source:
        NIOSH 94-110: 0.82 + 4.5 / D with D in cm, 1 up to 25 cm, 0 beyond 175 cm.
    """
    not_negative(travel=travel)
    if travel > 1.75:
        return 0.0
    return min(1.0, 0.82 + 0.045 / travel) if travel else 1.0


def asymmetry_multiplier(twist: float) -> float:
    """Share of the ideal load that a twisted back leaves.

    Args:
        twist: angle between the load and straight ahead [rad].

    Returns:
        Multiplier, 0 to 1 [1].

    Raises:
        ValueError: twist is below zero.

    Source:
        NIOSH 94-110: 1 - 0.0032 A with A in degrees, 0 beyond 135 degrees.
    """
    not_negative(twist=twist)
    degrees = math.degrees(twist)
    return 0.0 if degrees > 135 else 1 - 0.0032 * degrees


def recommended_weight_limit(reach: float, height: float, travel: float, twist: float = 0.0, frequency: float = 1.0, grip: float = 1.0) -> float:
    """Mass that nearly all healthy people can lift in this way.

    Args:
        reach: distance of the hands in front of the ankles [m].
        height: height of the hands above the floor when the lift begins [m].
        travel: vertical distance lifted [m].
        twist: angle between the load and straight ahead [rad].
        frequency: frequency multiplier of the method's table [1]; 1 for a single lift.
        grip: coupling multiplier of the method's table [1]; 1 for good handles.

    Returns:
        Mass [kg].

    Raises:
        ValueError: a value below zero, or a multiplier above 1.

    Source:
        NIOSH publication 94-110: 23 kg times all multipliers.
    """
    within(0, 1, frequency=frequency, grip=grip)
    place = horizontal_multiplier(reach) * vertical_multiplier(height)
    return LOAD_CONSTANT * place * distance_multiplier(travel) * asymmetry_multiplier(twist) * frequency * grip


def lifting_index(mass: float, limit: float) -> float:
    """A mass against its recommended limit: above 1 the risk to the back grows.

    Args:
        mass: mass to be lifted by one person [kg].
        limit: recommended weight limit [kg].

    Returns:
        Lifting index [1].

    Raises:
        ValueError: a mass below zero, or a limit not above it.

    Source:
        NIOSH publication 94-110.
    """
    not_negative(mass=mass)
    positive(limit=limit)
    return mass / limit
