"""Whether a panel carries too much of the discharge."""

from __future__ import annotations

from collections.abc import Iterator

from bankside.gauging.checks.adding import add, half_way, places_in
from bankside.gauging.checks.examined import Examined, ExaminedChannel, Spot
from bankside.gauging.checks.finding import Check, Finding
from bankside.gauging.share_limits import above

__all__ = ["CHECKS"]

_TOO_MUCH = "One panel carries too much"
_ABOVE_AIM = "Panels above the aim"
# So many panels above the aim are told where to add a vertical: the crew has only so much time.
_FIRST = 3


def _too_much(examined: Examined) -> Iterator[Finding]:
    limit = examined.rules.si("panel_share_limit")
    for channel in examined.channels:
        for run in _runs(channel, limit):
            yield _above_limit(examined, channel, run)


def _more_than_aimed_at(examined: Examined) -> Iterator[Finding]:
    aim, limit = (examined.rules.si(f"panel_share_{word}") for word in ("aim", "limit"))
    for channel in examined.channels:
        heavy = [
            i for i, share in _shares(channel) if above(share, aim) and not above(share, limit)
        ]
        if heavy:
            yield _above_aim(examined, channel, heavy)


def _shares(channel: ExaminedChannel) -> Iterator[tuple[int, float]]:
    return ((i, spot.share) for i, spot in enumerate(channel.across) if spot.share is not None)


def _share(spot: Spot) -> float:
    return abs(spot.share or 0.0)


def _runs(channel: ExaminedChannel, limit: float) -> list[list[int]]:
    """Return the places along the tape of panels above the limit, neighbours together."""
    runs: list[list[int]] = []
    for i, share in _shares(channel):
        if not above(share, limit):
            continue
        if runs and runs[-1][-1] == i - 1:
            runs[-1].append(i)
        else:
            runs.append([i])
    return runs


def _above_limit(examined: Examined, channel: ExaminedChannel, run: list[int]) -> Finding:
    limit = examined.rules["panel_share_limit"]
    spots = [channel.across[i] for i in run]
    tapes = tuple(spot.tape for spot in spots)
    places = sorted({p for i in run for p in _relief(examined, channel, i, limit.si)})
    largest = f"{max(_share(spot) for spot in spots):.1f} %"
    if len(spots) == 1:
        found = f"The panel at {examined.at(*tapes)} carries {largest} of the discharge"
    else:
        found = f"The panels at {examined.at(*tapes)} carry up to {largest} of the discharge each"
    return Finding(
        check=_TOO_MUCH,
        severity="fix now" if places else "explain",
        found=f"{found}, above {limit.words()}.",
        advice=f"{add(examined, places, tapes)}.",
        channel=channel.index,
        tapes=tapes,
        thresholds=(limit,),
        places=places_in(channel, places),
    )


def _above_aim(examined: Examined, channel: ExaminedChannel, heavy: list[int]) -> Finding:
    aim, limit = (examined.rules[f"panel_share_{word}"] for word in ("aim", "limit"))
    spots = [channel.across[i] for i in heavy]
    tapes = tuple(spot.tape for spot in spots)
    most = max(spots, key=_share)
    ranked = sorted(heavy, key=lambda i: -_share(channel.across[i]))
    places: list[float] = []
    for i in ranked:
        places += [p for p in _relief(examined, channel, i, aim.si)[:1] if p not in places]
    first = sorted(places[:_FIRST])
    advice = add(examined, first, (most.tape,))
    number = "1 panel carries" if len(spots) == 1 else f"{len(spots)} panels carry"
    return Finding(
        check=_ABOVE_AIM,
        severity="note",
        found=f"{number} more than the {aim.words()} aimed at and no more than {limit.words()}, "
        f"most at {examined.at(most.tape)} with {_share(most):.1f} %.",
        advice=f"{advice}{', if there is time' if first else ''}.",
        channel=channel.index,
        tapes=tapes,
        thresholds=(aim,),
        places=places_in(channel, first),
    )


def _relief(examined: Examined, channel: ExaminedChannel, i: int, most: float) -> list[float]:
    """Return where verticals take water off a panel: the faster and deeper side first.

    The other side follows only where the first leaves the panel more than it should carry.
    """
    across = channel.across
    spot = across[i]
    if spot.panel is None:
        return []
    sides = [across[j] for j in (i - 1, i + 1) if 0 <= j < len(across)]
    width = spot.panel.width_m
    places = []
    for side in sorted(sides, key=_flow, reverse=True):
        place = half_way(examined, *sorted((spot.tape, side.tape)))
        if place is None:
            continue
        places.append(place)
        width -= abs(side.tape - place) * examined.metres / 2
        if not above(_share(spot) * width / spot.panel.width_m, most):
            break
    return places


def _flow(spot: Spot) -> float:
    """Return the depth times velocity of a panel."""
    return 0.0 if spot.panel is None else abs(spot.panel.depth_m * spot.panel.velocity_ms)


CHECKS = (
    Check(
        name=_TOO_MUCH,
        trigger="A panel carries more of the discharge than the limit (explain where no vertical "
        "can be added without coming too close to another).",
        severities=("fix now", "explain"),
        remedy="Add a vertical half-way to the faster and deeper neighbour.",
        source="USGS practice as quoted in MDPI Water 2018, 10, 1010",
        find=_too_much,
        thresholds=("panel_share_limit", "spacing_least", "spacing_least_large"),
        wades=True,
    ),
    Check(
        name=_ABOVE_AIM,
        trigger="Panels carry more of the discharge than is aimed at, and no more than the limit.",
        severities=("note",),
        remedy="Add verticals half-way to the faster and deeper neighbours, if there is time.",
        source="USGS practice as quoted in MDPI Water 2018, 10, 1010",
        find=_more_than_aimed_at,
        thresholds=("panel_share_aim", "panel_share_limit", "spacing_least", "spacing_least_large"),
        wades=True,
    ),
)
