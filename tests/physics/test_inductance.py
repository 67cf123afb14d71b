"""Mutual inductance against Grover's formula, Neumann's integral done numerically, and textbook examples."""

import math
import random

import pytest
import scipy.constants
from hypothesis import given, settings
from hypothesis import strategies as st
from pytest import approx
from scipy.integrate import dblquad, quad

from boardwright.physics import inductance
from boardwright.physics.inductance import Filament
from published import published


def neumann(first, second):
    """Neumann's double integral over two straight runs, done numerically."""
    a, c = first.start, second.start
    u, v = ([q - p for p, q in zip(*run, strict=True)] for run in (first, second))
    lengths = math.hypot(*u), math.hypot(*v)

    def inverse_distance(y, x):
        return 1 / math.dist([p + x * k for p, k in zip(a, u, strict=True)], [p + y * k for p, k in zip(c, v, strict=True)])

    integral, _ = dblquad(inverse_distance, 0, 1, 0, 1, epsabs=1e-10 * max(1, *lengths), epsrel=1e-10)
    return scipy.constants.mu_0 / (4 * math.pi) * sum(p * q for p, q in zip(u, v, strict=True)) * integral


@pytest.mark.parametrize("length, distance, nanohenry", [(1, 0.01, 861.66), (1, 0.05, 547.65), (0.3, 0.01, 187.64)])
def test_grovers_parallel_filaments(length, distance, nanohenry):
    # Neumann's integral agrees to 1e-13.
    source, what = "formula of Grover, Inductance Calculations (1944), p. 35, eq. 7", f"two wires of {length} m, {distance} m apart"
    assert inductance.parallel_filaments(length, distance) * 1e9 == published(nanohenry, "nH", what, source, abs=0.005)
    run, other = Filament((0, 0, 0), (length, 0, 0)), Filament((0, distance, 0), (length, distance, 0))
    assert inductance.mutual_inductance(run, other) * 1e9 == approx(nanohenry, abs=0.005)


@pytest.mark.parametrize("degrees, nanohenry", [(0, 187.6), (30, 108.8), (45, 79.6), (60, 52.5), (80, 17.4), (90, 0.0)])
def test_crossing_angle(degrees, nanohenry):
    # Neumann's integral, done apart from this code: two runs of 0.3 m that cross at their middles, 10 mm apart.
    own = inductance.crossing_filaments(0.3, 0.3, 0.01, math.radians(degrees))
    assert own * 1e9 == approx(nanohenry, abs=0.05)
    assert inductance.crossing_filaments(0.3, 0.3, 0.01, math.pi - math.radians(degrees)) == approx(-own)


def test_square_is_exactly_nothing_and_the_rest_is_not_a_cosine():
    assert inductance.crossing_filaments(0.3, 0.2, 0.01, math.pi / 2) == 0
    assert inductance.mutual_inductance(Filament((0, 0, 0), (1, 2, 0)), Filament((5, 0, 1), (3, 1, 1))) == 0
    at_60 = inductance.crossing_filaments(0.3, 0.3, 0.01, math.radians(60))
    assert at_60 < 0.6 * math.cos(math.radians(60)) * inductance.parallel_filaments(0.3, 0.01)


@pytest.mark.parametrize("seed", range(25))
def test_any_two_runs_against_neumann(seed):
    rng = random.Random(seed)
    runs = [Filament(*(tuple(rng.uniform(-0.5, 0.5) for _ in range(3)) for _ in range(2))) for _ in range(2)]
    assert inductance.mutual_inductance(*runs) == approx(neumann(*runs), rel=1e-6, abs=1e-15)


@pytest.mark.parametrize(
    "second",
    [
        Filament((0.1, 0.02, 0), (0.5, 0.02, 0)),  # parallel, shifted along
        Filament((0.5, 0.02, 0), (0.1, 0.02, 0)),  # the same, opposed
        Filament((0.4, 0, 0), (0.9, 0, 0)),  # in one line, apart
        Filament((0.4, 0.1, 0), (0.5, 0.3, 0)),  # in one plane, not meeting
        Filament((0, 0.05, 0), (0.3, 0.05 + 1e-4, 0)),  # all but parallel
        Filament((0, 0.05, 0), (0.3, 0.05 + 3e-8, 0)),  # counted as parallel
        Filament((0.1, 0.01, 0.02), (0.102, 0.01, 0.02)),  # very short
    ],
)
def test_special_places_against_neumann(second):
    first = Filament((0, 0, 0), (0.3, 0, 0))
    assert inductance.mutual_inductance(first, second) == approx(neumann(first, second), rel=1e-6)


def test_runs_that_cross_in_one_plane():
    # The integral is finite there. By hand for two equal runs crossing at their middles: four equal quarters, each
    # half the integral of asinh over a triangle, done numerically in one dimension.
    own = inductance.mutual_inductance(Filament((-1, 0, 0), (1, 0, 0)), Filament((-0.6, -0.8, 0), (0.6, 0.8, 0)))

    def quarter(cosine):
        sine = math.sqrt(1 - cosine**2)
        return quad(lambda s: math.asinh((1 - s * cosine) / (s * sine)) + math.asinh(cosine / sine), 0, 1)[0]

    expected = scipy.constants.mu_0 / (4 * math.pi) * 0.6 * 2 * (quarter(0.6) + quarter(-0.6))
    assert own == approx(expected, rel=1e-7)


def test_runs_that_touch_end_to_end():
    # In one line, end on end, by hand: mu_0 / (4 pi) 2 l ln 2 for equal lengths (Grover, unequal parallel filaments).
    own = inductance.mutual_inductance(Filament((0, 0, 0), (1, 0, 0)), Filament((1, 0, 0), (2, 0, 0)))
    assert own == approx(1e-7 * 2 * math.log(2), rel=1e-9)


