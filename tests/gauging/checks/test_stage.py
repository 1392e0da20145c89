"""A level that moves: by length, by part of the mean depth, and read often enough."""

import attrs
import pytest

from bankside.gauging.checks.examined import examine
from bankside.gauging.checks.stage import CHECKS, risen
from bankside.gauging.records import Channel, Gauging, StageReading, Vertical

from .conditions_building import METRIC, RULES, findings, gauging, minute, point, section

CHANGED, SELDOM = CHECKS
DRY = Channel((Vertical(0.0, 0.0, edge="left"), Vertical(3.0, 0.0, edge="right")))


def _stages(depth: float, *levels: float) -> Gauging:
    """Twenty verticals over 21 ft, so a mean depth of 20/21 of that at each."""
    return gauging(section(depth=depth), stage=tuple(StageReading(level) for level in levels))


@pytest.mark.parametrize(
    ("depth", "levels", "expected"),
    [
        (2.1, (10.0, 10.02), []),
        (2.1, (10.0, 10.03), ["note"]),
        (2.1, (10.0, 10.05), ["note"]),
        (2.1, (10.0, 9.94), ["explain"]),
        (2.1, (10.0, 10.2), ["explain"]),
        (2.1, (10.0, 10.21), ["fix now"]),
        (2.1, (10.0, 10.06, 10.0), ["explain"]),
        (0.525, (10.0, 10.025), ["note"]),
        (0.525, (10.0, 10.03), ["explain"]),
        (0.525, (10.0, 10.05), ["explain"]),
        (0.525, (10.0, 10.051), ["fix now"]),
        (2.1, (10.0,), []),
        (2.1, (), []),
    ],
)
def test_a_level_that_moves(depth: float, levels: tuple[float, ...], expected: list[str]) -> None:
    """Mean depths are 2 and 0.5 ft: 5 % of them 0.1 and 0.025 ft, 10 % 0.2 and 0.05 ft."""
    found = findings([CHANGED], _stages(depth, *levels))
    assert [finding.severity for finding in found] == expected


@pytest.mark.parametrize(
    ("levels", "grave"),
    [((), None), ((10.0,), None), ((10.2, 10.0), None), ((10.0, 10.06, 10.0), "explain")],
)
def test_how_grave_a_rise_is(levels: tuple[float, ...], grave: str | None) -> None:
    """Without two readings nobody knows of a rise, and a level that only fell did not rise."""
    assert risen(examine(_stages(2.1, *levels), RULES, finished=False)) == grave


def test_it_tells_the_mean_and_how_it_was_weighted() -> None:
    """Change, mean gauge height and weighting stand in the finding, in the unit of the gauge."""
    (finding,) = findings([CHANGED], _stages(2.1, 10.0, 10.06))
    assert finding.found == (
        "The stage changed by 0.06 ft over 2 readings, more than 0.05 ft; the mean gauge height is "
        "10.03 ft, the plain mean of the readings."
    )
    assert [t.name for t in finding.thresholds] == ["stage_change_explain"]
    (finding,) = findings([CHANGED], _stages(2.1, 10.0, 10.21))
    assert "over 2 readings, more than 10 % of the mean depth; the mean" in finding.found
    assert [t.name for t in finding.thresholds] == ["stage_change_depth_fix"]
    timed = tuple(StageReading(level, minute(at)) for level, at in ((10.0, 0), (10.06, 20)))
    (finding,) = findings([CHANGED], gauging(section(depth=2.1), stage=timed))
    assert "mean gauge height is 10.03 ft, weighted by time." in finding.found


def test_where_verticals_have_their_times_the_mean_is_by_discharge() -> None:
    """19 of 20 equal panels were read at 10.0 ft, before the stage fell, and one at 9.9 ft."""
    times = {i: Vertical(float(i), 2.1, (point(1.0),), at=minute(0)) for i in range(1, 20)}
    times[20] = Vertical(20.0, 2.1, (point(1.0),), at=minute(20))
    stage = (StageReading(10.0, minute(0)), StageReading(9.9, minute(20)))
    (finding,) = findings([CHANGED], gauging(section(others=times), stage=stage))
    assert "mean gauge height is 9.995 ft, weighted by discharge." in finding.found


@pytest.mark.parametrize("channels", [(), (Channel(()),), (DRY,)])
@pytest.mark.parametrize("finished", [True, False])
def test_without_water_only_the_length_counts(
    channels: tuple[Channel, ...], finished: bool
) -> None:
    """0.4 ft down: there is no depth of which it would be a part."""
    record = gauging(channels, stage=(StageReading(10.0), StageReading(9.6)))
    (finding,) = findings([CHANGED], record, finished=finished)
    assert finding.severity == "explain" and "more than 0.05 ft" in finding.found


