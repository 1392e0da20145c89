"""Where each function begins to refuse: what lies at a bound is taken, what lies beyond is not."""

import math
from collections.abc import Callable
from typing import Any

import pytest

from bankside.kernel.between import (
    between_evidence,
    between_variance,
    local_scale,
    mixture_half_width,
    shared_variance,
)
from bankside.kernel.between_parts import (
    common_profile_variance,
    mean_unit_discharge,
    meter_variance,
    profile_length,
    readings_variance,
    rod_variance,
    widths_variance,
    zero_variance,
)
from bankside.kernel.between_prior import (
    prior_weight,
    shape_length_of,
    unevenness_length_of,
    unevenness_of,
    weighted_sum,
)
from bankside.kernel.discharge import (
    last_distance_discharge,
    mean_gauge_height_by_time,
    mean_section_discharge,
    mean_section_panel,
    mid_section_discharge,
    mid_section_discharge_full_end,
    mid_section_discharge_triangular,
    next_distance_discharge,
)
from bankside.kernel.edge import edge_velocity_power_law, wall_ratio, wall_velocity
from bankside.kernel.iso_tables import (
    exposure_uncertainty,
    meter_uncertainty_group,
    meter_uncertainty_individual,
    profile_uncertainty,
    verticals_uncertainty,
)
from bankside.kernel.limits import bed_change
from bankside.kernel.meter import revolutions_per_second
from bankside.kernel.scatter import (
    interpolated_variance,
    interpolated_variance_uncertainty,
    interpolation_residual,
    interpolation_weight,
)
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
    stretch_end,
    trapezoid_area,
    water_width,
    wetted_perimeter,
)
from bankside.kernel.totals import share_of
from bankside.kernel.uncertainty import (
    panels_uncertainty,
    velocity_area_uncertainty,
    velocity_area_uncertainty_equal_panels,
    verticals_component,
)
from bankside.kernel.vertical import velocity_by_integration

# Compiled code reads whatever lies behind a list, so that the list's own refusal is not enough.
OURS = "^no "

HALF = [0.0, 0.5]
ONE = [1.0]
TWO = [1.0, 1.0]
THREE = [1.0, 1.0, 1.0]
ALONG = [0.0, 1.0, 2.0]

# At each index of a section of three verticals that is in order.
_AT_VERTICALS: tuple[tuple[Callable[..., Any], tuple[Any, ...]], ...] = (
    (panel_width, (ALONG,)),
    (panel_width_full_end, (ALONG,)),
    (panel_width_triangular, (ALONG, THREE)),
    (is_bank, (THREE,)),
    (distance_to_next, (ALONG,)),
    (distance_from_last, (ALONG,)),
    (local_scale, (ALONG, THREE)),
)
_BETWEEN_VERTICALS: tuple[tuple[Callable[..., Any], tuple[Any, ...]], ...] = (
    (stretch_end, (THREE,)),
    (trapezoid_area, (ALONG, THREE)),
    (mean_section_panel, (ALONG, THREE, THREE)),
    (bed_change, (ALONG, THREE)),
)


@pytest.mark.parametrize(("function", "section"), _AT_VERTICALS)
def test_a_vertical_is_named_from_0_to_the_last(
    function: Callable[..., Any], section: tuple[Any, ...]
) -> None:
    """Of three verticals there are 0, 1 and 2; -1 is not the last one, as a list would have it."""
    for there in (0, 1, 2):
        function(*section, there)
    for nowhere in (-1, 3):
        with pytest.raises(IndexError, match=OURS):
            function(*section, nowhere)


@pytest.mark.parametrize(("function", "section"), _BETWEEN_VERTICALS)
def test_an_interval_is_named_by_the_vertical_before_it(
    function: Callable[..., Any], section: tuple[Any, ...]
) -> None:
    """Between three verticals there are two intervals."""
    for there in (0, 1):
        function(*section, there)
    for nowhere in (-1, 2, 3):
        with pytest.raises(IndexError, match=OURS):
            function(*section, nowhere)


