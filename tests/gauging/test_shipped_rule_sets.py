"""The rule sets that are shipped say what the notes on their publications have."""

from typing import get_args

import pytest

from bankside.gauging.checks.run import ALL_CHECKS
from bankside.gauging.rule_sets.load import BASE, load_rule_set, shipped_names
from bankside.gauging.rule_sets.rule_set import Confidence
from bankside.gauging.rule_sets.thresholds import THRESHOLDS

# What the project's notes on the publications have, written out by hand: value, unit, confidence.
R, H, M, L = "read", "memory high", "memory medium", "memory low"
NOTES: dict[str, dict[str, tuple[object, str, str]]] = {
    "after-usgs-tm-3-a8": {
        "verticals_least": (25, "1", H),
        "panel_share_aim": (5, "%", R),
        "panel_share_limit": (10, "%", H),
        "exposure": (40, "s", H),
        "one_point_deepest": (2.5, "ft", H),
        "one_point_deepest_small": (1.5, "ft", M),
        "pair_ratio": (2, "1", H),
        "half_depth_below": (0.3, "ft", M),
        "shallowest": (0.3, "ft", M),
        "slowest": (0.2, "ft/s", M),
        "quality_excellent": (2, "%", R),
        "quality_good": (5, "%", R),
        "quality_fair": (8, "%", R),
    },
    "after-usfs-rm-245": {
        "verticals_least": (25, "1", M),
        "panel_share_aim": (5, "%", M),
        "exposure": (40, "s", M),
        "one_point_deepest": (2.5, "ft", M),
    },
    "after-epa-wadeable-streams": {
        "verticals_least": (15, "1", H),
        "spacing_least": (10, "cm", M),
        "exposure": (20, "s", M),
        "one_point_deepest": (0.75, "m", M),
        "weak_depth": (15, "cm", M),
        "weak_velocity": (0.15, "m/s", M),
    },
    "after-bc-hydrometric-1998": {
        "verticals_least": (20, "1", M),
        "panel_share_aim": (5, "%", M),
        "panel_share_limit": (10, "%", M),
        "exposure": (40, "s", M),
        # The notes have it as medium in one place and as low in another: the weaker holds.
        "one_point_deepest": (0.75, "m", L),
    },
    "after-iso-748": {
        # High in one place, medium and with other figures in another: the weaker holds.
        "verticals_by_width": (((0, 5), (0.5, 6), (1, 7), (3, 13), (5, 22)), "m", M),
        "panel_share_aim": (5, "%", M),
        "panel_share_limit": (10, "%", M),
        "exposure": (30, "s", H),
        "stage_interval": (30, "min", R),
    },
    "after-wmo-1044": {
        "verticals_least": (25, "1", M),
        "panel_share_aim": (5, "%", M),
        "panel_share_limit": (10, "%", M),
        "exposure": (40, "s", M),
        "one_point_deepest": (0.75, "m", M),
    },
    "after-cdfw-ifp-002": {
        "verticals_least": (20, "1", M),
        "panel_share_aim": (5, "%", M),
        "panel_share_limit": (10, "%", M),
        "exposure": (40, "s", L),
        "one_point_deepest": (2.5, "ft", M),
    },
    "after-usbr-water-measurement": {
        "bed_area": (3, "%", R),
        "neighbour_velocity": (20, "%", R),
    },
    "after-colorado-mine-permit-2014": {
        "exposure": (40, "s", R),
        "half_depth_below": (0.3, "ft", R),
        "shallowest": (0.3, "ft", R),
        "slowest": (0.1, "ft/s", R),
        "spin_small": (40, "s", R),
        "spin_large": (90, "s", R),
        "quality_excellent": (2, "%", R),
        "quality_good": (5, "%", R),
        "quality_fair": (8, "%", R),
    },
    "after-neon-discharge": {
        "verticals_least": (20, "1", M),
        "panel_share_limit": (10, "%", M),
    },
    "after-washington-eap056": {
        "verticals_least": (20, "1", M),
        "panel_share_limit": (10, "%", M),
    },
    "after-washington-tfw-1999": {
        "verticals_least": (20, "1", L),
        "panel_share_limit": (10, "%", L),
    },
    "after-florida-ft-1800": {
        "wade_depth_stop": (4, "ft", R),
        "wade_depth_caution": (4, "ft", R),
    },
}

