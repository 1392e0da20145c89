from collections.abc import Callable
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bankside.kernel.section import (
    distance_from_last,
    distance_to_next,
    froude_number,
    hydraulic_radius,
    is_bank,
    mean_depth,
    panel_width,
    panel_width_full_end,
    panel_width_triangular,
    section_area,
    trapezoid_area,
    water_width,
    wetted_perimeter,
)

TAPE = [0.0, 1.0, 3.0, 4.0]
DEPTH = [0.0, 0.5, 0.5, 0.0]


def test_half_width_panels() -> None:
    """A panel reaches half way to each neighbour, an end panel to its only one."""
    assert [panel_width(TAPE, i) for i in range(4)] == [0.5, 1.5, 1.5, 0.5]


def test_full_end_panels() -> None:
    """Where the banks are not written down the end panels take the whole distance."""
    assert [panel_width_full_end(TAPE, i) for i in range(4)] == [1.0, 1.5, 1.5, 1.0]


def test_the_whole_distances_to_the_neighbours() -> None:
    """The last vertical has none after it, the first none before it."""
    assert [distance_to_next(TAPE, i) for i in range(4)] == [
        *(there - here for here, there in pairwise(TAPE)),
        0.0,
    ]
    assert [distance_from_last(TAPE, i) for i in range(4)] == [
        0.0,
        *(there - here for here, there in pairwise(TAPE)),
    ]


def test_triangular_panels() -> None:
    """(1 + 2/2)^2 / (2 x 1) is 2 next to either bank; the banks themselves have no panel."""
    assert [panel_width_triangular(TAPE, DEPTH, i) for i in range(4)] == [0.0, 2.0, 2.0, 0.0]


def test_triangular_panels_at_a_steep_bank() -> None:
    """A bank with water at it keeps its half-width and adds nothing to its neighbour."""
    steep = [0.3, 0.5, 0.5, 0.0]

    assert [panel_width_triangular(TAPE, steep, i) for i in range(4)] == [0.5, 1.5, 2.0, 0.0]


def test_triangular_panel_between_two_banks() -> None:
    """With one vertical between the banks both excesses are added to its half-width."""
    width = panel_width_triangular([0.0, 1.0, 3.0], [0.0, 0.5, 0.0], 1)

    assert width == 1.5 + 2.0 * 2.0 / (8.0 * 1.0) + 1.0 * 1.0 / (8.0 * 2.0)


def test_dry_ground_beyond_the_edge_leaves_the_triangular_rule() -> None:
    """A dry vertical outside the edge of water takes nothing from the panel beside the edge."""
    tape, depth = [-2.0, *TAPE, 7.0], [0.0, *DEPTH, 0.0]

    assert [panel_width_triangular(tape, depth, i) for i in range(6)] == [0, 0, 2.0, 2.0, 0, 0]


def test_the_shores_of_a_dry_gap_are_banks_of_the_triangular_rule() -> None:
    """Beside an island the rule holds as at the ends: (W1 + W2/2)^2 / (2 W1) from each shore."""
    tape = [0.0, 1.0, 3.0, 4.0, 6.0, 8.0, 9.0, 10.0]
    depth = [0.0, 0.5, 0.5, 0.0, 0.0, 0.5, 0.5, 0.0]
    widths = [panel_width_triangular(tape, depth, i) for i in range(8)]

    # From the shore at 6: W1 = 2, W2 = 1, so (2 + 1/2)^2 / 4; from the edge at 10: both 1.
    assert widths == [0.0, 2.0, 2.0, 0.0, 0.0, 2.5**2 / 4, 1.5**2 / 2, 0.0]


def test_a_stone_is_no_bank_of_the_triangular_rule() -> None:
    """A single dry vertical between wet ones leaves its neighbours their half-widths."""
    tape, depth = [0.0, 1.0, 3.0, 4.0, 5.0, 6.0], [0.3, 0.5, 0.0, 0.5, 0.5, 0.3]

    for i in range(6):
        assert panel_width_triangular(tape, depth, i) == panel_width(tape, i)


def test_where_the_water_ends() -> None:
    """Depth 0 is a bank at the ends and beside more of it; a stone and wet ground are none."""
    assert [is_bank(DEPTH, i) for i in range(4)] == [True, False, False, True]
    assert [is_bank([0.5, 0.0, 0.5, 0.0, 0.0, 0.5], i) for i in range(6)] == [
        *[False] * 3,
        *[True] * 2,
        False,
    ]
    assert is_bank([0.0, 0.0, 0.5], 1)


