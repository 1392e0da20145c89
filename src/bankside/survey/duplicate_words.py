"""What repeats of one measurement say, in plain sentences, and what to do about it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from bankside.gauging.rounding import to_figures
from bankside.survey.words import (
    discharge_words,
    length_words,
    listed,
    off_words,
    sentence,
    site_words,
    visit_words,
)

if TYPE_CHECKING:
    from bankside.survey.duplicates import DuplicatePair, Duplicates

__all__ = ["duplicates_advice", "duplicates_words", "pair_words"]


def duplicates_words(duplicates: Duplicates) -> str:
    """Return what was measured how often, how far apart it is and what that comes to."""
    visits = duplicates.visits
    flows = listed([_flow(visit.final_m3s) for visit in visits])
    site = visits[0].site
    where = "" if site is None else f" at {site_words(site)}"
    told = f"{len(visits)} gaugings of one flow{where}: {flows}"
    if duplicates.spread_percent is None:
        return f"{told}. How far apart they are cannot be told."
    apart = f"{told}, {to_figures(duplicates.spread_percent, 2)} % of their mean apart"
    if duplicates.stage_moved_m is not None:
        moved = f"the stage moved by {length_words(duplicates.stage_moved_m)}"
        return f"{apart}. Whether they agree cannot be told: {moved}."
    closest = _closest(duplicates)
    return f"{apart}, {_against_limits(duplicates)}.{closest}"


def duplicates_advice(duplicates: Duplicates) -> str:
    """Return what to do about repeats, empty where they agree."""
    if duplicates.verdict == "agree":
        return ""
    if duplicates.stage_moved_m is not None:
        return "Take them for two flows, not for a duplicate, and measure twice at a steady stage."
    if duplicates.verdict == "cannot be told":
        return "Complete the gauging that gives no discharge, or leave the pair out of the share."
    if duplicates.verdict == "look":
        return "Look at edges, stage, meter and the panels that differ, and say what is found."
    return (
        "Measure a third time with the roles changed, other tape positions and if possible another "
        "meter; if the crew has left, say why they differ or trust neither figure."
    )


def pair_words(pair: DuplicatePair) -> str:
    """Return what one pair says: the difference, what both state, and what was alike."""
    first, second = pair.first, pair.second
    names = f"{visit_words(first)} and {visit_words(second)}"
    if pair.difference_percent is None:
        told = "no difference in percent can be given"
    else:
        told = f"{to_figures(pair.difference_percent, 2)} % of their mean apart"
    parts = [_stated(pair), *_circumstances(pair)]
    return f"{sentence(names)}: {told}; {'; '.join(parts)}."


def _against_limits(duplicates: Duplicates) -> str:
    by = "" if duplicates.look.name == "duplicate_look" else " between crews"
    look, third = (f"{limit.words()}{by}" for limit in (duplicates.look, duplicates.third))
    spread = duplicates.spread_percent or 0.0
    if duplicates.verdict == "agree":
        return f"within {look}"
    if spread <= duplicates.third.si:
        return f"more than {look}, which is to be looked into"
    return f"more than {third}"


def _closest(duplicates: Duplicates) -> str:
    """Return which two of three or more are the closest, where not all agree."""
    told = [p for p in duplicates.pairs if p.difference_percent is not None]
    if len(duplicates.visits) < 3 or duplicates.verdict == "agree" or not told:
        return ""
    pair = min(told, key=lambda p: p.difference_percent or 0.0)
    between = f"{to_figures(pair.difference_percent or 0.0, 2)} % apart"
    return (
        f" The closest two are {visit_words(pair.first)} and {visit_words(pair.second)}, {between}."
    )


def _flow(m3s: float | None) -> str:
    return "no discharge" if m3s is None else discharge_words(m3s)


def _stated(pair: DuplicatePair) -> str:
    if pair.allowed_m3s is None:
        return "whether that is within their uncertainties cannot be told"
    side = "within" if pair.within_allowed else "beyond"
    return f"{side} what their stated uncertainties allow, {off_words(pair.allowed_m3s)}"


def _circumstances(pair: DuplicatePair) -> Iterator[str]:
    yield _alike("crew", pair.same_crew)
    yield _alike("meter", pair.same_meter)
    if pair.stage_change_m is None:
        yield "no stage tells whether the level was the same"
    elif round(pair.stage_change_m, 3) == 0:
        yield "the same stage"
    else:
        side = "higher" if pair.stage_change_m > 0 else "lower"
        yield f"the stage {length_words(abs(pair.stage_change_m))} {side} at the second"


def _alike(what: str, same: bool | None) -> str:
    if same is None:
        return f"whether it was one {what} is not written down"
    return f"the same {what}" if same else f"another {what}"
