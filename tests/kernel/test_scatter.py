import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bankside.kernel.scatter import (
    interpolated_variance,
    interpolated_variance_uncertainty,
    interpolation_residual,
    interpolation_weight,
)

from .sections import Section, sections, sixteenths

# A straight bed and a straight rise of velocity between two edges, unevenly read.
TAPE = [0.0, 0.4, 1.0, 1.3, 2.1, 2.4, 3.6, 4.0, 4.9, 5.2, 6.0, 6.5]
DEPTH = [0.3 + 0.05 * x for x in TAPE]
VELOCITY = [0.4 + 0.1 * x for x in TAPE]

LONG_ENOUGH = sections(least=5)


def _another_road(tape: list[float], values: list[float]) -> float:
    """The variance from a matrix of residuals whose rows have the length 1."""
    x, unit = np.array(tape), np.eye(len(tape))
    rows = [
        unit[i] - [np.interp(x[i], x[[i - 1, i + 1]], basis[[i - 1, i + 1]]) for basis in unit]
        for i in range(2, len(x) - 2)
    ]
    matrix = np.array([row / np.linalg.norm(row) for row in rows])
    return float(np.mean((matrix @ np.array(values)) ** 2))


@given(LONG_ENOUGH)
def test_the_variance_by_another_road(section: Section) -> None:
    """Rows of weights by NumPy's interpolation, each made 1 long, give the same variance."""
    for values in (section.depth, section.velocity):
        found = interpolated_variance(section.tape, values)
        assert found == pytest.approx(_another_road(section.tape, values), rel=1e-9, abs=1e-12)


def test_the_variance_of_noise_on_a_straight_section() -> None:
    """Over 40,000 sections with independent noise the mean variance is that of the noise.

    Five standard errors of the mean are allowed, taken from the sample itself; they are under 2 %,
    and one residual too many or too few in the divisor would be more than 10 %.
    """
    sigma, draws = 0.07, 40_000
    rng = np.random.default_rng(1)
    noisy = np.array(DEPTH) + sigma * rng.standard_normal((draws, len(DEPTH)))
    found = np.array([interpolated_variance(TAPE, row) for row in noisy.tolist()])
    error = found.std() / math.sqrt(draws)

    assert 5 * error < 0.02 * sigma**2
    assert found.mean() == pytest.approx(sigma**2, abs=5 * error)


def test_the_discharge_scatters_as_the_formula_says() -> None:
    """400,000 sections with noise in depth, velocity and width: the spread of Q is the formula's.

    The spread itself is uncertain by 1/√(2n), 0.11 %; four of those and 0.2 % for the products of
    two noises, which a linear formula leaves out, are allowed.
    """
    draws, of_depth, of_velocity, of_width, systematic = 400_000, 0.02, 0.03, 0.5, 1.0
    rng = np.random.default_rng(2)
    widths = [0.5, 0.6, 0.45, 0.9, 0.7]
    depth, velocity = DEPTH[3:8], VELOCITY[3:8]
    total = np.zeros(draws)
    for w, d, v in zip(widths, depth, velocity, strict=True):
        noise = rng.standard_normal((3, draws))
        total += (
            w
            * (1 + of_width / 100 * noise[0])
            * (d + of_depth * noise[1])
            * (v + of_velocity * noise[2])
        )
    total *= 1 + systematic / 100 * rng.standard_normal(draws)
    discharge = sum(w * d * v for w, d, v in zip(widths, depth, velocity, strict=True))
    formula = interpolated_variance_uncertainty(
        widths, depth, velocity, of_depth**2, of_velocity**2, of_width, systematic
    )

    assert formula == pytest.approx(
        100 * total.std() / discharge, rel=4 / math.sqrt(2 * draws) + 2e-3
    )


@given(LONG_ENOUGH, sixteenths(-2, 2), sixteenths(-2, 2))
def test_a_straight_line_has_no_scatter(section: Section, level: float, slope: float) -> None:
    """A line has none, and a line laid on a section changes nothing."""
    line = [level + slope * x for x in section.tape]
    tilted = [d + z for d, z in zip(section.depth, line, strict=True)]

    assert interpolated_variance(section.tape, line) == pytest.approx(0.0, abs=1e-20)
    assert interpolated_variance(section.tape, tilted) == pytest.approx(
        interpolated_variance(section.tape, section.depth), rel=1e-9, abs=1e-12
    )


