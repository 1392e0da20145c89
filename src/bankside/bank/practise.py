"""What a practice stream shows to a page: the reach, and what every act of a session has shown."""

from __future__ import annotations

from typing import Any

import attrs

from bankside.bank.request import Request
from bankside.gauging.structure import structured
from bankside.practice.session.act import Session
from bankside.practice.session.face import DARKEST, face_of
from bankside.practice.session.followed import Followed, follow
from bankside.practice.session.high_water import WALKED
from bankside.practice.session.practice_streams import PRACTICE_STREAMS
from bankside.practice.session.reach import Candidate
from bankside.practice.session.shown import Shown, ShownDepth, ShownEdge, ShownStage

__all__ = ["practice_streams", "practise"]


def practice_streams(request: Request) -> dict[str, Any]:
    """Return the streams that there are to practise on, from easy to hard."""
    request.done()
    return {
        "streams": [{"name": one.name, "about": one.about} for one in PRACTICE_STREAMS.values()]
    }


def practise(request: Request) -> dict[str, Any]:
    """Return a session as its page draws it; `shown` has one member for each act, or null.

    What is random is drawn anew from the same seeds, so the same session shows the same.
    InputRefused where an act cannot be done.
    """
    document = request.document("session")
    request.done("session")
    assert document is not None
    followed = follow(structured(document, Session))
    return {
        "about": followed.reach.kind.about,
        "signs": _signs(followed),
        "sections": [_section(one, followed) for one in followed.reach.sections],
        "chosen": None if followed.section is None else followed.section.name,
        "cleared": followed.cleared,
        "skew": followed.skew,
        "seconds": followed.seconds,
        "shown": [None if one is None else _shown(followed, one) for one in followed.shown],
    }


def _signs(followed: Followed) -> dict[str, Any]:
    """Return what shows of a reach beside its sections, from the bank."""
    signs, came = followed.reach.signs, -WALKED
    return {
        "brown": signs.brown,
        "drift": signs.drift,
        "walked_minutes": WALKED / 60.0,
        "gauge_before_m": followed.gauge_at(came),
        "gauge_now_m": followed.gauge_at(0.0),
    }


def _section(candidate: Candidate, followed: Followed) -> dict[str, Any]:
    here = candidate is followed.section and followed.cleared
    stream = (candidate.cleared if here else candidate.water).stream
    face = face_of(stream, brown=followed.reach.signs.brown)
    return {
        "name": candidate.name,
        "along_m": candidate.along,
        "width_m": face.width,
        "left_bank": face.left_bank,
        "right_bank": face.right_bank,
        "face": [attrs.asdict(place) for place in face.places],
        "darkest": DARKEST,
        "stones": [list(one) for one in face.stones],
        "under": [list(one) for one in face.under],
        "dead": [list(one) for one in face.dead],
        "back": [list(one) for one in face.back],
        "wood_m": followed.reach.wood_below(candidate),
    }


def _shown(followed: Followed, shown: Shown) -> dict[str, Any]:
    if isinstance(shown, ShownStage):
        return {"kind": "stage", "value_m": shown.value}
    if isinstance(shown, ShownEdge):
        return {
            "kind": "edge",
            "side": shown.side,
            "tape_m": shown.tape,
            "depth_m": shown.depth,
            "bank": shown.bank,
        }
    if isinstance(shown, ShownDepth):
        water = followed.water
        assert water is not None
        return {
            "kind": "depth",
            "tape_m": shown.tape,
            "depth_m": shown.depth,
            "swing_m": (shown.high - shown.low) / 2.0,
            "angle": water.stream.angle_at(shown.y) + (followed.skew or 0.0),
        }
    return {
        "kind": "point",
        "tape_m": shown.tape,
        "display": list(shown.display),
        "called": shown.called,
    }
