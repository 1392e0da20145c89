"""Where the meter is held at a depth, and what the rod is set to."""

from __future__ import annotations

from typing import Any, get_args

from bankside.bank.request import Request
from bankside.gauging.header_records import RotorSize
from bankside.gauging.rod import rod_points

__all__ = ["rod"]


def rod(request: Request) -> dict[str, Any]:
    """Return the points that a depth asks for by a rule set, each with the setting of the rod."""
    depth = request.figure("depth")
    unit = request.word("unit", ("ft", "m"))
    rotor = request.word("rotor", get_args(RotorSize))
    rules, unknown = request.rules()
    request.done("depth", "unit")
    assert depth is not None
    return {
        "points": [
            {"fraction": point.fraction, "setting": point.setting, "words": point.words}
            for point in rod_points(depth, unit, rules, rotor)
        ],
        "remarks": list(unknown),
    }
