"""Whether all readings are there, and how long the others take: told by the journal alone."""

from collections.abc import Sequence
from typing import Any

import pytest

from .entering import Pad, look

V = "channels/1/verticals"


def _begun(*, edges: Sequence[str] = (), plan: Sequence[str] | None = None) -> Pad:
    pad = Pad().say("units/length", "ft").say("units/velocity", "ft/s")
    if plan is not None:
        pad.say("plan", {"rule": "equal", "verticals": len(plan), "positions": list(plan)})
    for edge in edges:
        _edge(pad, edge, "0" if edge == "left" else "10")
    return pad


def _edge(pad: Pad, bank: str, tape: str, channel: str = "1") -> None:
    where = f"channels/{channel}/verticals/{bank}"
    pad.say(f"{where}/tape", tape).say(f"{where}/edge", bank).say(f"{where}/depth", "0")


def _read(pad: Pad, tape: str, channel: str = "1", **more: Any) -> None:
    where = f"channels/{channel}/verticals/t{tape.replace('.', '_')}"
    pad.say(f"{where}/tape", tape).say(f"{where}/depth", "1.0")
    pad.say(f"{where}/readings/r1", {"value": "1.0", "fraction": 0.6}, **more)


def _finished(pad: Pad) -> bool:
    return bool(look(pad.entries)["finished"])


def test_the_second_edge_called_last_ends_the_way() -> None:
    """The usual way: an edge, the verticals, the other edge."""
    pad = _begun(edges=["left"])
    for tape in ("2", "4", "6"):
        _read(pad, tape)
    assert not _finished(pad)

    _edge(pad, "right", "10")

    assert _finished(pad)


def test_with_both_edges_first_the_plan_tells() -> None:
    """The last planned position was read, or half a step before it."""
    pad = _begun(edges=["left", "right"], plan=["2.0", "5.0", "8.0"])
    _read(pad, "2.0")
    _read(pad, "5.0")
    assert not _finished(pad)

    _read(pad, "7.8")

    assert _finished(pad)


def test_a_plan_from_the_far_bank_runs_the_other_way() -> None:
    """From right to left the last planned position is the one with the lowest figure."""
    pad = _begun(edges=["right", "left"], plan=["8.0", "5.0", "2.0"])
    _read(pad, "8.0")
    assert not _finished(pad)
    _read(pad, "5.0")
    assert not _finished(pad)

    _read(pad, "2.0")

    assert _finished(pad)


@pytest.mark.parametrize("tapes", [("2", "4", "6", "8"), ("8", "6", "4", "2")])
def test_with_both_edges_first_and_no_plan_the_spacing_tells(tapes: tuple[str, ...]) -> None:
    """What is left to the far edge is no wider than one and a half of the steps so far."""
    pad = _begun(edges=["left", "right"])
    told = []
    for tape in tapes:
        _read(pad, tape)
        told.append(_finished(pad))

    assert told == [False, False, False, True]


def test_the_end_and_the_closing_end_it() -> None:
    """Whatever was read: the crew has said so."""
    pad = _begun(edges=["left"])
    _read(pad, "2")
    assert not _finished(pad)

    assert _finished(pad.say("ended", "2026-07-14T11:00:00-07:00"))
    assert not _finished(pad.say("ended", None))
    assert _finished(pad.say("closed", {"by": "I. Marrow"}))


def test_every_channel_has_to_be_crossed() -> None:
    """A second channel that is begun makes the gauging unfinished again."""
    pad = _begun(edges=["left"])
    _read(pad, "5")
    _edge(pad, "right", "10")
    assert _finished(pad)

    _edge(pad, "left", "0", channel="2")
    _read(pad, "2", channel="2")
    assert not _finished(pad)
    _edge(pad, "right", "4", channel="2")

    assert _finished(pad)


def test_who_asks_may_know_better() -> None:
    """A page that knows says so."""
    pad = _begun(edges=["left"])
    _read(pad, "2")

    assert look(pad.entries, finished=True)["finished"]


def test_the_time_that_is_left_goes_by_the_usual_pace_first() -> None:
    """40 s of exposure and 20 s for moving at each of the positions that are left."""
    pad = _begun(edges=["left", "right"], plan=["2.0", "4.0", "6.0", "8.0"])
    assert look(pad.entries)["seconds_left"] == 4 * 60.0

    _read(pad, "2.0")

    assert look(pad.entries)["seconds_left"] == 3 * 60.0
    assert look(_begun(edges=["left", "right"]).entries)["seconds_left"] is None


def test_the_time_that_is_left_goes_by_the_pace_of_the_crew() -> None:
    """The device writes an entry every 15 s: 45 s from vertical to vertical."""
    positions = ["1.0", "2.0", "3.0", "4.0", "5.0", "6.0", "7.0", "8.0", "9.0"]
    pad = _begun(edges=["left", "right"], plan=positions)
    for tape in positions[:3]:
        _read(pad, tape)
    assert look(pad.entries)["seconds_left"] == 6 * 60.0

    _read(pad, "4.0")

    assert look(pad.entries)["seconds_left"] == 5 * 45.0
    for tape in positions[4:]:
        _read(pad, tape)
    assert look(pad.entries)["seconds_left"] == 0.0


def test_a_plan_that_means_nothing_counts_for_nothing() -> None:
    """It is a fault of its own; the spacing tells instead."""
    pad = _begun(edges=["left", "right"])
    pad.say("plan", {"rule": "equal", "positions": ["a", "b"]})
    for tape in ("2", "4", "6", "8"):
        _read(pad, tape)

    view = look(pad.entries)

    assert view["faults"] and view["finished"] and view["seconds_left"] is None
