"""Whether the meter was proven at the stream, and whether its calibration still holds."""

from __future__ import annotations

from collections.abc import Iterator

from bankside.gauging.checks.examined import Examined
from bankside.gauging.checks.finding import Check, Finding
from bankside.gauging.records import Meter
from bankside.kernel.limits import above, below

__all__ = ["CHECKS"]

_ROTATING = ("propeller", "impeller", "rotor", "rotating", "cup")
_STILL = ("magnetic",)
_NO_CUPS = ("propeller", "impeller", "magnetic", "acoustic", "ultrasonic", "doppler")
_SPIN = "a spin of the rotor, timed"
_ZERO = "the velocity shown in still water"


def _unproven(examined: Examined) -> Iterator[Finding]:
    meter = examined.gauging.meter
    if meter is None:
        return
    made = {proof.when for proof in meter.checks}
    due = ("before", "after") if examined.finished else ("before",)
    missing = [when for when in due if when not in made]
    if missing:
        yield Finding(
            check="Meter not proven",
            severity="note",
            found=f"No proof of the meter {' or '.join(missing)} the readings is written down.",
            advice=f"Write down {_proof_of(meter)}, {' and '.join(missing)} the readings.",
        )


def _proof_of(meter: Meter) -> str:
    """Return in words what proves a meter of its kind."""
    kind = (meter.kind or "").casefold()
    if meter.rotor is not None or meter.rating or any(word in kind for word in _ROTATING):
        return _SPIN
    if any(word in kind for word in _STILL):
        return _ZERO
    return f"{_SPIN}, or {_ZERO}"


def _stiff(examined: Examined) -> Iterator[Finding]:
    meter = examined.gauging.meter
    if meter is None:
        return
    least = examined.rules["spin_large" if meter.rotor == "large" else "spin_small"]
    rotor = f"a {meter.rotor} rotor" if meter.rotor is not None else "even a small rotor"
    cups = _has_cups(meter)
    for proof in meter.checks:
        if proof.seconds is not None and below(proof.seconds, least.si):
            yield Finding(
                check="Rotor stops too soon",
                severity="fix now" if cups else "explain",
                found=f"The rotor spun for {proof.seconds:g} s {proof.when} the readings, less "
                f"than {least.words()} for {rotor} of cups.",
                advice=_SPIN_AGAIN + ("." if proof.when == "before" else ", and measure again.")
                if cups
                else "Compare it with the figure of the meter's maker: the limit is that for cups.",
                thresholds=(least,),
            )


_SPIN_AGAIN = (
    "Shelter it from the wind and spin it again; if it still stops, clean and oil it, or take "
    "another meter"
)


def _has_cups(meter: Meter) -> bool:
    """Return whether a meter is one with cups by its kind, or else by the size of its rotor."""
    kind = (meter.kind or "").casefold()
    if "cup" in kind:
        return True
    return meter.rotor is not None and not any(word in kind for word in _NO_CUPS)


def _zero_off(examined: Examined) -> Iterator[Finding]:
    meter, most = examined.gauging.meter, examined.rules["zero_velocity"]
    for proof in () if meter is None else meter.checks:
        if proof.value is None:
            continue
        if above(abs(proof.value) * examined.metres_per_second, most.si):
            yield Finding(
                check="Zero is off",
                severity="fix now",
                found=f"In still water the meter showed {proof.value:g} "
                f"{examined.gauging.units.velocity} {proof.when} the readings, more than "
                f"{examined.limit(most)}.",
                advice="Clean it and set its zero in a bucket of still water, or take another "
                "meter" + ("." if proof.when == "before" else ", and measure again."),
                thresholds=(most,),
            )


def _overdue(examined: Examined) -> Iterator[Finding]:
    gauging = examined.gauging
    due = None if gauging.meter is None else gauging.meter.calibration_due
    started = None if gauging.started is None else gauging.started.date()
    date = gauging.date or started or examined.today
    if due is not None and date is not None and date > due:
        yield Finding(
            check="Calibration overdue",
            severity="explain",
            found=f"The meter was to be calibrated by {due.isoformat()}, before the gauging of "
            f"{date.isoformat()}.",
            advice="Take another meter, or compare it with one that is calibrated.",
        )


CHECKS = (
    Check(
        name="Meter not proven",
        trigger="A meter is named, and no spin or zero before the readings is written down; once "
        "the gauging is finished, or none after them.",
        severities=("note",),
        remedy="A spin for a rotor, a zero in still water for a meter without one.",
        source="stream-flow operating procedure of a Colorado mine permit, 2014, p. 18 and 19: "
        "before and after",
        find=_unproven,
    ),
    Check(
        name="Rotor stops too soon",
        trigger="A spin is shorter than the limit for the rotor of a cup meter; where its size is "
        "unknown, than that for a small one. To be explained where the meter may be of another "
        "kind, for which the limit was not made.",
        severities=("fix now", "explain"),
        remedy="Spin it again out of the wind; clean and oil it, or take another meter. Hold "
        "another kind of meter against the figure of its maker.",
        source="stream-flow operating procedure of a Colorado mine permit, 2014, p. 18 and 19",
        find=_stiff,
        thresholds=("spin_small", "spin_large"),
        wades=True,
    ),
    Check(
        name="Zero is off",
        trigger="The meter showed more than the limit in still water, either way.",
        severities=("fix now",),
        remedy="Clean it, set its zero again, or take another meter.",
        source="a simulation of ours: a zero off by 0.05 ft/s costs 4.5 % (3 to 9)",
        find=_zero_off,
        thresholds=("zero_velocity",),
        wades=True,
    ),
    Check(
        name="Calibration overdue",
        trigger="The day by which the meter was to be calibrated is before the gauging.",
        severities=("explain",),
        remedy="Take another meter, or compare it with a calibrated one.",
        source="common practice, no source",
        find=_overdue,
    ),
)
