"""What must hold for any section: on a grid of sixteenths to the bit, elsewhere to rounding."""

from collections.abc import Callable

import pytest
from hypothesis import given

from bankside.kernel.discharge import (
    last_distance_discharge,
    mean_section_discharge,
    mid_section_discharge,
    mid_section_discharge_full_end,
    mid_section_discharge_triangular,
    next_distance_discharge,
)
from bankside.kernel.section import (
    section_area,
    water_width,
    wetted_perimeter,
)

from .sections import Section, forward, sections, sixteenths

FOOT = 0.3048
ROUNDING = 1e-12

TOTALS = [
    last_distance_discharge,
    mean_section_discharge,
    mid_section_discharge,
    mid_section_discharge_full_end,
    mid_section_discharge_triangular,
    next_distance_discharge,
]
METHODS = [mean_section_discharge, mid_section_discharge]

Total = Callable[[list[float], list[float], list[float]], float]


def _mirrored(section: Section) -> Section:
    return Section(
        [-x for x in reversed(section.tape)],
        list(reversed(section.depth)),
        list(reversed(section.velocity)),
    )


def _scaled(values: list[float], factor: float) -> list[float]:
    return [factor * value for value in values]


# ---- symmetry


@given(sections())
def test_a_section_seen_from_the_other_bank_is_the_same(section: Section) -> None:
    """Running the tape from the other bank changes no discharge, area or width by one bit."""
    other = _mirrored(section)

    for method in (*METHODS, mid_section_discharge_full_end):
        assert method(*other) == method(*section)
    assert next_distance_discharge(*other) == last_distance_discharge(*section)
    assert section_area(other.tape, other.depth) == section_area(section.tape, section.depth)
    assert water_width(other.tape, other.depth) == water_width(section.tape, section.depth)


@given(sections())
def test_what_divides_or_takes_roots_mirrors_to_rounding(section: Section) -> None:
    """Sums of roots and of quotients in another order agree but for rounding."""
    other = _mirrored(section)

    assert mid_section_discharge_triangular(*other) == pytest.approx(
        mid_section_discharge_triangular(*section), rel=ROUNDING, abs=ROUNDING
    )
    assert wetted_perimeter(other.tape, other.depth) == pytest.approx(
        wetted_perimeter(section.tape, section.depth), rel=ROUNDING
    )


@given(sections(), sixteenths(-50, 50))
def test_the_zero_of_the_tape_does_not_matter(section: Section, shift: float) -> None:
    """Hanging the tape elsewhere along the same line changes nothing."""
    tape, depth, velocity = section
    moved = [x + shift for x in tape]

    for total in TOTALS:
        assert total(moved, depth, velocity) == total(tape, depth, velocity)
    assert wetted_perimeter(moved, depth) == wetted_perimeter(tape, depth)
    assert water_width(moved, depth) == water_width(tape, depth)


# ---- scale and units


@pytest.mark.parametrize("total", TOTALS, ids=lambda total: total.__name__)
@given(section=sections())
def test_doubling_one_factor_doubles_the_discharge(total: Total, section: Section) -> None:
    """Twice the depth, twice the velocity or twice the tape: twice the discharge, to the bit."""
    tape, depth, velocity = section
    twice = 2.0 * total(tape, depth, velocity)

    assert total(_scaled(tape, 2.0), depth, velocity) == twice
    assert total(tape, _scaled(depth, 2.0), velocity) == twice
    assert total(tape, depth, _scaled(velocity, 2.0)) == twice


@pytest.mark.parametrize("total", TOTALS, ids=lambda total: total.__name__)
@given(section=sections())
def test_water_running_back_counts_as_negative(total: Total, section: Section) -> None:
    """Turning every velocity round turns the discharge round."""
    tape, depth, velocity = section

    assert total(tape, depth, _scaled(velocity, -1.0)) == -total(tape, depth, velocity)


@given(sections())
def test_doubling_lengths_scales_the_section(section: Section) -> None:
    """Area goes with either length; width with the tape; perimeter when both double."""
    tape, depth, _ = section
    wide, deep = _scaled(tape, 2.0), _scaled(depth, 2.0)

    assert section_area(wide, depth) == 2.0 * section_area(tape, depth)
    assert section_area(tape, deep) == 2.0 * section_area(tape, depth)
    assert water_width(wide, depth) == 2.0 * water_width(tape, depth)
    assert water_width(tape, deep) == water_width(tape, depth)
    assert wetted_perimeter(wide, deep) == 2.0 * wetted_perimeter(tape, depth)


