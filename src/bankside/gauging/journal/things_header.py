"""What can be said around the readings: where, with what, by whom, when, and how it was planned."""

from typing import Final, get_args

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
)
from bankside.gauging.journal.thing import Sayable
from bankside.gauging.records import Edge, Quality
from bankside.gauging.units import LengthUnit, VelocityUnit

__all__ = ["HEADER"]

_LENGTHS = OneOf(get_args(LengthUnit))
_BANKS = OneOf(get_args(Edge))

HEADER: Final = (
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
    Sayable("units/velocity", OneOf(get_args(VelocityUnit)), "unit of velocity"),
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
                "at": MOMENT,
            },
            needed=("kind", "when"),
        ),
        "check of the meter",
    ),
    Sayable("stage/<k>", ObjectOf({"value": FIGURE, "at": MOMENT}, needed=("value",)), "stage"),
    Sayable("no_gauge", FLAG, "whether there is no staff gauge"),
    Sayable("whole_flow", FLAG, "whether the whole flow passes"),
    Sayable("repeats", TEXT, "gauging that is repeated"),
    Sayable("cleared", MOMENT, "when the section was cleared"),
    Sayable("moved", TEXT, "what was moved"),
    Sayable("date", DAY, "date"),
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
        "soundings",
        ListOf(ObjectOf({"tape": FIGURE, "depth": FIGURE}, needed=("tape", "depth"))),
        "depths sounded for the plan",
        kept=False,
    ),
    Sayable("target", FIGURE, "uncertainty that is wanted", kept=False),
    Sayable(
        "decimals",
        ObjectOf({"tape": NUMBER, "depth": NUMBER, "velocity": NUMBER}),
        "decimals",
        kept=False,
    ),
)
"""Site, units, crew, meter, stage, times, and what was planned."""
