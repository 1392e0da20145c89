"""Each habit of a virtual crew by itself: how far it puts a reading off, on a plain stream."""

import math
import statistics

import attrs
import pytest

from bankside.practice.called import CalledVertical
from bankside.practice.crew import PERFECT
from bankside.practice.making import stream_of
from bankside.practice.parameters import of
from bankside.practice.wading import Wading

from .building import plain

# Slopes of 0.2 on both sides of a flat bed, from 0 to 0.6 m in 3 m.
STREAM = stream_of(plain(form="trapezoid", slope=of(0.3)), 1)
SLOPE, FLAT = STREAM.left + 1.5, STREAM.left + 5.0
VISITS = 1500


def _read(y: float, **habits: float) -> list[CalledVertical]:
    """What as many visits of a crew with one bad habit call at one place."""
    crew = attrs.evolve(PERFECT, **habits)
    return [Wading(STREAM, crew, seed).vertical(y) for seed in range(VISITS)]


def _velocities(**habits: float) -> list[float]:
    return [called.velocity_ms or 0.0 for called in _read(FLAT, **habits)]


def test_the_plain_stream_is_plain() -> None:
    """0.6 m and 0.5 m/s in the middle, 0.3 m half way up the slope; a perfect crew reads them."""
    assert STREAM.depth_at(FLAT) == pytest.approx(0.6)
    assert STREAM.depth_at(SLOPE) == pytest.approx(0.3)
    assert _velocities() == [pytest.approx(0.5)] * VISITS


def test_reading_the_rod() -> None:
    """Depths scatter by the error of reading."""
    depths = [called.depth_m for called in _read(FLAT, rod_reading=0.02)]

    assert statistics.fmean(depths) == pytest.approx(0.6, abs=0.002)
    assert statistics.pstdev(depths) == pytest.approx(0.02, rel=0.08)


def test_placing_the_rod() -> None:
    """5 cm beside the mark are 1 cm of depth on a slope of 0.2."""
    depths = [called.depth_m for called in _read(SLOPE, placing=0.05)]

    assert statistics.fmean(depths) == pytest.approx(0.3, abs=0.001)
    assert statistics.pstdev(depths) == pytest.approx(0.01, rel=0.08)


def test_tilting_the_rod() -> None:
    """A rod off by 10° as a rule reads 1.6 % too much on the mean, and never too little.

    The mean of 1 / cos of a normal angle of 0.1745 rad is 1 + 0.1745²/2 + 5 × 3 × 0.1745⁴/24 + …
    """
    parts = [called.depth_m / 0.6 for called in _read(FLAT, rod_tilt=10.0)]

    assert statistics.fmean(parts) == pytest.approx(1.0158, abs=0.0015)
    assert min(parts) >= 1.0 - 1e-12


def test_the_zero_of_the_meter() -> None:
    """The zero is one draw a visit and as large whatever the velocity."""
    velocities = _velocities(zero=0.03)

    assert statistics.fmean(velocities) == pytest.approx(0.5, abs=0.003)
    assert statistics.pstdev(velocities) == pytest.approx(0.03, rel=0.08)
    wading = Wading(STREAM, attrs.evolve(PERFECT, zero=0.03), 1)
    first, second = (wading.vertical(y).velocity_ms for y in (FLAT, SLOPE))
    assert first == pytest.approx(second)


def test_the_noise_of_the_meter() -> None:
    """Noise is new with every reading."""
    assert statistics.pstdev(_velocities(meter_noise=0.03)) == pytest.approx(0.03, rel=0.08)
    wading = Wading(STREAM, attrs.evolve(PERFECT, meter_noise=0.03), 1)
    assert wading.vertical(FLAT).velocity_ms != wading.vertical(FLAT + 0.5).velocity_ms


def test_setting_the_meter() -> None:
    """Off by 0.03 of the depth at 0.6, the reading is off by the slope of the profile there.

    The slope of (7/6) (1 - f)^(1/6) at 0.6 is (7/36) 0.4^(-5/6) = 0.4173.
    """
    velocities = _velocities(setting=0.03, integrating=False)

    assert statistics.fmean(velocities) == pytest.approx(0.5, rel=0.003)
    assert statistics.pstdev(velocities) == pytest.approx(0.5 * 0.4173 * 0.03, rel=0.08)


