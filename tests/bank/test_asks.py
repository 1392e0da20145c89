"""The smaller asks: about, plan, rod, note, record, entries."""

import json
from decimal import Decimal
from importlib.metadata import version
from itertools import pairwise
from typing import Any

import attrs
import pytest

from bankside.gauging.compute import METHOD_VERSION, compute
from bankside.gauging.rule_sets.load import shipped_names
from bankside.gauging.wire import from_json, to_json

from .entering import Pad, ask, demo, entered, look

PLAN: dict[str, Any] = {
    "ask": "plan",
    "left": "3.2",
    "right": "27.1",
    "unit": "ft",
    "resolution": "0.1",
    "verticals": 25,
    "rule": "equal",
    "start": "left",
}


def test_about_names_versions_and_rule_sets() -> None:
    """What a page shows of the engine, the base rule set first."""
    reply = ask(ask="about")

    assert (reply["version"], reply["method_version"]) == (version("bankside"), METHOD_VERSION)
    assert [one["name"] for one in reply["rule_sets"]] == list(shipped_names())
    assert all(one["title"] for one in reply["rule_sets"])


def test_a_plan_stands_between_the_edges_in_the_order_of_the_way() -> None:
    """25 verticals in 23.9 ft: a step of 0.92 ft, on marks of 0.1 ft; the widths add up."""
    reply = ask(**PLAN)

    positions = [Decimal(text) for text in reply["positions"]]
    assert len(positions) == 25
    assert (positions[0], positions[-1]) == (Decimal("4.1"), Decimal("26.2"))
    assert all(b > a for a, b in pairwise(positions))
    edges = [edge["panel_width"] for edge in reply["edges"]]
    widths = [Decimal(text) for text in (*reply["panel_widths"], *edges)]
    assert sum(widths) == Decimal("23.9")
    assert [edge["bank"] for edge in reply["edges"]] == ["left", "right"]
    # 40 s and 20 s a vertical, and a minute for edges and the way.
    assert reply["expected_seconds"] == 25 * 60 + 60
    assert reply["shares"] == [None] * 25
    back = ask(**{**PLAN, "start": "right"})
    assert back["positions"] == reply["positions"][::-1]


def test_a_plan_goes_by_the_rule_set_where_nothing_is_said() -> None:
    """The exposure, and the least spacing: 3 ft have no room for 25 verticals 0.3 ft apart."""
    narrow = {**PLAN, "left": "0", "right": "3"}

    assert len(ask(**narrow)["positions"]) == 9
    assert len(ask(**narrow, minimum_spacing="0.1")["positions"]) == 25
    assert ask(**PLAN, exposure="20")["expected_seconds"] == 25 * 40 + 60
    epa = ask(**PLAN, rule_set="after-epa-wadeable-streams")
    assert epa["expected_seconds"] == 25 * 40 + 60


def test_a_plan_from_the_last_visit_expects_shares() -> None:
    """Closer where the last visit found more water; all shares make 100 %."""
    entries = entered(demo("alder_fork.csv")).entries

    reply = ask(**{**PLAN, "rule": "equal-flow", "earlier": entries})

    edges = [edge["share"] or 0.0 for edge in reply["edges"]]
    assert sum(reply["shares"]) + sum(edges) == pytest.approx(100, abs=1e-9)
    refused = ask(**{**PLAN, "rule": "equal-flow"})
    assert not refused["ok"] and "need an earlier gauging" in refused["faults"][0]["message"]
    unknown = ask(**{**PLAN, "earlier": [7]})
    assert unknown["remarks"][0].startswith("The last visit has no discharge")


def test_a_plan_from_the_last_visit_says_how_many_verticals_are_likely_to_do() -> None:
    """For ± 8 % where no target is given, and for the one that is."""
    entries = entered(demo("alder_fork.csv")).entries

    usual = ask(**{**PLAN, "earlier": entries})["remarks"][0]
    wide = ask(**{**PLAN, "earlier": entries, "target": "20"})["remarks"][0]

    assert usual.startswith(("± 8 % (19 in 20) is not likely here", "For ± 8 % (19 in 20) "))
    assert wide.startswith("For ± 20 % (19 in 20) about ")
    assert not any("19 in 20" in remark for remark in ask(**PLAN)["remarks"])


