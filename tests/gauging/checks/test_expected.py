"""What neighbours let expect."""

from math import log, sqrt

import pytest

from bankside.gauging.checks.expected import DEPTHS, VELOCITIES, Place, expectations, times_better


def _at(*values: float) -> list[Place]:
    return [Place(float(at), value, value == 0) for at, value in enumerate(values)]


def test_lines_between_neighbours_span_what_is_expected() -> None:
    """On a straight bed all lines meet; a neighbour off it opens the span on its side only."""
    straight = expectations(DEPTHS, _at(1, 2, 3, 4, 5))[2]
    spike = expectations(DEPTHS, _at(1, 2, 3, 40, 5))[2]

    assert straight is not None and spike is not None
    assert (straight.low, straight.high) == pytest.approx((3, 3))
    # The lines over the spike: (2 + 40) / 2 and 1 + 39 × 2 / 3; those under it: 3.
    assert (spike.low, spike.high) == pytest.approx((3, 27))
    assert spike.off(3) == spike.off(10) == 0


def test_beside_a_bank_steep_and_shelving_are_expected() -> None:
    """A third of the way to the second 0.8: from its parabola, 0.8 / 9, to the wall's 0.8."""
    beside = expectations(DEPTHS, _at(0, 0.3, 0.8, 0.8, 0.8))[1]

    assert beside is not None
    assert (beside.low, beside.high) == pytest.approx((0.8 / 9, 0.8))


def test_of_three_verticals_nothing_is_expected() -> None:
    """Between two banks three depths may have any shape; of a fourth on they tell something."""
    assert expectations(DEPTHS, _at(0, 0.3, 0.8, 0.3, 0)) == [None] * 5
    assert expectations(DEPTHS, _at(0, 0.3, 0.8, 0.8, 0.3, 0))[2] is not None


def test_distance_is_told_in_spreads_of_the_logarithm() -> None:
    """Without unevenness of its own a section has that of the usual ones, weighed 8 to 3."""
    here = expectations(DEPTHS, _at(1, 1, 1, 1, 1))[2]

    assert here is not None
    spread = 0.15 * (8 / 11) ** 0.5
    assert here.spread == pytest.approx(spread)
    assert here.off(2) == pytest.approx(log(2.005 / 1.005) / spread)
    assert here.off(0.5) == pytest.approx(-log(1.005 / 0.505) / spread)


def test_a_figure_within_the_span_is_as_much_likelier_as_the_reading_is_off() -> None:
    """Student's distribution with 4 degrees of freedom at 2 spreads: (1 + 4/4)^-2.5."""
    here = expectations(DEPTHS, _at(1, 1, 1, 1, 1))[2]

    assert here is not None
    two_off = 1.005 * 2.718281828459045 ** (2 * here.spread) - 0.005
    assert 10 ** times_better(here, 1.0, two_off) == pytest.approx(2**2.5)


def test_neighbours_on_one_side_say_less() -> None:
    """The last vertical called is judged by a spread twice as large; a lone one not at all."""
    inner, last = expectations(DEPTHS, _at(1, 1, 1, 1))[2:]

    assert inner is not None and last is not None
    assert last.one_sided and last.spread == 2 * inner.spread
    assert expectations(DEPTHS, _at(1)) == [None]
    assert expectations(DEPTHS, _at(0, 0)) == [None, None]


def test_the_span_is_told_in_the_unit_called() -> None:
    """0.089 to 0.8 m in feet, to two digits."""
    beside = expectations(DEPTHS, _at(0, 0.3, 0.8, 0.8, 0.8))[1]

    assert beside is not None
    assert beside.words(0.3048, "ft") == "0.29 to 2.6 ft"
    flat = expectations(DEPTHS, _at(1, 1, 1, 1, 1))[2]
    assert flat is not None and flat.words(0.3048, "ft") == "3.3 ft"


def test_only_the_two_nearest_on_each_side_count() -> None:
    """What lies further off says nothing."""
    here = expectations(DEPTHS, _at(40, 1, 1, 1, 1, 1, 40))[3]

    assert here is not None
    assert (here.low, here.high) == (1, 1)


def test_a_single_neighbour_may_be_wrong_itself() -> None:
    """Lines from 1 over to 3 and 5 pass at 2 and 7/3; without the 1 it may be 3 or 5 as well."""
    here = expectations(DEPTHS, _at(1, 2, 3, 5))[1]

    assert here is not None
    assert (here.low, here.high) == pytest.approx((2, 5))


def test_between_two_dry_places_and_at_one() -> None:
    """A pool between two stones: the line is at 0; where it is dry nothing is expected."""
    dry, pool, *_ = expectations(DEPTHS, _at(0, 0.3, 0, 1, 1, 1, 1))

    assert dry is None
    assert pool is not None and (pool.low, pool.high) == (0, 0)


def test_places_that_are_one_in_si_are_half_way() -> None:
    """Tape positions too close to be told apart: lines at 1, 2, 3 and 4."""
    places = [Place(at, v, False) for at, v in ((0, 1), (1, 2), (1, 9), (1, 4), (2, 1))]
    here = expectations(DEPTHS, places)[2]

    assert here is not None
    assert (here.low, here.high) == (1, 4)


def test_a_section_has_an_unevenness_of_its_own() -> None:
    """1, 2, 1, 2, 1 lies ln(2.005 / 1.005) off its lines three times; the usual one weighs 8."""
    here = expectations(DEPTHS, _at(1, 2, 1, 2, 1))[2]

    own = 1.4826 * log(2.005 / 1.005)
    assert here is not None
    assert here.spread == pytest.approx(sqrt((8 * 0.15 * 0.15 + 3 * own * own) / 11))


def test_what_lies_at_a_bank_is_no_unevenness() -> None:
    """Of 0, 1, 1, 1, 1, 0 two in the middle tell how uneven it is."""
    here = expectations(DEPTHS, _at(0, 1, 1, 1, 1, 0))[2]

    assert here is not None
    assert here.spread == pytest.approx(0.15 * sqrt(8 / 10))


def test_velocities_stray_further_down_than_up() -> None:
    """Slack behind a stone is no such surprise: 1.5 times as far for as many spreads."""
    here = expectations(VELOCITIES, _at(1, 1, 1, 1, 1))[2]

    assert here is not None
    assert here.off(2) == pytest.approx(log(2.03 / 1.03) / here.spread)
    assert here.off(0.5) == pytest.approx(-log(1.03 / 0.53) / here.spread / 1.5)