def test_runs_that_meet_end_on_end_are_not_in_one_another_whatever_the_scale():
    for scale in (0.1, 0.3, 0.7, 3, 7):
        first, second = (Filament((0, 0, scale * near), (0, 0, scale * far)) for near, far in ((0, 0.3), (0.3, 0.9)))
        # Sum over runs of 0.3 and 0.6 in one line, by Grover's formula for unequal lengths that touch.
        expected = 1e-7 * scale * (0.9 * math.log(0.9) - 0.3 * math.log(0.3) - 0.6 * math.log(0.6))
        assert inductance.mutual_inductance(first, second) == approx(expected, rel=1e-9)


coordinates = st.floats(-1, 1).map(lambda x: round(x, 3))
points = st.tuples(coordinates, coordinates, coordinates)
filaments = st.builds(Filament, points, points).filter(lambda run: math.dist(*run) > 0.01)


@given(filaments, filaments, st.floats(0.05, 0.95), st.floats(0.1, 10))
@settings(max_examples=200, deadline=None)
def test_laws_of_any_two_runs(first, second, share, scale):
    try:
        mutual = inductance.mutual_inductance(first, second)
    except ValueError:  # lying in one another
        return
    close = approx(mutual, rel=1e-5, abs=1e-13)
    assert inductance.mutual_inductance(second, first) == close
    assert inductance.mutual_inductance(Filament(*reversed(first)), second) == approx(-mutual, rel=1e-5, abs=1e-13)
    middle = tuple(p + share * (q - p) for p, q in zip(*first, strict=True))
    pieces = Filament(first.start, middle), Filament(middle, first.end)
    assert sum(inductance.mutual_inductance(piece, second) for piece in pieces) == close
    larger = [Filament(*(tuple(scale * x for x in point) for point in run)) for run in (first, second)]
    assert inductance.mutual_inductance(*larger) == approx(scale * mutual, rel=1e-5, abs=1e-13 * scale)


def test_two_pairs_from_four_long_wires():
    # The same arrangement out of four runs of 60 m: the ends no longer matter.
    spacing, other, distance, length = 0.003, 0.002, 0.01, 60.0

    def run(y):
        return Filament((0, y, 0), (length, y, 0))

    mutual = inductance.mutual_inductance
    go, back = run(-spacing / 2), run(spacing / 2)
    go_2, back_2 = run(distance - other / 2), run(distance + other / 2)
    four = mutual(go, go_2) - mutual(go, back_2) - mutual(back, go_2) + mutual(back, back_2)
    assert inductance.coplanar_pairs(spacing, other, distance) == approx(abs(four) / length, rel=1e-4)


def test_two_pairs_that_lie_as_a_square_do_not_hear_each_other():
    # By symmetry: wires 1 and 2 on one diagonal, 3 and 4 on the other.
    assert inductance.parallel_pairs(1, 1, other_near=1, other_far=1) == 0


def test_supply_pair_beside_a_signal_pair():
    # By hand: 3 mm and 2 mm pairs 10 mm apart for 0.5 m, 20 mA at 5 kHz: 3.9 microvolt.
    mutual = 0.5 * inductance.coplanar_pairs(0.003, 0.002, 0.010)
    assert inductance.induced_voltage(mutual, 5e3, 0.020) == approx(3.9e-6, rel=0.005)
    # From far away mu_0 s1 s2 / (2 pi d^2).
    assert inductance.coplanar_pairs(0.003, 0.002, 0.5) == approx(2e-7 * 6e-6 / 0.25, rel=1e-4)


def test_wire_beside_a_loop():
    # mu_0 l / (2 pi) ln(r2 / r1).
    source, what = "formula of MIL-HDBK-419A vol. 1, p. 6-9, eq. 6-5", "wire beside 1 m of a loop, 50 to 60 mm away"
    assert inductance.wire_beside_loop(1, 0.05, 0.06) * 1e9 == published(36.46, "nH", what, source, rel=2e-4)
    assert inductance.wire_beside_loop(1, 0.05, 0.05) == 0


def test_openstax_solenoid_and_coil():
    source, what = "OpenStax, University Physics 2, “Mutual Inductance”", "most through 25.3 µH from 5.0 A at 60 Hz"
    assert inductance.induced_voltage(2.53e-5, 60, 5.0) * 1e3 == published(47.7, "mV", what, source, rel=3e-3)


@pytest.mark.parametrize(
    "call",
    [
        lambda: inductance.parallel_filaments(1, 0),
        lambda: inductance.crossing_filaments(1, 1, 0, 0.5),
        lambda: inductance.mutual_inductance(Filament((0, 0, 0), (0, 0, 0)), Filament((1, 0, 0), (2, 0, 0))),
        lambda: inductance.mutual_inductance(Filament((0, 0, 0), (1, 0, 0)), Filament((0.5, 0, 0), (2, 0, 0))),
        lambda: inductance.mutual_inductance(Filament((0, 0, 0), (1, 0, 0)), Filament((0, 0, math.nan), (2, 0, 0))),
        lambda: inductance.parallel_pairs(1, 0, other_near=1, other_far=1),
        lambda: inductance.coplanar_pairs(0.01, 0.01, 0.01),
        lambda: inductance.wire_beside_loop(1, 0.06, 0.05),
        lambda: inductance.induced_voltage(math.nan, 50, 1),
    ],
)
def test_what_cannot_be_is_refused(call):
    with pytest.raises(ValueError):
        call()
