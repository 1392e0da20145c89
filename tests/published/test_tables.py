"""Published tables of verticals whose total was not printed or not seen."""

import pytest

from bankside.kernel.discharge import (
    mean_section_discharge,
    mid_section_discharge,
    mid_section_discharge_full_end,
    mid_section_discharge_triangular,
)
from bankside.kernel.section import (
    panel_width,
    panel_width_full_end,
    section_area,
)
from bankside.kernel.vertical import velocity_two_point

from .examples import (
    EXAMPLES,
    Section,
    agrees,
    all_agree,
    feet_meter_table,
    floats,
    metered,
    of_points,
    panels,
    two_point_section,
)


def test_gate_question() -> None:
    """DERIVED from GATE 2023 data (no key seen): seven panels of 1.5 m, 8.5 m3/s to one decimal."""
    example = EXAMPLES["gate_2023"]
    read, derived = example["read"], example["derived"]
    depth = read["depth"]
    tape = [read["width"] * i for i in range(len(depth))]
    section = Section(tape, depth, [of_points(points) for points in read["points"]])

    assert panels(section, lambda i: panel_width_full_end(tape, i)) == pytest.approx(
        floats(derived["panels"]), rel=1e-12
    )
    total = mid_section_discharge_full_end(*section)
    assert total == pytest.approx(float(derived["discharge"]), rel=1e-12)
    assert agrees(total, derived["to_one_decimal"])


def test_two_point_lecture_prints_its_mean_velocities() -> None:
    """The lecture prints the mean of 0.2 and 0.8 at every vertical, to two decimals."""
    example = EXAMPLES["two_point_lecture"]
    pairs = zip(example["read"]["v02"], example["read"]["v08"], strict=True)

    assert all_agree([velocity_two_point(*pair) for pair in pairs], example["printed"]["velocity"])


@pytest.mark.parametrize(
    ("name", "section"),
    [
        ("two_point_lecture", two_point_section("two_point_lecture")),
        ("feet_meter_table", feet_meter_table()),
    ],
)
def test_totals_that_nobody_printed(name: str, section: Section) -> None:
    """DERIVED totals by three rules; the table in feet is itself from memory."""
    derived = EXAMPLES[name]["derived"]

    assert agrees(mid_section_discharge_triangular(*section), derived["triangular"])
    assert agrees(mid_section_discharge(*section), derived["half_width"])
    assert agrees(mean_section_discharge(*section), derived["mean_section"])


def test_college_lab_in_feet() -> None:
    """DERIVED from the exercise's data: its widths are half-widths, its total 85.08 ft3/s."""
    example = EXAMPLES["college_lab"]
    read, derived = example["read"], example["derived"]
    tape = [float(i) for i in range(11)]
    section = Section(tape, read["depth"], read["velocity"])
    by_panel = panels(section, lambda i: panel_width(tape, i))
    total = mid_section_discharge(*section)
    area = section_area(tape, read["depth"])

    assert [panel_width(tape, i) for i in range(11)] == read["width"]
    assert by_panel == pytest.approx(floats(derived["panels"]), rel=1e-12)
    assert agrees(total, derived["discharge"])
    assert agrees(area, derived["area"])
    assert agrees(total / area, derived["mean_velocity"])
    assert agrees(100 * max(by_panel) / total, derived["largest_share_percent"])
    assert sum(panel > total / 10 for panel in by_panel) == 5


def test_college_lab_introduction() -> None:
    """The exercise's introduction prints 10 ft x 2 ft x 2 ft/s = 40 ft3/s."""
    given = EXAMPLES["college_lab"]["read"]["introduction"]
    tape = [0.0, float(given["width"])]
    twice = [[float(given[name])] * 2 for name in ("depth", "velocity")]

    total = mid_section_discharge(tape, *twice)

    assert agrees(total, EXAMPLES["college_lab"]["printed"]["introduction_discharge"])


def _metric_table() -> Section:
    """Three rows of the lecture and the fourth tape reading, with no water yet beyond it."""
    example = EXAMPLES["metric_meter_table"]
    read = example["read"]
    rows = read["rows"]
    velocity = [
        of_points([metered(read, *pair) for pair in row["counts_and_seconds"]]) for row in rows
    ]
    return Section(
        [*(row["tape"] for row in rows), example["derived"]["fourth_tape"]],
        [*(row["depth"] for row in rows), 0.0],
        [*velocity, 0.0],
    )


@pytest.mark.parametrize("i", [0, 1, 2])
def test_metric_meter_table_row_by_row(i: int) -> None:
    """The lecture prints revolutions, velocities, width, area and discharge of three verticals."""
    example = EXAMPLES["metric_meter_table"]
    row, printed = example["read"]["rows"][i], example["printed"]["rows"][i]
    tape, depth, velocity = section = _metric_table()
    pairs = row["counts_and_seconds"]

    assert all_agree([counts / seconds for counts, seconds in pairs], printed["rps"])
    assert all_agree([metered(example["read"], *pair) for pair in pairs], printed["points"])
    assert agrees(velocity[i], printed["velocity"])
    assert agrees(panel_width(tape, i), printed["width"])
    assert agrees(panel_width(tape, i) * depth[i], printed["area"])
    discharge = panels(section, lambda j: panel_width(tape, j))[i]
    assert agrees(discharge, printed["discharge"])
    assert agrees(discharge, example["derived"]["discharge"][i])


def test_metric_meter_table_takes_its_first_vertical_for_the_edge() -> None:
    """Its first width is 0.30 m; with the edge of water at 0 the same rule gives 0.60 m.

    The table treats a vertical with 0.30 m of water as the edge, which halves its panel.
    """
    with_edge = [0.0, *_metric_table().tape]

    assert agrees(panel_width(with_edge, 1), "0.60")
    assert EXAMPLES["metric_meter_table"]["printed"]["rows"][0]["width"] == "0.30"


def test_metric_meter_table_sets_its_third_vertical_off_two_and_eight_tenths() -> None:
    """1.26 and 0.30 m of 1.56 m are 0.81 and 0.19 of the depth: the table is one in feet x 0.30."""
    row = EXAMPLES["metric_meter_table"]["read"]["rows"][2]
    fractions = [point / row["depth"] for point in row["below_surface"]]

    assert agrees(fractions[0], "0.81")
    assert agrees(fractions[1], "0.19")
    feet = feet_meter_table()
    metric = _metric_table()
    assert metric.tape == pytest.approx([0.30 * x for x in feet.tape[1:5]])
    assert metric.depth[:3] == pytest.approx([0.30 * d for d in feet.depth[1:4]])
    assert metric.velocity[:3] == pytest.approx([0.30 * v for v in feet.velocity[1:4]])
