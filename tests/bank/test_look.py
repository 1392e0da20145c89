"""The view of a gauging: at every stage of its sheet, the same figures as the office works out."""

import json
from typing import Any

import attrs
import pytest

from bankside.gauging.compute import compute
from bankside.gauging.faults import InputRefused
from bankside.gauging.records import Channel, Gauging, Meter, PointReading, Units, Vertical
from bankside.gauging.wire import from_json

from ..note.odd_gaugings import ODD
from .entering import Entry, Pad, demo, entered, look

SHEETS = ("alder_fork.csv", "quill_brook.xlsx", "tansy_run.csv")
V = "channels/1/verticals"
# A phone knows feet and metres.
CALLED = [
    name
    for name, gauging in ODD.items()
    if gauging.units.length in ("ft", "m") and gauging.units.depth is None
]


def _record(view: dict[str, Any]) -> Gauging:
    return from_json(json.dumps(view["record"]))


def _settled(view: dict[str, Any]) -> Gauging:
    """The record without verticals of which the tape position alone was said so far."""
    record = _record(view)
    return attrs.evolve(
        record,
        channels=tuple(
            attrs.evolve(
                channel,
                verticals=tuple(
                    v
                    for v in channel.verticals
                    if v.edge or v.dry or v.velocity or v.depth is not None
                ),
            )
            for channel in record.channels
        ),
    )


def _discharge(gauging: Gauging) -> str | None:
    try:
        return compute(gauging).discharge_m3s.hex()
    except InputRefused:
        return None


@pytest.mark.parametrize("sheet", SHEETS)
def test_every_stage_of_a_sheet_has_a_view(sheet: str) -> None:
    """Entered entry by entry, nothing is refused, and the discharge is that of the same record."""
    pad = entered(demo(sheet))
    finished = []
    for count in range(len(pad.entries) + 1):
        view = look(pad.entries[:count])
        assert all("unit of" in fault["message"] for fault in view["faults"])
        assert bool(view["faults"]) == (view["record"] is None and count > 0)
        assert (view["result"] is None) == (view["no_result"] is not None)
        if view["record"] is not None:
            there = None if view["result"] is None else view["result"]["discharge_m3s"].hex()
            assert there == _discharge(_settled(view)), pad.entries[count - 1]
        finished.append(view["finished"])
    if len(view["record"]["channels"]) == 1:
        assert finished == sorted(finished)
    assert view["state"] == "open" and view["finished"]


@pytest.mark.parametrize("sheet", SHEETS)
def test_a_sheet_entered_whole_is_the_record_of_the_sheet(sheet: str) -> None:
    """The discharge of the view is the sheet's own, to the last bit, and so are its shares."""
    gauging = demo(sheet)
    result = compute(gauging)

    view = look(entered(gauging).entries)

    assert view["result"]["discharge_m3s"].hex() == result.discharge_m3s.hex()
    shares = {f"v{panel.vertical + 1}": panel.share for panel in result.panels}
    assert {v["key"]: v["share"] for v in view["verticals"]} == shares


@pytest.mark.parametrize("name", CALLED)
def test_odd_gaugings_have_views(name: str) -> None:
    """Several channels, islands, counts with a rating, walls, water that cancels out."""
    gauging = ODD[name]

    view = look(entered(gauging).entries, finished=True)

    assert view["faults"] == []
    assert view["result"]["discharge_m3s"].hex() == _discharge(gauging)


def test_an_empty_journal_has_a_view() -> None:
    """Nothing was said: no record, no discharge, and why."""
    view = look([])

    assert view["record"] is None
    assert view["no_result"] == "There is no discharge, as nothing was said yet."
    assert (view["state"], view["finished"], view["findings"]) == ("open", False, [])
    before_units = look(Pad().say("site/stream", "Alder Fork").entries)
    assert before_units["no_result"] == "There is no discharge, as the units are not known yet."
    assert {fault["path"] for fault in before_units["faults"]} == {
        "units/length",
        "units/velocity",
    }


def test_edges_alone_have_no_discharge() -> None:
    """Two edges come to 0, but a stream is not said to be without flow before it was read."""
    pad = Pad().say("units/length", "ft").say("units/velocity", "ft/s")
    for key, tape, side in (("va", "3.2", "left"), ("vz", "21.9", "right")):
        for part, value in {"tape": tape, "edge": side, "bank": "sloping", "depth": "0"}.items():
            pad.say(f"{V}/{key}/{part}", value)

    assert look(pad.entries)["no_result"] == "There is no discharge yet: no vertical was read."

    pad.say(f"{V}/v1/tape", "10").say(f"{V}/v1/dry", True)

    assert look(pad.entries)["result"]["discharge_m3s"] == 0