def test_timing_a_float() -> None:
    """A float runs with the surface, 7/6 of the mean; 0.85 of it is 0.992 of the mean."""
    velocities = _velocities(shallowest=2.0, float_error=0.1)

    assert statistics.fmean(velocities) == pytest.approx(0.5 * 0.85 * 7.0 / 6.0, rel=0.01)
    assert statistics.pstdev(velocities) == pytest.approx(0.1 * 0.5 * 0.85 * 7.0 / 6.0, rel=0.08)


def test_reading_the_angle() -> None:
    """Angles scatter by their error; one that is smaller than the crew cares for is not noted."""
    angles = [called.angle for called in _read(FLAT, angle_reading=5.0)]
    noted = [called.angle for called in _read(FLAT, angle_reading=5.0, angle_least=10.0)]

    assert statistics.pstdev(a for a in angles if a is not None) == pytest.approx(5.0, rel=0.08)
    # Beyond two deviations, 4.6 % of them.
    assert statistics.fmean(a is not None for a in noted) == pytest.approx(0.0455, abs=0.015)
    assert min(abs(a) for a in noted if a is not None) >= 10.0


def test_looking_at_no_angle() -> None:
    """Whether a crew looks at angles is one draw a visit, with its chance."""
    chance = {"angle_overlooked": 0.4, "angle_reading": 1.0}
    looked = [called.angle is not None for called in _read(FLAT, **chance)]

    assert statistics.fmean(looked) == pytest.approx(0.6, abs=0.04)


def test_stretching_the_tape() -> None:
    """A tape that is 1 % off makes the stream 1 % too wide or too narrow, as a whole."""
    crew = attrs.evolve(PERFECT, tape_stretch=0.01)
    widths = []
    for seed in range(VISITS):
        left, right = Wading(STREAM, crew, seed).edges()
        widths.append((right.tape_m - left.tape_m) / 10.0)

    assert statistics.fmean(widths) == pytest.approx(1.0, abs=0.001)
    assert statistics.pstdev(widths) == pytest.approx(0.01, rel=0.08)


def test_an_exposure_takes_as_long_as_it_does() -> None:
    """Two points cost two exposures, a float its own time and no exposure."""
    deep, thin = (
        Wading(STREAM, attrs.evolve(PERFECT, integrating=False, **habit), 1)
        for habit in ({"two_points_from": 0.5}, {"shallowest": 2.0})
    )
    deep.vertical(FLAT)
    thin.vertical(FLAT)

    assert deep.seconds_spent == 20.0 + 2.0 * 40.0
    assert thin.seconds_spent == 20.0 + 15.0


def test_turbulence_is_that_of_the_section() -> None:
    """At a moment, velocities scatter by intensity and pulsation together, more than by either.

    In dead water, 0.3 of the mean velocity still pulses: at the middle 0.5 × sqrt(1 + 0.09).
    """
    drawn = STREAM.drawn
    moment = STREAM.exposure_deviation(FLAT, 1e-6)
    both = math.hypot(drawn["intensity"], drawn["pulsation"])

    assert moment == pytest.approx(0.5 * math.sqrt(1.09) * both, rel=1e-3)


def test_a_stretched_tape_says_where_the_crew_stands() -> None:
    """Who goes to a mark of a tape that is off stands off by the same part, and reads so."""
    crew = attrs.evolve(PERFECT, tape_stretch=0.02)
    for seed in range(20):
        wading = Wading(STREAM, crew, seed)
        left, right = wading.edges()
        stretch = 10.0 / (right.tape_m - left.tape_m)
        tape = left.tape_m + 1.5

        assert wading.vertical(tape).depth_m == pytest.approx(STREAM.depth_at(tape * stretch))
        assert abs(stretch - 1.0) > 1e-5
