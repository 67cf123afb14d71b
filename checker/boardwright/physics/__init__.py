"""Formulas of the trade, each a plain function of plain numbers.

Nothing here knows about boards, specs or files. Quantities go in and come out in SI units (volts, amperes, metres,
hertz ...; angles in radians), so a number never needs a unit beside it to be understood. The few exceptions (wire
sizes, decibels, degrees Celsius) say so where they occur.

Every public function names its source. Input that no real thing could have, such as a negative length, is refused with
a ValueError; everything else is answered with a number, or with None where the question has no answer.
"""