def _even(count: int = 24, **changed: Any) -> Gauging:
    """Alike verticals a foot apart between sloping banks."""
    fields = {"depth": 1.0, "velocity": 1.0}
    inner = []
    for i in range(1, count + 1):
        own = fields | changed.get(f"v{i}", {})
        reading = PointReading(own["velocity"], 0.6, 40)
        inner.append(Vertical(float(i), own["depth"], (reading,)))
    edges = Vertical(0.0, 0.0, edge="left"), Vertical(count + 1.0, 0.0, edge="right")
    return Gauging(Units("ft", "ft/s"), (Channel((edges[0], *inner, edges[1])),))


def _finding(view: dict[str, Any], check: str) -> dict[str, Any]:
    return next(finding for finding in view["findings"] if finding["check"] == check)


def test_the_figures_are_shown_in_both_systems() -> None:
    """24 ft³/s by hand: 24 panels of a foot by a foot at 1 ft/s; 0.6796 m³/s."""
    result = look(entered(_even()).entries)["result"]

    assert (result["discharge"], result["discharge_unit"]) == ("24.0", "ft³/s")
    assert result["also"] == "0.680 m³/s"
    assert (result["area"], result["width"]) == ("24.00 ft²", "25 ft")
    assert (result["mean_depth"], result["mean_velocity"]) == ("0.9600 ft", "1.000 ft/s")
    metric = attrs.evolve(_even(), units=Units("m", "m/s"))
    shown = look(entered(metric).entries)["result"]
    # 24 m³/s over 0.0283168 m³ a cubic foot.
    assert (shown["discharge"], shown["also"]) == ("24.0", "848 ft³/s")


def test_panels_reach_half_way_to_their_neighbours() -> None:
    """The first vertical at 1 ft, from 0.5 to 1.5 ft; the edge from 0 to 0.5 ft."""
    verticals = look(entered(_even()).entries)["verticals"]

    assert [(v["start"], v["end"]) for v in verticals[:2]] == [(0.0, 0.5), (0.5, 1.5)]
    assert (verticals[-1]["start"], verticals[-1]["end"]) == (24.5, 25.0)
    assert verticals[1] == {
        "key": "v2",
        "channel": "1",
        "tape": 1.0,
        "depth": 1.0,
        "velocity": pytest.approx(1.0, rel=1e-12),
        "share": pytest.approx(100 / 24, rel=1e-12),
        "start": 0.5,
        "end": 1.5,
        "measured": True,
        "edge": None,
        "fractions": [0.6],
        "readings": 1,
    }


def test_no_share_is_told_before_the_last_vertical() -> None:
    """A large share of the water so far may be a small one of all."""
    entries = entered(_even()).entries
    upto = next(i for i, e in enumerate(entries) if e["what"] == f"{V}/v26/tape")

    before, after = look(entries[:upto]), look(entries)

    assert not before["finished"] and after["finished"]
    assert {v["share"] for v in before["verticals"]} == {None}
    assert before["largest"] == [] and before["next"] == []
    assert before["quality_suggested"] is None
    assert before["result"]["warnings"][0] == "Unfinished: readings are still to come"


def test_what_to_do_next() -> None:
    """Of 16 verticals, four fewer than are asked for; the best of them is half-way between two."""
    view = look(entered(_even(16)).entries)

    best = view["next"][0]
    assert (best["kind"], best["channel"], best["vertical"]) == ("vertical", "1", None)
    assert best["tape"].endswith(".5") and best["seconds"] == 60.0
    assert best["words"].startswith(f"Read a vertical at tape {best['tape']} ft: ± ")
    assert f"about ± {best['percent']}" in best["words"]
    assert view["target"] is None


@pytest.mark.parametrize(
    ("said", "target", "kind"),
    [
        ("30", 30.0, "enough"),
        ("2", 2.0, "elsewhere"),
        ("0", None, "no more"),
        ("-3", None, "no more"),
    ],
)
def test_the_target_that_the_leader_set(said: str, target: float | None, kind: str) -> None:
    """With it the acts go towards it; what is no percentage above 0 is none."""
    pad = entered(_even(24))
    pad.say("target", said)

    view = look(pad.entries)

    assert view["target"] == target
    assert view["next"][0]["kind"] == kind


