"""Velocities with the wrong sign."""

import attrs
import pytest

from bankside.gauging.checks.finding import Finding
from bankside.gauging.checks.sign_slips import CHECKS
from bankside.gauging.records import Channel, Gauging, PointReading

from .slip_sections import VELOCITIES, changed, of, section


def _found(gauging: Gauging) -> list[Finding]:
    return of(CHECKS, "Sign looks wrong", gauging)


@pytest.mark.parametrize(
    ("place", "written", "severity"),
    [(5, -1.24, "fix now"), (4, -1.16, "fix now"), (1, -0.63, None)],
)
def test_a_lone_negative_that_fits_by_amount(
    place: int, written: float, severity: str | None
) -> None:
    """Among 1.0 to 1.2 ft/s nobody meets −1.24; beside the bank there may be an eddy."""
    found = _found(section(velocities=changed(VELOCITIES, {place: written})))

    assert [(f.severity, f.instead) for f in found] == [(severity, -written)] * bool(severity)


def test_near_the_bank_it_is_only_asked_about() -> None:
    """Second from the bank: there are not two on each side that run downstream."""
    (finding,) = _found(section(velocities=changed(VELOCITIES, {2: -0.87})))

    assert (finding.severity, finding.instead) == ("explain", 0.87)


@pytest.mark.parametrize("back", [{5: -0.3}, {4: -0.45, 5: -0.3}, {4: -1.16, 5: -1.24}])
def test_an_eddy_keeps_its_sign(back: dict[int, float]) -> None:
    """Slow water behind a stone, and whatever runs upstream at two verticals side by side."""
    assert _found(section(velocities=changed(VELOCITIES, back))) == []


def test_the_reading_with_the_wrong_sign_is_named() -> None:
    """1.4 and −0.92 at 0.2 and 0.8 of the depth, where the mean of 1.4 and 0.92 is the 1.16."""
    made = section()
    rows = list(made.channels[0].verticals)
    pair = (PointReading(1.4, 0.2), PointReading(-0.92, 0.8))
    rows[4] = attrs.evolve(rows[4], velocity=pair)

    (finding,) = _found(attrs.evolve(made, channels=(Channel(tuple(rows)),)))

    assert finding.instead == 0.92
    assert finding.suspect is not None and finding.suspect.reading == 1
