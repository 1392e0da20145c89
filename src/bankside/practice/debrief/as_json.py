"""A debrief as plain values, for a page that sets and draws it."""

from __future__ import annotations

from typing import Any

import attrs

from bankside.gauging.practice_mark import PRACTICE_WORDS
from bankside.practice.debrief.debrief import Debrief
from bankside.practice.debrief.source_words import SOURCES

__all__ = ["debrief_as_json"]


def debrief_as_json(found: Debrief) -> dict[str, Any]:
    """Return a debrief as JSON takes it; discharges in m³/s, parts in percent of the true one."""
    parts = found.parts
    one_more = found.one_more
    return {
        "mark": PRACTICE_WORDS,
        "discharge_m3s": parts.discharge,
        "measured_m3s": parts.measured,
        "percent": found.percent,
        "section": found.section,
        "better_section": parts.best,
        "minutes": found.minutes,
        "largest": parts.largest,
        "parts": [
            {
                "source": source,
                "name": SOURCES[source].name,
                "what": SOURCES[source].what,
                "percent": parts.percent(source),
            }
            for source, _ in parts.parts
        ],
        "one_more": None
        if one_more is None
        else {
            "tape": one_more.tape,
            "discharge_m3s": one_more.discharge,
            "percent": 100.0 * (one_more.discharge / parts.discharge - 1.0),
        },
        "findings": [attrs.asdict(row) for row in found.findings],
        "better": [attrs.asdict(one) for one in found.better],
    }