def test_what_is_read_again_names_its_vertical() -> None:
    """In deep slow water second points are told, by the key of the vertical."""
    pad = entered(_even(8, **{f"v{i}": {"depth": 3.0, "velocity": 1.0} for i in range(1, 9)}))

    seconds = [one for one in look(pad.entries)["next"] if one["kind"] == "second point"]

    assert seconds
    for one in seconds:
        vertical = next(v for v in look(pad.entries)["verticals"] if v["key"] == one["vertical"])
        assert vertical["tape"] == float(one["tape"])


def test_the_largest_shares() -> None:
    """Of 24 panels those at 7 and 8 ft carry 1.5 and 1.6 of 25.1 ft³/s; no more is worth it."""
    made = _even(v7={"velocity": 1.5}, v8={"velocity": 1.6})

    view = look(entered(made).entries)

    assert [(one["vertical"], one["tape"]) for one in view["largest"][:2]] == [
        ("v9", "8"),
        ("v8", "7"),
    ]
    assert view["largest"][0]["share"] == pytest.approx(160 / 25.1, rel=1e-12)
    assert [one["kind"] for one in view["next"]] == ["no more"]
    assert view["share_limits"] == {"aim": 5.0, "limit": 10.0}
    assert view["exposure_s"] == 40.0


def test_the_places_of_a_finding_are_entries_away() -> None:
    """Written down as verticals, they take the panel below the limit."""
    pad = entered(_even(v12={"velocity": 23 * 12 / 88}, v13={"velocity": 1.1}))
    finding = _finding(look(pad.entries), "One panel carries too much")
    assert finding["verticals"] == ["v13"] and finding["tapes"] == [12.0]
    assert finding["places"] == [{"channel": "1", "tape": "12.5"}]
    assert finding["rules"][0].startswith("10 %: ")

    place = finding["places"][0]
    where = f"channels/{place['channel']}/verticals/new"
    pad.say(f"{where}/tape", place["tape"]).say(f"{where}/inserted", True)
    pad.say(f"{where}/depth", "1.0").say(f"{where}/readings/r1", {"value": "2", "fraction": 0.6})

    view = look(pad.entries)
    assert view["faults"] == []
    checks = [found["check"] for found in view["findings"]]
    assert "One panel carries too much" not in checks
    assert view["finished"]


def test_a_vertical_just_called_leaves_the_figures_as_they_were() -> None:
    """Its tape position alone tells no depth: it waits, and the view says so."""
    pad = entered(_even())
    before = look(pad.entries)

    pad.say(f"{V}/new/tape", "7.5").say(f"{V}/new/inserted", True)
    waiting = look(pad.entries, finished=False)

    assert waiting["result"]["discharge_m3s"] == before["result"]["discharge_m3s"]
    assert waiting["remarks"][-1] == (
        "Nothing was read yet at tape 7.5 ft: left out of the figures."
    )
    assert [v["tape"] for v in _verticals_of(waiting)] == [v["tape"] for v in before["verticals"]]
    ended = look(pad.say("ended", "2026-07-14T11:00:00-07:00").entries)
    assert ended["result"] is None
    assert "at tape 7.5 ft, depth must be given" in ended["no_result"]


def _verticals_of(view: dict[str, Any]) -> list[dict[str, Any]]:
    return list(view["verticals"])


def test_while_one_is_added_all_others_keep_their_shares() -> None:
    """A crew that adds a vertical still sees what each panel carries."""
    pad = entered(_even()).say(f"{V}/new/tape", "7.5").say(f"{V}/new/inserted", True)

    view = look(pad.entries)

    assert view["finished"]
    assert view["verticals"][3]["share"] == pytest.approx(100 / 24, rel=1e-12)


@pytest.mark.parametrize(
    ("what", "value", "quantity"),
    [
        (f"{V}/v9/depth", "10.0", "depth"),
        (f"{V}/v9/readings/r1", {"value": "10.0", "fraction": 0.6, "seconds": "40"}, "velocity"),
    ],
)
def test_a_slip_is_put_right_by_one_entry(what: str, value: Any, quantity: str) -> None:
    """What `instead` says to write makes the finding go, and nothing else is lost."""
    pad = entered(_even()).say(what, value)
    slip = next(
        finding
        for finding in look(pad.entries)["findings"]
        if finding["instead"] is not None and finding["check"].lower().startswith(quantity)
    )
    assert slip["instead"]["what"] == what
    assert (slip["instead"]["was"], slip["instead"]["value"]) == ("10.0", "1.00")

    pad.say(slip["instead"]["what"], slip["instead"]["write"], reason="misheard")

    view = look(pad.entries)
    assert view["faults"] == []
    assert not any(finding["check"] == slip["check"] for finding in view["findings"])
    assert view["result"]["discharge"] == "24.0"
    [correction] = [c for c in view["record"]["corrections"] if c["was"].startswith("10.0")][-1:]
    assert correction["reason"] == "misheard"


