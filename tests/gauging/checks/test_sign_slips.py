"""Velocities with the wrong sign."""

import attrs
import pytest

from bankside.gauging.checks.finding import Finding, Suspect
from bankside.gauging.checks.sign_slips import CHECKS
from bankside.gauging.records import Channel, Gauging, PointReading

from .slip_sections import VELOCITIES, changed, first, of, section


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
    for finding in found:
        at = f"tape {place + 2} ft"
        assert finding.found.startswith(f"The velocity at {at}, {written} ft/s, fits its ")
        assert finding.found.endswith(f"did you mean {-written} ft/s?")
        assert (finding.channel, finding.tapes) == (0, (place + 2.0,))
        assert [t.name for t in finding.thresholds] == ["slowest"]


@pytest.mark.parametrize(
    ("written", "expected"),
    [(-0.1, []), (-0.11, ["explain"]), (-0.3, ["explain"]), (-0.31, ["fix now"])],
)
def test_a_sign_is_no_chance_in_water_that_clearly_moves(
    written: float, expected: list[str]
) -> None:
    """What the meter can tell is 0.1 ft/s, and three times of it is clear; all around it fits."""
    level = [0.0, *[-written] * 9, 0.0]

    assert [
        f.severity for f in _found(section(velocities=changed(level, {5: written})))
    ] == expected


def test_the_last_vertical_called_has_no_neighbour_yet() -> None:
    """It is asked about with the next."""
    made = section(velocities=changed(VELOCITIES, {5: -1.24}))

    assert _found(first(made, 6)) == []
    assert len(_found(first(made, 7))) == 1


def test_near_the_bank_it_is_only_asked_about() -> None:
    """Second from the bank: there are not two on each side that run downstream.

    Lines from the bank and from 0.63 to 1.04 and 1.16 ft/s pass at 0.58 to 0.84.
    """
    right, slow, fast = (
        _found(section(velocities=changed(VELOCITIES, {2: value})))
        for value in (-0.87, -0.32, -1.3)
    )

    assert [(f.severity, f.instead) for f in right] == [("explain", 0.87)]
    assert [(f.severity, f.instead) for f in slow] == [("explain", 0.32)]
    assert fast == []


@pytest.mark.parametrize("back", [{5: -0.3}, {4: -0.45, 5: -0.3}, {4: -1.16, 5: -1.24}])
def test_an_eddy_keeps_its_sign(back: dict[int, float]) -> None:
    """Slow water behind a stone, and whatever runs upstream at two verticals side by side."""
    assert _found(section(velocities=changed(VELOCITIES, back))) == []


@pytest.mark.parametrize(
    "readings",
    [
        (1, {0.2: 1.4, 0.8: -0.92}),
        (1, {0.2: -0.3, 0.8: -2.6}),
        (2, {0.2: -0.14, 0.6: 2.4, 0.8: -0.1}),
        (2, {0.2: 0.0, 0.6: 2.4, 0.8: -0.3}),
        (2, {0.2: 0.3, 0.6: 2.3, 0.8: -0.1}),
    ],
)
def test_the_reading_with_the_wrong_sign_is_named(readings: tuple[int, dict[float, float]]) -> None:
    """1.4 and −0.92 at 0.2 and 0.8 of the depth, where the mean of 1.4 and 0.92 is the 1.16.

    Of −0.3 and −2.6 only the second fits with the other sign. With 2.4 between them either of −0.14
    and −0.1 does, the second better: means are 1.21 and 1.19, where 1.03 to 1.14 is expected. A 0
    has no sign, and what runs downstream keeps its own.
    """
    at, values = readings
    made = section()
    rows = list(made.channels[0].verticals)
    points = tuple(PointReading(value, fraction) for fraction, value in values.items())
    rows[4] = attrs.evolve(rows[4], velocity=points)

    (finding,) = _found(attrs.evolve(made, channels=(Channel(tuple(rows)),)))

    assert finding.suspect == Suspect(4, "velocity", at)
    assert finding.instead == -[*values.values()][at]
