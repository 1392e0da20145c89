"""The invented basin: streams, sites, and how much water passes each of them on which day.

The water is added up along the streams, so that what passes a site has come from somewhere: each
stretch takes in what its own area yields, the springs on Sorrel Burn give the same every day, and
the mill leat takes some out. Nothing rains; what the areas yield falls from day to day.
"""

from __future__ import annotations

import datetime
import math
from collections.abc import Mapping
from typing import Final

import attrs

__all__ = ["SITES", "SPRINGS_M3S", "STREAMS", "InventedSite", "InventedStream", "flow_m3s"]

SPRINGS_M3S: Final = 0.062
"""What the springs on Sorrel Burn give, the same every day."""

_LEAT_M3S: Final = 0.118
"""What the mill takes out of Quill Brook, the same every day."""

_FIRST_DAY: Final = datetime.date(2026, 7, 14)
_FALLS_BY_DAY: Final = 0.018


@attrs.frozen
class InventedStream:
    """A stream: where it flows, what its area yields, and points of its course in kilometres.

    `yields` is in litres a second from a square kilometre on the first day. `course` runs from the
    source to the mouth; a stream that joins another ends on it, `joins_at_km` above its mouth.
    """

    name: str
    yields: float
    course: tuple[tuple[float, float], ...]
    joins: str | None = None
    joins_at_km: float | None = None


@attrs.frozen
class InventedSite:
    """A site: where it is, what drains to it, and its section.

    `above` are the ids of the sites next upstream. `deepest` is where in the width the water is
    deepest, 0 at the left bank and 1 at the right; `steep` names a bank that is a wall.
    """

    id: str
    stream: str
    name: str
    along_km: float
    area_km2: float | None
    above: tuple[str, ...] = ()
    also: tuple[str, ...] = ()
    deepest: float = 0.5
    steep: str | None = None
    wide: float = 1.0
    planned: int = 1
    remarks: str | None = None
    located: bool = True


STREAMS: Final = (
    InventedStream(
        "Mere Water",
        9.2,
        (
            (-12.0, 7.0),
            (-10.2, 4.4),
            (-7.6, 2.2),
            (-5.0, 0.2),
            (-2.4, -2.0),
            (0.4, -3.9),
            (3.1, -6.0),
            (5.4, -8.6),
        ),
    ),
    InventedStream(
        "Sorrel Burn",
        8.4,
        ((-7.4, 8.3), (-6.2, 6.2), (-5.7, 3.6)),
        "Mere Water",
        18.6,
    ),
    InventedStream(
        "Alder Fork",
        10.9,
        ((-12.2, -5.6), (-9.2, -6.4), (-6.2, -5.2), (-3.8, -3.9)),
        "Mere Water",
        12.9,
    ),
    InventedStream(
        "Teasel Beck",
        10.3,
        ((-8.2, -10.2), (-7.2, -8.4), (-6.0, -6.9)),
        "Alder Fork",
        4.6,
    ),
    InventedStream(
        "Quill Brook",
        12.0,
        ((2.0, 8.4), (3.6, 6.4), (3.0, 4.4), (4.7, 2.3), (4.32, 0.13), (3.6, -2.2)),
        "Mere Water",
        5.2,
    ),
    InventedStream(
        "Tansy Run",
        10.6,
        ((-1.6, 6.3), (0.5, 4.7), (2.2, 2.7), (3.65, 1.34)),
        "Quill Brook",
        7.6,
    ),
)
"""The streams, the one that leaves the basin first."""

