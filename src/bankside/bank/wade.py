"""What the crew looks at before anybody steps in: the last visit, the limits, the cautions.

It decides nothing. Local rules, permits, the site's hazard plan and the crew leader do.
"""

from __future__ import annotations

from typing import Any

import attrs

from bankside.bank.last_time import last_visit
from bankside.bank.request import Request
from bankside.gauging.last_wading import last_wading
from bankside.gauging.records import Gauging
from bankside.gauging.rule_sets.choice import laxer_for_wading
from bankside.note.cautions import reminder_lines
from bankside.note.field_aids import TapeUnit, wading_limits, wading_words

__all__ = ["wade"]

_NO_VISIT = "No last visit was taken along: nothing is known of this water."


def wade(request: Request) -> dict[str, Any]:
    """Return how strong the water was at the last visit, the wading table, and the cautions.

    `unit` is that of the tables, ft or m: that of the last visit if nothing is said, else ft.
    """
    earlier, unit = request.entries("earlier"), request.word("unit", ("ft", "m"))
    rules, unknown = request.rules()
    request.done()
    visit = None if not earlier else last_visit(earlier).gauging
    system = unit or _system(visit)
    look = None if visit is None else last_wading(visit, rules)
    return {
        "product": None if look is None else look.product,
        "verdict": None if look is None else look.verdict,
        "words": _NO_VISIT if look is None else look.words,
        "unit": system,
        "limits": [attrs.asdict(limit) for limit in wading_limits(system, rules)],
        "limits_words": wading_words(system, rules),
        "remarks": list(unknown),
        "cautions": [*laxer_for_wading(rules), *reminder_lines(rules, system)],
    }


def _system(visit: Gauging | None) -> TapeUnit:
    return "m" if visit is not None and visit.units.length not in ("ft", "in") else "ft"
