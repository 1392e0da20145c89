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
from bankside.practice.debrief.debrief import debrief
from bankside.practice.drills.as_json import boxes_of
from bankside.practice.drills.cards import card_and_seed, error_on
from bankside.practice.drills.find_error import spoilt_sheet
from bankside.practice.drills.reading_cards import reading_question
from bankside.practice.session.document import (
    Practice,
    practice_from_document,
    practice_to_document,
)
from bankside.practice.session.reach import make_reach

from ..practice.trainee import practise
from .entering import ask

MARK = "Practice on a simulated stream: no real water was measured."


def refused(**request: Any) -> str:
    """The sentences of a refusal."""
    reply = json.loads(answer(json.dumps(request)))
    assert not reply["ok"]
    return "; ".join(fault["message"] for fault in reply["faults"])


def test_streams_are_listed() -> None:
    """Eight of them, each with what it teaches."""
    reply = ask(ask="practice streams")

    assert len(reply["streams"]) == 8
    assert all(one["about"] for one in reply["streams"])


def test_a_session_shows_its_reach_and_every_act() -> None:
    """One member for each act, or null; a display has a figure for every second."""
    stream = make_reach("easy run", 5).section("A").water.stream
    tape = round(0.5 * (stream.left + stream.right), 2)
    acts = [
        {"do": "choose", "section": "A"},
        {"do": "stretch"},
        {"do": "stage"},
        {"do": "edge", "side": "left"},
        {"do": "sound", "tape": tape},
        {"do": "hold", "tape": tape, "fraction": 0.6, "seconds": 40},
    ]
    reply = ask(ask="practise", session={"stream": "easy run", "seed": 5, "acts": acts})

    assert [one["name"] for one in reply["sections"]] == ["A", "B", "C"]
    assert reply["chosen"] == "A"
    kinds = [one and one["kind"] for one in reply["shown"]]
    assert kinds == [None, None, "stage", "edge", "depth", "point"]
    point = reply["shown"][-1]
    assert len(point["display"]) == 40
    assert point["called"] == point["display"][-1]
    begun = ask(ask="practise", session={"stream": "easy run", "seed": 5, "acts": acts[:-1]})
    assert begun["shown"] == reply["shown"][:-1]


def test_a_debrief_is_that_of_the_journal() -> None:
    """Its parts add up, its mark stands beside it, and the session is given back to be kept."""
    session, _, record = practise("cobble riffle", 3)
    bare = practice_to_document(Practice(session, "Ann"))
    said = entries_of(
        record, gauging_id=record.id or "", device="phone", at="2026-05-01T09:00:00-07:00"
    )
    reply = ask(ask="debrief", practice=bare, entries=[to_members(entry) for entry in said])

    assert reply["mark"] == MARK
    assert sum(part["percent"] for part in reply["parts"]) == pytest.approx(reply["percent"])
    assert reply["percent"] == pytest.approx(debrief(Practice(session, "Ann", record)).percent)
    assert len(reply["better"]) == 3
    kept = practice_from_document(parsed(json.dumps(reply["practice"])))
    assert kept.record == record
    assert kept.session == session


def test_who_stays_out_is_told_so_and_nothing_of_the_stream() -> None:
    """A journal in which the gate alone was decided, at water in which nobody should go in."""
    seed = next(n for n in range(50) if make_reach("after rain", n).signs.brown)
    said = [("units/length", "ft"), ("units/velocity", "ft/s")]
    said.append(("wading/w1", {"safe": False, "by": "Ann"}))
    entries = [
        {
            **{"id": f"p-{i}", "gauging": "practice-1", "device": "p", "sequence": i},
            **{"at": f"2026-05-01T09:00:0{i}Z", "what": what, "value": value},
        }
        for i, (what, value) in enumerate(said, 1)
    ]
    acts = [{"do": "stay out"}]
    bare = {
        "format": "bankside.practice/1",
        "session": {"stream": "after rain", "seed": seed, "acts": acts},
    }
    reply = ask(ask="debrief", practice=bare, entries=entries)
    shown = ask(ask="practise", session=bare["session"])

    assert reply["judged"]["outcome"] == "stayed out" and reply["judged"]["dangerous"]
    assert "that was right" in reply["judged"]["verdict"]
    assert any("ft²/s" in sentence for sentence in reply["judged"]["because"])
    assert "true" not in reply and "section_true" not in reply
    assert practice_from_document(parsed(json.dumps(reply["practice"]))).record is not None
    assert shown["signs"]["brown"] and shown["shown"] == [None]
    assert "depth" not in json.dumps(shown["sections"])


