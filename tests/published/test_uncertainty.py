"""The tables of ISO 748, its short form, and the formulas of the two other methods."""

import pytest

from bankside.kernel.iso_tables import (
    EXPOSURE_SECONDS,
    EXPOSURE_VELOCITY,
    METER_VELOCITY,
    VERTICALS,
    exposure_uncertainty,
    meter_uncertainty_group,
    meter_uncertainty_individual,
    profile_uncertainty,
    verticals_uncertainty,
)
from bankside.kernel.scatter import (
    interpolated_variance,
    interpolation_residual,
    interpolation_weight,
)
from bankside.kernel.uncertainty import velocity_area_uncertainty_equal_panels, verticals_component

from .examples import EXAMPLES, agrees, floats

TABLES = EXAMPLES["iso_748_tables"]["from_memory"]
OLDER = EXAMPLES["iso_748_tables"]["older"]
# Any figure beyond the last row of a table by velocity.
FAST = 1.7


def _rows(velocities: list[float | str]) -> list[float]:
    return [FAST if isinstance(v, str) else float(v) for v in velocities]


def test_the_table_for_the_number_of_verticals() -> None:
    """ISO 748:2007, annex E (from memory): 7.5 % for 5 verticals down to 1.0 % from 35 on."""
    rows = floats(TABLES["verticals"]["rows"])

    assert list(VERTICALS) == rows
    assert [verticals_uncertainty(row) for row in rows] == TABLES["verticals"]["percent"]


def test_the_table_for_the_points_in_a_vertical() -> None:
    """ISO 748:2007, annex E (from memory): the row of whole profiles has no number."""
    table = TABLES["profile"]

    assert [profile_uncertainty(float(n)) for n in table["points"]] == table["percent"]
    assert [percent / 2 for percent in OLDER["profile"]] == table["percent"]


@pytest.mark.parametrize(("half", "fractions"), [("upper", (0.2, 0.4, 0.6)), ("lower", (0.8, 0.9))])
def test_the_tables_for_the_exposure_time(half: str, fractions: tuple[float, ...]) -> None:
    """ISO 748:2007, annex E (from memory, medium): every cell, for each fraction of its head."""
    table = TABLES["exposure"]
    velocities = _rows(table["velocity"])

    assert list(EXPOSURE_VELOCITY) == velocities[:-1]
    assert list(EXPOSURE_SECONDS) == floats(table["seconds"])
    for fraction in fractions:
        for seconds, figures in zip(table["seconds"], table[half], strict=True):
            found = [exposure_uncertainty(v, float(seconds), fraction) for v in velocities]
            assert found == floats(figures)


@pytest.mark.parametrize(
    ("rating", "uncertainty"),
    [("individual", meter_uncertainty_individual), ("group", meter_uncertainty_group)],
)
def test_the_table_for_the_rating_of_the_meter(rating: str, uncertainty: object) -> None:
    """ISO 748:2007, annex E (from memory): every row, and the last for all faster water."""
    assert callable(uncertainty)
    velocities = _rows(TABLES["meter"]["velocity"])

    assert list(METER_VELOCITY) == velocities[:-1]
    assert [uncertainty(v) for v in velocities] == floats(TABLES["meter"][rating])


@pytest.mark.parametrize(
    ("newer", "older"),
    [
        *(
            pytest.param(newer, older, id=f"{half} {seconds} s")
            for half in ("upper", "lower")
            for seconds, newer, older in zip(
                TABLES["exposure"]["seconds"],
                TABLES["exposure"][half],
                OLDER[f"exposure_{half}"],
                strict=True,
            )
        ),
        pytest.param(TABLES["meter"]["individual"], OLDER["meter_individual"], id="individual"),
        pytest.param(TABLES["meter"]["group"], OLDER["meter_group"], id="group"),
    ],
)
def test_the_tables_are_half_of_the_older_ones(newer: list[float], older: list[float]) -> None:
    """The editions of 1979 and 1997 give two standard uncertainties: half of them, in whole ones.

    All halves are rounded up but one, 8 from 17 (0.10 m/s, 0.8 of the depth, 3 minutes).
    """
    apart = [abs(figure - half / 2) for figure, half in zip(newer, older, strict=True)]

    assert max(apart) <= (0.5 if all(float(figure).is_integer() for figure in newer) else 0)


def test_the_short_form_on_the_example_of_the_standard() -> None:
    """ISO 748:2007, 9.3: 2.851 % recomputed; the printed 2.84 % and 6 % are from memory (low).

    The recomputed figure is held to its digits, the one from memory to half a percent of itself,
    which is what the two differ by at most if the inputs are remembered well.
    """
    example = EXAMPLES["iso_748_example"]
    found = _short_form(example["from_memory"])

    assert agrees(found, example["derived"]["standard"])
    assert agrees(2 * found, example["derived"]["expanded"])
    assert found == pytest.approx(float(example["from_memory"]["standard"]), rel=5e-3)
    assert agrees(2 * found, example["from_memory"]["expanded"])


def test_the_short_form_in_the_older_style() -> None:
    """DERIVED from the formula at 95 %, X_m 5 to X_e 5: 5.303 %, with 1 % systematic 5.397 %."""
    example = EXAMPLES["iso_748_older_example"]

    for systematic, name in ((0.0, "random"), (1.0, "with_systematic")):
        inputs = {**example["from_memory"], "systematic": systematic}
        assert agrees(_short_form(inputs), example["derived"][name])


def _short_form(inputs: dict[str, float]) -> float:
    names = "verticals points width depth profile meter exposure number systematic".split()
    return velocity_area_uncertainty_equal_panels(*(float(inputs[name]) for name in names))


def test_the_verticals_of_sauer_and_meyer() -> None:
    """USGS OFR 92-144: S_v = 32 N^-0.88 percent (from memory, high), figures DERIVED."""
    table = EXAMPLES["sauer_meyer_verticals"]["derived"]

    for verticals, percent in zip(table["verticals"], table["percent"], strict=True):
        assert agrees(verticals_component(float(verticals)), percent)


def test_an_interpolated_value_between_even_verticals() -> None:
    """DERIVED from Cohn, Kiang and Mason 2013 (from memory): 1.0, 1.2, 0.9 differ by 0.25."""
    example = EXAMPLES["interpolated_variance"]["derived"]["even"]
    values = example["values"]
    # Two stations further at either end make it the only residual.
    around = [0.0, *values, 0.0]

    assert agrees(interpolation_weight([1.0, 2.0, 3.0], 1), example["weight"])
    assert agrees(interpolation_residual([1.0, 2.0, 3.0], values, 1), example["residual"])
    assert agrees(interpolated_variance([0.0, 1.0, 2.0, 3.0, 4.0], around), example["contribution"])


def test_the_weight_between_uneven_verticals() -> None:
    """DERIVED: 1 m and 3 m from its neighbours, the nearer counts 0.75 and the divisor is 1.625."""
    example = EXAMPLES["interpolated_variance"]["derived"]["uneven"]
    tape = floats(example["tape"])
    around = [tape[0] - 1.0, *tape, tape[-1] + 1.0]

    assert agrees(interpolation_weight(tape, 1), example["weight"])
    # A residual of 1 alone has the variance 1 over the divisor.
    variance = interpolated_variance(around, [0.0, 0.0, 1.0, 0.0, 0.0])
    assert agrees(1.0 / variance, example["denominator"])
