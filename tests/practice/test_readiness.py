"""Who is ready: what a leader asks for, worked out from the sessions themselves."""

from __future__ import annotations

import datetime
import json
from typing import Any

import attrs
import pytest

from bankside.gauging.faults import InputRefused
from bankside.gauging.json_text import parsed, written
from bankside.gauging.records import Vertical
from bankside.practice.debrief.debrief import debrief
from bankside.practice.readiness.requirements import (
    FORMAT,
    Requirements,
    requirements_from_document,
    requirements_to_document,
)
from bankside.practice.readiness.standing import PersonStanding, standings_of
from bankside.practice.readiness.tries import Try, tries_of
from bankside.practice.session.act import Session
from bankside.practice.session.document import Practice

from .trainee import Trainee, practise

KINDS = ("easy run", "cobble riffle", "undercut bank", "two channels", "pocket water")


def tried(percent: float | None, number: int = 0, **members: Any) -> Try:
    """A first try that was so far off."""
    said: dict[str, Any] = {
        **{"person": "Ann", "day": "2026-05-01", "stream": KINDS[number % 5], "seed": number},
        **{"percent": percent, "largest": "spacing", "better_section": True, "stops": 0},
        "first": True,
    }
    return Try(**(said | members))


def stand(*tries: Try, **asked: Any) -> PersonStanding:
    """How one person stands."""
    (found,) = standings_of(tries, Requirements(**asked))
    return found


def test_figures_that_nobody_read_show_nothing_however_near_they_come() -> None:
    """One mark may be written wrongly; two are made up, and the sentence says what is better."""
    good = [tried(1.0, n) for n in range(4)]

    assert stand(*good, tried(1.0, 4, unread=1)).ready
    found = stand(*good, tried(1.0, 4, unread=2))
    assert found.within == 4 and not found.ready
    assert any("where nobody stood the rod" in sentence for sentence in found.still)


def test_who_stays_out_has_gauged_no_kind() -> None:
    """Out of five, three that were left rightly are right, and two kinds gauged are not three."""
    out = [tried(None, n, left=True) for n in range(3)]
    found = stand(*out, tried(1.0, 3), tried(1.0, 4))

    assert found.within == 5 and not found.ready
    assert found.still == ("Streams of 3 kinds are asked for; so far 2 are gauged.",)


def test_five_streams_within_five_percent_are_enough() -> None:
    """The mean error and its spread stand beside it, by hand."""
    found = stand(*(tried(error, n) for n, error in enumerate((1.0, -2.0, 4.9, -5.0, 0.0))))

    assert found.ready
    assert found.within == 5
    assert found.bias == pytest.approx(-0.22)
    assert found.spread == pytest.approx(3.6663, abs=1e-4)


@pytest.mark.parametrize(
    ("tries", "asked", "said"),
    [
        ([tried(1.0, n) for n in range(4)], {}, "One stream more to gauge"),
        ([tried(1.0, n) for n in range(2)], {}, "3 streams more to gauge"),
        ([tried(1.0 + 5 * (n == 2), n) for n in range(5)], {}, "4 of the last 5 came within"),
        ([tried(1.0, 5 * n) for n in range(5)], {}, "Streams of 3 kinds are asked for; so far"),
        ([tried(1.0, n) for n in range(5)], {"must": ("rising stage",)}, '"rising stage" is still'),
        ([tried(1.0, n, stops=n == 3) for n in range(5)], {}, "may be somebody's life"),
        ([tried(None if n else 1.0, n) for n in range(5)], {}, "1 of the last 5 came within"),
    ],
)
def test_what_is_still_to_come_is_said(tries: list[Try], asked: dict[str, Any], said: str) -> None:
    """One sentence for each thing, and nobody is ready meanwhile."""
    found = stand(*tries, **asked)

    assert not found.ready
    assert any(said in sentence for sentence in found.still)


def test_a_stop_may_be_left_where_the_leader_says_so() -> None:
    """It is the leader's choice, in the document."""
    tries = [tried(1.0, n, stops=1) for n in range(5)]

    assert not stand(*tries).ready
    assert stand(*tries, no_stop_ignored=False).ready