@pytest.mark.parametrize("finished", [True, False])
@pytest.mark.parametrize(
    "levels",
    [
        (10.0, 10.06),
        (10.0, 10.21),
        (10.0, 10.1, 10.05),
        (10.1, 10.0, 10.06),  # below the first, and rising
        (10.0, 10.06, 10.0),  # a pulse that passed: another may come
    ],
)
def test_nobody_is_sent_into_rising_water(levels: tuple[float, ...], finished: bool) -> None:
    """They come out first, and the leader says when to go in again."""
    (finding,) = findings([CHANGED], _stages(2.1, *levels), finished=finished)
    assert finding.advice == (
        "The water rose: come out, ask about storms and releases upstream; measure again only "
        "when the leader says so."
    )


@pytest.mark.parametrize("levels", [(1.10, 1.00, 1.06), (1.05, 1.00, 1.04), (1.00, 1.05, 1.00)])
def test_a_rise_counts_from_the_lowest_reading_before_it(levels: tuple[float, ...]) -> None:
    """In metres; all three end at the first reading or below it."""
    made = attrs.evolve(_stages(0.6, *levels), units=METRIC)
    (finding,) = findings([CHANGED], made, finished=False)
    assert (finding.severity, finding.comes_out) == ("fix now", True)


def test_water_that_fell_and_rises_a_little_is_looked_at_again() -> None:
    """0.1 ft down, which has to be explained, and 0.03 ft up again, which may be the beginning."""
    (finding,) = findings([CHANGED], _stages(2.1, 10.1, 10.0, 10.03))
    assert (finding.severity, finding.comes_out) == ("explain", False)
    assert "if it goes on rising, come out" in finding.advice


@pytest.mark.parametrize("finished", [True, False])
def test_a_small_rise_is_looked_at_again_from_the_bank(finished: bool) -> None:
    """It is no alarm yet, so that the alarm is believed; what would make it one is said."""
    (finding,) = findings([CHANGED], _stages(2.1, 10.0, 10.03), finished=finished)
    assert finding.severity == "note" and not finding.comes_out
    assert finding.advice == (
        "Read the stage again now, from the bank: if it goes on rising, come out and ask about "
        "storms and releases upstream."
    )


@pytest.mark.parametrize(
    ("levels", "advice"),
    [
        ((10.0, 9.97), "Read the stage now and then until the end"),
        ((10.0, 9.94), "Read the stage again before leaving"),
        ((10.0, 9.79), "Measure again, and faster"),
    ],
)
def test_falling_water_may_be_measured_again(levels: tuple[float, ...], advice: str) -> None:
    """Nobody is in danger from water that only falls."""
    (finding,) = findings([CHANGED], _stages(2.1, *levels))
    assert finding.advice.startswith(advice)


def test_a_rising_stage_is_read_from_the_bank() -> None:
    """More readings are no reason to stand in the water."""
    stage = (StageReading(10.0, minute(0)), StageReading(10.1, minute(31)))
    (finding,) = findings([SELDOM], gauging(stage=stage))
    assert finding.advice.endswith("from the bank where the water rises.")
    assert "changed by more than 0.05 ft, and 31 minutes passed between two" in finding.found
    assert finding.found.endswith("readings, more than 30 min.")
    assert [t.name for t in finding.thresholds] == ["stage_change_explain", "stage_interval"]


@pytest.mark.parametrize(
    ("levels", "expected"),
    [
        ((10.0, 10.02), []),
        ((10.02, 10.0), []),
        ((10.05, 10.0), ["explain"]),  # 9.5 % of 0.525 ft, which is above 5 %
        ((10.0, 10.05), ["fix now"]),  # the same, and rising round the crew
        ((10.5, 10.0), ["fix now"]),
        ((10.06, 10.0), ["fix now"]),  # 11.4 % of 0.525 ft
    ],
)
def test_unfinished(levels: tuple[float, ...], expected: list[str]) -> None:
    """Before the end the depths so far are judged by, and no mean gauge height is told."""
    found = findings([CHANGED], _stages(0.525, *levels), finished=False)
    assert [finding.severity for finding in found] == expected
    assert all("so far" in f.found and "mean gauge height" not in f.found for f in found)


@pytest.mark.parametrize(
    ("level", "until", "count"),
    [(10.06, 31.0, 1), (10.06, 30.0, 0), (10.05, 31.0, 0)],
)
@pytest.mark.parametrize("finished", [True, False])
def test_a_moving_level_is_read_every_half_hour(
    level: float, until: float, count: int, finished: bool
) -> None:
    """31 minutes between two readings are too many where it moves by more than 0.05 ft."""
    record = gauging(
        stage=(StageReading(10.0, minute(0)), StageReading(level, minute(until))),
    )
    assert len(findings([SELDOM], record, finished=finished)) == count
