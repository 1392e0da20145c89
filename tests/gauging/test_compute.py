import math
from typing import Any

import pytest

from bankside.gauging.compute import EdgeRule, Method, compute
from bankside.gauging.faults import InputRefused
from bankside.gauging.records import (
    Channel,
    Gauging,
    Meter,
    PointReading,
    RatingPart,
    Units,
    Vertical,
)
from bankside.gauging.result import Result

METRIC = Units("m", "m/s")
LEFT = Vertical(0, 0, edge="left", bank="sloping")
RIGHT = Vertical(4, 0, edge="right", bank="sloping")


def _at(tape: float, depth: float, velocity: float | None = None, **fields: Any) -> Vertical:
    readings = () if velocity is None else (PointReading(velocity, 0.6),)
    return Vertical(tape, depth, readings, **fields)


def _gauging(*verticals: Vertical, units: Units = METRIC) -> Gauging:
    return Gauging(units, (Channel(verticals),))


def _velocities(result: Result) -> dict[float, tuple[float, str]]:
    return {v.tape: (v.velocity_ms, v.velocity_from) for v in result.verticals}


def _refusal(gauging: Gauging, **how: Any) -> list[str]:
    with pytest.raises(InputRefused) as caught:
        compute(gauging, **how)
    return [str(fault) for fault in caught.value.faults]


# A two-point problem with sloping edges: Tutorial 4, Streamflow measurement, question 1, whose
# printed answer, 6.426 m³/s, is that of the triangular edge rule.
TWO_POINT = _gauging(
    Vertical(0, 0, edge="left"),
    *(
        Vertical(x, d, (PointReading(v02, 0.2), PointReading(v08, 0.8)))
        for x, d, v02, v08 in [
            (1.5, 1.3, 0.6, 0.4),
            (3.0, 2.5, 0.9, 0.6),
            (4.5, 1.7, 0.7, 0.5),
            (6.0, 1.0, 0.6, 0.4),
            (7.5, 0.4, 0.4, 0.3),
        ]
    ),
    Vertical(9, 0, edge="right"),
)


def test_a_published_problem_gives_its_printed_answer() -> None:
    """The record of the problem gives the printed total, to the digits printed."""
    assert round(compute(TWO_POINT, edge_rule="triangular").discharge_m3s, 3) == 6.426


@pytest.mark.parametrize(
    ("method", "edge_rule", "panels"),
    [
        ("mid-section", "half-width", [0, 0.975, 2.8125, 1.53, 0.75, 0.21, 0]),
        ("mid-section", "triangular", [0, 1.096875, 2.8125, 1.53, 0.75, 0.23625, 0]),
        # Mean velocity times mean depth times 1.5 m, worked out by hand.
        ("mean-section", "half-width", [0.24375, 1.78125, 2.126250, 1.1137500, 0.44625, 0.0525]),
    ],
)
def test_the_panels_of_a_published_problem(
    method: Method, edge_rule: EdgeRule, panels: list[float]
) -> None:
    """Each method gives its own panels for the same readings; the total is their sum."""
    result = compute(TWO_POINT, method, edge_rule)

    assert [panel.discharge_m3s for panel in result.panels] == pytest.approx(panels, rel=1e-12)
    assert result.discharge_m3s == pytest.approx(sum(panels), rel=1e-12)
    assert result.area_m2 == pytest.approx(10.35)
    assert result.wetted_perimeter_m == pytest.approx(10.42914, abs=5e-6)
    assert result.hydraulic_radius_m == pytest.approx(0.992412, abs=1e-6)
    assert result.width_m == 9
    assert result.mean_depth_m == pytest.approx(10.35 / 9)
    if edge_rule == "half-width":
        assert result.mean_velocity_ms == pytest.approx(sum(panels) / 10.35)
        assert result.notes == ()


def test_a_panel_says_what_it_stands_for() -> None:
    """A panel points at its vertical and carries its share and how the velocity came about."""
    first, panel, *_, last = compute(TWO_POINT).panels

    assert (first.velocity_from, first.discharge_m3s, first.share) == ("edge", 0, 0)
    assert (last.velocity_from, last.vertical, last.width_m) == ("edge", 6, 0.75)
    assert (panel.channel, panel.vertical, panel.tape, panel.tape_to) == (0, 1, 1.5, None)
    assert (panel.width_m, panel.depth_m, panel.velocity_ms) == (1.5, 1.3, 0.5)
    assert panel.share == pytest.approx(100 * 0.975 / 6.2775)
    assert panel.velocity_from == "two points"