def test_nobody_is_sent_into_water_that_is_too_strong() -> None:
    """A stop: no place to add a vertical at, in findings or for one more."""
    strong = _even(8, **{f"v{i}": {"depth": 3.3, "velocity": 3.5} for i in range(1, 9)})

    view = look(entered(strong).entries)

    assert view["findings"][0]["severity"] == "stop" and view["findings"][0]["open"]
    assert all(finding["places"] == [] for finding in view["findings"])
    assert view["next"] == []


def test_a_depth_alone_calls_the_crew_out() -> None:
    """The depth of the vertical being read counts at once, before any velocity."""
    pad = Pad().say("units/length", "ft").say("units/velocity", "ft/s")
    pad.say(f"{V}/e/tape", "0").say(f"{V}/e/edge", "left").say(f"{V}/e/depth", "0")
    pad.say(f"{V}/a/tape", "2").say(f"{V}/a/depth", "5.5")

    stops = [f for f in look(pad.entries)["findings"] if f["severity"] == "stop"]

    assert [stop["verticals"] for stop in stops] == [["a"]]


def test_an_answer_closes_a_finding() -> None:
    """An answer entry that says the same words as the finding."""
    pad = entered(_even(19))
    finding = _finding(look(pad.entries), "Too few verticals")
    assert finding["open"] and finding["answer"] is None

    pad.say(
        "answers/a1",
        {
            "check": finding["check"],
            "finding": finding["found"],
            "severity": finding["severity"],
            "reason": "the stage was falling",
        },
        by="J. Ostrander",
    )

    answered = _finding(look(pad.entries), "Too few verticals")
    assert not answered["open"]
    assert answered["answer"] == {"reason": "the stage was falling", "by": "J. Ostrander"}


def test_a_closed_gauging_says_so_and_opens_again() -> None:
    """Closing is an entry, and so is opening again."""
    pad = entered(_even()).say("closed", {"by": "I. Marrow", "discharge": "24.0 ft³/s"})
    assert look(pad.entries)["state"] == "closed"

    pad.say("closed", None, reason="a vertical was forgotten")

    assert look(pad.entries)["state"] == "open"


def test_what_cannot_enter_the_record_is_named_with_its_entries() -> None:
    """A depth typed as a word is left out; the rest of the record stands."""
    pad = entered(_even())
    pad.say(f"{V}/v9/depth", "a lot")
    bad = pad.entries[-1]["id"]

    view = look(pad.entries)

    [fault] = view["faults"]
    assert fault["entries"] == [bad] and fault["path"] == f"{V}/v9/depth"
    assert "depth must be a figure as called" in fault["message"]
    assert "at tape 8 ft, depth must be given" in view["no_result"]
    assert len(view["verticals"]) == 26


@pytest.mark.parametrize(
    "damaged",
    [
        {"sequence": 0},
        {"id": "has a space"},
        {"at": "yesterday"},
        {"colour": "blue"},
        {"what": "channels//depth"},
        {"replaces": "e1"},
    ],
)
def test_one_damaged_entry_does_not_keep_the_others_out(damaged: Entry) -> None:
    """It is a fault with its id and its place; all other entries are read."""
    pad = entered(_even())
    entries = [*pad.entries, {**pad.entries[-1], "id": "odd", **damaged}]

    view = look(entries)

    assert view["result"]["discharge"] == "24.0"
    assert view["faults"]
    for fault in view["faults"]:
        assert fault["entries"] == [damaged.get("id", "odd")]
        assert fault["path"].startswith(f"[{len(entries) - 1}]")


def test_an_id_with_two_contents_is_left_out_and_named() -> None:
    """Nobody can tell which of the two was said."""
    pad = entered(_even())
    torn = next(entry for entry in pad.entries if entry["what"] == f"{V}/v9/depth")

    view = look([*pad.entries, {**torn, "value": "2.0"}])

    [fault] = view["faults"]
    assert fault["entries"] == [torn["id"]] and "two different ones" in fault["message"]
    assert view["result"] is None and "tape 8 ft" in view["no_result"]