# Figures that were read in their publication, with what stands beside them there.
PRINTED = {
    "wade_depth_caution": (4, "ft", "Florida DEP FT 1800"),
    "verticals_least": (20, "1", "HYDRO21676, p. 31"),
    "spacing_least": (0.3, "ft", "HYDRO21676, p. 31"),
    "spacing_least_large": (0.5, "ft", "HYDRO21676, p. 31"),
    "panel_share_limit": (10, "%", "MDPI Water 2018, 10, 1010"),
    "panel_share_aim": (5, "%", "MDPI Water 2018, 10, 1010"),
    "neighbour_velocity": (20, "%", "ch. 10 sec. 15"),
    "bed_area": (3, "%", "ch. 10 sec. 15"),
    "slowest": (0.1, "ft/s", "Colorado mine permit"),
    "shallowest": (0.3, "ft", "Colorado mine permit"),
    "shallowest_large": (1.5, "ft", "SW memorandum 85.14, table 1"),
    "half_depth_below": (0.3, "ft", "Colorado mine permit"),
    "one_point_deepest": (2.5, "ft", "p. 2.60"),
    "exposure": (40, "s", "MDPI Water 2018, 10, 1010"),
    "stage_interval": (30, "min", "ISO 748:2021, 5.2.3"),
    "position_accuracy": (30, "m", "field positions, 2010"),
    "spin_small": (40, "s", "Colorado mine permit"),
    "spin_large": (90, "s", "Colorado mine permit"),
    "quality_excellent": (2, "%", "p. 18"),
    "quality_good": (5, "%", "p. 18"),
    "quality_fair": (8, "%", "p. 18"),
}


@pytest.mark.parametrize("name", shipped_names())
def test_a_shipped_rule_set_is_whole(name: str) -> None:
    """Its name is that of its file, each value has its source, and nobody claims a check."""
    rule_set = load_rule_set(name)

    assert rule_set.name == name
    assert rule_set.title.endswith("verify")
    assert name == BASE or rule_set.title.startswith("Starter values after ")
    assert set(rule_set.values) >= set(THRESHOLDS) - {"verticals_by_width"}
    assert rule_set.own
    for threshold in rule_set.own.values():
        assert threshold.source.strip() and "\n" not in threshold.source
        assert threshold.confidence in get_args(Confidence)
        assert (threshold.checked_by, threshold.checked_on) == (None, None)


def test_every_threshold_is_set_somewhere() -> None:
    """The base sets all that does not go by the width, and some rule set the rest."""
    base = set(load_rule_set(BASE).values)
    every = set().union(*(load_rule_set(name).own for name in shipped_names()))

    assert set(THRESHOLDS) - base == {"verticals_by_width"}
    assert every == set(THRESHOLDS)


def test_no_check_goes_by_a_threshold_that_there_is_not() -> None:
    """Every threshold that a check names can be set."""
    assert {name for check in ALL_CHECKS for name in check.thresholds} <= set(THRESHOLDS)


def test_every_shipped_rule_set_is_in_the_notes() -> None:
    """None is shipped without figures to hold it against, none is forgotten."""
    assert set(shipped_names()) == {BASE, *NOTES}


@pytest.mark.parametrize("name", NOTES)
def test_a_rule_set_says_what_the_notes_have(name: str) -> None:
    """Figures, units and confidence are those of the notes, and there are no more of them."""
    own = load_rule_set(name).own

    assert {key: (t.value, t.unit, t.confidence) for key, t in own.items()} == NOTES[name]


@pytest.mark.parametrize("name", PRINTED)
def test_a_figure_that_was_read_is_the_one_printed(name: str) -> None:
    """The base has the figures of the publications, and says where they stand."""
    value, unit, place = PRINTED[name]
    threshold = load_rule_set(BASE)[name]

    assert (threshold.value, threshold.unit, threshold.confidence) == (value, unit, "read")
    assert place in threshold.source


def test_the_bound_of_one_point_is_told_where_it_is_inclusive() -> None:
    """By the manuals one point holds at 0.75 m itself, and the checks ask for two from there on."""
    source = load_rule_set("after-epa-wadeable-streams")["one_point_deepest"].source

    assert "to 0.75 m inclusive" in source and "from the value on" in source


def test_every_figure_that_was_read_is_held() -> None:
    """No value of the base counts as read without its figure here."""
    own = load_rule_set(BASE).own.values()

    assert {value.name for value in own if value.confidence == "read"} == set(PRINTED)


def test_no_shipped_rule_set_lets_a_crew_wade_deeper_or_faster() -> None:
    """A limit for wading is never above that of the base: what is not sure stays strict."""
    base = load_rule_set(BASE)
    wading = [name for name in THRESHOLDS if name.startswith("wade_")]

    for rule_set in map(load_rule_set, shipped_names()):
        assert all(rule_set.si(name) <= base.si(name) for name in wading), rule_set.name


@pytest.mark.parametrize(
    ("width_m", "number"), [(0.0, 5), (0.49, 5), (0.5, 6), (2.9, 7), (3, 13), (5, 22), (80, 22)]
)
def test_the_number_of_verticals_by_the_width(width_m: float, number: int) -> None:
    """A class of width holds from its lower bound on (ISO 748, from memory)."""
    assert load_rule_set("after-iso-748")["verticals_by_width"].step_for(width_m) == number
