"""Words on going in and staying out: kind to whoever stays out, plain on what the water was."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Final, Literal

from bankside.gauging.rule_sets.load import BASE, load_rule_set
from bankside.practice.session.followed import Followed
from bankside.practice.session.high_water import (
    WALKED,
    Danger,
    beyond_share,
    seconds_to_limit,
    strength,
)
from bankside.practice.session.reach import Candidate, Reach
from bankside.practice.session.shown import ShownDepth, ShownPoint

__all__ = ["Asked", "Outcome", "because", "stood_words", "verdict"]

Outcome = Literal["stayed out", "came out", "went in"]
"""Nobody went in; somebody came out again before all was read; somebody went on."""
Asked = Literal["by the water", "by a check", "by nothing"]
"""Who asked to stay out: water in which nobody should go in, a check that calls out, or none."""

_FOOT: Final = 0.3048
_SQUARE_FOOT: Final = _FOOT * _FOOT


def verdict(outcome: Outcome, asked: Asked, said: bool) -> str:
    """Return the first sentences of a judgement; `said`: the last word was to stay out."""
    if asked == "by nothing":
        did = "stayed out" if outcome == "stayed out" else "came out before all was read"
        return (
            f"You {did}. By the limits this reach could be waded, but you may always stay out, and "
            "nobody has to say more than that. It counts neither for you nor against you. No "
            "figure of the stream is told."
        )
    if asked == "by a check":
        return (
            "A check called everybody out before anybody was in, and you stayed out: well done. "
            "That it could not be measured is a result."
        )
    if outcome == "stayed out":
        first = (
            "You stayed out, and that was right" if said else "Nobody went in, and that was right"
        )
        then = "Well done." if said else "Say so another time, so that the whole crew knows."
        return (
            f"{first}: nobody should have gone in here. {then} That it could not be measured is a "
            "result."
        )
    if outcome == "came out":
        return (
            "You went in and came out again. Coming out was right. Here the water said no before "
            "the first step: that is what to look for next time."
        )
    return (
        "You went on where nobody should have gone in. On a screen that costs nothing; in a river "
        "it may be somebody's life. No discharge is told, as no figure is worth it. Look again at "
        "what could be seen from the bank."
    )


def because(reach: Reach, feet: bool) -> tuple[str, ...]:
    """Return what the water of a dangerous reach was, one sentence each; units as on the tape."""
    return tuple(_because(reach, feet))


def stood_words(followed: Followed, feet: bool) -> tuple[str, ...]:
    """Return how strong the water was where somebody stood with the rod, beside the limit."""
    found = []
    for shown, water in zip(followed.shown, followed.waters, strict=True):
        if water is not None and isinstance(shown, ShownDepth | ShownPoint):
            depth, velocity = (
                water.depth_at(shown.y, shown.at),
                water.velocity_at(shown.y, shown.at),
            )
            found.append((depth * abs(velocity), shown.tape))
    if not found:
        return ("Somebody moved stones in this water, which means to stand and bend down in it.",)
    worst, tape = max(found)
    at = f"tape {tape / _FOOT:.1f} ft" if feet else f"tape {tape:.2f} m"
    limit = _limit("wade_product_stop")
    where = f"Where you stood, most at {at}, depth times velocity was {_product(worst, feet)}"
    if worst >= limit:
        return (
            f"{where}. By the rule of thumb nobody wades from {_product(limit, feet)} on: such "
            "water may take anybody off their feet.",
        )
    high = followed.reach.high
    then = "" if high is None else f" {_BELOW_THE_LIMIT[high.danger]}"
    return (f"{where}, below the limit of {_product(limit, feet)}.{then}",)


_BELOW_THE_LIMIT: Final[Mapping[Danger, str]] = {
    "too strong": "A few steps further on it was beyond it, and nobody saw where that begins.",
    "rising": "It rose while you stood there: the next hour may take anybody off their feet, or "
    "cut them off from their bank.",
    "wood below": "With wood below it is no matter of the limit: one slip may carry anybody "
    "into it.",
}
"""What is said to who stood in a dangerous reach where the water was below the limit."""


def _because(reach: Reach, feet: bool) -> Iterator[str]:
    high = reach.high
    if high is None:
        return
    stop, leader = _limit("wade_product_stop"), _limit("wade_product_caution")
    if high.danger == "too strong":
        for one in reach.sections:
            stream = one.water.stream
            yield (
                f"At section {one.name} depth times velocity reaches "
                f"{_product(strength(stream), feet)}, and {100.0 * beyond_share(stream):.0f} % of "
                f"the width is at {_product(stop, feet)} or beyond, where nobody wades."
            )
    elif high.danger == "rising":
        risen = high.rise * WALKED
        climbed = f"{risen / _FOOT:.2f} ft" if feet else f"{100.0 * risen:.0f} cm"
        minutes = ", ".join(f"{one.name} after {_minutes(one)}" for one in reach.sections)
        yield (
            f"The staff gauge climbed by {climbed} in the {WALKED / 60.0:.0f} minutes in which you "
            "walked along the reach: rising water calls everybody out."
        )
        yield (
            f"At that pace each section reaches {_product(stop, feet)}, where nobody wades, within "
            f"the hour: {minutes} minutes. A gauging takes about as long."
        )
    else:
        lowest = min(strength(one.water.stream) for one in reach.sections)
        below = reach.wood_below(reach.sections[-1]) or 0.0
        away = f"{below / _FOOT:.0f} ft" if feet else f"{below:.0f} m"
        yield (
            f"Wood lies across the water {away} below section {reach.sections[-1].name}: water "
            "goes through it, and a person does not."
        )
        yield (
            f"At every section depth times velocity reaches {_product(lowest, feet)} or more; from "
            f"{_product(leader, feet)} on the leader decides, and with wood below the answer is no."
        )
    if reach.signs.brown:
        yield "The water was brown: nobody saw where a foot would go, or how deep it was."
    if reach.signs.drift:
        yield "Branches came down in it, which knock people over."


def _minutes(candidate: Candidate) -> str:
    water = candidate.water
    reached = seconds_to_limit(water.stream, water.rise, water.quicken)
    assert reached is not None
    return f"{reached / 60.0:.0f}"


def _limit(name: str) -> float:
    return load_rule_set(BASE).si(name)


def _product(product: float, feet: bool) -> str:
    return f"{product / _SQUARE_FOOT:.3g} ft²/s" if feet else f"{product:.2g} m²/s"