def test_only_a_vertical_with_two_neighbours_is_interpolated() -> None:
    """Of four verticals the two inner ones."""
    tape = [0.0, 1.0, 2.0, 3.0]
    assert [interpolation_weight(tape, i) for i in (1, 2)] == [0.5, 0.5]
    for nowhere in (-1, 0, 3, 4):
        with pytest.raises(IndexError, match=OURS):
            interpolation_weight(tape, nowhere)


@pytest.mark.parametrize(
    "function", [prior_weight, shape_length_of, unevenness_of, unevenness_length_of]
)
def test_characters_are_numbered_from_0_to_53(function: Callable[[int], float]) -> None:
    """Three lengths of shape, six of unevenness, three of its lengths: 54."""
    assert function(0) > 0.0 and function(53) > 0.0
    for nowhere in (-1, 54):
        with pytest.raises(IndexError, match=OURS):
            function(nowhere)


_CHOICE = (0.4, 0.5, 0.3, 0.5)
# Each function with the least that it takes.
LEAST: tuple[tuple[Callable[..., Any], tuple[Any, ...]], ...] = (
    (panel_width, (HALF, 0)),
    (is_bank, (HALF, 0)),
    (stretch_end, (HALF, 0)),
    (section_area, (HALF, TWO)),
    (hydraulic_radius, (1.0, 0.5)),
    (mean_depth, (1.0, 0.5)),
    (froude_number, (1.0, 0.5)),
    (mid_section_discharge, (HALF, TWO, TWO)),
    (mean_gauge_height_by_time, (ONE, ONE)),
    (velocity_by_integration, ([0.0], ONE, 0.5)),
    (velocity_by_integration, ([1.0], ONE)),
    (velocity_by_integration, ([0.0, 1.0], TWO)),
    (wall_ratio, (0.0,)),
    (wall_velocity, (1.0, 0.0, 0.5)),
    (edge_velocity_power_law, (1.0, 0.5, 0.5, 0.5)),
    (edge_velocity_power_law, (1.0, 0.5, 0.0, 0.5)),
    (revolutions_per_second, (0.0, 0.5)),
    (share_of, (1.0, 1.0)),
    (panels_uncertainty, (ONE, ONE, 1.0)),
    (velocity_area_uncertainty, (ONE,) * 7 + (1.0, 1.0)),
    (velocity_area_uncertainty_equal_panels, (1.0,) * 9),
    (verticals_component, (1.0,)),
    (interpolated_variance, ([0.0, 1.0, 2.0, 3.0, 4.0], [0.0] * 5)),
    (interpolated_variance_uncertainty, (HALF, TWO, [1.0, 2.0], 1.0, 1.0, 1.0, 1.0)),
    (local_scale, (HALF, TWO, 0)),
    (between_evidence, (HALF, TWO, [0.1, 0.1], TWO, *_CHOICE)),
    (between_variance, (HALF, TWO, TWO, *_CHOICE, 0, 1)),
    (shared_variance, (HALF, TWO, 0.5)),
    (mixture_half_width, ([0.5], [0.0], 0.5)),
    (mean_unit_discharge, (HALF, TWO)),
    (profile_length, ([0.25, 0.25], TWO)),
    (verticals_uncertainty, (1.0,)),
    (profile_uncertainty, (1.0,)),
    (exposure_uncertainty, (0.0, 0.5, 0.0)),
    (exposure_uncertainty, (0.0, 0.5, 1.0)),
    (meter_uncertainty_individual, (0.0,)),
    (meter_uncertainty_group, (0.0,)),
)


@pytest.mark.parametrize(("function", "arguments"), LEAST)
def test_what_lies_at_the_bound_is_taken(
    function: Callable[..., Any], arguments: tuple[Any, ...]
) -> None:
    """The smallest section, time, depth, exponent that the function says it takes."""
    assert math.isfinite(function(*arguments))


