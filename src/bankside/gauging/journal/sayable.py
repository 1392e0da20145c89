"""Everything that an entry can say something about, and how it is read and called.

A pattern stands for keys that devices make by `<k>` (of the channel: `<c>`, the reading: `<r>`).
"""

import re
from collections.abc import Mapping
from typing import Final, get_args

import attrs

from bankside.gauging.header_records import ProofKind, ProofTime, RotorSize
from bankside.gauging.journal.readers import (
    Reader,
    any_number,
    day,
    figure,
    flag,
    list_of,
    moment,
    object_of,
    one_of,
    plain_number,
    text,
)
from bankside.gauging.records import Bank, Edge, Quality, Severity

__all__ = ["CHANNEL", "READING", "SAYABLE", "VERTICAL", "Sayable", "sayable"]

CHANNEL: Final = "channels/<c>"
VERTICAL: Final = f"{CHANNEL}/verticals/<k>"
READING: Final = f"{VERTICAL}/readings/<r>"


@attrs.frozen
class Sayable:
    """A thing that something can be said about.

    `name` is how a sentence about a wrong value calls it, `words` how a correction calls it;
    `kept` says whether what stood there before is kept in the record as a correction.
    """

    pattern: str
    read: Reader
    words: str
    kept: bool = True

    @property
    def name(self) -> str:
        """How a sentence about a wrong value calls it."""
        last = self.pattern.rsplit("/", 1)[-1]
        return self.words if last.startswith("<") else last


_LENGTHS = one_of("ft", "m")
_BANKS = one_of(*get_args(Edge))

_ALL = (
    Sayable("site/stream", text, "name of the stream"),
    Sayable("site/name", text, "name of the site"),
    Sayable("site/label", text, "label of the position"),
    Sayable(
        "site/position",
        object_of(
            {"lon": any_number, "lat": any_number, "accuracy_m": any_number, "fixes": plain_number},
            needed=("lon", "lat"),
        ),
        "position of the site",
    ),
    Sayable("units/length", _LENGTHS, "unit of length"),
    Sayable("units/velocity", one_of("ft/s", "m/s"), "unit of velocity"),
    Sayable("units/depth", _LENGTHS, "unit of depth"),
    Sayable("rule_set", text, "rule set"),
    Sayable("crew/<k>", object_of({"name": text, "role": text}, needed=("name",)), "crew member"),
    Sayable("meter/kind", text, "kind of meter"),
    Sayable("meter/serial", text, "serial number of the meter"),
    Sayable("meter/rotor", one_of(*get_args(RotorSize)), "size of the rotor"),
    Sayable("meter/slowest", figure, "least velocity of the meter"),
    Sayable("meter/shallowest", figure, "least depth of the meter"),
    Sayable("meter/calibrated", day, "day of the last calibration"),
    Sayable("meter/calibration_due", day, "day by which the meter is to be calibrated"),
    Sayable(
        "meter/rating",
        list_of(
            object_of(
                {"slope": figure, "intercept": figure, "up_to": figure},
                needed=("slope", "intercept"),
            )
        ),
        "rating of the meter",
    ),
    Sayable(
        "meter/checks/<k>",
        object_of(
            {
                "kind": one_of(*get_args(ProofKind)),
                "when": one_of(*get_args(ProofTime)),
                "seconds": figure,
                "value": figure,
            },
            needed=("kind", "when"),
        ),
        "check of the meter",
    ),
    Sayable("stage/<k>", object_of({"value": figure, "at": moment}, needed=("value",)), "stage"),
    Sayable("no_gauge", flag, "whether there is no staff gauge"),
    Sayable("whole_flow", flag, "whether the whole flow passes"),
    Sayable("cleared", moment, "when the section was cleared"),
    Sayable("moved", text, "what was moved"),
    Sayable("started", moment, "start"),
    Sayable("ended", moment, "end"),
    Sayable("quality", one_of(*get_args(Quality)), "quality"),
    Sayable("remarks", text, "remarks"),
    Sayable("zero_bank", _BANKS, "bank of the tape's zero", kept=False),
    Sayable("start_bank", _BANKS, "bank of the start", kept=False),
    Sayable(
        "wading/<k>",
        object_of(
            {
                "safe": flag,
                "by": text,
                "why": text,
                "last_product": text,
                "cold": flag,
                "alone": flag,
            },
            needed=("safe", "by"),
        ),
        "decision on wading",
    ),
    Sayable(
        "plan",
        object_of(
            {
                "rule": text,
                "verticals": plain_number,
                "resolution": figure,
                "minimum_spacing": figure,
                "positions": list_of(figure),
            },
            needed=("rule", "positions"),
        ),
        "plan",
        kept=False,
    ),
    Sayable(
        "decimals",
        object_of({"tape": plain_number, "depth": plain_number, "velocity": plain_number}),
        "decimals",
        kept=False,
    ),
    Sayable(f"{CHANNEL}/name", text, "name of the channel"),
    Sayable(f"{VERTICAL}/tape", figure, "tape position"),
    Sayable(f"{VERTICAL}/edge", one_of(*get_args(Edge)), "edge of water"),
    Sayable(f"{VERTICAL}/bank", one_of(*get_args(Bank)), "form of the bank"),
    Sayable(f"{VERTICAL}/depth", figure, "depth"),
    Sayable(f"{VERTICAL}/dry", flag, "whether it is dry"),
    Sayable(f"{VERTICAL}/angle", figure, "angle of the flow"),
    Sayable(f"{VERTICAL}/angle_coefficient", figure, "angle coefficient"),
    Sayable(f"{VERTICAL}/wall_factor", figure, "wall factor"),
    Sayable(f"{VERTICAL}/remark", text, "remark"),
    Sayable(f"{VERTICAL}/inserted", flag, "whether it was inserted"),
    Sayable(
        READING,
        object_of(
            {
                "value": figure,
                "fraction": plain_number,
                "seconds": figure,
                "counts": figure,
                "rod_setting": figure,
            },
        ),
        "velocity",
    ),
    Sayable(
        "answers/<k>",
        object_of(
            {
                "check": text,
                "finding": text,
                "severity": one_of(*get_args(Severity)),
                "reason": text,
            },
            needed=("check", "finding", "severity", "reason"),
        ),
        "answer to a finding",
    ),
    Sayable(
        "photos/<k>",
        object_of(
            {
                "purpose": one_of(
                    "upstream",
                    "downstream",
                    "left bank",
                    "right bank",
                    "staff gauge",
                    "field sheet",
                    "other",
                ),
                "sha256": text,
                "bytes": plain_number,
                "type": text,
                "name": text,
            },
            needed=("purpose", "sha256", "bytes", "type"),
        ),
        "photo",
        kept=False,
    ),
    Sayable(
        "closed", object_of({"by": text, "discharge": text}, needed=("by",)), "closing", kept=False
    ),
)

SAYABLE: Mapping[str, Sayable] = {entry.pattern: entry for entry in _ALL}
"""Pattern → what it stands for."""

_PATTERNS = tuple(
    (re.compile(re.sub("<.>", "([A-Za-z0-9_-]+)", pattern)), entry)
    for pattern, entry in SAYABLE.items()
)


def sayable(what: str) -> tuple[Sayable, tuple[str, ...]] | None:
    """Return what an entry speaks of, with the keys in it, None where nothing is known of it."""
    for pattern, entry in _PATTERNS:
        found = pattern.fullmatch(what)
        if found is not None:
            return entry, found.groups()
    return None