@given(LONG_ENOUGH)
def test_the_scatter_is_that_of_the_mirrored_section(section: Section) -> None:
    """A tape from the other bank leaves it as it is."""
    mirrored = [-x for x in reversed(section.tape)]

    assert interpolated_variance(mirrored, section.depth[::-1]) == pytest.approx(
        interpolated_variance(section.tape, section.depth), rel=1e-9, abs=1e-15
    )


@given(LONG_ENOUGH, st.sampled_from([0.3048, 100.0]))
def test_the_scatter_in_other_units(section: Section, scale: float) -> None:
    """The tape may have any unit; the variance goes with the square of the unit of the values."""
    plain = interpolated_variance(section.tape, section.depth)
    tape = [scale * x for x in section.tape]
    values = [scale * d for d in section.depth]

    assert interpolated_variance(tape, section.depth) == pytest.approx(plain, rel=1e-9, abs=1e-15)
    assert interpolated_variance(section.tape, values) == pytest.approx(
        scale * scale * plain, rel=1e-9, abs=1e-15
    )


def test_no_edge_enters() -> None:
    """Whatever stands at the edges of water, the variance is the same; one step in, it is not."""
    plain = interpolated_variance(TAPE, DEPTH)
    edges = [9.0, *DEPTH[1:-1], -9.0]
    first = [DEPTH[0], 9.0, *DEPTH[2:]]

    assert interpolated_variance(TAPE, edges) == plain
    assert interpolated_variance(TAPE, first) > 0.5


def test_by_hand_on_five_stations() -> None:
    """One residual: between 1 and 4 m, 2 m has the weight 2/3; 2·(1 − 2/3 + 4/9) = 14/9."""
    tape = [0.0, 1.0, 2.0, 4.0, 5.0]
    values = [0.0, 0.3, 0.9, 0.6, 0.0]

    assert interpolation_weight(tape, 2) == pytest.approx(2 / 3)
    # 0.9 − (0.2 + 0.2) = 0.5, and 0.25 / (14/9) = 0.160714.
    assert interpolation_residual(tape, values, 2) == pytest.approx(0.5)
    assert interpolated_variance(tape, values) == pytest.approx(0.160714, abs=5e-7)


def test_what_has_no_scatter() -> None:
    """Fewer than five stations, unequal lengths, ends without neighbours and no discharge."""
    with pytest.raises(ValueError, match="at least five stations"):
        interpolated_variance([0.0, 1.0, 2.0, 3.0], [0.0] * 4)
    with pytest.raises(ValueError, match="one value for every vertical"):
        interpolated_variance(TAPE, DEPTH[1:])
    with pytest.raises(ValueError, match="one value for every vertical"):
        interpolation_residual(TAPE, DEPTH[1:], 2)
    for end in (-1, 0, len(TAPE) - 1):
        with pytest.raises(IndexError):
            interpolation_weight(TAPE, end)
    with pytest.raises(ValueError, match="discharge of 0"):
        interpolated_variance_uncertainty([1.0, 1.0], [0.5, 0.5], [1.0, -1.0], 0.1, 0.1, 0.5, 1.0)
    for place in (1, 2):
        columns = [[1.0, 1.0] for _ in range(3)]
        columns[place] = [1.0]
        with pytest.raises(ValueError, match="one value for every vertical"):
            interpolated_variance_uncertainty(*columns, 0.1, 0.1, 0.5, 1.0)


def test_rounding_is_no_scatter() -> None:
    """Rounding leaves nothing: 0.3 beside 0.3 is 0.3, whatever the distances."""
    tape = [0.0, 0.1, 0.4, 1.1, 1.8, 1.9, 2.6, 2.7]

    assert interpolated_variance(tape, [0.3] * len(tape)) == 0.0
    assert interpolated_variance(tape, [0.1 + 0.7 * x for x in tape]) == 0.0


def test_the_uncertainty_by_hand_of_two_panels() -> None:
    """0.2 and 0.1 m³/s: 50 by velocities, 14 2/9 by depths, 4 + 1 by widths, 4 systematic.

    Each velocity is off by 0.03 m/s on 0.5 m², which is 5 % of the 0.3 m³/s; each depth
    by 0.02 m on 0.4 m²/s; the widths by 3 %, the whole by 2 %.
    """
    found = interpolated_variance_uncertainty(
        [1.0, 2.0], [0.5, 0.25], [0.4, 0.2], 0.02**2, 0.03**2, 3.0, 2.0
    )
    assert found == pytest.approx(math.sqrt(73 + 2 / 9), rel=1e-12)