# Each function with what lies just beyond.
BEYOND: tuple[tuple[Callable[..., Any], tuple[Any, ...]], ...] = (
    (panel_width, (ONE, 0)),
    (is_bank, (ONE, 0)),
    (hydraulic_radius, (1.0, 0.0)),
    (mean_depth, (1.0, 0.0)),
    (froude_number, (1.0, 0.0)),
    (mean_gauge_height_by_time, ([], [])),
    (mean_gauge_height_by_time, (TWO, ONE)),
    (mean_gauge_height_by_time, (ONE, TWO)),
    (mean_gauge_height_by_time, (TWO, [1.0, -1.0])),
    (velocity_by_integration, ([], [])),
    (velocity_by_integration, ([0.2], TWO)),
    (velocity_by_integration, ([-0.1], ONE)),
    (velocity_by_integration, ([1.1], ONE)),
    (velocity_by_integration, ([0.2], ONE, 0.0)),
    (velocity_by_integration, ([0.2, 0.2], TWO)),
    (velocity_by_integration, ([0.2, 0.6, 0.5], THREE)),
    (wall_ratio, (-0.1,)),
    (wall_velocity, (1.0, 1.0, 0.0)),
    (edge_velocity_power_law, (1.0, 0.0, 0.0, 6.0)),
    (edge_velocity_power_law, (1.0, 1.0, -0.1, 6.0)),
    (edge_velocity_power_law, (1.0, 1.0, 1.1, 6.0)),
    (edge_velocity_power_law, (1.0, 1.0, 0.5, 0.0)),
    (revolutions_per_second, (1.0, 0.0)),
    (revolutions_per_second, (-1.0, 1.0)),
    (share_of, (1.0, 0.0)),
    (panels_uncertainty, (TWO, ONE, 1.0)),
    (panels_uncertainty, (ONE, ONE, 0.0)),
    (velocity_area_uncertainty, (ONE, [0.5]) + (ONE,) * 5 + (1.0, 1.0)),
    (velocity_area_uncertainty, ([1.0, -1.0],) + (TWO,) * 6 + (1.0, 1.0)),
    *(
        (velocity_area_uncertainty, (*(TWO if i == j else ONE for j in range(7)), 1.0, 1.0))
        for i in range(1, 7)
    ),
    (velocity_area_uncertainty_equal_panels, (0.5,) + (1.0,) * 8),
    (velocity_area_uncertainty_equal_panels, (1.0, 0.5) + (1.0,) * 7),
    (verticals_component, (0.5,)),
    (interpolated_variance, ([0.0, 1.0, 2.0, 3.0], [0.0] * 4)),
    (interpolated_variance_uncertainty, (HALF, TWO, [0.0, 0.0], 1.0, 1.0, 1.0, 1.0)),
    (local_scale, ([1.0, 1.0], TWO, 0)),
    (between_evidence, (HALF, TWO, TWO, TWO, 0.4, 0.0, 0.3, 0.5)),
    (between_evidence, (HALF, TWO, TWO, TWO, 0.4, 0.5, 0.3, 0.0)),
    (between_evidence, ([0.0, 0.0], TWO, TWO, TWO, *_CHOICE)),
    (between_evidence, ([0.0, 1.0, 1.0], THREE, THREE, THREE, *_CHOICE)),
    (between_evidence, (HALF, TWO, [0.0, 0.0], TWO, 0.0, 0.5, 0.0, 0.5)),
    (shared_variance, (HALF, TWO, 0.0)),
    (shared_variance, ([0.0, 0.0], TWO, 0.5)),
    (mixture_half_width, (ONE, TWO, 0.5)),
    (mixture_half_width, (ONE, ONE, 0.0)),
    (mixture_half_width, (ONE, ONE, 1.0)),
    (mixture_half_width, ([2.0, -1.0], TWO, 0.5)),
    (mixture_half_width, (TWO, [1.0, -1.0], 0.5)),
    (mixture_half_width, ([0.0], ONE, 0.5)),
    (mean_unit_discharge, ([1.0, 1.0], TWO)),
    (profile_length, ([0.0, 0.0], TWO)),
    (weighted_sum, (ONE, TWO)),
    (verticals_uncertainty, (0.5,)),
    (profile_uncertainty, (0.5,)),
    (exposure_uncertainty, (-0.1, 30.0, 0.6)),
    (exposure_uncertainty, (0.1, 0.0, 0.6)),
    (exposure_uncertainty, (0.1, 30.0, -0.1)),
    (exposure_uncertainty, (0.1, 30.0, 1.1)),
    (meter_uncertainty_individual, (-0.1,)),
    (meter_uncertainty_group, (-0.1,)),
)


