from collections.abc import Callable
from fractions import Fraction
from typing import get_args

import pytest

from bankside.gauging.faults import InputRefused
from bankside.gauging.units import (
    DischargeUnit,
    LengthUnit,
    VelocityUnit,
    cubic_metres_per_second_per,
    metres_per,
    metres_per_second_per,
)

FOOT = Fraction(3048, 10000)


@pytest.mark.parametrize(
    ("unit", "exact"),
    [
        ("ft", FOOT),
        ("in", FOOT / 12),
        ("m", Fraction(1)),
        ("cm", Fraction(1, 100)),
        ("mm", Fraction(1, 1000)),
    ],
)
def test_lengths_are_exact(unit: str, exact: Fraction) -> None:
    """A foot is 0.3048 m and has twelve inches; every factor is the float nearest to it."""
    assert metres_per(unit) == float(exact)


@pytest.mark.parametrize(
    ("unit", "exact"), [("ft/s", FOOT), ("m/s", Fraction(1)), ("cm/s", Fraction(1, 100))]
)
def test_velocities_are_exact(unit: str, exact: Fraction) -> None:
    """Velocities go by their lengths."""
    assert metres_per_second_per(unit) == float(exact)


@pytest.mark.parametrize(
    ("unit", "exact"), [("m3/s", Fraction(1)), ("ft3/s", FOOT**3), ("L/s", Fraction(1, 1000))]
)
def test_discharges_are_exact(unit: str, exact: Fraction) -> None:
    """A cubic foot is the cube of a foot, a litre a thousandth of a cubic metre."""
    assert cubic_metres_per_second_per(unit) == float(exact)


@pytest.mark.parametrize(
    ("factor", "units"),
    [
        (metres_per, get_args(LengthUnit)),
        (metres_per_second_per, get_args(VelocityUnit)),
        (cubic_metres_per_second_per, get_args(DischargeUnit)),
    ],
)
def test_every_unit_of_a_record_has_a_factor(
    factor: Callable[[str], float], units: tuple[str, ...]
) -> None:
    """No unit that a record takes is unknown to the conversion, and others are named as such."""
    assert all(factor(unit) > 0 for unit in units)
    with pytest.raises(InputRefused, match=r'must be one of .* \(got "furlong"\)'):
        factor("furlong")
