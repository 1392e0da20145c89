"""Called out of the water: leaving is right, and neither reading on nor an answer is."""

from __future__ import annotations

import datetime
from collections.abc import Sequence

import attrs
import pytest

from bankside.gauging.records import Answer, Channel, StageReading
from bankside.practice.debrief.debrief import Debrief, debrief
from bankside.practice.debrief.heeded import came_out, ignored_stops
from bankside.practice.debrief.source_words import SOURCES
from bankside.practice.readiness.requirements import Requirements
from bankside.practice.readiness.standing import standings_of
from bankside.practice.readiness.tries import Try, tries_of
from bankside.practice.session.act import Act
from bankside.practice.session.document import Practice
from bankside.practice.session.followed import follow
from bankside.practice.session.practice_streams import PRACTICE_STREAMS
from bankside.practice.session.shown import ShownStage

from .trainee import Trainee, practise, waited

CALL = "Level changed"
ASKED = Requirements(streams=2, kinds=1, gauged=1, must=())
STAYS = ("one more vertical", "Measure once more", "Stay 40 seconds", "be quick")


def rising(gauge_after: int, verticals: int = 24) -> Practice:
    """A gauging of rising water: so many verticals, then the gauge, then the others if any."""
    session, _, record = practise("rising stage", 3, Trainee(seconds=120))
    acts = list(session.acts)
    marks = [place for place, act in enumerate(acts) if act.do == "sound"]
    cut = marks[verticals] if verticals < len(marks) else len(acts)
    middle = marks[gauge_after] if gauge_after < len(marks) else len(acts)
    acts = [*acts[:middle], Act("stage"), *acts[middle:cut]]
    session = attrs.evolve(session, acts=tuple(acts))
    rows = record.channels[0].verticals
    kept = {act.tape for act in acts if act.do == "sound"}
    rows = tuple(row for row in rows if row.edge is not None or row.tape in kept)
    stage = tuple(
        StageReading(shown.value)
        for shown in follow(session).shown
        if isinstance(shown, ShownStage)
    )
    record = attrs.evolve(
        record, channels=(Channel(rows),), stage=stage, no_gauge=False, id="practice-rising"
    )
    return Practice(session, "Ann", record, day=datetime.date(2026, 5, 1))


def answered(practice: Practice) -> Practice:
    """The same with a reason given for every finding that is open."""
    assert practice.record is not None
    answers = tuple(
        Answer(check=row.check, finding=row.found, severity=row.severity, reason="nearly done")
        for row in debrief(practice).findings
        if row.fate == "left open"
    )
    return attrs.evolve(practice, record=attrs.evolve(practice.record, answers=answers))


def words(found: Debrief) -> str:
    """All that the debrief asks for."""
    return " ".join(f"{one.why} {one.what}" for one in found.better)


def ready(tries: Sequence[Try]) -> tuple[str, ...]:
    """What is still asked of somebody who has gauged one stream, and of whom two are asked."""
    good = Try("Ann", None, "easy run", 0, 1.0, None, True, 0, True)
    (person,) = standings_of([good, *tries], ASKED)
    return person.still


def test_who_leaves_when_the_level_calls_has_ended_rightly() -> None:
    """Half a section, the gauge, and out: no stop ignored, ready, and told that it was right."""
    practice = rising(12, verticals=12)
    found = debrief(practice)
    (row,) = (row for row in found.findings if row.check == CALL)

    assert row.fate == "came out"
    assert came_out(found.findings)
    assert "nobody read on: well done" in found.better[0].why
    assert abs(found.percent) > 5.0
    (one,) = tries_of([practice])
    assert (one.left, one.stops) == (True, 0)
    assert ready([one]) == ()


@pytest.mark.parametrize("by_word", [False, True])
def test_who_reads_on_has_passed_it_over(by_word: bool) -> None:
    """Answered or not: it counts, and nobody is ready."""
    practice = answered(rising(12)) if by_word else rising(12)
    found = debrief(practice)
    (row,) = (row for row in found.findings if row.check == CALL)

    assert row.fate == ("answered" if by_word else "left open")
    assert ignored_stops(found.findings) == 1
    assert "called everybody out, and it was passed over" in found.better[0].why
    (one,) = tries_of([practice])
    assert (one.left, one.stops) == (False, 1)
    assert any("passed over" in sentence for sentence in ready([one]))