@given(st.floats(0.05, 5.0), st.floats(0.05, 5.0))
def test_triangular_panel_is_the_textbook_formula(w1: float, w2: float) -> None:
    """Half-width and excess together are (W1 + W2/2)^2 / (2 W1), at the left and at the right."""
    textbook = (w1 + w2 / 2) ** 2 / (2 * w1)
    left = panel_width_triangular([0.0, w1, w1 + w2, 20.0], DEPTH, 1)
    right = panel_width_triangular([-20.0, -w1 - w2, -w1, 0.0], DEPTH, 2)

    assert left == pytest.approx(textbook, rel=1e-12)
    assert right == pytest.approx(textbook, rel=1e-12)


def test_two_verticals_are_a_section() -> None:
    """Two steep banks with nothing between them still have width, area and perimeter."""
    tape, depth = [2.0, 5.0], [1.0, 1.0]

    assert [panel_width(tape, i) for i in (0, 1)] == [1.5, 1.5]
    assert [panel_width_triangular(tape, depth, i) for i in (0, 1)] == [1.5, 1.5]
    assert section_area(tape, depth) == 3.0
    assert wetted_perimeter(tape, depth) == 5.0


def test_a_dry_gap_is_neither_width_nor_perimeter() -> None:
    """Between two neighbouring dry verticals there is ground, not water."""
    tape = [0.0, 3.0, 4.0, 6.0, 7.0, 10.0]
    depth = [0.0, 4.0, 0.0, 0.0, 4.0, 0.0]

    assert water_width(tape, depth) == 8.0
    assert wetted_perimeter(tape, depth) == pytest.approx(2 * (5.0 + 17.0**0.5))


def test_one_dry_vertical_is_a_point() -> None:
    """A single stone at the surface takes no width away: the bed rises to it and falls again."""
    tape, depth = [0.0, 3.0, 6.0, 9.0, 12.0], [0.0, 4.0, 0.0, 4.0, 0.0]

    assert water_width(tape, depth) == 12.0
    assert wetted_perimeter(tape, depth) == 20.0


def test_a_steep_bank_wets_its_face() -> None:
    """A first or last vertical with water at it adds its depth to the perimeter."""
    assert wetted_perimeter([0.0, 4.0], [3.0, 0.0]) == 3.0 + 5.0


def test_ratios_of_a_section() -> None:
    """Hydraulic radius and mean depth are quotients; Froude has gravity in it and keeps signs."""
    assert hydraulic_radius(9.0, 12.0) == 0.75
    assert mean_depth(9.0, 6.0) == 1.5
    assert froude_number(9.80665, 9.80665) == 1.0
    assert froude_number(-9.80665, 9.80665) == -1.0


@pytest.mark.parametrize(
    ("function", "arguments"),
    [
        (hydraulic_radius, (1.0, 0.0)),
        (mean_depth, (1.0, 0.0)),
        (froude_number, (1.0, 0.0)),
        (froude_number, (1.0, -0.2)),
        (panel_width, ([0.0], 0)),
        (panel_width_full_end, ([], 0)),
        (distance_to_next, ([1.0], 0)),
        (distance_from_last, ([1.0], 0)),
        (panel_width_triangular, ([0.0], [0.0], 0)),
        (panel_width_triangular, (TAPE, DEPTH[:3], 1)),
        (is_bank, ([0.0], 0)),
        (section_area, ([0.0], [0.0])),
        (section_area, (TAPE, DEPTH[:3])),
        (trapezoid_area, (TAPE, DEPTH[:3], 0)),
        (water_width, (TAPE, [*DEPTH, 0.0])),
        (wetted_perimeter, ([], [])),
    ],
)
def test_impossible_sections_are_refused(
    function: Callable[..., float], arguments: tuple[Any, ...]
) -> None:
    """Fewer than two verticals, lengths that do not pair and divisors of 0 raise ValueError."""
    with pytest.raises(ValueError, match=r"must be above 0|two verticals|one value for every"):
        function(*arguments)


@pytest.mark.parametrize("i", [-1, 4])
def test_a_vertical_that_does_not_exist_is_refused(i: int) -> None:
    """An index never wraps round to the other bank."""
    with pytest.raises(IndexError, match="no vertical has this index"):
        panel_width(TAPE, i)
    with pytest.raises(IndexError, match="no vertical has this index"):
        panel_width_full_end(TAPE, i)
    with pytest.raises(IndexError, match="no vertical has this index"):
        panel_width_triangular(TAPE, DEPTH, i)
    with pytest.raises(IndexError, match="no vertical has this index"):
        is_bank(DEPTH, i)


@pytest.mark.parametrize("i", [-1, 3])
def test_a_stretch_that_does_not_exist_is_refused(i: int) -> None:
    """After the last vertical there is no stretch to the next one."""
    with pytest.raises(IndexError, match="no two neighbouring verticals"):
        trapezoid_area(TAPE, DEPTH, i)