def test_a_panel_between_verticals_says_between_which() -> None:
    """By the mean-section method a panel has two tape positions and no edge rule is named."""
    result = compute(TWO_POINT, "mean-section")
    panel = result.panels[0]

    assert result.edge_rule is None
    assert (panel.tape, panel.tape_to, panel.vertical) == (0, 1.5, 0)
    assert panel.velocity_from == "edge and two points"
    second = result.panels[1]
    assert (second.width_m, second.depth_m, second.velocity_ms) == (1.5, 1.9, 0.625)
    assert second.area_m2 == pytest.approx(1.5 * 1.9)


def test_a_sounding_gets_the_velocity_between() -> None:
    """Depth without velocity between measured verticals: in proportion along the tape, and said."""
    result = compute(_gauging(LEFT, _at(1, 0.5, 0.4), _at(1.5, 0.6), _at(3, 0.5, 0.8), RIGHT))

    assert _velocities(result)[1.5] == (pytest.approx(0.5, rel=1e-15), "interpolated")
    [note] = result.notes
    assert note.startswith("No velocity was read at tape 1.5 m: it is interpolated")
    assert [v.measured for v in result.verticals] == [False, True, False, True, False]
    assert [v.neighbours for v in result.verticals] == [(), (), (1, 3), (), ()]


def test_a_sounding_beside_a_sloping_edge_starts_from_still_water() -> None:
    """A sloping edge and a dry place count as velocity 0 for the soundings next to them."""
    result = compute(
        _gauging(LEFT, _at(0.5, 0.2), _at(1, 0.5, 0.4), _at(1.5, 0.2), Vertical(2, dry=True), RIGHT)
    )

    assert _velocities(result)[0.5][0] == pytest.approx(0.2, rel=1e-15)
    assert _velocities(result)[1.5][0] == pytest.approx(0.2, rel=1e-15)
    [note] = result.notes
    assert note.startswith("No velocity was read at tapes 0.5 and 1.5 m: it is interpolated")


def test_a_dry_gap_carries_nothing() -> None:
    """An island splits the width and the perimeter; the water ends half way to its shores."""
    result = compute(
        _gauging(
            LEFT,
            _at(1, 0.4, 0.5),
            Vertical(1.5, dry=True),
            Vertical(2.5, dry=True),
            _at(3, 0.4, 0.5),
            RIGHT,
        )
    )

    # Two triangles of 1.5 m by 0.4 m each.
    assert result.area_m2 == pytest.approx(0.6)
    assert result.width_m == pytest.approx(3)
    assert result.discharge_m3s == pytest.approx(0.3)
    assert result.wetted_perimeter_m == pytest.approx(
        2 * (math.hypot(1, 0.4) + math.hypot(0.5, 0.4))
    )
    assert [p.velocity_from for p in result.panels][2:4] == ["dry", "dry"]


def test_a_depth_of_0_between_others_is_dry() -> None:
    """A vertical of depth 0 that is no end is dry even where nobody wrote the word."""
    result = compute(_gauging(LEFT, _at(1, 0.4, 0.5), _at(2, 0), _at(3, 0.4, 0.5), RIGHT))

    assert _velocities(result)[2] == (0, "dry")


def test_a_velocity_without_depth_is_not_used() -> None:
    """A velocity called at a sloping edge moves no water, and the note names it; 0 needs none."""
    left = _at(0, 0, 0.3, edge="left")
    result = compute(_gauging(left, _at(2, 0.4, 0.5), _at(4, 0, 0, edge="right")), "mean-section")

    assert result.discharge_m3s == pytest.approx(2 * 2 * 0.2 * 0.25)
    assert result.notes == ("The velocity at tape 0 m is not used, as there is no depth.",)


def test_a_steep_edge_takes_the_velocity_beside_a_smooth_wall() -> None:
    """At a wall the table of USGS WSP 2175 (from memory) goes out from the neighbour and back."""
    wall = Vertical(0, 0.8, edge="left", bank="steep")
    result = compute(_gauging(wall, _at(0.4, 0.8, 0.5), RIGHT))

    # The neighbour stands half a depth from the wall, at 0.95 of the velocity one depth away.
    assert _velocities(result)[0] == (pytest.approx(0.5 * 0.65 / 0.95), "wall factor")
    assert result.verticals[0].neighbours == (0.4,)
    assert result.panels[0].width_m == 0.2
    assert result.notes == (
        "No velocity was read at the edge with depth at tape 0 m: it is taken as 0.68 of that at "
        "tape 0.4 m (smooth wall, USGS WSP 2175, from memory).",
    )
    assert result.wetted_perimeter_m == pytest.approx(0.8 + 0.4 + math.hypot(3.6, 0.8))


