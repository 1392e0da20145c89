"""What a page may show of a practice stream: what an eye sees there, never what is true."""

from __future__ import annotations

from typing import Any, Final

from bankside.practice.instruments import rounded
from bankside.practice.session.followed import Followed
from bankside.practice.session.reach import Candidate, Reach
from bankside.practice.session.shown import Shown, ShownDepth, ShownEdge, ShownPoint

__all__ = ["reach_as_json", "shown_as_json", "stands_as_json"]

# Places across a section at which the surface is told, and how finely an eye tells it (ours).
_PLACES: Final = 41
_SPEED_SEEN: Final = 0.1
_ANGLE_SEEN: Final = 5.0
_HALF_SECOND: Final = 0.5


def reach_as_json(reach: Reach) -> dict[str, Any]:
    """Return a reach as seen from above: where its sections lie and how the surface runs there.

    Of each place across: metres from the left edge, whether it is wet, and velocity (m/s) and angle
    (°) of the surface as coarsely as an eye tells them. Depths cannot be seen.
    """
    return {
        "stream": reach.kind.name,
        "about": reach.kind.about,
        "seed": reach.seed,
        "sections": [_section(one) for one in reach.sections],
    }


def _section(section: Candidate) -> dict[str, Any]:
    stream = section.water.stream
    width = stream.right - stream.left
    places = [stream.left + width * i / (_PLACES - 1) for i in range(_PLACES)]
    return {
        "name": section.name,
        "along_m": section.along,
        "width_m": round(width, 1),
        "across": [
            {
                "from_left_m": round(y - stream.left, 2),
                "wet": stream.depth_at(y) > 0.0,
                "surface_ms": rounded(stream.speed_at(y, 0.0), _SPEED_SEEN),
                "angle": rounded(stream.angle_at(y), _ANGLE_SEEN),
            }
            for y in places
        ],
    }


def stands_as_json(followed: Followed) -> dict[str, Any]:
    """Return where a session stands: section, tape, and the seconds that have gone by."""
    section = followed.section
    return {
        "section": None if section is None else section.name,
        "cleared": followed.cleared,
        "tape_hangs": followed.skew is not None,
        "seconds": followed.seconds,
    }


def shown_as_json(shown: Shown | None) -> dict[str, Any] | None:
    """Return what an act shows, None where it shows nothing."""
    if shown is None:
        return None
    if isinstance(shown, ShownDepth):
        return {
            "kind": "rod",
            "tape": shown.tape,
            "swing": list(shown.swing),
            "every_s": _HALF_SECOND,
        }
    if isinstance(shown, ShownPoint):
        return {
            "kind": "meter",
            "tape": shown.tape,
            "fraction": shown.fraction,
            "seconds": shown.seconds,
            "display": list(shown.display),
            "called": shown.called,
            "angle": shown.angle_seen,
        }
    if isinstance(shown, ShownEdge):
        place = {"side": shown.side, "tape": shown.tape}
        return {"kind": "edge", **place, "depth": shown.depth, "bank": shown.bank}
    return {"kind": "gauge", "value": shown.value}
