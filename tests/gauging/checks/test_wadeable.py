"""Where somebody may be sent: by what was read, with a margin in between."""

import math

import attrs
import pytest

from bankside.gauging.checks.examined import examine
from bankside.gauging.checks.wadeable import Wadeable, wadeable
from bankside.gauging.records import Bank, Channel, Gauging, Vertical

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
    assert channel.depth.likely_most(0.5) == pytest.approx(0.15 + margin, rel=1e-12)
    assert channel.depth.likely_most(4.0) == pytest.approx(margin, rel=1e-12)
    assert channel.product.likely_most(1.5) == pytest.approx((0.4 + margin) / 2, rel=1e-12)
    assert channel.anew(1.5)


def test_nobody_is_sent_to_beside_or_between_readings_at_a_limit() -> None:
    """0.66 m²/s at 2 and at 4 m, with 0.6 m²/s the limit; 3 m lies between them."""
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


@pytest.mark.parametrize("inner", [read(4, 0.6, 1.6), read(4, 1.6, 0.1)])
def test_a_reading_at_which_nobody_wades_closes_its_channel_and_those_behind(
    inner: Vertical,
) -> None:
    """0.96 m²/s, and 1.6 m of depth: 10 ft²/s (0.93 m²/s) and 5 ft (1.52 m) are the limits."""
    shallow = [read(float(i), 0.3, 0.2) for i in range(1, 4)]
    calm = Channel((left(), *shallow, right(4)))
    made = Gauging(METRIC, (calm, Channel((left(), *shallow, inner, right(5))), calm))

    before, at, behind = wadeable(examine(made, RULES, finished=True))

    assert before.anew(1.5) and not before.closed
    assert at.closed and behind.closed
    assert not any(one.again(1.0) or one.anew(1.5) for one in (at, behind))


@pytest.mark.parametrize(
    ("bank", "depth", "velocity", "sent"),
    [
        ("undercut", 0.5, 0.4, True),
        ("undercut", 0.62, 0.4, False),  # half of 4 ft is 0.61 m
        ("undercut", 0.5, 0.7, False),  # 0.35 m²/s beside it
        ("undercut", None, 0.4, False),
        ("steep", 0.62, 0.4, False),
        (None, 0.62, 0.4, False),
        ("sloping", 0.0, 0.7, True),
    ],
)
def test_nobody_is_sent_below_a_cut_bank_unless_the_water_there_is_weak(
    bank: Bank | None, depth: float | None, velocity: float, sent: bool
) -> None:
    """Between the last vertical, 0.5 m deep, and the edge; farther out somebody may go."""
    inner = [read(float(i), 0.5, 0.3) for i in range(1, 6)]
    edge = right(7, depth, bank=bank)
    made = gauging(left(), *inner, read(6, 0.5, velocity), edge, units=METRIC)

    (channel,) = wadeable(examine(made, RULES, finished=True))

    assert channel.anew(6.5) is sent
    assert channel.anew(5.5) and channel.again(6.0)
    assert channel.anew(6.0) and channel.anew(7.0)


@pytest.mark.parametrize("made", [gauging(), gauging(left())])
def test_where_nothing_was_read_nothing_is_held_back(made: Gauging) -> None:
    """One depth or none tells nothing of the water."""
    (channel,) = wadeable(examine(made, RULES, finished=False))

    assert channel.again(1.0) and channel.anew(1.0)


def test_two_depths_make_a_line() -> None:
    """Half-way from the edge to 0.5 m it is 0.25 m; no third depth tells a departure from it."""
    (channel,) = wadeable(
        examine(gauging(left(), read(1, 0.5, 0.4), units=METRIC), RULES, finished=False)
    )

    assert channel.depth.likely_most(0.5) == pytest.approx(0.25, rel=1e-12)


def test_what_lies_before_the_first_strong_reading_is_kept_out_of() -> None:
    """0.66 m²/s at the first vertical that was called: nobody has read what lies before it."""
    made = gauging(read(1, 0.6, 1.1), read(2, 0.3, 0.2), read(3, 0.3, 0.2), units=METRIC)
    (channel,) = wadeable(examine(made, RULES, finished=False))

    assert channel.keeps_out == (-math.inf, 2.0)
    assert not channel.again(0.5) and channel.again(2.0)


def test_a_velocity_that_is_not_known_beside_a_cut_bank_is_not_weak() -> None:
    """Its depth is called, the meter not held yet, and nothing stands in for it."""
    made = gauging(left(), Vertical(1.0, 0.3), right(2, 0.3, bank="undercut"), units=METRIC)
    (channel,) = wadeable(examine(made, RULES, finished=False))

    assert not channel.anew(1.5)


def test_a_stone_below_a_cut_bank_carries_no_strong_water() -> None:
    """Where the vertical beside the bank is dry nothing pushes there."""
    inner = [read(float(i), 0.3, 0.2) for i in range(1, 6)]
    edge = right(7, 0.3, bank="undercut")
    made = gauging(left(), *inner, Vertical(6.0, 0.0), edge, units=METRIC)
    (channel,) = wadeable(examine(made, RULES, finished=True))

    assert channel.anew(6.5)