def test_a_steep_edge_may_bring_its_own_factor() -> None:
    """The factor of the record goes before the table; a sounding on the way takes the line."""
    wall = Vertical(4, 0.8, edge="right", bank="undercut", wall_factor=0.5)
    result = compute(_gauging(LEFT, _at(2, 0.8, 0.6), _at(3, 0.8), wall))

    assert _velocities(result)[4] == (0.3, "wall factor")
    assert _velocities(result)[3] == (pytest.approx(0.45), "interpolated")
    assert any("0.5 of that at tape 2 m, as the record says" in note for note in result.notes)


def test_a_steep_edge_with_a_reading_keeps_it() -> None:
    """Where velocity was read at the wall, nothing is put in its place."""
    wall = _at(0, 0.8, 0.2, edge="left", bank="steep", wall_factor=0.5)
    result = compute(_gauging(wall, _at(1, 0.8, 0.5), RIGHT))

    assert _velocities(result)[0] == (0.2, "one point 0.6")
    assert result.notes == (
        "The wall factor at tape 0 m is not used, as a velocity was read there.",
    )


@pytest.mark.parametrize(("other", "side"), [("left", "right "), ("right", "left "), (None, "")])
def test_edges_that_nobody_wrote_are_said(other: Any, side: str) -> None:
    """A section that ends in the water is cut off there, and the note names the end."""
    result = compute(_gauging(Vertical(0, 0, edge=other), _at(1, 0.5, 0.4), _at(2, 0.5, 0.4)))

    assert result.panels[-1].width_m == 0.5
    assert result.notes == (
        f"No {side}edge of water is written: the last vertical, at tape 2 m, is taken as the edge, "
        "so its panel ends there and the discharge is too small by whatever flows beyond it.",
    )


def test_channels_are_worked_out_each_by_itself_and_added() -> None:
    """Two channels over one tape add their discharge, area, width and perimeter."""
    one = Channel((LEFT, _at(1, 0.5, 0.4), RIGHT), "main")
    two = Channel((LEFT, _at(2, 0.3, -0.1), RIGHT))
    both = compute(Gauging(METRIC, (one, two)))
    apart = [compute(Gauging(METRIC, (channel,))) for channel in (one, two)]

    for name in ("discharge_m3s", "area_m2", "width_m", "wetted_perimeter_m"):
        parts = [getattr(result, name) for result in apart]
        assert [getattr(channel, name) for channel in both.channels] == parts
        assert getattr(both, name) == parts[0] + parts[1]
    assert [(p.channel, p.vertical) for p in both.panels] == [
        (c, v) for c in range(2) for v in range(3)
    ]


def test_water_that_runs_back_is_subtracted() -> None:
    """A velocity upstream keeps its sign, in its panel and in its share."""
    result = compute(_gauging(LEFT, _at(1, 0.5, -0.1), _at(2, 0.5, 0.4), RIGHT))

    back = result.panels[1]
    assert back.discharge_m3s == pytest.approx(-0.05)
    assert back.share is not None
    assert back.share < 0
    assert result.discharge_m3s == pytest.approx(-0.05 + 0.3)
    assert sum(panel.share or 0 for panel in result.panels) == pytest.approx(100)


def test_no_flow_has_no_shares() -> None:
    """Where the total is 0, no panel has a share of it; the water is there all the same."""
    result = compute(_gauging(LEFT, _at(2, 0.5, 0), RIGHT))

    assert result.discharge_m3s == 0
    assert {panel.share for panel in result.panels} == {None}
    assert result.mean_velocity_ms == 0


def test_a_dry_stream_has_no_means() -> None:
    """A section without water carries 0; there is nothing to take a mean over."""
    result = compute(_gauging(LEFT, Vertical(1.1, dry=True), Vertical(2.3, dry=True), RIGHT))

    assert (result.discharge_m3s, result.area_m2, result.wetted_perimeter_m) == (0, 0, 0)
    assert (result.mean_velocity_ms, result.hydraulic_radius_m) == (None, None)
    assert result.width_m == pytest.approx(0, abs=1e-12)


def test_the_order_as_called_is_noted_when_it_turns() -> None:
    """From right to left is an order; back and forth is sorted, and said to be."""
    verticals = (LEFT, _at(1, 0.5, 0.4), _at(2, 0.5, 0.4), RIGHT)
    turned = (verticals[0], verticals[2], verticals[1], verticals[3])

    assert compute(_gauging(*verticals[::-1])).notes == ()
    [note] = compute(_gauging(*turned)).notes
    assert "turns back at tape 1 m" in note