@pytest.mark.parametrize(("function", "arguments"), BEYOND)
def test_what_lies_beyond_the_bound_is_refused(
    function: Callable[..., Any], arguments: tuple[Any, ...]
) -> None:
    """No figure comes of a division by nothing, or of what lies outside a table."""
    with pytest.raises(ValueError):
        function(*arguments)


@pytest.mark.parametrize(("first", "last"), [(-1, 1), (1, 1), (2, 1), (0, 3)])
def test_what_lies_between_is_asked_from_one_station_to_a_later_one(first: int, last: int) -> None:
    """Stations are 0, 1 and 2; one that is its own end has nothing behind it."""
    with pytest.raises(IndexError, match=OURS):
        between_variance(ALONG, THREE, THREE, *_CHOICE, first, last)


# How many sequences each function pairs with its first one, and what follows them.
PAIRED: tuple[tuple[Callable[..., Any], int, tuple[Any, ...]], ...] = (
    (section_area, 1, ()),
    (trapezoid_area, 1, (0,)),
    (water_width, 1, ()),
    (wetted_perimeter, 1, ()),
    (panel_width_triangular, 1, (0,)),
    (bed_change, 1, (0,)),
    (mid_section_discharge, 2, ()),
    (mid_section_discharge_triangular, 2, ()),
    (mid_section_discharge_full_end, 2, ()),
    (mean_section_panel, 2, (0,)),
    (mean_section_discharge, 2, ()),
    (next_distance_discharge, 2, ()),
    (last_distance_discharge, 2, ()),
    (interpolation_residual, 1, (1,)),
    (interpolated_variance, 1, ()),
    (interpolated_variance_uncertainty, 2, (1.0, 1.0, 1.0, 1.0)),
    (local_scale, 1, (0,)),
    (between_evidence, 3, _CHOICE),
    (between_variance, 2, (*_CHOICE, 0, 1)),
    (shared_variance, 1, (0.5,)),
    (mean_unit_discharge, 1, ()),
    (profile_length, 1, ()),
    (readings_variance, 1, ()),
    (widths_variance, 1, (1.0,)),
    (rod_variance, 1, ()),
    (zero_variance, 1, ()),
    (meter_variance, 2, (True,)),
    (common_profile_variance, 2, ()),
)


@pytest.mark.parametrize(("function", "paired", "rest"), PAIRED)
def test_every_vertical_has_its_values(
    function: Callable[..., Any], paired: int, rest: tuple[Any, ...]
) -> None:
    """Five verticals with four or six values are refused, whichever sequence it is."""
    tape = [0.0, 1.0, 2.0, 3.0, 4.0]
    fitting = [[0.5] * 5 for _ in range(paired)]
    function(tape, *fitting, *rest)
    for odd in range(paired):
        for count in (4, 6):
            values = [[0.5] * count if i == odd else one for i, one in enumerate(fitting)]
            with pytest.raises(ValueError):
                function(tape, *values, *rest)
