"""What a page asks while somebody practises: as JSON in and out, and nothing true given away."""

from __future__ import annotations

import json
import subprocess
import sys
from typing import Any

import pytest

from bankside.bank import answer
from bankside.gauging.journal.entry import to_members
from bankside.gauging.journal.from_record import entries_of
from bankside.gauging.json_text import parsed
from bankside.gauging.structure import unstructured
from bankside.practice.drills.as_json import boxes_of
from bankside.practice.drills.cards import card_and_seed, error_on
from bankside.practice.drills.find_error import spoilt_sheet
from bankside.practice.drills.reading_cards import reading_question
from bankside.practice.session.document import Practice, practice_to_document
from bankside.practice.session.reach import make_reach

from ..practice.trainee import practise
from .entering import ask

MARK = "Practice on a simulated stream: no real water was measured."


def refused(**request: Any) -> str:
    """The sentences of a refusal."""
    reply = json.loads(answer(json.dumps(request)))
    assert not reply["ok"]
    return "; ".join(fault["message"] for fault in reply["faults"])


def test_streams_are_listed_under_their_mark() -> None:
    """Seven of them, each with what it teaches."""
    reply = ask(ask="practice_streams")

    assert reply["mark"] == MARK
    assert len(reply["streams"]) == 7
    assert all(one["about"] for one in reply["streams"])


def test_a_reach_is_seen_from_above_and_no_deeper() -> None:
    """Widths, wet and dry, the surface as an eye tells it: no depth, nothing that is true."""
    reply = ask(ask="practice_reach", stream="pocket water", seed=3)

    text = json.dumps(reply)
    assert [one["name"] for one in reply["reach"]["sections"]] == ["A", "B", "C"]
    assert all(word not in text for word in ("depth", "discharge", "error", "best"))
    speeds = [place["surface_ms"] for place in reply["reach"]["sections"][0]["across"]]
    assert all(round(speed * 10) == pytest.approx(speed * 10) for speed in speeds)
    assert reply["gauging"] == "practice-pocket-water-3-1"


def test_act_after_act_shows_what_the_session_shows() -> None:
    """The page keeps the session and hands it back; a display has a figure for every second."""
    session: Any = ask(ask="practice_reach", stream="easy run", seed=5)["session"]
    middle = make_reach("easy run", 5).section("A").water.stream
    tape = round(0.5 * (middle.left + middle.right), 2)
    shown: list[Any] = []
    for act in (
        {"do": "choose", "section": "A"},
        {"do": "stretch"},
        {"do": "stage"},
        {"do": "edge", "side": "left"},
        {"do": "sound", "tape": tape},
        {"do": "hold", "tape": tape, "fraction": 0.6, "seconds": 40},
    ):
        reply = ask(ask="practice_act", session=session, act=act)
        session = reply["session"]
        shown.append(reply["shown"])

    assert shown[:2] == [None, None]
    assert [one["kind"] for one in shown[2:]] == ["gauge", "edge", "rod", "meter"]
    assert len(shown[-1]["display"]) == 40
    assert shown[-1]["called"] == shown[-1]["display"][-1]
    assert reply["section"] == "A" and reply["tape_hangs"]
    text = json.dumps(shown)
    assert all(word not in text for word in ("true", "meant", "held", "deviation", '"y"'))


def test_a_debrief_comes_of_a_document_or_of_entries() -> None:
    """The record in it, or that of the journal that was written at the practice stream."""
    session, _, record = practise("cobble riffle", 3)
    document = practice_to_document(Practice(session, "Ann", record))
    bare = practice_to_document(Practice(session, "Ann"))
    said = entries_of(
        record, gauging_id=record.id or "", device="phone", at="2026-05-01T09:00:00-07:00"
    )

    one = ask(ask="practice_debrief", practice=document)
    other = ask(
        ask="practice_debrief", practice=bare, entries=[to_members(entry) for entry in said]
    )
    assert one["debrief"]["mark"] == MARK
    assert sum(part["percent"] for part in one["debrief"]["parts"]) == pytest.approx(
        one["debrief"]["percent"]
    )
    assert other["debrief"] == one["debrief"]
    assert other["practice"]["record"]["practice"] is True
    assert len(one["debrief"]["better"]) == 3