@pytest.mark.parametrize("verticals", [12, 24])
def test_nobody_who_was_called_out_is_told_to_stay(verticals: int) -> None:
    """Whether they left or read on."""
    found = debrief(rising(12, verticals=verticals))

    assert found.one_more is None
    assert len(found.better) == 3
    assert not any(phrase in words(found) for phrase in STAYS)


def test_a_gauge_read_only_at_the_end_calls_nobody_in_time() -> None:
    """Nothing was passed over, but it is no leaving either: the error decides."""
    practice = rising(24)
    found = debrief(practice)
    (one,) = tries_of([practice])

    assert (one.left, one.stops) == (False, 0)
    assert one.lacks == ("nobody looked",)
    assert any("nobody looked at the gauge in time" in sentence for sentence in ready([one]))
    assert "all had been read by then" in found.better[0].why


def test_leaving_before_any_vertical_is_right_too() -> None:
    """The gauge rose while the tape was hung: there is no discharge, and that is the result."""
    session, record = waited(3)
    session = attrs.evolve(session, acts=session.acts[:-1])
    (one,) = tries_of([Practice(session, "Ann", record)])

    assert one.percent is None
    assert one.left
    assert ready([one]) == ()


def test_a_finding_to_fix_now_has_to_be_answered() -> None:
    """Unless the leader says otherwise; who came out has nothing left to mend."""
    one = Try("Ann", None, "easy run", 1, 1.0, None, True, 0, True, unmended=1)
    spared = attrs.evolve(ASKED, streams=1, no_fix_now_open=False)

    assert any('"fix now" was left open' in sentence for sentence in ready([one]))
    assert standings_of([one], spared)[0].ready
    assert ready([attrs.evolve(one, left=True)]) == ()


def test_the_stream_that_rises_teaches_to_leave() -> None:
    """Its words say so before and after."""
    assert "leave the water" in PRACTICE_STREAMS["rising stage"].about
    assert "leave the water" in SOURCES["level"].better
    assert "quick" not in PRACTICE_STREAMS["rising stage"].about + SOURCES["level"].better


def slipped() -> Practice:
    """One depth written as 1.9 m where the rod showed less, and out of the water at once."""
    session, _, record = practise("easy run", 4)
    first = next(place for place, act in enumerate(session.acts) if act.do == "sound")
    left, row, *_, right = record.channels[0].verticals
    row = attrs.evolve(row, depth=1.9, dry=False)
    record = attrs.evolve(record, channels=(Channel((left, row, right)),))
    return Practice(attrs.evolve(session, acts=session.acts[: first + 2]), "Ann", record)


def test_a_call_that_comes_of_a_slip_is_set_aside() -> None:
    """To leave is never wrong, but the stream called nobody; what was to be mended still is."""
    (one,) = tries_of([slipped()])
    told = words(debrief(slipped()))

    assert "came of a figure that the stream did not show" in told and "well done" not in told
    assert (one.left, one.set_aside, one.stops) == (False, True, 0)
    assert one.unmended > 0
    found = ready([one])
    assert found[0] == "One stream more to gauge for the first time."
    assert any('"fix now" was left open' in sentence for sentence in found)


def test_a_rise_that_was_looked_at_and_not_written_tells_nobody() -> None:
    """Whoever reads on in water that rises has not looked, unless the sheet says so."""
    practice = rising(12)
    assert practice.record is not None
    assert "nobody looked" not in tries_of([practice])[0].lacks
    record = attrs.evolve(practice.record, stage=practice.record.stage[:1])
    (one,) = tries_of([attrs.evolve(practice, record=record)])
    assert one.lacks == ("nobody looked",)


def test_a_steady_level_needs_no_second_look() -> None:
    """Nothing rose."""
    session, _, record = practise("easy run", 4)
    (one,) = tries_of([Practice(session, "Ann", record)])

    assert one.lacks == () and one.stops == 0
