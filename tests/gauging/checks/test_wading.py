"""Whether the crew should be in the water: at the limits of the rule set, and alone."""

import attrs
import pytest

from bankside.gauging.checks.wading import CHECKS
from bankside.gauging.records import Channel, CrewMember, Gauging, StageReading, Vertical

from .conditions_building import (
    COMPLETE,
    FEET,
    METRIC,
    findings,
    gauging,
    lone,
    point,
    section,
    severities,
)

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


def test_a_stop_calls_the_crew_out_and_a_caution_asks_the_leader() -> None:
    """Both kinds at once: 12 ft²/s at 4 and 5 ft, 8 and 9 ft²/s at 6 and 7 ft, in one channel."""
    at = {4: 5.5, 5: 6.0, 6: 4.5, 7: 4.0}
    strong = {i: Vertical(float(i), 2.0, (point(v),)) for i, v in at.items()}
    out, doubtful = findings(CHECKS, gauging(section(others=strong)))

    assert (out.severity, out.tapes) == ("stop", (4.0, 5.0))
    assert "up to 12 ft²/s, most at tape 5 ft" in out.found and "is 10 ft²/s" in out.found
    assert out.advice.startswith("Come out at tapes 4 and 5 ft")
    assert [limit.name for limit in out.thresholds] == ["wade_product_stop"]

    assert (doubtful.severity, doubtful.tapes) == ("explain", (6.0, 7.0))
    assert "up to 9 ft²/s, most at tape 6 ft" in doubtful.found
    assert doubtful.advice.startswith("Let the leader decide")
    assert doubtful.advice.endswith("people, in cold water or on a soft bed.")
    assert "tapes 6 and 7 ft" in doubtful.advice
    assert [limit.name for limit in doubtful.thresholds] == ["wade_product_caution"]


@pytest.mark.parametrize(
    ("levels", "stop", "explain"),
    [
        ((10.0, 10.06), "the water rose, so leave it", "the water rose, so leave it"),
        ((10.0, 10.03), "the water rose, so leave it", "Let the leader decide"),
        ((10.06, 10.0), "another section", "Let the leader decide"),
        ((10.0, 10.01), "another section", "Let the leader decide"),
    ],
)
def test_rising_water_is_only_left(levels: tuple[float, ...], stop: str, explain: str) -> None:
    """Another section of a stream that rises is no safer; of one that fell it may be."""
    strong = {4: Vertical(4.0, 2.0, (point(6.0),)), 6: Vertical(6.0, 2.0, (point(4.0),))}
    stage = tuple(StageReading(level) for level in levels)
    out, doubtful = findings(CHECKS, gauging(section(others=strong), stage=stage))

    assert stop in out.advice and explain in doubtful.advice
    assert ("another section" in out.advice) == (stop == "another section")


def test_depths_of_both_kinds_name_the_deepest() -> None:
    """5.5 and 6 ft are no wading work at all, 4.2 and 4.5 ft call for a reason."""
    at = {3: 6.0, 4: 5.5, 6: 4.2, 7: 4.5}
    deep = {i: Vertical(float(i), depth, (point(0.1),)) for i, depth in at.items()}
    out, doubtful = findings(CHECKS, gauging(section(others=deep)))

    assert (out.severity, out.tapes, out.channel) == ("stop", (3.0, 4.0), 0)
    assert "up to 6 ft, most at tape 3 ft" in out.found and "above 5 ft" in out.found
    assert "tapes 3 and 4 ft" in out.advice
    assert [limit.name for limit in out.thresholds] == ["wade_depth_stop"]
    assert (doubtful.severity, doubtful.tapes, doubtful.channel) == ("explain", (6.0, 7.0), 0)
    assert "up to 4.5 ft, most at tape 7 ft" in doubtful.found and "above 4 ft" in doubtful.found
    assert [limit.name for limit in doubtful.thresholds] == ["wade_depth_caution"]


def test_each_channel_is_judged_by_its_own_water() -> None:
    """The same tape position is calm in one channel and too strong in the other, read or not."""
    calm, strong = Vertical(1.0, 1.0, (point(1.0),)), Vertical(1.0, 5.5, (point(2.0),))
    record = Gauging(FEET, (Channel((calm,)), Channel((strong,))))
    assert [(one.check, one.channel) for one in findings(CHECKS, record)] == [
        (STRONG, 1),
        (DEEP, 1),
    ]

    def beside(velocity: float) -> Channel:
        edges = Vertical(0.0, 0.0, edge="left"), Vertical(4.0, 0.0, edge="right")
        inner = [Vertical(t, 0.5, (point(velocity),)) for t in (1.0, 3.0)]
        return Channel((edges[0], inner[0], Vertical(2.0, 3.5), inner[1], edges[1]))

    (finding,) = findings(CHECKS, Gauging(FEET, (beside(0.5), beside(4.0))))
    assert (finding.severity, finding.channel, finding.tapes) == ("stop", 1, (2.0,))
    assert "14 ft²/s" in finding.found


def test_products_are_told_in_the_crews_units() -> None:
    """1.2 m at 0.6 m/s is 0.72 m²/s; 24 in at 5 ft/s is 10 ft²/s, as the tape is in inches."""
    metric = Gauging(METRIC, (Channel((Vertical(1.0, 1.2, (point(0.6),)),)),))
    (finding,) = findings(CHECKS, metric)
    assert "velocity is 0.72 m²/s" in finding.found
    inches = Gauging(
        attrs.evolve(FEET, length="in"), (Channel((Vertical(1.0, 24.0, (point(5.0),)),)),)
    )
    (finding,) = findings(CHECKS, inches)
    assert finding.severity == "stop" and "velocity is 10 ft²/s" in finding.found


def test_one_vertical_is_told_without_a_most() -> None:
    """Where one vertical is too strong or too deep there is no other to be worse than."""
    strong, deep = findings(CHECKS, lone(Vertical(3.0, 5.5, (point(2.0),))))
    assert "At tape 3 ft depth times velocity is 11 ft²/s;" in strong.found
    assert deep.found.startswith("The depth at tape 3 ft is 5.5 ft, above 5 ft")
    assert "by the velocity of the neighbours" not in strong.found


def test_who_was_alone_is_named() -> None:
    """The one name is told as it was written first."""
    crew = (CrewMember("A. Mora"), CrewMember("a. MORA"))
    (finding,) = findings(CHECKS, attrs.evolve(COMPLETE, crew=crew))
    assert (finding.severity, "A. Mora" in finding.found) == ("explain", True)
    assert finding.advice.startswith("Do not wade alone: somebody watches from the bank")
    assert finding.advice.endswith("If somebody was there, write down who.")
