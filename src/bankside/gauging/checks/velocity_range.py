"""Whether the water suits the meter: too slow, too shallow, a weak section, water running back."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from bankside.gauging.checks.examined import Examined, Spot
from bankside.gauging.checks.finding import Check, Finding, Severity
from bankside.gauging.checks.spots import channel_of, channels_of, in_words, share_of, tapes_of
from bankside.gauging.rounding import to_figures
from bankside.gauging.rule_sets.rule_set import Threshold
from bankside.kernel.limits import above, below

__all__ = ["CHECKS"]

_HALF_DEPTH = 0.5


def _too_slow(examined: Examined) -> Iterator[Finding]:
    meter, rule = examined.gauging.meter, examined.rules["slowest"]
    own = None if meter is None else meter.slowest
    limit = rule.si if own is None else own * examined.metres_per_second
    slow = [spot for spot in examined.spots if spot.points and _shown(spot) > 0 and _told(spot)]
    slow = [spot for spot in slow if below(_shown(spot), limit)]
    share = share_of(slow)
    allowed = examined.rules["slow_share"]
    if not above(share, allowed.si):
        return
    least = (
        examined.limit(rule) if own is None else f"{examined.velocity(limit)} of the meter's papers"
    )
    yield Finding(
        check="Slower than the meter can tell",
        severity="explain",
        found=f"Water slower than {least}, at {in_words(examined, slow)}, carries "
        f"{share:.3g} % of the discharge, above {allowed.words()}.",
        advice="Look for a narrower, faster section or another method than at "
        f"{in_words(examined, slow)}; else hold the measurement to be poor.",
        channel=channel_of(slow),
        channels=channels_of(slow),
        tapes=tapes_of(slow),
        thresholds=(allowed,) if own is not None else (rule, allowed),
    )


def _shown(spot: Spot) -> float:
    """Return what the meter showed at a vertical, over its points, whichever way the water ran."""
    total = 0.0
    for velocity in spot.points.values():
        total += abs(velocity)
    return total / len(spot.points)


def _too_shallow(examined: Examined) -> Iterator[Finding]:
    limit, least, rule = _least_depth(examined)
    # Where half the depth is in order, a sheet may not say where it was read.
    half_will_do = rule is not None and rule.name == "shallowest"
    shallow = [
        spot
        for spot in examined.spots
        if spot.depth_m is not None
        and spot.depth_m > 0
        and spot.points
        and _told(spot)
        and below(spot.depth_m, limit)
        and not (half_will_do and _at_half(spot))
    ]
    share = share_of(shallow)
    allowed = examined.rules["shallow_share"]
    if not above(share, allowed.si):
        return
    untold = half_will_do and any(None in spot.points for spot in shallow)
    yield Finding(
        check="Too shallow for the meter",
        severity="note" if untold else "explain",
        found=f"Water less than {least} deep, at {in_words(examined, shallow)}, carries "
        f"{share:.3g} % of the discharge, above {allowed.words()}.",
        advice=_in_shallow_water(examined, shallow, rule),
        channel=channel_of(shallow),
        channels=channels_of(shallow),
        tapes=tapes_of(shallow),
        thresholds=(allowed,) if rule is None else (rule, allowed),
    )


def _least_depth(examined: Examined) -> tuple[float, str, Threshold | None]:
    """Return the least depth for the meter in metres, in words, and by which threshold, if any."""
    meter = examined.gauging.meter
    if meter is not None and meter.shallowest is not None:
        own = meter.shallowest * examined.depth_metres
        return own, f"{examined.depth(own)} of the meter's papers", None
    large = meter is not None and meter.rotor == "large"
    rule = examined.rules["shallowest_large" if large else "shallowest"]
    return rule.si, examined.limit(rule) + (" (for a large rotor)" if large else ""), rule


def _at_half(spot: Spot) -> bool:
    return set(spot.points) == {_HALF_DEPTH}


def _in_shallow_water(examined: Examined, shallow: Sequence[Spot], rule: Threshold | None) -> str:
    """Return what to do: nothing that was done already, nor what a large rotor is too big for."""
    where = in_words(examined, shallow)
    if rule is not None and rule.name == "shallowest_large":
        return f"Take a meter with a small rotor at {where}, or look for a deeper section."
    higher = [spot for spot in shallow if not _at_half(spot)]
    if not higher:
        return f"Look for a deeper section than at {where}; else a bucket or a float may do better."
    return (
        f"Read at half the depth at {in_words(examined, higher, shallow)}, or look for a deeper "
        "section; else a bucket or a float may do better."
    )


def _too_fast(examined: Examined) -> Iterator[Finding]:
    meter, rule = examined.gauging.meter, examined.rules["fastest_small"]
    if meter is None or meter.rotor != "small":
        return
    fast = [s for s in examined.spots if any(above(abs(v), rule.si) for v in s.points.values())]
    if fast:
        yield Finding(
            check="Too fast for a small rotor",
            severity="explain",
            found=f"Water faster than {examined.limit(rule)} was read with a small rotor at "
            f"{in_words(examined, fast)}.",
            advice=f"Take a meter with a large rotor at {in_words(examined, fast)}, or show "
            "that the rating reaches so far.",
            channel=channel_of(fast),
            channels=channels_of(fast),
            tapes=tapes_of(fast),
            thresholds=(rule,),
        )


def _weak(examined: Examined) -> Iterator[Finding]:
    result = examined.result
    if not examined.finished or result is None:
        return
    depth, velocity = result.mean_depth_m, result.mean_velocity_ms
    depth_limit, velocity_limit = examined.rules["weak_depth"], examined.rules["weak_velocity"]
    if depth is None or velocity is None:
        return
    if below(depth, depth_limit.si) and below(abs(velocity), velocity_limit.si):
        yield Finding(
            check="Weak section",
            severity="note",
            found=f"The section is shallow and slow: its mean depth is {examined.depth(depth)} "
            f"(below {examined.limit(depth_limit)}), its mean velocity "
            f"{examined.velocity(velocity)} (below {examined.limit(velocity_limit)}).",
            advice="Look up and down the stream for a narrower, faster place.",
            thresholds=(depth_limit, velocity_limit),
        )


def _upstream(examined: Examined) -> Iterator[Finding]:
    back = [spot for spot in examined.spots if any(v < 0 for v in spot.points.values())]
    if not back:
        return
    share = _reverse_share(examined)
    severity, threshold = _reverse_severity(examined, share)
    part = "" if share is None else f": {to_figures(share, 2)} % of all water that moves"
    yield Finding(
        check="Water running upstream",
        severity=severity,
        found=f"Water runs upstream at {in_words(examined, back)}{part}.",
        advice=f"Keep the sign of what was read at {in_words(examined, back)}"
        + ("." if threshold is None else ", and choose a section without an eddy."),
        channel=channel_of(back),
        channels=channels_of(back),
        tapes=tapes_of(back),
        thresholds=() if threshold is None else (threshold,),
    )


def _reverse_share(examined: Examined) -> float | None:
    """Return the percent of all water that moves which moves upstream, None if not to be told."""
    if not examined.finished or examined.result is None:
        return None
    back = amount = 0.0
    for panel in examined.result.panels:
        amount += abs(panel.discharge_m3s)
        back -= min(panel.discharge_m3s, 0.0)
    return 100 * back / amount if amount > 0 else None


def _reverse_severity(examined: Examined, share: float | None) -> tuple[Severity, Threshold | None]:
    explain, fix = (examined.rules[f"reverse_share_{word}"] for word in ("explain", "fix"))
    if share is not None and above(share, fix.si):
        return "fix now", fix
    if share is not None and above(share, explain.si):
        return "explain", explain
    return "note", None


def _told(spot: Spot) -> bool:
    return spot.share is not None


CHECKS = (
    Check(
        name="Slower than the meter can tell",
        trigger="Water slower than the meter's papers allow, or else than the rule set's least "
        "velocity, carries more of the discharge than it may. Nothing that stands still counts.",
        severities=("explain",),
        remedy="A better section, another method, or a measurement held to be poor.",
        source="stream-flow operating procedure of a Colorado mine permit, 2014; the share is "
        "common practice",
        find=_too_slow,
        thresholds=("slowest", "slow_share"),
    ),
    Check(
        name="Too shallow for the meter",
        trigger="Water shallower than the meter's papers allow carries more of the discharge than "
        "it may; where they say nothing, water shallower than the least depth for a large rotor, "
        "or else than the rule set's least depth and not read at half its depth, only to be known "
        "where the sheet does not say how high the meter was held.",
        severities=("explain", "note"),
        remedy="Half the depth or a small rotor, a deeper section, a bucket or a float.",
        source="stream-flow operating procedure of a Colorado mine permit, 2014; for a large rotor "
        "USGS SW memorandum 85.14; the share is common practice",
        find=_too_shallow,
        thresholds=("shallowest", "shallowest_large", "shallow_share"),
        wades=True,
    ),
    Check(
        name="Too fast for a small rotor",
        trigger="A velocity read with a small rotor is above the limit for it.",
        severities=("explain",),
        remedy="A large rotor, or a rating that reaches so far.",
        source="the usual range of small rotors, 0.25 to 4 ft/s (from memory)",
        find=_too_fast,
        thresholds=("fastest_small",),
    ),
    Check(
        name="Weak section",
        trigger="Mean depth and mean velocity are both below their limits.",
        severities=("note",),
        remedy="Look for a narrower, faster place first.",
        source="EPA field manuals for wadeable streams (from memory)",
        find=_weak,
        thresholds=("weak_depth", "weak_velocity"),
    ),
    Check(
        name="Water running upstream",
        trigger="A velocity is negative; graver where the panels that run upstream carry more than "
        "their limits of all water that moves.",
        severities=("fix now", "explain", "note"),
        remedy="Keep the sign; choose a section without an eddy.",
        source="common practice, no source",
        find=_upstream,
        thresholds=("reverse_share_explain", "reverse_share_fix"),
    ),
)
