"""At which points a depth is read, and what a top-setting rod is set to for each."""

from decimal import Decimal

import attrs
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bankside.gauging.faults import InputRefused
from bankside.gauging.header_records import RotorSize
from bankside.gauging.rod import rod_points
from bankside.gauging.rule_sets.load import load_rule_set
from bankside.gauging.units import LengthUnit

RULES = load_rule_set("common-practice")


def settings(
    depth: str, unit: LengthUnit, rotor: RotorSize | None = None, rules: str = "common-practice"
) -> list[tuple[float, str]]:
    """The fractions and settings for a depth as it was called."""
    points = rod_points(Decimal(depth), unit, load_rule_set(rules), rotor)
    return [(point.fraction, point.setting) for point in points]


@pytest.mark.parametrize(
    ("depth", "rotor", "expected"),
    [
        # One point at 0.6 when shallow, 0.2 and 0.8 from 2.5 ft on (Army Corps sheet), half depth
        # below 0.3 ft (Colorado permit); scale = depth, twice the depth, half the depth (from
        # memory); 1.25 times 0.2 by hand.
        ("0.20", None, [(0.5, "0.25")]),
        ("0.29", None, [(0.5, "0.362")]),  # 0.3625, to thousandths
        ("0.30", None, [(0.6, "0.30")]),
        ("0.9", None, [(0.6, "0.9")]),
        ("1.0", None, [(0.6, "1.0")]),
        ("2.49", "large", [(0.6, "2.49")]),
        ("2.5", None, [(0.2, "5.0"), (0.8, "1.25")]),
        ("2.50", "large", [(0.2, "5.00"), (0.8, "1.25")]),
        ("3.1", None, [(0.2, "6.2"), (0.8, "1.55")]),
        # A small rotor is read at two points from 1.5 ft on (TWRI 3-A8, from memory).
        ("1.49", "small", [(0.6, "1.49")]),
        ("1.5", "small", [(0.2, "3.0"), (0.8, "0.75")]),
        ("1.5", "large", [(0.6, "1.5")]),
        ("3", None, [(0.2, "6"), (0.8, "1.5")]),
        ("0.0", None, []),
    ],
)
def test_the_rod_in_feet(
    depth: str, rotor: RotorSize | None, expected: list[tuple[float, str]]
) -> None:
    """By hand, at and beside every limit."""
    assert settings(depth, "ft", rotor) == expected


@pytest.mark.parametrize(
    ("depth", "unit", "rules", "expected"),
    [
        # 0.3 ft is 0.09144 m, 2.5 ft is 0.762 m.
        ("0.09", "m", "common-practice", [(0.5, "0.112")]),  # 0.1125
        ("0.092", "m", "common-practice", [(0.6, "0.092")]),
        ("0.76", "m", "common-practice", [(0.6, "0.76")]),
        ("0.77", "m", "common-practice", [(0.2, "1.54"), (0.8, "0.385")]),
        ("77", "cm", "common-practice", [(0.2, "154"), (0.8, "38.5")]),
        ("765", "mm", "common-practice", [(0.2, "1530"), (0.8, "382.5")]),
        # A limit of 0.75 m is reached at 0.75 m.
        ("0.74", "m", "after-bc-hydrometric-1998", [(0.6, "0.74")]),
        ("0.75", "m", "after-bc-hydrometric-1998", [(0.2, "1.50"), (0.8, "0.375")]),
        # 30 in are 2.5 ft.
        ("30", "in", "common-practice", [(0.2, "60"), (0.8, "15")]),
    ],
)
def test_the_rod_in_other_units(
    depth: str, unit: LengthUnit, rules: str, expected: list[tuple[float, str]]
) -> None:
    """The limits hold in every unit, and the setting is in that of the depth."""
    assert settings(depth, unit, rules=rules) == expected


def test_the_words_say_what_to_do_and_what_was_rounded() -> None:
    """Each point has its sentence; a setting that is not exact says so with the exact one."""

    def words(depth: str) -> list[str]:
        return [point.words for point in rod_points(Decimal(depth), "ft", RULES)]

    assert words("0.9") == ["0.6: set the rod to 0.9"]
    assert words("2.5") == ["0.2: set the rod to 5.0", "0.8: set the rod to 1.25"]
    assert words("0.2") == ["half depth: set the rod to 0.25"]
    assert words("0.25") == ["half depth: set the rod to about 0.312, as 1.25 times 0.25 is 0.3125"]
    assert words("0.1") == ["half depth: set the rod to about 0.12, as 1.25 times 0.1 is 0.125"]


@given(
    st.decimals(min_value="0.001", max_value=9, places=3),
    st.sampled_from(["ft", "m"]),
    st.sampled_from([None, "small", "large"]),
)
def test_the_meter_is_where_its_fraction_says(
    depth: Decimal, unit: LengthUnit, rotor: RotorSize | None
) -> None:
    """0.4 of the scale above the bed is the rest of the depth, to the last digit of the setting."""
    for point in rod_points(depth, unit, RULES, rotor):
        above_bed = 0.4 * float(point.setting)
        assert above_bed == pytest.approx((1 - point.fraction) * float(depth), abs=0.4 * 0.00005001)


@pytest.mark.parametrize(
    ("depth", "unit", "rotor", "sentence"),
    [
        ("-0.1", "ft", None, "the depth must be 0 or more.*got -0.1"),
        ("NaN", "ft", None, "the depth must be 0 or more.*got NaN"),
        ("1e7", "ft", None, "the depth must be 0 or more, below 1000000"),
        ("1.0", "fathom", None, 'a unit of length must be one of.*got "fathom"'),
        ("1.0", "ft", "medium", 'the rotor must be small or large .got "medium"'),
    ],
)
def test_what_is_no_depth_is_refused(
    depth: str, unit: str, rotor: str | None, sentence: str
) -> None:
    """Each refusal is one sentence with what was found."""
    with pytest.raises(InputRefused, match=sentence):
        rod_points(Decimal(depth), unit, RULES, rotor)  # type: ignore[arg-type]


def test_a_rule_set_without_a_limit_is_refused() -> None:
    """Where the rules leave a limit out none is filled in."""
    values = {name: v for name, v in RULES.values.items() if name != "half_depth_below"}

    with pytest.raises(InputRefused, match='"common-practice" must set half_depth_below'):
        rod_points(Decimal("1.0"), "ft", attrs.evolve(RULES, values=values))