_ALL: Final = (
    InventedSite("SB-03", "Sorrel Burn", "at the upper ford", 5.2, 7.6),
    InventedSite("SB-02", "Sorrel Burn", "above the springs", 3.4, 13.8, ("SB-03",), deepest=0.4),
    InventedSite("SB-01", "Sorrel Burn", "at the mouth", 0.4, 19.4, ("SB-02",), deepest=0.62),
    InventedSite(
        "MW-05",
        "Mere Water",
        "above Alder Fork",
        13.6,
        97.0,
        ("SB-01",),
        ("u/s Alder Fork",),
        deepest=0.58,
        planned=2,
    ),
    InventedSite(
        "AF-02", "Alder Fork", "at the old weir", 6.1, 40.6, (), ("old weir",), deepest=0.36
    ),
    InventedSite("TB-02", "Teasel Beck", "at the sheepfold", 3.3, 16.9, deepest=0.55),
    InventedSite("TB-01", "Teasel Beck", "at the mouth", 0.3, 24.2, ("TB-02",), deepest=0.45),
    InventedSite(
        "AF-03",
        "Alder Fork",
        "below Teasel Beck",
        3.9,
        66.3,
        ("AF-02", "TB-01"),
        deepest=0.64,
        planned=2,
    ),
    InventedSite(
        "AF-01",
        "Alder Fork",
        "above the footbridge",
        1.1,
        78.0,
        ("AF-03",),
        ("footbridge",),
        deepest=0.56,
        planned=2,
        remarks="Slippery boards on the footbridge; cattle in the pasture on the left bank.",
    ),
    InventedSite(
        "MW-04",
        "Mere Water",
        "below Alder Fork",
        12.1,
        178.5,
        ("MW-05", "AF-01"),
        deepest=0.44,
        planned=2,
    ),
    InventedSite("MW-03", "Mere Water", "above Quill Brook", 5.9, 201.0, ("MW-04",), deepest=0.6),
    InventedSite(
        "QB-01",
        "Quill Brook",
        "above Tansy Run",
        8.4,
        82.8,
        (),
        ("above the confluence",),
        deepest=0.33,
        wide=0.92,
        planned=2,
        remarks="Ask at the farm on the right bank before crossing the meadow.",
    ),
    InventedSite("TR-02", "Tansy Run", "at the upper bridge", 4.6, 21.4, deepest=0.48),
    InventedSite(
        "TR-01",
        "Tansy Run",
        "under the alders",
        0.5,
        36.2,
        ("TR-02",),
        deepest=0.52,
        steep="right",
    ),
    InventedSite(
        "QB-02",
        "Quill Brook",
        "below the ford",
        6.4,
        121.7,
        ("QB-01", "TR-01"),
        deepest=0.41,
        planned=2,
    ),
    InventedSite("QL-01", "Quill Brook", "in the mill leat", 3.4, None, deepest=0.5, wide=1.05),
    InventedSite(
        "QB-03",
        "Quill Brook",
        "above the mouth",
        0.7,
        139.6,
        ("QB-02",),
        deepest=0.57,
        steep="left",
    ),
    InventedSite(
        "MW-02",
        "Mere Water",
        "below Quill Brook",
        4.3,
        343.8,
        ("MW-03", "QB-03"),
        ("below confluence with Quill",),
        deepest=0.53,
        wide=1.12,
        planned=2,
        remarks="Deepest section of the survey: with less than 0.60 m on the staff gauge only.",
    ),
    InventedSite(
        "MW-01",
        "Mere Water",
        "at the gravel pit",
        0.9,
        371.0,
        ("MW-02",),
        deepest=0.4,
        wide=1.08,
        planned=2,
        located=False,
    ),
)

SITES: Final[Mapping[str, InventedSite]] = {site.id: site for site in _ALL}
"""Id → site, each after those above it."""


def flow_m3s(site: InventedSite, day: datetime.date) -> float:
    """Return the true discharge of a site on a day, in cubic metres a second."""
    if site.area_km2 is None:
        return _LEAT_M3S
    above = [SITES[id_] for id_ in site.above]
    own_area = site.area_km2 - sum(other.area_km2 or 0.0 for other in above)
    yields = next(stream.yields for stream in STREAMS if stream.name == site.stream)
    falls = math.exp(-_FALLS_BY_DAY * (day - _FIRST_DAY).days)
    flow = sum(flow_m3s(other, day) for other in above) + own_area * yields / 1000.0 * falls
    # Both come in, or go out, just above these sites and below those next upstream.
    return flow + {"SB-01": SPRINGS_M3S, "QB-03": -_LEAT_M3S}.get(site.id, 0.0)
