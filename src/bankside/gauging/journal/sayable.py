"""Everything that an entry can say something about, and how it is read and called.

A pattern stands for keys that devices make by `<k>` (of the channel: `<c>`, the reading: `<r>`).
"""

import functools
import re
from collections.abc import Mapping
from typing import Final, get_args

import attrs

from bankside.gauging.header_records import ProofKind, ProofTime, RotorSize
from bankside.gauging.journal.readers import (
    DAY,
    FIGURE,
    FLAG,
    MOMENT,
    NUMBER,
    NUMBER_OR_FIGURE,
    TEXT,
    ListOf,
    ObjectOf,
    OneOf,
    Reader,
)
from bankside.gauging.records import Bank, Edge, Quality, Severity

__all__ = ["CHANNEL", "PURPOSES", "READING", "SAYABLE", "VERTICAL", "Sayable", "sayable"]

CHANNEL: Final = "channels/<c>"
VERTICAL: Final = f"{CHANNEL}/verticals/<k>"
READING: Final = f"{VERTICAL}/readings/<r>"

PURPOSES: Final = (
    "upstream",
    "downstream",
    "left bank",
    "right bank",
    "staff gauge",
    "field sheet",
    "other",
)


@attrs.frozen
class Sayable:
    """A thing that something can be said about.

    `name` is how a sentence about a wrong value calls it, `words` how a correction calls it;
    `kept` says whether what stood there before is kept in the record as a correction.
    """

    pattern: str
    reader: Reader
    words: str
    kept: bool = True

    @property
    def name(self) -> str:
        """How a sentence about a wrong value calls it."""
        last = self.pattern.rsplit("/", 1)[-1]
        return self.words if last.startswith("<") else last


_LENGTHS = OneOf(("ft", "m"))
_BANKS = OneOf(get_args(Edge))

