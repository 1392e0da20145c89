"""How everybody stands, as plain values, and back."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import attrs

from bankside.practice.readiness.requirements import Requirements
from bankside.practice.readiness.right import counted_of, gauged_of
from bankside.practice.readiness.standing import PersonStanding
from bankside.practice.readiness.tries import Try

__all__ = ["standings_as_json", "standings_from_json"]


def standings_as_json(people: Sequence[PersonStanding]) -> list[dict[str, Any]]:
    """Return how each person stands as JSON takes it."""
    return [
        {
            "person": one.person,
            "ready": one.ready,
            "still": list(one.still),
            "within": one.within,
            "gauged": one.gauged,
            "counted": len(one.counted),
            "bias_percent": one.bias,
            "spread_percent": one.spread,
            "cost_most": one.cost_most,
            "tries": [attrs.asdict(each) for each in one.tries],
        }
        for one in people
    ]


def standings_from_json(
    people: Sequence[Mapping[str, Any]], requirements: Requirements
) -> tuple[PersonStanding, ...]:
    """Return how each person stood when it was written; KeyError or TypeError where it is none.

    Records of before do not say how many were gauged: it is counted in their tries.
    """
    return tuple(_standing(one, requirements) for one in people)


def _standing(said: Mapping[str, Any], requirements: Requirements) -> PersonStanding:
    tries = tuple(Try(**each) for each in said["tries"])
    counted = counted_of(tries, requirements)
    return PersonStanding(
        person=said["person"],
        tries=tries,
        counted=counted,
        within=said["within"],
        gauged=said.get("gauged", len(gauged_of(counted, requirements))),
        bias=said["bias_percent"],
        spread=said["spread_percent"],
        cost_most=said["cost_most"],
        still=tuple(said["still"]),
    )
