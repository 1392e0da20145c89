"""The meter told around a table: what it is, its rating, its proofs and its calibration."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import Any, get_args

from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.header_records import ProofTime, RotorSize
from bankside.gauging.records import Meter, MeterCheck, RatingPart, Units
from bankside.sheets.answers import Answers
from bankside.sheets.dates import DateStyle
from bankside.sheets.group import Group
from bankside.sheets.told import Told
from bankside.sheets.values import show

__all__ = ["meter_of"]


def meter_of(
    told: Told, ratings: Sequence[str], units: Units | None, answers: Answers
) -> Meter | None:
    """Return the meter told around the table, with its rating or the one given as an answer."""
    group = told.group
    fields: dict[str, Any] = {
        "kind": told.text("meter"),
        "serial": told.text("serial"),
        "rating": _rating(told, ratings, answers),
        "checks": tuple(_proofs(told, units)),
        **_papers(told, units, answers),
    }
    if told.faults or all(value in (None, ()) for value in fields.values()):
        return None
    try:
        return Meter(**fields)
    except InputRefused as refusal:
        for fault in refusal.faults:
            if "up_to" in fault.message:
                told.faults.append(_rating_fault(group, answers, _RATING_ENDS))
            else:
                told.faults.append(group.fault_on(fault.path or "meter", fault.message))
        return None


def _proofs(told: Told, units: Units | None) -> Iterator[MeterCheck]:
    """Yield the proofs made before and after the readings."""
    velocity = units.velocity if units is not None else ""
    for when in get_args(ProofTime):
        for seconds, at in told.figures(f"spin_{when}", "s", "seconds such as 62", least=0):
            yield MeterCheck("spin", when, seconds=seconds, at=at)
        wanted = f"a velocity in {velocity}"
        for value, at in told.figures(f"zero_{when}", velocity, wanted):
            yield MeterCheck("zero", when, value=value, at=at)


def _papers(told: Told, units: Units | None, answers: Answers) -> dict[str, Any]:
    """Return what the papers of the meter say: its rotor, its limits, its calibration."""
    velocity, depth = ("", "") if units is None else (units.velocity, units.depth or units.length)
    limits = {
        "slowest": told.figures("slowest", velocity, f"a velocity in {velocity}", least=0),
        "shallowest": told.figures("shallowest", depth, f"a depth in {depth}", least=0),
    }
    style = DateStyle(answers.date_order, answers.century)
    return {
        "rotor": told.word("rotor", {size: size for size in get_args(RotorSize)}, "small or large"),
        **{name: found[0][0] if found else None for name, found in limits.items()},
        "calibrated": told.day("calibrated", style),
        "calibration_due": told.day("calibration_due", style),
    }


def _rating(told: Told, ratings: Sequence[str], answers: Answers) -> tuple[RatingPart, ...]:
    """Return the parts of the rating; a fault for each that is none."""
    written = answers.rating or tuple(part for line in ratings for part in line.split(";"))
    parts = [_rating_part(text) for text in written]
    told.faults.extend(
        _rating_fault(
            told.group,
            answers,
            f'found the rating {show(text, 80)}; "V = 0.51 N + 0.03" or "0.51,0.03" would be '
            "right, with a third number for the rev/s up to which it holds",
        )
        for text, part in zip(written, parts, strict=True)
        if part is None
    )
    return tuple(part for part in parts if part is not None)


def _rating_fault(group: Group, answers: Answers, message: str) -> Fault:
    """Return a fault in a rating: in the option, or on the line that gives it."""
    if answers.rating:
        return Fault(f"--rating: {message}")
    return group.fault_on("rating", message)


_RATING_ENDS = (
    "of two parts of a rating the first must say up to which rev/s it holds, and the second reach "
    'further: "0.25,0.012,1.5" and "0.26,0.003" would be right'
)

_RATING = re.compile(
    r"(?:v\s*=\s*)?(?P<slope>[\d.]+)\s*\*?\s*[nr](?:ps)?\s*(?P<intercept>[+-]\s*[\d.]+)"
    r"(?:\s*\(?\s*(?:up to|to|[nr]?\s*(?:<=?|≤))\s*(?P<up_to>[\d.]+)\s*\)?)?",
    re.IGNORECASE,
)


def _rating_part(text: str) -> RatingPart | None:
    """Return the straight part of a rating that a text describes, or None."""
    equation = _RATING.fullmatch(text.strip())
    if equation is not None:
        numbers = [equation["slope"], equation["intercept"].replace(" ", ""), equation["up_to"]]
    else:
        numbers = re.split(r"[,\s]+", text.strip())
    try:
        values = [float(number) for number in numbers if number is not None]
        return RatingPart(*values) if 2 <= len(values) <= 3 else None
    except (ValueError, InputRefused):
        return None