def test_a_plan_by_soundings_says_how_many_verticals_are_likely_to_do() -> None:
    """By depths alone, in the unit of the tape; fewer than five are refused in a sentence."""
    depths = ["0.6", "1.2", "1.8", "1.8", "1.2", "0.6"]
    soundings = [{"tape": f"{6 + 3 * k}", "depth": depth} for k, depth in enumerate(depths)]

    told = ask(**PLAN, soundings=soundings, target="30")["remarks"][0]
    few = ask(**PLAN, soundings=soundings[:3])
    odd = ask(**PLAN, soundings=[{"tape": "6"}])

    assert told.startswith("For ± 30 % (19 in 20) about ") and "by 6 soundings alone" in told
    assert few["faults"][0]["message"] == "soundings must be 5 or more (got 3)"
    assert "a list of objects with tape and depth, figures as typed" in odd["faults"][0]["message"]
    assert "above 0" in ask(**PLAN, target="0")["faults"][0]["message"]


def test_a_plan_by_a_visit_of_several_channels_says_which() -> None:
    """Nothing is guessed in silence."""
    entries = entered(demo("quill_brook.xlsx")).entries

    reply = ask(**{**PLAN, "unit": "m", "earlier": entries})

    assert reply["remarks"][0] == (
        "The last visit has 2 channels: shares are expected from the first."
    )


@pytest.mark.parametrize(
    ("member", "value", "words"),
    [
        ("left", 3.2, "left must be a figure as typed"),
        ("left", None, "left must be given"),
        ("verticals", 2.5, "verticals must be a whole number"),
        ("verticals", 0, "verticals must be 1 to 500"),
        ("rule", "clever", "rule must be one of"),
        ("unit", "fathom", "unit must be one of"),
        ("right", "3.2", "there must be a graduation of the tape between the edges"),
        ("resolution", "0", "must be above 0"),
        ("exposure", "99999", "must each take 0 to 3600 seconds"),
        ("rule_set", 7, "rule_set must be the name of a rule set"),
        ("colour", "blue", "beside ask there must be"),
    ],
)
def test_a_plan_that_cannot_be_made_is_refused_with_why(
    member: str, value: object, words: str
) -> None:
    """One sentence on what was found and what would be right."""
    reply = ask(**{**PLAN, member: value})

    assert not reply["ok"]
    assert any(words in fault["message"] for fault in reply["faults"]), reply


@pytest.mark.parametrize("name", ["Alder basin 2019", "/etc/hostname.toml", "own.toml"])
def test_a_rule_set_that_is_not_known_is_replaced_by_the_base(name: str) -> None:
    """A crew with rules of its own goes on, and is told; a path is no name and is not opened."""
    unknown = f'The rule set "{name}" is not known here: "common-practice" is used.'

    assert ask(**PLAN, rule_set=name)["remarks"][0] == unknown
    rod = ask(ask="rod", depth="1.0", unit="ft", rule_set=name)
    assert rod["remarks"] == [unknown] and rod["points"]
    assert ask(ask="wade", rule_set=name)["remarks"] == [unknown]


def test_everything_wrong_with_a_request_is_said_at_once() -> None:
    """A missing, a mistyped and an unknown member."""
    reply = ask(ask="rod", unit="yd", colour="blue")

    assert [fault["message"].split(" (")[0] for fault in reply["faults"]] == [
        'unit must be one of "ft", "m"',
        "depth must be given",
        "beside ask there must be depth, rotor, rule_set, unit",
    ]


def test_the_rod_is_set_for_a_depth() -> None:
    """By hand: 2.8 ft at two points, twice the depth and half of it."""
    reply = ask(ask="rod", depth="2.80", unit="ft", rule_set="common-practice")

    assert [(p["fraction"], p["setting"]) for p in reply["points"]] == [
        (0.2, "5.60"),
        (0.8, "1.40"),
    ]
    assert ask(ask="rod", depth="0", unit="m")["points"] == []
    assert len(ask(ask="rod", depth="1.8", unit="ft", rotor="small")["points"]) == 2
    assert len(ask(ask="rod", depth="1.8", unit="ft", rotor="large")["points"]) == 1
    assert not ask(ask="rod", depth="-1", unit="m")["ok"]