_ALL = (
    Sayable("site/stream", TEXT, "name of the stream"),
    Sayable("site/name", TEXT, "name of the site"),
    Sayable("site/label", TEXT, "label of the position"),
    Sayable("site/id", TEXT, "site of the survey"),
    Sayable(
        "site/position",
        ObjectOf(
            {
                "lon": NUMBER_OR_FIGURE,
                "lat": NUMBER_OR_FIGURE,
                "accuracy_m": NUMBER_OR_FIGURE,
                "fixes": NUMBER,
            },
            needed=("lon", "lat"),
        ),
        "position of the site",
    ),
    Sayable("units/length", _LENGTHS, "unit of length"),
    Sayable("units/velocity", OneOf(("ft/s", "m/s")), "unit of velocity"),
    Sayable("units/depth", _LENGTHS, "unit of depth"),
    Sayable("rule_set", TEXT, "rule set"),
    Sayable("crew/<k>", ObjectOf({"name": TEXT, "role": TEXT}, needed=("name",)), "crew member"),
    Sayable("meter/kind", TEXT, "kind of meter"),
    Sayable("meter/serial", TEXT, "serial number of the meter"),
    Sayable("meter/rotor", OneOf(get_args(RotorSize)), "size of the rotor"),
    Sayable("meter/slowest", FIGURE, "least velocity of the meter"),
    Sayable("meter/shallowest", FIGURE, "least depth of the meter"),
    Sayable("meter/calibrated", DAY, "day of the last calibration"),
    Sayable("meter/calibration_due", DAY, "day by which the meter is to be calibrated"),
    Sayable(
        "meter/rating",
        ListOf(
            ObjectOf(
                {"slope": FIGURE, "intercept": FIGURE, "up_to": FIGURE},
                needed=("slope", "intercept"),
            )
        ),
        "rating of the meter",
    ),
    Sayable(
        "meter/checks/<k>",
        ObjectOf(
            {
                "kind": OneOf(get_args(ProofKind)),
                "when": OneOf(get_args(ProofTime)),
                "seconds": FIGURE,
                "value": FIGURE,
            },
            needed=("kind", "when"),
        ),
        "check of the meter",
    ),
    Sayable("stage/<k>", ObjectOf({"value": FIGURE, "at": MOMENT}, needed=("value",)), "stage"),
    Sayable("no_gauge", FLAG, "whether there is no staff gauge"),
    Sayable("whole_flow", FLAG, "whether the whole flow passes"),
    Sayable("cleared", MOMENT, "when the section was cleared"),
    Sayable("moved", TEXT, "what was moved"),
    Sayable("started", MOMENT, "start"),
    Sayable("ended", MOMENT, "end"),
    Sayable("quality", OneOf(get_args(Quality)), "quality"),
    Sayable("remarks", TEXT, "remarks"),
    Sayable("zero_bank", _BANKS, "bank of the tape's zero", kept=False),
    Sayable("start_bank", _BANKS, "bank of the start", kept=False),
    Sayable(
        "wading/<k>",
        ObjectOf(
            {
                "safe": FLAG,
                "by": TEXT,
                "why": TEXT,
                "last_product": TEXT,
                "cold": FLAG,
                "alone": FLAG,
            },
            needed=("safe", "by"),
        ),
        "decision on wading",
    ),
    Sayable(
        "plan",
        ObjectOf(
            {
                "rule": TEXT,
                "verticals": NUMBER,
                "resolution": FIGURE,
                "minimum_spacing": FIGURE,
                "positions": ListOf(FIGURE),
            },
            needed=("rule", "positions"),
        ),
        "plan",
        kept=False,
    ),
    Sayable(
        "decimals",
        ObjectOf({"tape": NUMBER, "depth": NUMBER, "velocity": NUMBER}),
        "decimals",
        kept=False,
    ),
    Sayable(f"{CHANNEL}/name", TEXT, "name of the channel"),
    Sayable(f"{VERTICAL}/tape", FIGURE, "tape position"),
    Sayable(f"{VERTICAL}/edge", OneOf(get_args(Edge)), "edge of water"),
    Sayable(f"{VERTICAL}/bank", OneOf(get_args(Bank)), "form of the bank"),
    Sayable(f"{VERTICAL}/depth", FIGURE, "depth"),
    Sayable(f"{VERTICAL}/dry", FLAG, "whether it is dry"),
    Sayable(f"{VERTICAL}/angle", FIGURE, "angle of the flow"),
    Sayable(f"{VERTICAL}/angle_coefficient", FIGURE, "angle coefficient"),
    Sayable(f"{VERTICAL}/wall_factor", FIGURE, "wall factor"),
    Sayable(f"{VERTICAL}/remark", TEXT, "remark"),
    Sayable(f"{VERTICAL}/inserted", FLAG, "whether it was inserted"),
    Sayable(
        READING,
        ObjectOf(
            {
                "value": FIGURE,
                "fraction": NUMBER,
                "seconds": FIGURE,
                "counts": FIGURE,
                "rod_setting": FIGURE,
            },
        ),
        "velocity",
    ),
    Sayable(
        "answers/<k>",
        ObjectOf(
            {
                "check": TEXT,
                "finding": TEXT,
                "severity": OneOf(get_args(Severity)),
                "reason": TEXT,
            },
            needed=("check", "finding", "severity", "reason"),
        ),
        "answer to a finding",
    ),
    Sayable(
        "photos/<k>",
        ObjectOf(
            {
                "purpose": OneOf(PURPOSES),
                "sha256": TEXT,
                "bytes": NUMBER,
                "type": TEXT,
                "name": TEXT,
            },
            needed=("purpose", "sha256", "bytes", "type"),
        ),
        "photo",
        kept=False,
    ),
    Sayable(
        "closed", ObjectOf({"by": TEXT, "discharge": TEXT}, needed=("by",)), "closing", kept=False
    ),
)

SAYABLE: Mapping[str, Sayable] = {entry.pattern: entry for entry in _ALL}
"""Pattern → what it stands for."""

_PATTERNS = tuple(
    (re.compile(re.sub("<.>", "([A-Za-z0-9_-]+)", pattern)), entry)
    for pattern, entry in SAYABLE.items()
)


@functools.lru_cache(maxsize=4096)
def sayable(what: str) -> tuple[Sayable, tuple[str, ...]] | None:
    """Return what an entry speaks of, with the keys in it, None where nothing is known of it."""
    for pattern, entry in _PATTERNS:
        found = pattern.fullmatch(what)
        if found is not None:
            return entry, found.groups()
    return None