def test_units_of_length_and_depth_go_separately() -> None:
    """A tape in feet, depths in inches and velocities in cm/s come together in SI."""
    units = Units("ft", "cm/s", "in")
    result = compute(_gauging(LEFT, _at(2, 12, 50), RIGHT, units=units))

    assert result.panels[1].depth_m == pytest.approx(0.3048, rel=1e-15)
    assert result.discharge_m3s == pytest.approx(2 * 0.3048 * 0.3048 * 0.5)
    assert result.panels[1].tape == 2


def test_counts_give_the_velocity_of_a_vertical() -> None:
    """A rating in ft/s turns counts into a velocity, which is converted afterwards."""
    counted = Vertical(2, 1, (PointReading(None, 0.6, seconds=50, counts=100),))
    gauging = Gauging(
        Units("ft", "ft/s"),
        (Channel((LEFT, counted, RIGHT)),),
        meter=Meter(rating=(RatingPart(2.2, 0.1),)),
    )

    assert compute(gauging).panels[1].velocity_ms == pytest.approx(4.5 * 0.3048)


@pytest.mark.parametrize(
    ("verticals", "path"),
    [
        ((), "channels[0].verticals"),
        ((_at(1, 0.5, 0.4),), "channels[0].verticals"),
        ((LEFT, Vertical(1), RIGHT), "channels[0].verticals[1].depth"),
        ((Vertical(0, edge="left"), _at(1, 1, 1), RIGHT), "channels[0].verticals[0].depth"),
        ((_at(-1, 1, 1), LEFT, RIGHT), "channels[0].verticals[1].edge"),
        ((LEFT, _at(1, 0.5), RIGHT), "channels[0].verticals[1].velocity"),
        (
            (LEFT, Vertical(1, 0.5, (PointReading(0.4, 0.3),)), RIGHT),
            "channels[0].verticals[1].velocity",
        ),
        ((_at(1e-320, 1, 1), _at(2e-320, 1, 1), _at(1.5e308, 1, 1)), "channels"),
        ((LEFT, _at(1, 1e300, 1e300), RIGHT), "channels"),
    ],
)
def test_what_is_not_enough_for_a_discharge_is_refused(
    verticals: tuple[Vertical, ...], path: str
) -> None:
    """A record may lack these; a discharge may not, and the fault says where."""
    [sentence] = _refusal(_gauging(*verticals))

    assert sentence.startswith(f"{path}: ")


def test_tapes_must_differ_in_metres_too() -> None:
    """Positions so close that only the unit as called tells them apart are refused."""
    close = _gauging(_at(5e-324, 1, 1), _at(1e-323, 1, 1), units=Units("mm", "m/s"))
    [sentence] = _refusal(close)

    assert sentence.startswith("channels[0].verticals[1].tape: tape must differ")


def test_faults_of_all_channels_are_said_at_once() -> None:
    """Every channel that is not enough says so in one refusal."""
    bad = Vertical(1, 0.5, (PointReading(0.4, 0.3),))
    worse = Vertical(2, 0.5, (PointReading(0.4), PointReading(0.4, 0.6)))
    gauging = Gauging(METRIC, (Channel((LEFT, bad, worse, RIGHT)), Channel((Vertical(3),))))

    assert [sentence.split(": ")[0] for sentence in _refusal(gauging)] == [
        "channels[0].verticals[1].velocity",
        "channels[0].verticals[2].velocity",
        "channels[1].verticals",
    ]


def test_a_gauging_without_channels_is_refused() -> None:
    """There is nothing to compute yet."""
    assert _refusal(Gauging(METRIC, ()))[0].startswith("channels: channels must be at least one")


@pytest.mark.parametrize(
    ("method", "edge_rule", "says"),
    [
        ("middle", "half-width", 'method must be "mid-section" or "mean-section" (got "middle")'),
        ("mid-section", "round", 'edge_rule must be "half-width" or "triangular" (got "round")'),
        ("mean-section", "triangular", 'must go with the method "mid-section"'),
    ],
)
def test_an_unknown_method_is_refused(method: Any, edge_rule: Any, says: str) -> None:
    """Names of methods and edge rules are checked, and whether they go together."""
    [sentence] = _refusal(TWO_POINT, method=method, edge_rule=edge_rule)

    assert says in sentence
