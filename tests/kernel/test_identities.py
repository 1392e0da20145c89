"""How widths, areas and totals hang together: on a grid of sixteenths to the bit."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bankside.kernel.discharge import (
    last_distance_discharge,
    mean_section_discharge,
    mean_section_panel,
    mid_section_discharge,
    mid_section_discharge_full_end,
    mid_section_discharge_triangular,
    next_distance_discharge,
)
from bankside.kernel.section import (
    panel_width,
    panel_width_full_end,
    panel_width_triangular,
    section_area,
    trapezoid_area,
    water_width,
    wetted_perimeter,
)

from .sections import Section, forward, sections, sixteenths

ROUNDING = 1e-12

METHODS = [mean_section_discharge, mid_section_discharge]


@given(sections())
def test_panel_widths_fill_the_tape(section: Section) -> None:
    """Half-width panels lie edge to edge from the first vertical to the last."""
    widths = [panel_width(section.tape, i) for i in range(len(section.tape))]

    assert sum(widths) == section.tape[-1] - section.tape[0]


@given(sections())
def test_mid_section_area_is_the_trapezoid_area(section: Section) -> None:
    """Panels of half-width times depth add up to the area under straight lines, at any spacing."""
    tape, depth, _ = section
    by_panels = sum(panel_width(tape, i) * depth[i] for i in range(len(tape)))

    assert by_panels == section_area(tape, depth)


@given(st.lists(st.floats(0.01, 4.0), min_size=2, max_size=30), st.data())
def test_both_areas_agree_off_the_grid(steps: list[float], data: st.DataObject) -> None:
    """For numbers as they are called out, the two sums of the area differ by rounding alone."""
    tape = [0.0]
    for step in steps:
        tape.append(tape[-1] + step)
    depth = data.draw(st.lists(st.floats(0.01, 3.0), min_size=len(tape), max_size=len(tape)))
    by_panels = sum(panel_width(tape, i) * depth[i] for i in range(len(tape)))

    assert by_panels == pytest.approx(section_area(tape, depth), rel=ROUNDING)


@given(sections())
def test_totals_are_their_panels_to_the_bit(section: Section) -> None:
    """Adding up (width x depth) x velocity in the order of the tape gives each total exactly."""
    tape, depth, velocity = section
    half = full = triangular = mean = area = 0.0
    for i in range(len(tape)):
        half += panel_width(tape, i) * depth[i] * velocity[i]
        full += panel_width_full_end(tape, i) * depth[i] * velocity[i]
        triangular += panel_width_triangular(tape, depth, i) * depth[i] * velocity[i]
    for i in range(len(tape) - 1):
        mean += mean_section_panel(tape, depth, velocity, i)
        area += trapezoid_area(tape, depth, i)

    assert half == mid_section_discharge(*section)
    assert full == mid_section_discharge_full_end(*section)
    assert triangular == mid_section_discharge_triangular(*section)
    assert mean == mean_section_discharge(*section)
    assert area == section_area(tape, depth)


@given(sections())
def test_how_far_the_two_methods_are_apart(section: Section) -> None:
    """Mid-section less mean-section is a quarter of width x rise of depth x rise of velocity."""
    tape, depth, velocity = section
    apart = sum(
        (tape[i + 1] - tape[i]) * (depth[i + 1] - depth[i]) * (velocity[i + 1] - velocity[i]) / 4
        for i in range(len(tape) - 1)
    )

    assert mid_section_discharge(*section) - mean_section_discharge(*section) == apart


def _integral_of_straight_lines(section: Section) -> Fraction:
    """Depth times velocity, both straight between the verticals, integrated by Simpson's rule."""
    total = Fraction(0)
    for i in range(len(section.tape) - 1):
        x, d, v = ([Fraction(value) for value in values[i : i + 2]] for values in section)
        middle = (d[0] + d[1]) * (v[0] + v[1])
        total += (x[1] - x[0]) * (d[0] * v[0] + middle + d[1] * v[1]) / 6
    return total


