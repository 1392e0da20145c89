"""How everybody stands, as plain values."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import attrs

from bankside.practice.readiness.standing import PersonStanding

__all__ = ["standings_as_json"]


def standings_as_json(people: Sequence[PersonStanding]) -> list[dict[str, Any]]:
    """Return how each person stands as JSON takes it."""
    return [
        {
            "person": one.person,
            "ready": one.ready,
            "still": list(one.still),
            "within": one.within,
            "counted": len(one.counted),
            "bias_percent": one.bias,
            "spread_percent": one.spread,
            "cost_most": one.cost_most,
            "tries": [attrs.asdict(each) for each in one.tries],
        }
        for one in people
    ]
