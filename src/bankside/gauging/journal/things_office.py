"""What can be said beside the readings, at the stream or in the office."""

from typing import Final, get_args

from bankside.gauging.journal.readers import FIGURE, MOMENT, NUMBER, TEXT, ObjectOf, OneOf
from bankside.gauging.journal.review_record import Verdict
from bankside.gauging.journal.thing import Sayable
from bankside.gauging.records import Severity
from bankside.gauging.units import DischargeUnit

__all__ = ["BESIDE", "PURPOSES"]

PURPOSES: Final = (
    "upstream",
    "downstream",
    "left bank",
    "right bank",
    "staff gauge",
    "field sheet",
    "other",
)

BESIDE: Final = (
    Sayable(
        "answers/<k>",
        ObjectOf(
            {
                "check": TEXT,
                "finding": TEXT,
                "severity": OneOf(get_args(Severity)),
                "reason": TEXT,
                "by": TEXT,
                "at": MOMENT,
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
    Sayable(
        "corrections/<k>",
        ObjectOf(
            {
                "what": TEXT,
                "was": TEXT,
                "now": TEXT,
                "reason": TEXT,
                "by": TEXT,
                "at": MOMENT,
            },
            needed=("what", "was"),
        ),
        "correction on the sheet",
    ),
    Sayable(
        "filed",
        ObjectOf({"discharge": FIGURE, "unit": OneOf(get_args(DischargeUnit))}),
        "total as filed",
    ),
    Sayable(
        "filed/panels/<k>",
        ObjectOf(
            {
                "channel": TEXT,
                "vertical": TEXT,
                "width": FIGURE,
                "area": FIGURE,
                "discharge": FIGURE,
            },
            needed=("channel", "vertical"),
        ),
        "panel as filed",
    ),
    Sayable("copied/<k>", ObjectOf({"id": TEXT}), "copy of a record", kept=False),
    Sayable(
        "review",
        ObjectOf(
            {
                "verdict": OneOf(get_args(Verdict)),
                "by": TEXT,
                "discharge_m3s": FIGURE,
                "method_version": TEXT,
                "state": TEXT,
            },
            needed=("verdict", "by", "state"),
        ),
        "review",
        kept=False,
    ),
)
"""Answers, photos, closing, what a sheet carried, review."""