def test_entries_of_real_water_are_no_record_of_practice() -> None:
    """The two never mix."""
    session, _, record = practise("easy run", 3)
    bare = practice_to_document(Practice(session, "Ann"))
    said = entries_of(record, gauging_id=record.id or "", device="p", at="2026-05-01T09:00:00Z")
    real = [to_members(entry) | {"gauging": "real"} for entry in said]

    words = refused(ask="debrief", practice=bare, entries=real)
    assert "must make the record of a practice gauging (got one of real water)" in words


def test_a_look_at_practice_says_so() -> None:
    """The ordinary screens can be practised with: their record and note bear the mark."""
    _, _, record = practise("easy run", 3)
    said = entries_of(record, gauging_id=record.id or "", device="p", at="2026-05-01T09:00:00Z")
    entries = [to_members(entry) for entry in said]

    assert ask(ask="look", entries=entries)["record"]["practice"] is True
    warnings = ask(ask="note", entries=entries)["content"]["headline"]["warnings"]
    assert MARK.removesuffix(".") in warnings


def test_drills_go_on_from_box_to_box() -> None:
    """Thirty rounds of right answers: every question is asked without its answer."""
    boxes: Any = None
    cards = set()
    for _ in range(30):
        state = {} if boxes is None else {"boxes": boxes}
        asked = ask(ask="drill", **state)
        if asked["card"] is None:
            card, seed = card_and_seed(boxes_of(parsed(json.dumps(boxes))))
            sheet = spoilt_sheet(seed, error_on(card))
            assert asked["record"] == unstructured(sheet.gauging)
            given = {"tape": f"{sheet.tape:g}", "kind": sheet.kind}
        else:
            question = reading_question(asked["card"], asked["seed"])
            assert "answer" not in json.dumps(asked)
            given = {"answer": str(question.answer)}
        reply = ask(ask="drill answer", **state, **given)
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

    (one,) = ask(ask="readiness", sessions=[document])["people"]
    assert not one["ready"] and one["still"]
    (one,) = ask(ask="readiness", sessions=[document], requirements=asked)["people"]
    assert one["ready"] and one["tries"][0]["stream"] == "easy run"
    assert one["paper"]["kind"] == "Certificate of practice"
    assert [row["stream"] for row in one["counting"]] == ["easy run"] and one["others"] == []


def test_before_any_session_the_usual_requirements_are_told() -> None:
    """A page begins its form with them; the caution stands beside whatever is shown."""
    reply = ask(ask="readiness", sessions=[])

    assert reply["people"] == []
    assert reply["requirements"]["streams"] == 5
    assert reply["caution"].startswith("Nothing here makes anybody safe in a river.")


@pytest.mark.parametrize(
    ("request_", "said"),
    [
        (
            {"ask": "practise", "session": {"stream": "ocean", "seed": 1}},
            "stream must be one of",
        ),
        ({"ask": "practise", "session": {"stream": "easy run"}}, "seed must be given"),
        (
            {
                "ask": "practise",
                "session": {"stream": "easy run", "seed": 1, "acts": [{"do": "stage"}]},
            },
            "a section must be chosen",
        ),
        ({"ask": "debrief", "practice": {"format": "x"}, "entries": []}, "entries must make"),
        ({"ask": "drill", "boxes": {"round": -1}}, "round must be"),
        ({"ask": "drill answer"}, "answer must be given"),
        ({"ask": "drill answer", "answer": "far"}, "the answer must be a figure"),
        ({"ask": "readiness", "sessions": [3]}, "a session must be a JSON object"),
        ({"ask": "readiness", "sessions": [{}]}, "format must be"),
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
        "answer('{\"ask\": \"practice streams\"}'); print('bankside.practice' in sys.modules)"
    )
    run = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, text=True, check=True, timeout=60
    )

    assert run.stdout.split() == ["False", "True"]
