"""How many verticals there should be."""

import attrs

from bankside.gauging.checks.finding import Place
from bankside.gauging.records import Channel, Gauging, Meter, PointReading, Vertical
from bankside.gauging.rule_sets.load import rule_set_from_toml

from .sections import FEET, RULES, even, found, gauging, left, read, right

NAME = "Too few verticals"
BY_WIDTH = rule_set_from_toml("""
format = "bankside.rules/1"
name = "own"
title = "Own"
[values.verticals_by_width]
value = [[0, 5], [20, 22]]
unit = "ft"
confidence = "practice"
source = "invented"
""")


def test_twenty_are_enough_and_nineteen_are_not() -> None:
    """The rule set's number, told only when the gauging is finished."""
    assert found(NAME, gauging(*even(20))) == []
    (finding,) = found(NAME, gauging(*even(19)))
    assert finding.severity == "explain"
    assert [t.name for t in finding.thresholds] == ["verticals_least"]
    assert finding.found == "19 verticals were read in 20 ft of water, fewer than 20."
    assert found(NAME, gauging(*even(19)), finished=False) == []


def test_the_first_place_is_where_the_discharge_is_largest() -> None:
    """Of equal gaps the one between the two fastest verticals carries most."""
    made = gauging(*even(19, v7={"velocity": 1.2}, v8={"velocity": 1.3}))

    assert found(NAME, made)[0].advice == (
        "Add verticals where the discharge is largest, first at tape 7.5 ft."
    )


def test_no_more_are_asked_for_than_there_is_room_for() -> None:
    """0.4 ft apart no vertical fits between; 0.6 ft apart one does."""
    assert found(NAME, gauging(*even(9, 0.4))) == []
    (finding,) = found(NAME, gauging(*even(8, 0.6)))
    # 5.4 ft of water hold 17 verticals 0.3 ft apart.
    assert "fewer than 17, as no closer than 0.3 ft is asked" in finding.found
    assert [t.name for t in finding.thresholds] == ["verticals_least", "spacing_least"]


def test_a_large_rotor_has_less_room() -> None:
    """5.4 ft of water hold 9 verticals 0.5 ft apart, and 17 that are 0.3 ft apart."""
    large = attrs.evolve(gauging(*even(8, 0.6)), meter=Meter(rotor="large"))
    assert found(NAME, large) == []  # between two 0.6 ft apart there is no room
    wide = attrs.evolve(gauging(*even(8, 1.0)), meter=Meter(rotor="large"))
    assert "fewer than 17, as no closer than 0.5 ft is asked" in found(NAME, wide)[0].found


def test_channels_with_tapes_of_their_own_are_named() -> None:
    """Tape 2.5 ft stands in both channels."""
    made = Gauging(FEET, (Channel(tuple(even(4))), Channel(tuple(even(4)), name="side")))
    (finding,) = found(NAME, made)
    assert " ft (channel 1) and at tapes " in finding.advice
    assert finding.advice.endswith(" ft (channel 2, side).")
    # Five at the most in each; those of the one channel before those of the other.
    assert [place.channel for place in finding.places] == [0] * 5 + [1] * 5
    assert Place(1, 2.5) in finding.places


def test_the_number_goes_by_the_width_where_the_rule_set_says_so() -> None:
    """From 20 ft on 22 are asked for, below it 5."""
    assert found(NAME, gauging(*even(18)), rules=BY_WIDTH) == []
    assert "fewer than 22" in found(NAME, gauging(*even(19)), rules=BY_WIDTH)[0].found
    assert found(NAME, gauging(*even(22)), rules=BY_WIDTH) == []


def test_a_vertical_without_water_is_no_reading() -> None:
    """A dry place, and an edge with the velocity 0 that sheets write there, do not count."""
    verticals = even(20)
    verticals[0] = left(velocity=(PointReading(0.0),))
    verticals[9] = Vertical(9.0, dry=True)

    assert found(NAME, gauging(*verticals))[0].found.startswith("19 verticals were read in 21 ft")
    verticals[10] = Vertical(10.0, dry=True)
    assert found(NAME, gauging(*verticals))[0].found.startswith("18 verticals were read in 20 ft")


def test_before_the_discharge_is_known_the_widest_gap_is_named() -> None:
    """No depth was called at the other: 4 ft lie between it and the right edge, 2 ft elsewhere."""
    made = gauging(left(), Vertical(2.0), read(4.0), right(8.0))

    (finding,) = found(NAME, made)

    assert finding.found.startswith("1 vertical was read in 8 ft of water, fewer than 20")
    assert finding.advice.startswith("Add verticals where the gaps are widest, first at tapes 1, ")


def test_a_rule_set_may_leave_the_spacing_open() -> None:
    """No room is reckoned where verticals may stand as close as they like."""
    spacing = attrs.evolve(RULES["spacing_least"], value=0.0)
    rules = attrs.evolve(RULES, values={**RULES.values, "spacing_least": spacing})

    (finding,) = found(NAME, gauging(*even(9, 0.4)), rules=rules)

    assert finding.found == "9 verticals were read in 4 ft of water, fewer than 20."
