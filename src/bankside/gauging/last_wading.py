"""How strong the water was at an earlier visit: to be known before anybody steps in.

It tells nothing about the water of today. Local rules, the site's hazard plan and the crew leader
decide.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

import attrs

from bankside.gauging.checks.examined import Examined, examine
from bankside.gauging.checks.strong_water import (
    StrongWater,
    depth_times_velocity,
    product_words,
)
from bankside.gauging.mean_stage import mean_stage
from bankside.gauging.records import Gauging
from bankside.gauging.rule_sets.choice import strictest
from bankside.gauging.rule_sets.rule_set import RuleSet
from bankside.kernel.limits import below

__all__ = ["LastWading", "last_wading"]

Verdict = Literal["nobody wades", "the leader decides", "below the limits"]


@attrs.frozen
class LastWading:
    """The strongest water of an earlier visit, and how that stands to the limits.

    `product_m2s` is the largest depth times velocity of any vertical, at the vertical `tape` (as
    called) of `channel`, and `product` says it in the units of that visit; None, with the verdict,
    where nothing was read. `words` say it all, with the limits.
    """

    product_m2s: float | None
    product: str | None
    channel: int | None
    tape: float | None
    verdict: Verdict | None
    words: str


def last_wading(earlier: Gauging, rules: RuleSet) -> LastWading:
    """Return how strong the water was at an earlier visit, by the limits of a rule set.

    Where a limit of the rule set is laxer than that of common practice, that of common practice is
    gone by.
    """
    examined = examine(earlier, rules, finished=True)
    strong = [
        one for channel in examined.channels for one in depth_times_velocity(examined, channel)
    ]
    if not strong:
        return LastWading(None, None, None, None, None, " ".join(_unknown(examined)))
    most = max(strong, key=lambda one: one.product)
    verdict = _verdict(most.product, rules)
    return LastWading(
        product_m2s=most.product,
        product=product_words(examined, most.product),
        channel=most.spot.channel,
        tape=most.spot.tape,
        verdict=verdict,
        words=" ".join(_words(examined, most, verdict)),
    )


def _verdict(product: float, rules: RuleSet) -> Verdict:
    if not below(product, strictest(rules, "wade_product_stop").si):
        return "nobody wades"
    if not below(product, strictest(rules, "wade_product_caution").si):
        return "the leader decides"
    return "below the limits"


def _words(examined: Examined, most: StrongWater, verdict: Verdict) -> Iterator[str]:
    spot = most.spot
    several = f" of channel {spot.channel + 1}" if len(examined.channels) > 1 else ""
    unread = "" if most.read else " (by the velocity of the neighbours)"
    deepest = max(one.depth_m or 0.0 for one in examined.spots)
    yield (
        f"{_when(examined.gauging)} depth times velocity was up to "
        f"{product_words(examined, most.product)}, at {examined.at(spot.tape)}{several}{unread}, "
        f"and the depth up to {examined.depth(deepest)}."
    )
    yield from _limits(examined)
    if verdict == "nobody wades":
        yield "Such water is not waded."
    elif verdict == "the leader decides":
        yield "In such water the leader decides before anybody steps in."
    yield from _stage(examined)


def _unknown(examined: Examined) -> Iterator[str]:
    yield f"{_when(examined.gauging)} no depth was read together with a velocity."
    yield from _limits(examined)


def _when(gauging: Gauging) -> str:
    day = gauging.date
    if day is None and gauging.started is not None:
        day = gauging.started.date()
    return "At the last visit" if day is None else f"At the last visit, on {day.isoformat()},"


def _limits(examined: Examined) -> Iterator[str]:
    stop = strictest(examined.rules, "wade_product_stop")
    caution = strictest(examined.rules, "wade_product_caution")
    leader = (
        f"From {examined.limit(caution)} on the leader decides, from "
        if caution.si < stop.si
        else "From "
    )
    yield f"{leader}{examined.limit(stop)} on nobody wades."


def _stage(examined: Examined) -> Iterator[str]:
    stage = mean_stage(examined.gauging, examined.result)
    if stage is not None:
        yield (
            f"The stage was {stage.words(stage.value)}; where it stands higher today, the water "
            "is stronger than that."
        )
