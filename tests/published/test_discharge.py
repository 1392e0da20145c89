"""Worked examples of discharge: each test names the end rule that its document follows."""

import math
from fractions import Fraction

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
    panel_width_triangular,
    section_area,
)

from .examples import (
    EXAMPLES,
    Section,
    agrees,
    all_agree,
    feet_meter_table,
    floats,
    meter_tutorial,
    panels,
    raghunath_6_1,
    subramanya_4_1,
    two_point_section,
)

# ---- Tutorial 4, question 1: data read, answer printed


def test_two_point_tutorial_gives_its_printed_answer() -> None:
    """Tutorial 4, question 1 prints 6.426 m3/s; its rule is the triangular one."""
    section = two_point_section("two_point_tutorial")

    printed = EXAMPLES["two_point_tutorial"]["printed"]["triangular"]
    assert agrees(mid_section_discharge_triangular(*section), printed)
    assert not agrees(mid_section_discharge(*section), printed)


def test_two_point_tutorial_by_the_other_rules() -> None:
    """DERIVED, not published: its panels, and its totals by half-widths and by mean-section."""
    tape, depth, _ = section = two_point_section("two_point_tutorial")
    derived = EXAMPLES["two_point_tutorial"]["derived"]

    assert agrees(mid_section_discharge(*section), derived["half_width"])
    assert agrees(mean_section_discharge(*section), derived["mean_section"])
    half = panels(section, lambda i: panel_width(tape, i))
    triangular = panels(section, lambda i: panel_width_triangular(tape, depth, i))
    assert half == pytest.approx(floats(derived["panels_half_width"]), rel=1e-12)
    assert triangular == pytest.approx(floats(derived["panels_triangular"]), rel=1e-12)


# ---- Tutorial 4, question 2: data read, answer printed, one time misprinted


def test_meter_tutorial_gives_its_answer_with_one_time_corrected() -> None:
    """Tutorial 4, question 2 prints 11.895 m3/s and 150 s at 23 m: only 120 s give its answer."""
    example = EXAMPLES["meter_tutorial"]
    corrected = example["derived"]["seconds_at_tape_23_that_give_the_answer"]

    total = mid_section_discharge_triangular(*meter_tutorial(corrected))

    assert agrees(total, example["printed"]["triangular"])
    assert agrees(total, example["derived"]["triangular_with_120_s"])


def test_meter_tutorial_contradicts_itself_as_printed() -> None:
    """With its printed 150 s at 23 m the total is 0.26 % below its printed answer."""
    example = EXAMPLES["meter_tutorial"]
    total = mid_section_discharge_triangular(*meter_tutorial(150))

    assert 150 in example["read"]["seconds"]
    assert not agrees(total, example["printed"]["triangular"])
    assert agrees(total, example["derived"]["triangular_as_printed"])
    below = 100 * (1 - total / float(example["printed"]["triangular"]))
    assert agrees(below, "0.26")


def test_meter_tutorial_by_the_other_rules() -> None:
    """DERIVED, not published: velocities, area and totals with the times as printed."""
    section = meter_tutorial(150)
    derived = EXAMPLES["meter_tutorial"]["derived"]

    assert section.velocity == pytest.approx(floats(derived["velocity"]), abs=5e-7)
    assert agrees(section_area(section.tape, section.depth), derived["area"])
    assert agrees(mid_section_discharge(*section), derived["half_width"])
    assert agrees(mean_section_discharge(*section), derived["mean_section"])


# ---- Subramanya 4.1: data read, last bank and answer from memory


def test_subramanya_gives_its_answer() -> None:
    """Subramanya's Example 4.1 gives 6.45 m3/s (from memory) by the triangular rule."""
    total = mid_section_discharge_triangular(*subramanya_4_1())

    assert agrees(total, EXAMPLES["subramanya_4_1"]["from_memory"]["triangular"])
    assert agrees(total, EXAMPLES["subramanya_4_1"]["derived"]["triangular"])


@pytest.mark.parametrize("tape", [3, 5])
def test_two_velocities_on_the_question_page_are_slips(tape: int) -> None:
    """The page prints 0.324 at 3 m and 0.4118 at 5 m; its own equation gives 0.3258 and 0.4108."""
    example = EXAMPLES["subramanya_4_1"]
    i = example["read"]["tape"].index(tape)
    velocity = subramanya_4_1().velocity[i]

    assert not agrees(velocity, example["printed"][f"page_velocity_at_tape_{tape}"])
    assert velocity == pytest.approx(float(example["derived"]["velocity"][i]), abs=1e-12)