def test_the_record_of_a_journal() -> None:
    """In its wire form, as the office reads it, with what could not enter beside it."""
    pad = entered(demo("alder_fork.csv"))

    reply = ask(ask="record", entries=pad.entries)

    gauging = from_json(json.dumps(reply["record"]))
    assert reply["faults"] == []
    view = look(pad.entries)
    assert reply["record"] == view["record"]
    assert compute(gauging).discharge_m3s == view["result"]["discharge_m3s"]
    spoiled = ask(ask="record", entries=pad.say("remarks", 7).entries)
    assert "remarks must be a text" in spoiled["faults"][0]["message"]


def test_a_journal_without_units_has_no_record() -> None:
    """Which is said, and not guessed."""
    reply = ask(ask="record", entries=Pad().say("site/stream", "Alder Fork").entries)

    assert not reply["ok"]
    assert {fault["path"] for fault in reply["faults"]} == {"units/length", "units/velocity"}
    assert not ask(ask="record", entries=[])["ok"]
    assert "entries must be given" in ask(ask="record")["faults"][0]["message"]


def test_the_note_says_what_the_view_says() -> None:
    """The same discharge, the same range around it, and a picture with the same verticals."""
    entries = entered(demo("alder_fork.csv")).entries

    reply, view = ask(ask="note", entries=entries), look(entries)

    shown = view["result"]
    headline = reply["content"]["headline"]
    assert headline["discharge"] == f"{shown['discharge']} {shown['discharge_unit']}"
    assert headline["uncertainty"] == shown["uncertainty"]
    assert headline["warnings"] == shown["warnings"]
    [row] = reply["drawing"]["rows"]
    [channel] = row["channels"]
    assert [v["tape"] for v in channel["verticals"]] == [v["tape"] for v in view["verticals"]]


def test_a_note_of_half_a_gauging_says_that_it_is_half() -> None:
    """And one without any discharge is refused with the reason."""
    entries = entered(demo("alder_fork.csv")).entries

    half = ask(ask="note", entries=entries[: len(entries) // 2])

    assert half["content"]["headline"]["warnings"][0].startswith("Unfinished")
    none = ask(ask="note", entries=entries[:12])
    assert not none["ok"] and "There is no discharge" in none["faults"][0]["message"]


def test_a_note_names_what_could_not_enter_the_record() -> None:
    """A reader of the note must know that something was said and is not in it."""
    pad = entered(demo("alder_fork.csv")).say("quality", "splendid")

    reply = ask(ask="note", entries=pad.entries)

    assumed = next(p for p in reply["content"]["parts"] if p["title"] == "What was assumed")
    assert any("quality must be one of" in point for point in assumed["points"])
    assert reply["faults"]


def test_a_record_becomes_entries_that_make_it_again() -> None:
    """A visit that the office knows is laid beside like one of the device: the same record."""
    gauging = demo("alder_fork.csv")
    made = ask(
        ask="entries",
        record=json.loads(to_json(gauging)),
        gauging="office-visit-1",
        at="2026-07-14T10:05:00-07:00",
    )
    again = ask(ask="record", entries=made["entries"])

    record = attrs.evolve(gauging, id="office-visit-1")
    assert again["record"] == json.loads(to_json(record))
    assert {entry["gauging"] for entry in made["entries"]} == {"office-visit-1"}
    assert look(entered(gauging).entries, earlier=made["entries"])["remarks"] == []


def test_a_record_that_is_none_is_refused_with_its_fault() -> None:
    """A device of an older version may be handed a newer form."""
    reply = ask(ask="entries", record={"format": "x"}, gauging="g", at="2026-07-14T10:05:00Z")

    assert not reply["ok"] and "bankside.gauging/1" in reply["faults"][0]["message"]
    missing = ask(ask="entries", record={})
    assert {fault["path"] for fault in missing["faults"]} == {"gauging", "at"}
