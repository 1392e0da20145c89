"""The header of a gauging from what was said: site, units, meter, crew, stage, answers."""

from collections.abc import Sequence
from typing import Any

import attrs

from bankside.gauging.checked import Checked
from bankside.gauging.journal.fold import Folded
from bankside.gauging.journal.heard import Heard, record_of
from bankside.gauging.journal.making import EntryFault, Part, made
from bankside.gauging.journal.readers import Members
from bankside.gauging.records import (
    Answer,
    Correction,
    CrewMember,
    Meter,
    MeterCheck,
    Position,
    RatingPart,
    Site,
    StageReading,
    Units,
)

__all__ = ["header"]

_PLAIN = (
    "rule_set",
    "no_gauge",
    "whole_flow",
    "repeats",
    "cleared",
    "moved",
    "started",
    "ended",
    "quality",
    "remarks",
)


def header(
    folded: Folded, heard: Heard, faults: list[EntryFault]
) -> dict[str, Part | Sequence[Part]]:
    """Return the fields of a gauging but for its channels, as far as something stands for them."""
    several = {
        "crew": _several(heard, "crew/<k>", CrewMember, faults),
        "stage": _several(heard, "stage/<k>", StageReading, faults),
        "corrections": _several(heard, "corrections/<k>", Correction, faults),
        "answers": _several(heard, "answers/<k>", Answer, faults),
    }
    parts: dict[str, Part | Sequence[Part]] = dict(heard.fields("", *_PLAIN))
    parts |= {name: found for name, found in several.items() if found}
    for name, part in (
        ("units", _made(Units, heard.fields("units/", "length", "velocity", "depth"), faults)),
        ("site", _site(heard, faults)),
        ("meter", _meter(heard, faults)),
        ("date", _date(folded, heard)),
    ):
        if part is not None:
            parts[name] = part
    return parts


def _made(record: type[Checked], parts: Any, faults: list[EntryFault]) -> Part | None:
    """Return a record whose fields were said one by one, None where nothing was."""
    built, kept = made(record, parts, faults)
    if built is None or not kept:
        return None
    first = next(iter(kept.values()))
    return Part(built, first.said if isinstance(first, Part) else first[0].said)


def _several(
    heard: Heard, pattern: str, record: type[Checked], faults: list[EntryFault]
) -> list[Part]:
    """Return the records that were said under one pattern, in the order first said."""
    found = []
    for part in heard.of(pattern).values():
        entry = part.said.entry
        first = part.said.history[0]
        others: dict[str, object] = {}
        if record is Answer and not heard.is_copied(entry):
            others = {"by": entry.by, "at": entry.moment}
        elif record is MeterCheck and not heard.is_copied(first):
            # A figure that was corrected later was still read when it was first said.
            others = {"at": first.moment}
        found.append(record_of(record, part, faults, **others))
    return [part for part in found if part is not None]


def _site(heard: Heard, faults: list[EntryFault]) -> Part | None:
    parts = heard.fields("site/", "name", "stream", "id")
    where, label = heard.one("site/position"), heard.one("site/label")
    if where is not None:
        members: Members = where.value
        values = {name: value for name, value in members.values.items() if name != "fixes"}
        where = attrs.evolve(where, value=attrs.evolve(members, values=values))
        position = record_of(Position, where, faults, label=None if label is None else label.value)
        if position is not None:
            parts["position"] = position
    return _made(Site, parts, faults)


def _meter(heard: Heard, faults: list[EntryFault]) -> Part | None:
    plain = ("kind", "serial", "rotor", "slowest", "shallowest", "calibrated", "calibration_due")
    parts: dict[str, Part | Sequence[Part]] = dict(heard.fields("meter/", *plain))
    checks = _several(heard, "meter/checks/<k>", MeterCheck, faults)
    if checks:
        parts["checks"] = checks
    rating = heard.one("meter/rating")
    if rating is not None:
        # A rating with a part missing would give other velocities: it is taken whole or not at all.
        lines = [
            record_of(RatingPart, Part(members, rating.said), faults) for members in rating.value
        ]
        if all(line is not None for line in lines):
            whole = tuple(line.value for line in lines if line is not None)
            parts["rating"] = Part(whole, rating.said)
    return _made(Meter, parts, faults)


def _date(folded: Folded, heard: Heard) -> Part | None:
    """Return the date that was said; where nothing was said of it, the day of the start."""
    if "date" in folded:
        return heard.one("date")
    started = heard.one("started")
    return None if started is None else Part(started.value.date(), started.said)