def test_entries_of_two_gaugings_make_no_record() -> None:
    """They are told, and neither is taken for the other."""
    pad, other = entered(_even()), Pad("other", "another-gauging").say("units/length", "m")

    view = look([*pad.entries, *other.entries])

    assert view["record"] is None
    assert "must be of one gauging" in view["faults"][0]["message"]


def test_entries_may_come_in_any_order_and_twice() -> None:
    """Two devices' entries are put together and give the same view."""
    entries = entered(_even()).entries

    assert look([*entries[::-1], *entries]) == look(entries + entries[::-1])
    assert look(entries[::-1])["result"] == look(entries)["result"]


def test_the_rod_is_set_for_every_depth() -> None:
    """1.0 ft at 0.6: the scale at the depth; 3.0 ft at two points: twice and half of it."""
    view = look(entered(_even(v5={"depth": 3.0})).entries)

    assert [p["setting"] for p in view["rod"]["v2"]] == ["1"]
    assert [(p["fraction"], p["setting"]) for p in view["rod"]["v6"]] == [
        (0.2, "6"),
        (0.8, "1.5"),
    ]
    assert "v1" not in view["rod"]
    small = attrs.evolve(_even(v5={"depth": 2.0}), meter=Meter(rotor="small"))
    assert len(look(entered(small).entries)["rod"]["v6"]) == 2


def test_the_quality_that_the_readings_bear_out() -> None:
    """By the larger of two whole budgets: 24 verticals at one point are within 5 %, not 2 %."""
    pad = entered(_even())
    assert look(pad.entries)["quality_suggested"] == "good"
    pad.say("meter/kind", "cup").say("meter/rotor", "large")
    pad.say("meter/checks/m1", {"kind": "spin", "when": "before", "seconds": "20"})
    spun = look(pad.entries)
    assert "fix now" in {one["severity"] for one in spun["findings"] if one["open"]}
    assert spun["quality_suggested"] is None


def test_the_uncertainty_is_that_of_the_note() -> None:
    """The model by its own interval, then two standard uncertainties by each method."""
    view = look(entered(demo("alder_fork.csv")).entries)

    assert [one["key"] for one in view["uncertainty"]] == [
        "between-verticals",
        "iso-748",
        "interpolated-variance",
        "components",
    ]
    assert view["uncertainty"][0]["percent"] in view["result"]["uncertainty"]
    assert "at least" in view["uncertainty"][3]["words"]
    slipped = look(entered(demo("tansy_run.csv")).entries)
    assert slipped["result"]["uncertainty"] == "± not told while a reading is in doubt"
    assert slipped["quality_suggested"] is None


def test_a_rule_set_that_is_not_known_is_told() -> None:
    """The base is gone by, and a remark says so."""
    view = look(entered(attrs.evolve(_even(), rule_set="Alder basin 2019")).entries)

    assert 'names the rule set "Alder basin 2019", which is not known here' in view["remarks"][0]


def test_a_date_that_lies_ahead_is_asked_about() -> None:
    """`now` is the only clock there is."""
    made = attrs.evolve(demo("alder_fork.csv"), started=None, ended=None, stage=())
    entries = entered(made).entries
    entries[0]["at"] = "2026-07-14T10:05:00-07:00"
    pad = Pad().say_all((e["what"], e["value"]) for e in entries)
    pad.say("started", "2026-07-16T10:05:00-07:00")

    assert "Date to come" in [finding["check"] for finding in look(pad.entries)["findings"]]


@pytest.mark.parametrize(
    ("depth", "severity"), [(2.0, None), (3.9, "explain"), (4.5, "explain"), (11.0, "stop")]
)
def test_how_deep_and_strong_the_water_is_is_for_the_leader(
    depth: float, severity: str | None
) -> None:
    """Below the limits of a stop as well it is said that the leader decides who stands there."""
    velocity = 2.0
    view = look(entered(_even(v9={"depth": depth, "velocity": velocity})).entries)

    for_leader = [one for one in view["findings"] if one["leader_decides"]]
    assert (severity is not None) == bool(for_leader)
    assert {one["check"] for one in for_leader} <= {
        "Water too strong to wade",
        "Deeper than wading work",
    }
    if severity is not None:
        assert severity in {one["severity"] for one in for_leader}
