"""Published sections: area, perimeter, radius, and identities that hold on all of them."""

from decimal import Decimal

import pytest

from bankside.kernel.discharge import mean_gauge_height_by_discharge, mean_gauge_height_by_time
from bankside.kernel.section import (
    froude_number,
    hydraulic_radius,
    mean_depth,
    panel_width,
    panel_width_triangular,
    section_area,
    water_width,
    wetted_perimeter,
)

from .examples import (
    EXAMPLES,
    Section,
    agrees,
    feet_meter_table,
    meter_tutorial,
    raghunath_6_1,
    subramanya_4_1,
    two_point_section,
)

SECTIONS = {
    "two_point_tutorial": two_point_section("two_point_tutorial"),
    "meter_tutorial": meter_tutorial(150),
    "subramanya_4_1": subramanya_4_1(),
    "raghunath_6_1": raghunath_6_1(),
    "two_point_lecture": two_point_section("two_point_lecture"),
    "feet_meter_table": feet_meter_table(),
}


def test_two_point_tutorial_section() -> None:
    """DERIVED from the tutorial's soundings: area, wetted perimeter and hydraulic radius."""
    derived = EXAMPLES["two_point_tutorial"]["derived"]
    tape, depth, _ = SECTIONS["two_point_tutorial"]
    area, perimeter = section_area(tape, depth), wetted_perimeter(tape, depth)

    assert agrees(area, derived["area"])
    assert agrees(perimeter, derived["perimeter"])
    assert agrees(hydraulic_radius(area, perimeter), derived["hydraulic_radius"])


@pytest.mark.parametrize("section", SECTIONS.values(), ids=SECTIONS)
def test_the_mid_section_area_is_the_trapezoid_area(section: Section) -> None:
    """DERIVED: half-widths times depths add up to the trapezoids in every published section."""
    tape, depth, _ = section
    by_panels = sum(panel_width(tape, i) * depth[i] for i in range(len(tape)))

    assert by_panels == pytest.approx(section_area(tape, depth), rel=1e-14)


@pytest.mark.parametrize(
    ("w1", "w2", "triangular", "half"), [(1.0, 1.0, 1.125, 1.0), (1.0, 2.0, 2.0, 1.5)]
)
def test_panel_next_to_a_bank_by_either_rule(
    w1: float, w2: float, triangular: float, half: float
) -> None:
    """DERIVED from (W1 + W2/2)^2 / (2 W1): 1.125 against 1.0, and 2.0 against 1.5."""
    tape, depth = [0.0, w1, w1 + w2, w1 + w2 + 1.0], [0.0, 0.4, 0.5, 0.0]

    assert panel_width_triangular(tape, depth, 1) == triangular
    assert panel_width(tape, 1) == half


def _flume(i: int) -> tuple[list[float], list[float]]:
    flume = EXAMPLES["flumes"]["read"][i]
    return [0.0, float(flume["width"])], [float(flume["depth"])] * 2


def _manning_velocity(radius: float, slope: float, n: float) -> float:
    return float(radius ** (2 / 3) * slope**0.5 / n)


@pytest.mark.parametrize("i", [0, 1, 2])
def test_rectangular_flumes(i: int) -> None:
    """CIVE 530 prints area, perimeter with both walls, and radius of three rectangles."""
    printed, derived = EXAMPLES["flumes"]["printed"][i], EXAMPLES["flumes"]["derived"][i]
    tape, depth = _flume(i)
    area, perimeter = section_area(tape, depth), wetted_perimeter(tape, depth)
    radius = hydraulic_radius(area, perimeter)

    assert agrees(area, printed["area"])
    assert agrees(perimeter, printed["perimeter"])
    assert agrees(radius, printed["hydraulic_radius"])
    assert agrees(radius, derived["hydraulic_radius"])


@pytest.mark.parametrize("i", [0, 1, 2])
def test_printed_flows_follow_from_the_printed_radius(i: int) -> None:
    """CIVE 530 works on with the radius it prints: velocity and discharge follow from that one."""
    flume, printed = EXAMPLES["flumes"]["read"][i], EXAMPLES["flumes"]["printed"][i]
    velocity = _manning_velocity(float(printed["hydraulic_radius"]), flume["slope"], flume["n"])

    assert agrees(velocity, printed["velocity"])
    assert agrees(Decimal(printed["velocity"]) * Decimal(printed["area"]), printed["discharge"])


def test_the_first_flume_contradicts_itself_in_the_last_digit() -> None:
    """9.6 / 9.2 is 1.0435, printed 1.043; from 1.0435 the velocity is 3.429, not the 3.428 printed.

    Rounding 1.0435 once more would give 1.044: the printed radius is right, its use is not.
    """
    flume, printed = EXAMPLES["flumes"]["read"][0], EXAMPLES["flumes"]["printed"][0]
    derived = EXAMPLES["flumes"]["derived"][0]
    tape, depth = _flume(0)
    radius = hydraulic_radius(section_area(tape, depth), wetted_perimeter(tape, depth))
    velocity = _manning_velocity(radius, flume["slope"], flume["n"])

    assert agrees(radius, printed["hydraulic_radius"])
    assert agrees(radius, derived["hydraulic_radius"])
    assert not agrees(radius, "1.044")
    assert agrees(velocity, derived["velocity"])
    assert not agrees(velocity, printed["velocity"])


@pytest.mark.parametrize("i", [0, 1, 2])
def test_flumes_run_below_critical(i: int) -> None:
    """DERIVED: discharge and Froude number from the unrounded radius, all below 1."""
    flume, derived = EXAMPLES["flumes"]["read"][i], EXAMPLES["flumes"]["derived"][i]
    tape, depth = _flume(i)
    area = section_area(tape, depth)
    radius = hydraulic_radius(area, wetted_perimeter(tape, depth))
    velocity = _manning_velocity(radius, flume["slope"], flume["n"])
    froude = froude_number(velocity, mean_depth(area, water_width(tape, depth)))

    assert agrees(velocity * area, derived["discharge"])
    assert agrees(froude, derived["froude"])
    assert froude < 1.0


def test_mean_gauge_height_by_its_definition() -> None:
    """WSP 2175 and TWRI 3-A8 (formulas from memory) print no figures here: the numbers are ours.

    0.2, 0.5 and 0.3 m3/s at 0.40, 0.44 and 0.50 m: (0.080 + 0.220 + 0.150) / 1.0 is 0.450 m.
    Over 10, 10 and 20 minutes: (4.0 + 4.4 + 10.0) / 40 is 0.460 m.
    """
    stage = [0.40, 0.44, 0.50]

    assert agrees(mean_gauge_height_by_discharge(stage, [0.2, 0.5, 0.3]), "0.450")
    assert agrees(mean_gauge_height_by_time(stage, [10.0, 10.0, 20.0]), "0.460")