@pytest.mark.parametrize("total", TOTALS, ids=lambda total: total.__name__)
@given(section=forward)
def test_feet_in_feet_out(total: Total, section: Section) -> None:
    """A section in feet, worked in feet or in metres, is the same discharge."""
    metres = Section(*(_scaled(values, FOOT) for values in section))

    assert total(*metres) == pytest.approx(total(*section) * FOOT * FOOT * FOOT, rel=ROUNDING)


@given(sections())
def test_lengths_in_feet_and_metres_are_the_same_section(section: Section) -> None:
    """Area, width and perimeter carry over from feet to metres."""
    tape, depth = _scaled(section.tape, FOOT), _scaled(section.depth, FOOT)

    assert section_area(tape, depth) == pytest.approx(
        section_area(section.tape, section.depth) * FOOT * FOOT, rel=ROUNDING
    )
    assert water_width(tape, depth) == pytest.approx(
        water_width(section.tape, section.depth) * FOOT, rel=ROUNDING, abs=ROUNDING
    )
    assert wetted_perimeter(tape, depth) == pytest.approx(
        wetted_perimeter(section.tape, section.depth) * FOOT, rel=ROUNDING
    )


# ---- channels


@given(sections(least=3), sections(least=3), sixteenths(1 / 16, 4))
def test_channels_between_dry_ground_add_up(left: Section, right: Section, gap: float) -> None:
    """Two channels with dry edges, on one tape, are the sum of the two taken alone."""
    for channel in (left, right):
        channel.depth[0] = channel.depth[-1] = 0.0
    start = left.tape[-1] + gap - right.tape[0]
    both = Section(
        left.tape + [x + start for x in right.tape],
        left.depth + right.depth,
        left.velocity + right.velocity,
    )

    for method in METHODS:
        assert method(*both) == method(*left) + method(*right)
    amount = sum(
        mid_section_discharge_triangular(s.tape, s.depth, [abs(v) for v in s.velocity])
        for s in (left, right)
    )
    assert mid_section_discharge_triangular(*both) == pytest.approx(
        mid_section_discharge_triangular(*left) + mid_section_discharge_triangular(*right),
        rel=ROUNDING,
        abs=ROUNDING * amount,
    )
    assert section_area(both.tape, both.depth) == (
        section_area(left.tape, left.depth) + section_area(right.tape, right.depth)
    )
    assert water_width(both.tape, both.depth) == (
        water_width(left.tape, left.depth) + water_width(right.tape, right.depth)
    )
    assert wetted_perimeter(both.tape, both.depth) == pytest.approx(
        wetted_perimeter(left.tape, left.depth) + wetted_perimeter(right.tape, right.depth),
        rel=ROUNDING,
    )


# ---- constants


@given(sections(), sixteenths(-1, 3))
def test_one_velocity_throughout(section: Section, velocity: float) -> None:
    """With one velocity both methods give that velocity times the area, exactly."""
    tape, depth, _ = section
    product = velocity * section_area(tape, depth)

    for method in METHODS:
        assert method(tape, depth, [velocity] * len(tape)) == product


@given(sections(), sixteenths(1 / 16, 3))
def test_a_rectangular_flume(section: Section, depth: float) -> None:
    """One depth throughout: area is width x depth, perimeter the bed and both walls."""
    tape = section.tape
    level = [depth] * len(tape)
    width = tape[-1] - tape[0]

    assert section_area(tape, level) == width * depth
    assert water_width(tape, level) == width
    assert wetted_perimeter(tape, level) == width + 2.0 * depth


@given(sections())
def test_dry_ground_carries_nothing(section: Section) -> None:
    """Without water there is no discharge, area, width or perimeter, whatever the velocities."""
    tape, _, velocity = section
    dry = [0.0] * len(tape)

    for total in TOTALS:
        assert total(tape, dry, velocity) == 0.0
    assert section_area(tape, dry) == water_width(tape, dry) == wetted_perimeter(tape, dry) == 0.0
