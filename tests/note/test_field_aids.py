"""The small tables for the bank: settings of the rod, velocities at which nobody wades."""

from bankside.gauging.rule_sets.load import load_rule_set
from bankside.note.field_aids import (
    method_words,
    rod_settings,
    wading_limits,
    wading_words,
)

from .rule_sets import own_rules

RULES = load_rule_set("common-practice")


def test_the_rod_is_set_to_twice_and_half_the_depth() -> None:
    """From memory: scale = depth for 0.6, twice for 0.2, half for 0.8; by hand at each depth."""
    feet = [(r.depth, r.at_02, r.at_08, r.read_at) for r in rod_settings("ft", RULES)]

    # The limits: half depth below 0.3 ft, two points from 2.5 ft, from 1.5 ft with a small rotor.
    assert feet == [
        ("0.2", "0.40", "0.10", "half"),
        ("0.5", "1.00", "0.25", "0.6"),
        ("1.0", "2.00", "0.50", "0.6"),
        ("1.5", "3.00", "0.75", "0.6 *"),
        ("2.0", "4.00", "1.00", "0.6 *"),
        ("2.5", "5.00", "1.25", "0.2, 0.8"),
        ("3.0", "6.00", "1.50", "0.2, 0.8"),
        ("3.5", "7.00", "1.75", "0.2, 0.8"),
    ]


def test_the_rod_in_metres() -> None:
    """The limits in feet are 0.091, 0.457 and 0.762 m: 0.08 is below, 0.5 and 0.8 above."""
    metres = {r.depth: (r.at_02, r.at_08, r.read_at) for r in rod_settings("m", RULES)}

    assert metres["0.08"] == ("0.16", "0.04", "half")
    assert metres["0.40"] == ("0.80", "0.20", "0.6")
    assert metres["0.50"] == ("1.00", "0.25", "0.6 *")
    assert metres["0.80"] == ("1.60", "0.40", "0.2, 0.8")


def test_no_wading_velocity_is_above_its_limit() -> None:
    """By hand: 6.458 (0.6 m²/s) and 10 ft²/s over the depth, down to a tenth, to 5 and 8 ft/s."""
    feet = [(limit.depth, limit.leader, limit.nobody) for limit in wading_limits("ft", RULES)]

    assert feet == [
        ("1.0", "> 5.0", "> 8.0"),  # 6.46 and 10 ft/s, but the checks speak above 5 and 8 ft/s
        ("1.5", "≥ 4.3", "≥ 6.6"),  # 4.306, 6.667
        ("2.0", "≥ 3.2", "≥ 5.0"),
        ("2.5", "≥ 2.5", "≥ 4.0"),
        ("3.0", "≥ 2.1", "≥ 3.3"),
        ("3.5", "≥ 1.8", "≥ 2.8"),  # 2.857
        ("4.0", "≥ 1.6", "≥ 2.5"),  # 1.615; nothing deeper was read in a publication
    ]


def test_wading_velocities_in_metres() -> None:
    """By hand: 0.92903 and 0.6 m²/s; 5 ft/s is 1.524 m/s, 8 ft/s 2.4384 m/s; 4 ft 1.219 m."""
    metres = {limit.depth: (limit.leader, limit.nobody) for limit in wading_limits("m", RULES)}

    assert metres["0.3"] == ("> 1.52", "> 2.43")
    assert metres["0.5"] == ("≥ 1.20", "≥ 1.85")
    assert metres["1.0"] == ("≥ 0.60", "≥ 0.92")
    assert [*metres][-1] == "1.2"


def test_the_tables_follow_the_rules_of_the_crew() -> None:
    """A crew that wades less deep and less fast reads its own limits; 6 / 2.5 is 2.4."""
    own = own_rules(
        wade_product_stop=(6, "ft2/s"),
        wade_product_caution=(4, "ft2/s"),
        wade_depth_stop=(3, "ft"),
        wade_depth_caution=(3, "ft"),
        one_point_deepest=(2, "ft"),
    )

    limits = {limit.depth: limit.nobody for limit in wading_limits("ft", own)}
    assert (limits["2.0"], limits["2.5"], [*limits][-1]) == ("≥ 3.0", "≥ 2.4", "2.5")
    assert {r.depth: r.read_at for r in rod_settings("ft", own)}["2.0"] == "0.2, 0.8"
    assert "from 6 ft²/s" in wading_words("ft", own)
    assert "0.2 and 0.8 from 2 ft on" in method_words("ft", own)


def test_the_words_say_above_where_the_checks_do() -> None:
    """Depth and velocity alone are judged above their limits, their product from its limit on."""
    assert wading_words("ft", RULES) == (
        "The leader decides: depth × velocity from 6.46 ft²/s (0.6 m²/s), above 4 ft or 5 ft/s. "
        "Nobody wades: depth × velocity from 10 ft²/s, above 5 ft or 8 ft/s. Less for a bad bed, "
        "cold water or a light person."
    )


def test_one_depth_is_not_left_to_the_leader_and_forbidden() -> None:
    """In Florida nobody wades in 4 ft and more: no column, and nothing for a leader to decide."""
    florida = load_rule_set("after-florida-ft-1800")

    assert wading_words("ft", florida).startswith(
        "The leader decides: depth × velocity from 6.46 ft²/s (0.6 m²/s), above 5 ft/s. Nobody "
        "wades: depth × velocity from 10 ft²/s, above 4 ft or 8 ft/s."
    )
    assert [limit.depth for limit in wading_limits("ft", florida)][-1] == "3.5"


def test_equal_limits_leave_nothing_to_the_leader() -> None:
    """Where each limit for the leader is the one for all, only nobody is spoken of."""
    own = own_rules(
        wade_product_caution=(10, "ft2/s"),
        wade_depth_stop=(4, "ft"),
        velocity_explain=(8, "ft/s"),
    )

    assert "leader" not in wading_words("ft", own)


def test_limits_are_told_in_the_unit_of_the_sheet() -> None:
    """A sheet in metres says metres first, the rule's own feet beside them, or the other way."""
    assert "0.762 m (2.5 ft)" in method_words("m", RULES)
    assert "0.929 m²/s (10 ft²/s)" in wading_words("m", RULES)
    assert "6.46 ft²/s (0.6 m²/s)" in wading_words("ft", RULES)


def test_two_points_for_every_rotor_need_no_mark() -> None:
    """The mark speaks of a small rotor alone: from 1 ft on for all, a later limit says nothing."""
    own = own_rules(one_point_deepest=(1, "ft"), one_point_deepest_small=(1.5, "ft"))
    read_at = {r.depth: r.read_at for r in rod_settings("ft", own)}

    assert (read_at["0.5"], read_at["1.0"], read_at["2.0"]) == ("0.6", "0.2, 0.8", "0.2, 0.8")
