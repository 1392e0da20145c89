"""Where one more vertical pays most."""

import attrs
import pytest

from bankside.gauging.checks.answers import accepted, key_of
from bankside.gauging.checks.examined import examine
from bankside.gauging.checks.finding import Place
from bankside.gauging.checks.one_more import OneMore, one_more
from bankside.gauging.checks.run import check_gauging
from bankside.gauging.records import Channel, Gauging, StageReading

from .sections import FEET, METRIC, RULES, at_tapes, even, gauging, left, read, right


def _one_more(made: Gauging, finished: bool = True) -> OneMore | None:
    return one_more(
        examine(made, RULES, finished=finished), check_gauging(made, RULES, finished=finished)
    )


def test_half_way_between_the_two_that_carry_most() -> None:
    """24 panels of 1 ft³/s but for 1.5 and 1.6 at 7 and 8 ft: 1.55 of 25.1 run between those."""
    made = gauging(*even(v7={"velocity": 1.5}, v8={"velocity": 1.6}))

    found = _one_more(made)

    assert found == OneMore(
        Place(0, 7.5),
        "Between tapes 7 and 8 ft runs 6.2 % of the discharge, the most of all gaps with room for "
        "a vertical.",
    )


def test_a_gap_without_room_is_passed_over() -> None:
    """In 0.4 ft no vertical fits, however much runs there; the next gap has room."""
    fast = {10.0: {"velocity": 4.0}, 10.4: {"velocity": 4.0}}
    tapes = [float(i) for i in range(11)] + [10.4] + [float(i) for i in range(11, 25)]

    examined = examine(gauging(*at_tapes(tapes, fast)), RULES, finished=True)
    found = one_more(examined, ())

    assert found is not None
    assert found.place == Place(0, 9.5)  # 2.5 ft³/s from 9 to 10; 1.5 from 10.4 to 11


def test_no_room_anywhere_is_no_place() -> None:
    """0.4 ft apart throughout."""
    assert _one_more(gauging(*even(9, 0.4))) is None


def test_the_channel_that_carries_most_is_named() -> None:
    """A side channel of two panels of 2 ft³/s beside 24 of 1."""
    side = Channel((left(), read(1, velocity=2.0), read(2, velocity=2.0), right(3)), name="side")

    found = _one_more(Gauging(FEET, (Channel(tuple(even())), side)))

    assert found is not None and found.place == Place(1, 1.5)
    assert found.why.startswith("Between tapes 1 and 2 ft (channel 2, side) runs 7.1 % of ")


def test_nothing_is_asked_for_before_the_last_vertical() -> None:
    """What is a large share of the water so far may be a small one of all."""
    assert _one_more(gauging(*even()), finished=False) is None


def test_nobody_is_sent_where_a_finding_calls_out() -> None:
    """Too strong a current or rising water; once the leader has settled it, there is a place."""
    strong = gauging(*(left(), *(read(i, depth=3.3, velocity=3.5) for i in range(1, 9)), right(9)))
    rising = attrs.evolve(gauging(*even(depth=1)), stage=(StageReading(1.0), StageReading(1.3)))

    assert _one_more(strong) is None
    assert _one_more(rising) is None
    stops = [f for f in check_gauging(strong, RULES) if f.severity == "stop"]
    reasons = {key_of(stop): "from the footbridge" for stop in stops}
    settled = accepted(strong, stops, reasons, by="I. Marrow")
    assert _one_more(settled) is not None


def test_nobody_is_sent_beside_a_vertical_where_the_leader_decides() -> None:
    """7.2 ft²/s at 12 ft; the gaps on both sides of it carry most and are left alone."""
    velocities = {f"v{i}": {"depth": 2.0, "velocity": 3.3} for i in range(1, 25)}
    velocities["v12"]["velocity"] = 3.6
    velocities["v5"]["velocity"] = 3.4
    made = gauging(*even(**velocities))
    asks = [f for f in check_gauging(made, RULES) if f.check == "Water too strong to wade"]
    assert [(f.severity, f.tapes) for f in asks] == [("explain", (12.0,))]

    found = _one_more(made)

    assert found is not None and found.place in (Place(0, 4.5), Place(0, 5.5))


def test_a_figure_in_doubt_decides_nothing() -> None:
    """A velocity of 4 ft/s among those of 1 ft/s carries most of all; it is settled first."""
    slipped = gauging(*even(v12={"velocity": 4.0}))
    grave = [f for f in check_gauging(slipped, RULES) if f.suspect and f.severity == "fix now"]

    assert bool(grave)
    assert _one_more(slipped) is None


@pytest.mark.parametrize("units", [FEET, METRIC])
def test_still_water_has_no_place(units: object) -> None:
    """No share can be told where nothing runs."""
    still = {f"v{i}": {"velocity": 0.0} for i in range(1, 25)}

    assert _one_more(attrs.evolve(gauging(*even(**still)), units=units)) is None
