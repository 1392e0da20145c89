"""Whether the crew should be in the water: at the limits of the rule set, and alone."""

import attrs
import pytest

from bankside.gauging.checks.wading import CHECKS
from bankside.gauging.records import CrewMember, Vertical

from .conditions_building import COMPLETE, findings, gauging, lone, point, section, severities

STRONG = "Water too strong to wade"
DEEP = "Deeper than wading work"


@pytest.mark.parametrize(
    ("depth", "velocity", "expected"),
    [
        (2.0, 5.0, [(STRONG, "stop")]),
        (2.0, -5.0, [(STRONG, "stop")]),
        (1.99, 5.0, [(STRONG, "explain")]),
        (2.0, 3.23, [(STRONG, "explain")]),
        (2.0, 3.22, []),
    ],
)
@pytest.mark.parametrize("finished", [True, False])
def test_depth_times_velocity(
    depth: float, velocity: float, expected: list[tuple[str, str]], finished: bool
) -> None:
    """From 10 ft²/s on nobody wades, from 6.46 (0.6 m²/s) on the leader decides, at any time."""
    record = lone(Vertical(3.0, depth, (point(velocity),)))
    assert severities(CHECKS, record, finished=finished) == expected


def test_the_fastest_point_counts() -> None:
    """What pushes at the legs is the fastest water read at the vertical, not the mean."""
    pair = Vertical(3.0, 3.0, (point(3.4, 0.2), point(1.0, 0.8)))
    (finding,) = findings(CHECKS, gauging(section(others={3: pair})))
    assert (finding.severity, finding.tapes, finding.channel) == ("stop", (3.0,), 0)
    assert "10.2 ft²/s" in finding.found


@pytest.mark.parametrize(
    ("depth", "expected"),
    [(4.0, []), (4.01, [(DEEP, "explain")]), (5.0, [(DEEP, "explain")]), (5.01, [(DEEP, "stop")])],
)
@pytest.mark.parametrize("finished", [True, False])
def test_depth_alone(depth: float, expected: list[tuple[str, str]], finished: bool) -> None:
    """Above 4 ft a depth is explained, above 5 ft nobody wades; at the figure itself it holds."""
    assert severities(CHECKS, lone(Vertical(3.0, depth)), finished=finished) == expected


def test_alone_at_the_stream() -> None:
    """One name is one person, however often it is written; two names are two, none is unknown."""
    one = CrewMember("A. Mora", "rod")
    for crew, expected in (
        ((one,), 1),
        ((one, CrewMember("a. mora", "recorder")), 1),
        ((one, CrewMember("B. Lind")), 0),
        ((), 0),
    ):
        for finished in (True, False):
            record = attrs.evolve(COMPLETE, crew=crew)
            assert len(findings(CHECKS, record, finished=finished)) == expected


def test_one_finding_a_channel_names_the_worst_vertical() -> None:
    """Nine strong verticals are one alarm, with the place where it is worst."""
    strong = {i: Vertical(float(i), 2.0, (point(5.0 + i / 10),)) for i in (3, 4, 5)}
    (finding,) = findings(CHECKS, gauging(section(others=strong)))
    assert (finding.severity, finding.tapes) == ("stop", (3.0, 4.0, 5.0))
    assert "up to 11 ft²/s, most at tape 5 ft" in finding.found


def test_a_sounding_in_strong_water_is_judged_by_its_neighbours() -> None:
    """Where it was too strong to hold the meter, the depth and the water beside it still tell."""
    beside = {i: Vertical(float(i), 1.0, (point(3.0),)) for i in (3, 5)}
    record = gauging(section(others={**beside, 4: Vertical(4.0, 3.5)}))
    (finding,) = findings(CHECKS, record)
    assert (finding.severity, finding.tapes) == ("stop", (4.0,))
    assert "tape 4 ft by the velocity of the neighbours" in finding.found