def test_the_two_slips_cannot_be_told_from_the_total() -> None:
    """With the page's two velocities the total is 6.451 m3/s and still rounds to 6.45."""
    example = EXAMPLES["subramanya_4_1"]
    tape, depth, velocity = subramanya_4_1()
    for slip in (3, 5):
        printed = example["printed"][f"page_velocity_at_tape_{slip}"]
        velocity[tape.index(slip)] = float(printed)

    total = mid_section_discharge_triangular(tape, depth, velocity)

    assert agrees(total, "6.451")
    assert agrees(total, example["from_memory"]["triangular"])


def test_subramanya_by_the_other_rules() -> None:
    """DERIVED, not published: velocities, panels, half-width and mean-section totals."""
    tape, depth, velocity = section = subramanya_4_1()
    derived = EXAMPLES["subramanya_4_1"]["derived"]
    by_panel = panels(section, lambda i: panel_width_triangular(tape, depth, i))

    assert velocity == pytest.approx(floats(derived["velocity"]), rel=1e-12)
    assert by_panel == pytest.approx(floats(derived["panels_triangular"]), rel=1e-12)
    assert mid_section_discharge(*section) == pytest.approx(float(derived["half_width"]), rel=1e-12)
    assert mean_section_discharge(*section) == pytest.approx(
        float(derived["mean_section"]), rel=1e-12
    )


# ---- Raghunath 6.1: data read, answer printed


def test_raghunath_strips_add_up() -> None:
    """DERIVED from Raghunath's data and rule: velocities, strips of 3 m and their sum 20.6105."""
    tape, _, velocity = section = raghunath_6_1()
    derived = EXAMPLES["raghunath_6_1"]["derived"]

    assert velocity == pytest.approx(floats(derived["velocity"]), abs=5e-7)
    assert all_agree(
        panels(section, lambda i: panel_width_full_end(tape, i)), derived["panels_full_end"]
    )
    assert agrees(mid_section_discharge_full_end(*section), derived["full_end"])


def test_raghunath_s_printed_sum_is_not_the_sum_of_his_data() -> None:
    """Raghunath prints 20.53 m3/s, 0.39 % below what his own data and rule give."""
    printed = EXAMPLES["raghunath_6_1"]["printed"]["full_end"]
    total = mid_section_discharge_full_end(*raghunath_6_1())

    assert not agrees(total, printed)
    assert agrees(100 * (1 - float(printed) / total), "0.39")


def _rounded(value: Fraction, decimals: int, *, cut: bool) -> Fraction:
    unit = Fraction(1, 10**decimals)
    return math.floor(value / unit + (0 if cut else Fraction(1, 2))) * unit


def test_raghunath_s_printed_sum_can_come_of_rounding_by_hand() -> None:
    """Revolutions cut to two decimals and mean velocities rounded to three add up to 20.53.

    Other ways of rounding reach it too; the document does not say which one was used.
    """
    read = EXAMPLES["raghunath_6_1"]["read"]
    tape, depth, _ = raghunath_6_1()
    velocity = []
    for pairs in read["counts_and_seconds"]:
        rps = [_rounded(Fraction(*pair), 2, cut=True) for pair in pairs]
        mean = Fraction(3, 10) * sum(rps) / len(rps) + Fraction(5, 100)
        velocity.append(float(_rounded(mean, 3, cut=False)))

    total = mid_section_discharge_full_end(tape, depth, velocity)

    assert agrees(total, EXAMPLES["raghunath_6_1"]["printed"]["full_end"])


def test_raghunath_with_banks_where_the_strips_end() -> None:
    """DERIVED: with banks of depth 0 at 0 and 24 m, by the triangular rule and mean-section."""
    derived = EXAMPLES["raghunath_6_1"]["derived"]
    tape, depth, velocity = raghunath_6_1()
    left, right = floats(derived["banks"])
    section = ([left, *tape, right], [0.0, *depth, 0.0], [0.0, *velocity, 0.0])

    assert agrees(mid_section_discharge_triangular(*section), derived["triangular_with_banks"])
    assert agrees(mean_section_discharge(*section), derived["mean_section_with_banks"])


# ---- what the end rule is worth


@pytest.mark.parametrize(
    ("section", "percent"),
    [
        (two_point_section("two_point_tutorial"), "2.3"),
        (meter_tutorial(150), "0.3"),
        (subramanya_4_1(), "3.4"),
        (two_point_section("two_point_lecture"), "3.0"),
        (feet_meter_table(), "0.5"),
    ],
)
def test_how_much_less_half_widths_give_than_the_triangular_rule(
    section: Section, percent: str
) -> None:
    """DERIVED: half-widths give 0.3 to 3.4 % less, so a total means nothing without its rule."""
    half, triangular = mid_section_discharge(*section), mid_section_discharge_triangular(*section)

    assert agrees(100 * (1 - half / triangular), percent)
    assert 0.3 <= 100 * (1 - half / triangular) <= 3.4
