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
from bankside.practice.readiness.tries import Try, in_order, tries_of
from bankside.practice.readiness.words import paper_words, shown_words
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
    (found,) = standings_of(tries, Requirements(**({"must": ()} | asked)))
    return found


def test_figures_that_nobody_read_show_nothing_however_near_they_come() -> None:
    """One mark is enough; the sentence says where, and what is better. The leader may spare it."""
    tries = [*(tried(1.0, n) for n in range(4)), tried(1.0, 4, unread=1, unread_at="2.4 m")]
    found = stand(*tries)

    assert found.within == 4 and not found.ready
    assert any("held the meter (pocket water 4: 2.4 m)" in sentence for sentence in found.still)
    assert stand(*tries, no_figure_unread=False).ready


def test_a_whole_sheet_that_nobody_read_is_none() -> None:
    """All figures are right, and the acts show neither rod nor meter."""
    said = practice("easy run", 4)
    acts = [act for act in said.session.acts if act.do not in ("sound", "hold")]
    session = attrs.evolve(said.session, acts=tuple(acts))
    (one,) = tries_of([attrs.evolve(said, session=session)])

    assert abs(one.percent or 99.0) < 5.0
    assert one.unread > 20 and one.unread_at.endswith(" m")
    assert stand(one, streams=1, kinds=1, gauged=1).within == 0


def test_who_stays_out_has_gauged_no_kind() -> None:
    """Out of five, three that were left rightly are right, and two gauged are not three."""
    out = [tried(None, n, left=True) for n in range(3)]
    found = stand(*out, tried(1.0, 3), tried(1.0, 4))

    assert found.within == 5 and not found.ready
    assert found.still[0].startswith("At least 3 of the last 5 are to be gauged")
    assert found.still[1:] == ("Streams of 3 kinds are asked for; so far 2 are gauged.",)
    assert stand(*out[:2], *(tried(1.0, n) for n in range(2, 5))).ready


def test_who_stays_out_of_everything_is_never_ready() -> None:
    """However little is asked for."""
    out = [tried(None, n, left=True) for n in range(9)]

    assert not stand(*out, streams=1, kinds=1, gauged=1).ready


@pytest.mark.parametrize(
    ("lack", "said"),
    [
        ("nobody looked", "The level rose, and nobody looked"),
        ("too short", "held too briefly"),
        ("wading unexplained", "let the leader decide"),
    ],
)
def test_what_came_near_by_luck_is_not_right(lack: str, said: str) -> None:
    """It is said, and the try does not count as right; who came out needs none of it."""
    found = stand(*(tried(1.0, n, lacks=[lack] if n == 2 else ()) for n in range(5)))

    assert (found.within, found.ready) == (4, False)
    assert any(said in sentence for sentence in found.still)
    left = tried(None, 2, lacks=[lack], left=True)
    assert stand(left, *(tried(1.0, n) for n in (0, 1, 3, 4))).ready


def test_usually_the_streams_that_call_people_out_are_among_them() -> None:
    """A leader may ask for others."""
    assert Requirements().must == ("after rain", "rising stage")


def test_a_passed_over_stop_stands_until_its_kind_ended_rightly() -> None:
    """Five others do not wash it out; the same kind does, once it does not count any more."""
    bad = tried(None, 9, stream="after rain", stops=1)
    good = [tried(1.0, n) for n in range(5)]
    right = tried(None, 10, stream="after rain", left=True)

    found = stand(bad, *good)
    assert found.counted == tuple(good) and found.within == 5
    (sentence,) = found.still
    assert '("after rain")' in sentence and "until a stream of that kind" in sentence
    assert stand(bad, right, *good).ready
    assert stand(bad, *good, right).ready
    assert not stand(bad, right, *good[:3]).ready
    assert not stand(right, bad, *good).ready