@given(sections())
def test_the_integral_lies_between_the_two_methods(section: Section) -> None:
    """With straight lines between verticals it is two parts mean-section to one mid-section."""
    mean = Fraction(mean_section_discharge(*section))
    mid = Fraction(mid_section_discharge(*section))

    assert (2 * mean + mid) / 3 == _integral_of_straight_lines(section)


@given(sections())
def test_mid_section_lies_half_way_between_next_and_last_distance(section: Section) -> None:
    """The half-width is the mean of the distances to both neighbours."""
    both = next_distance_discharge(*section) + last_distance_discharge(*section)

    assert mid_section_discharge(*section) == both / 2


@given(sections(least=3, depths=sixteenths(1 / 16, 3)))
def test_end_rules_differ_only_at_the_ends(section: Section) -> None:
    """With water at both ends the triangular rule is the half-width rule; full ends add halves."""
    tape, depth, velocity = section
    first = (tape[1] - tape[0]) / 2 * depth[0] * velocity[0]
    last = (tape[-1] - tape[-2]) / 2 * depth[-1] * velocity[-1]

    assert mid_section_discharge_triangular(*section) == mid_section_discharge(*section)
    assert mid_section_discharge_full_end(*section) == mid_section_discharge(*section) + (
        first + last
    )


@given(forward)
def test_the_triangular_rule_never_gives_less(section: Section) -> None:
    """Where all water runs downstream the triangular rule adds to the half-width rule."""
    mid = mid_section_discharge(*section)

    assert mid_section_discharge_triangular(*section) >= mid


# ---- one more vertical on the straight line between two


def _split(section: Section, i: int) -> Section:
    """The section with a vertical half way between `i` and `i` + 1, on the straight lines."""
    halves = ([*v[: i + 1], (v[i] + v[i + 1]) / 2, *v[i + 1 :]] for v in section)
    return Section(*halves)


@st.composite
def sections_and_panels(draw: st.DrawFn) -> tuple[Section, int]:
    """A section and the index of one of the stretches between its verticals."""
    section = draw(sections())
    return section, draw(st.integers(0, len(section.tape) - 2))


@given(sections_and_panels())
def test_a_sounding_on_the_line_changes_no_area(drawn: tuple[Section, int]) -> None:
    """Depth interpolated between two verticals adds nothing to area, width or perimeter."""
    section, i = drawn
    split = _split(section, i)

    assert section_area(split.tape, split.depth) == section_area(section.tape, section.depth)
    assert water_width(split.tape, split.depth) == water_width(section.tape, section.depth)
    assert wetted_perimeter(split.tape, split.depth) == pytest.approx(
        wetted_perimeter(section.tape, section.depth), rel=ROUNDING
    )


@given(sections_and_panels())
def test_what_a_vertical_on_the_line_does_to_discharge(drawn: tuple[Section, int]) -> None:
    """Half way it takes 1/8 of width x rise x rise from mid-section, gives 1/16 to mean-section.

    Both move towards the integral of the straight lines; neither stays unless depth or velocity
    is the same on both sides.
    """
    section, i = drawn
    split = _split(section, i)
    width, rise, gain = (values[i + 1] - values[i] for values in section)
    product = width * rise * gain

    assert mid_section_discharge(*split) == mid_section_discharge(*section) - product / 8
    assert mean_section_discharge(*split) == mean_section_discharge(*section) + product / 16


@given(sections_and_panels())
def test_where_depth_is_level_a_vertical_on_the_line_is_free(drawn: tuple[Section, int]) -> None:
    """With one depth throughout, velocity interpolated between verticals changes no discharge."""
    section, i = drawn
    level = Section(section.tape, [0.5] * len(section.tape), section.velocity)
    split = _split(level, i)

    for method in METHODS:
        assert method(*split) == method(*level)