def test_a_bad_day_is_overcome_by_better_ones() -> None:
    """The last ones count."""
    found = stand(*(tried(30.0 if n < 3 else 1.0, n) for n in range(8)))

    assert found.ready
    assert len(found.tries) == 8


def test_a_second_try_at_a_stream_does_not_count() -> None:
    """Its debrief has told what is true there."""
    tries = [*(tried(1.0, n) for n in range(4)), tried(0.0, 3, first=False)]

    assert stand(*tries).still[0].startswith("One stream more")


def test_people_are_told_apart() -> None:
    """Names that differ by case alone are one."""
    tries = [tried(1.0, n, person=name) for n, name in enumerate(("Ann", "Ben", "ANN"))]
    found = standings_of(tries, Requirements(streams=2, kinds=1, gauged=2, must=()))

    assert [(one.person, one.ready) for one in found] == [("Ann", True), ("Ben", False)]


def practice(stream: str, seed: int, trainee: Trainee | None = None, day: int = 1) -> Practice:
    """A session with its record."""
    session, _, record = practise(stream, seed, trainee)
    return Practice(session, "Ann", record, day=datetime.date(2026, 5, day))


def test_tries_are_worked_out_from_the_acts() -> None:
    """The error is that of the debrief; nothing that a file could claim is believed."""
    found = tries_of([practice("easy run", 4), practice("cobble riffle", 2)])

    assert [one.percent for one in found] == [
        debrief(practice("easy run", 4)).percent,
        debrief(practice("cobble riffle", 2)).percent,
    ]
    assert all(one.first and one.better_section for one in found)


def test_the_first_try_is_the_earliest_whatever_the_order_of_files() -> None:
    """Days decide, so that nobody picks the better one."""
    bad = Trainee(hold={"facing": 40.0})
    found = tries_of([practice("easy run", 4, day=9), practice("easy run", 4, bad, day=2)])

    assert [(one.day, one.first) for one in found] == [("2026-05-02", True), ("2026-05-09", False)]
    assert abs(found[0].percent or 0.0) > 10.0


def test_a_session_without_a_discharge_is_a_try() -> None:
    """It says why, and is within no limit."""
    session, _, _ = practise("easy run", 1)
    (found,) = tries_of([Practice(session, "Ann")])

    assert found.percent is None
    assert "nothing was written down" in found.refused


def test_a_session_of_nobody_is_refused() -> None:
    """A record of who is ready needs names."""
    with pytest.raises(InputRefused, match="person must be given"):
        tries_of([Practice(Session("easy run", 1))])


def test_a_stop_that_was_left_open_is_counted() -> None:
    """From the record itself."""

    def deep(row: Vertical) -> Vertical:
        return attrs.evolve(row, depth=2.5) if (row.depth or 0.0) > 0.3 else row

    (found,) = tries_of([practice("easy run", 5, Trainee(change=deep))])

    assert found.stops >= 1


def test_requirements_come_back_from_json() -> None:
    """Strictly, as everything that comes as JSON."""
    asked = Requirements(streams=7, within_percent=4.0, must=("rising stage",), leader="I. Marrow")

    text = written(requirements_to_document(asked))
    assert requirements_from_document(parsed(text)) == asked


@pytest.mark.parametrize(
    ("members", "said"),
    [
        ({"format": "x"}, 'format must be "bankside.readiness/1"'),
        ({"format": FORMAT, "streams": 0}, "streams must be a whole number"),
        ({"format": FORMAT, "streams": 2.5}, "streams must be a whole number"),
        ({"format": FORMAT, "kinds": 9, "streams": 9}, "kinds must be from 1 to 8 (got 9)"),
        ({"format": FORMAT, "kinds": 3, "streams": 2}, "kinds must be from 1 to 2 (got 3)"),
        ({"format": FORMAT, "must": ["ocean"]}, "must must hold practice streams"),
        ({"format": FORMAT, "strems": 3}, "strems"),
    ],
)
def test_what_cannot_be_asked_for_is_refused(members: dict[str, Any], said: str) -> None:
    """One sentence says what was found and what is right."""
    with pytest.raises(InputRefused) as refused:
        requirements_from_document(parsed(json.dumps(members)))
    assert said in str(refused.value)