def test_a_try_without_a_day_is_never_the_newest() -> None:
    """Nor the first at a stream where another has a day."""
    bad = tried(None, 9, stream="after rain", stops=1)
    good = [tried(1.0, n, day=None) for n in range(5)]
    again = tried(None, 9, stream="after rain", day=None, left=True)
    ordered = in_order([bad, *good, again])

    assert [one.day for one in ordered][-1] == "2026-05-01"
    assert ordered[-1].first and ordered[-1].stops == 1
    assert [one.first for one in ordered] == [True] * 5 + [False, True]
    assert not stand(*ordered).ready


@pytest.mark.parametrize(("seconds", "short"), [(1, True), (29, True), (30, False), (60, False)])
def test_a_meter_that_is_held_for_a_moment(seconds: int, short: bool) -> None:
    """Below three quarters of the 40 s of the rule set; the error may be small all the same."""
    (one,) = tries_of([practice("easy run", 3, Trainee(seconds=seconds))])

    assert ("too short" in one.lacks) is short


@pytest.mark.parametrize(("section", "strong"), [("A", False), ("B", True), ("C", True)])
def test_strong_water_has_to_be_explained(section: str, strong: bool) -> None:
    """After rain, at sections that the leader decides about."""
    (one,) = tries_of([practice("after rain", 32, Trainee(verticals=22, section=section))])

    assert ("wading unexplained" in one.lacks) is strong


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
        ([tried(1.0 + 5 * (n == 2), n) for n in range(5)], {}, "4 of the last 5 ended rightly"),
        ([tried(1.0, 5 * n) for n in range(5)], {}, "Streams of 3 kinds are asked for; so far"),
        ([tried(1.0, n) for n in range(5)], {"must": ("rising stage",)}, '"rising stage" is still'),
        ([tried(1.0, n, stops=n == 3) for n in range(5)], {}, "may be somebody's life"),
        ([tried(None if n else 1.0, n) for n in range(5)], {}, "1 of the last 5 ended rightly"),
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
        ({"format": FORMAT, "gauged": 6}, "gauged must be from 1 to 5 (got 6)"),
        (
            {"format": FORMAT, "streams": 1, "kinds": 1, "must": ["easy run", "after rain"]},
            "1 streams",
        ),
        ({"format": FORMAT, "must": ["ocean"]}, "must must hold practice streams"),
        ({"format": FORMAT, "strems": 3}, "strems"),
    ],
)
def test_what_cannot_be_asked_for_is_refused(members: dict[str, Any], said: str) -> None:
    """One sentence says what was found and what is right."""
    with pytest.raises(InputRefused) as refused:
        requirements_from_document(parsed(json.dumps(members)))
    assert said in str(refused.value)


def test_a_file_of_before_is_read() -> None:
    """What it does not say is as usual, and as fewer streams leave room for."""
    usual = requirements_from_document(parsed(json.dumps({"format": FORMAT, "kinds": 2})))
    assert usual == Requirements(kinds=2)
    few = parsed(json.dumps({"format": FORMAT, "streams": 2, "kinds": 1}))
    assert requirements_from_document(few) == Requirements(streams=2, kinds=1, gauged=2, must=())


def test_a_certificate_tells_gauged_from_stayed_out() -> None:
    """Both are said, and neither stands for the other."""
    asked = Requirements(must=())
    tries = [*(tried(1.0, n) for n in range(3)), *(tried(None, n, left=True) for n in (3, 4))]
    words = paper_words(stand(*tries), asked)

    assert words.sentences[0] == (
        "Ann gauged 3 practice streams of 3 kinds within ± 5 % of a discharge that is known, and "
        "stayed or came out rightly at 2, each at the first try. Well done."
    )
    assert dict(shown_words(stand(*tries)))["Gauged within the limit"] == "3 of the last 5"


def test_where_no_try_counts_that_is_said_in_words() -> None:
    """A person who stayed out of what could be waded has no try that counts."""
    found = attrs.evolve(stand(tried(1.0, 1)), counted=(), gauged=0)
    assert dict(shown_words(found))["Gauged within the limit"] == "none counts yet"