def test_entries_of_real_water_are_no_record_of_practice() -> None:
    """The two never mix."""
    session, _, record = practise("easy run", 3)
    bare = practice_to_document(Practice(session, "Ann"))
    said = entries_of(record, gauging_id=record.id or "", device="p", at="2026-05-01T09:00:00Z")
    real = [to_members(entry) | {"gauging": "real"} for entry in said]

    words = refused(ask="practice_debrief", practice=bare, entries=real)
    assert "must make the record of a practice gauging" in words


def test_a_look_at_practice_says_so() -> None:
    """The ordinary screens can be practised with: their record and note bear the mark."""
    _, _, record = practise("easy run", 3)
    said = entries_of(record, gauging_id=record.id or "", device="p", at="2026-05-01T09:00:00Z")
    entries = [to_members(entry) for entry in said]

    assert ask(ask="look", entries=entries)["record"]["practice"] is True
    assert MARK in ask(ask="note", entries=entries)["content"]["headline"]["warnings"]


def test_drills_go_on_from_box_to_box() -> None:
    """Thirty rounds of right answers: every question is asked without its answer."""
    boxes: Any = None
    cards = set()
    for _ in range(30):
        state = {} if boxes is None else {"boxes": boxes}
        asked = ask(ask="practice_drill", **state)
        if asked["card"] is None:
            card, seed = card_and_seed(boxes_of(parsed(json.dumps(boxes))))
            sheet = spoilt_sheet(seed, error_on(card))
            assert asked["record"] == unstructured(sheet.gauging)
            given = {"tape": f"{sheet.tape:g}", "kind": sheet.kind}
        else:
            question = reading_question(asked["card"], asked["seed"])
            assert "answer" not in json.dumps(asked)
            given = {"answer": str(question.answer)}
        reply = ask(ask="practice_answer", **state, **given)
        boxes = reply["boxes"]
        assert reply["right"], reply
        cards.add(reply["card"])

    assert boxes["round"] == 30
    assert any(error_on(card) for card in cards) and "tape" in cards


def test_who_is_ready_is_told_of_all_sessions() -> None:
    """As the command tells it."""
    session, _, record = practise("easy run", 3)
    document = practice_to_document(Practice(session, "Ann", record))
    asked = {"format": "bankside.readiness/1", "streams": 1, "kinds": 1}

    (one,) = ask(ask="practice_ready", sessions=[document])["people"]
    assert not one["ready"] and one["still"]
    (one,) = ask(ask="practice_ready", sessions=[document], requirements=asked)["people"]
    assert one["ready"] and one["tries"][0]["stream"] == "easy run"


@pytest.mark.parametrize(
    ("request_", "said"),
    [
        ({"ask": "practice_reach", "stream": "ocean", "seed": 1}, "stream must be one of"),
        ({"ask": "practice_reach", "stream": "easy run"}, "seed must be given"),
        ({"ask": "practice_act", "session": {"stream": "easy run"}, "act": {}}, "seed must be"),
        (
            {
                "ask": "practice_act",
                "session": {"stream": "easy run", "seed": 1},
                "act": {"do": "stage"},
            },
            "a section must be chosen",
        ),
        ({"ask": "practice_debrief", "practice": {"format": "x"}}, "format must be"),
        ({"ask": "practice_drill", "boxes": {"round": -1}}, "round must be"),
        ({"ask": "practice_answer"}, "answer must be given"),
        ({"ask": "practice_answer", "answer": "far"}, "the answer must be a figure"),
        ({"ask": "practice_ready", "sessions": [3]}, "a session must be a JSON object"),
    ],
)
def test_what_cannot_be_asked_is_refused(request_: dict[str, Any], said: str) -> None:
    """One sentence, as for every ask."""
    assert said in refused(**request_)


def test_nobody_at_a_real_stream_waits_for_practice() -> None:
    """It is imported when it is first asked for."""
    script = (
        'import sys, json; from bankside.bank import answer; answer(\'{"ask": "about"}\'); '
        "print('bankside.practice' in sys.modules); "
        "answer('{\"ask\": \"practice_streams\"}'); print('bankside.practice' in sys.modules)"
    )
    run = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, text=True, check=True, timeout=60
    )

    assert run.stdout.split() == ["False", "True"]


def test_a_long_session_goes_on_where_it_stood() -> None:
    """Nothing is kept between two asks: the acts themselves say how it stands."""
    session, followed, _ = practise("two channels", 2)
    again = ask(
        ask="practice_act",
        session=json.loads(json.dumps(practice_to_document(Practice(session))["session"])),
        act={"do": "stage"},
    )

    assert again["seconds"] == followed.seconds + 15.0
