"""Where somebody may be sent: by what was read, with a margin in between."""

import math

import attrs
import pytest

from bankside.gauging.checks.examined import examine
from bankside.gauging.checks.wadeable import Wadeable, wadeable
from bankside.gauging.records import Gauging, Vertical

from .sections import METRIC, RULES, gauging, left, read, right


def _channel(*inner: Vertical, width: float) -> Wadeable:
    made = gauging(left(), *inner, right(width), units=METRIC)
    (channel,) = wadeable(examine(made, RULES, finished=True))
    return channel


def test_what_may_well_be_there_is_the_straight_line_and_twice_the_departures() -> None:
    """Depths 0, 0.3, 0.5, 0.3, 0 m: each lies 0.05, 0.2 and 0.05 above the line of its neighbours.

    Their root mean square is the root of (0.0025 + 0.04 + 0.0025) / 3 = 0.015.
    """
    channel = _channel(read(1, 0.3, 0.5), read(2, 0.5, 0.5), read(3, 0.3, 0.5), width=4)

    margin = 2 * math.sqrt(0.015)
    assert channel.depth.likely_most(1.5) == pytest.approx(0.4 + margin, rel=1e-12)
    assert channel.depth.likely_most(3.5) == pytest.approx(0.15 + margin, rel=1e-12)
    assert channel.product.likely_most(1.5) == pytest.approx((0.4 + margin) / 2, rel=1e-12)
    assert channel.anew(1.5)


def test_nobody_is_sent_to_beside_or_between_readings_at_a_limit() -> None:
    """0.66 m²/s at 2 and at 4 m, with 0.65 m²/s (7 ft²/s) the limit; 3 m lies between them."""
    made = [read(float(i), 0.3, 0.2) for i in range(1, 9)]
    made[1], made[3] = read(2, 0.6, 1.1), read(4, 0.6, 1.1)

    channel = _channel(*made, width=9)

    assert channel.keeps_out == (1.0, 5.0)
    assert [channel.again(float(i)) for i in range(1, 9)] == [
        i in (1, 5, 6, 7, 8) for i in range(1, 9)
    ]
    assert not channel.anew(1.5) and not channel.anew(3.5) and not channel.anew(4.9)


def test_the_fastest_reading_of_a_vertical_counts() -> None:
    """0.8 m with 1 and 0.3 m/s: 0.8 m²/s, though the mean of both is 0.52."""
    both = attrs.evolve(
        read(2, 0.8, 1.0),
        velocity=(
            attrs.evolve(read(2).velocity[0], value=1.0, fraction=0.2),
            attrs.evolve(read(2).velocity[0], value=0.3, fraction=0.8),
        ),
    )

    assert not _channel(read(1, 0.4, 0.3), both, read(3, 0.4, 0.3), width=4).again(2.0)


def test_a_laxer_rule_set_sends_nobody_farther() -> None:
    """A crew may set its limits higher; advice goes by those of common practice."""
    laxer = attrs.evolve(RULES["wade_product_caution"], value=20.0)
    rules = attrs.evolve(RULES, values={**RULES.values, "wade_product_caution": laxer})
    made = gauging(left(), read(1, 0.8, 1.0), right(2), units=METRIC)

    (channel,) = wadeable(examine(made, rules, finished=True))

    assert not channel.again(1.0)


@pytest.mark.parametrize("made", [gauging(), gauging(left())])
def test_where_nothing_was_read_nothing_is_held_back(made: Gauging) -> None:
    """One depth or none tells nothing of the water."""
    (channel,) = wadeable(examine(made, RULES, finished=False))

    assert channel.again(1.0) and channel.anew(1.0)
