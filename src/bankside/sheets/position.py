"""Where a gauging was made: site, stream, and a position where the sheet tells one."""

from __future__ import annotations

import re
from collections.abc import Iterator

import attrs

from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.records import Position, Site
from bankside.sheets.group import Group
from bankside.sheets.sheet_row import first_of
from bankside.sheets.values import as_label, figure_of

__all__ = ["Place", "place_of"]

_COORDINATES = ("latitude", "longitude")
_DEGREES = re.compile(r"(?P<figure>[+-]?\d+([.,]\d+)?)\s*(°\s*)?(?P<side>[NSEW])?", re.ASCII | re.I)


@attrs.frozen
class Place:
    """The site of a gauging, what of its position was not understood, and faults."""

    site: Site
    remarks: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    faults: tuple[Fault, ...] = ()


def place_of(group: Group) -> Place:
    """Return where a gauging was made.

    A latitude alone, or one that is not in decimal degrees, is kept as a remark.
    """
    preface = group.preface
    bare = Site(group.site, group.stream)
    told = {key: as_label(preface.first(key)) for key in (*_COORDINATES, "accuracy", "label")}
    read = {key: _degrees(told[key]) for key in _COORDINATES}
    for key in read:
        on_rows = first_of(group.rows, key)
        read[key] = on_rows if on_rows is not None else read[key]
    latitude, longitude = read["latitude"], read["longitude"]
    if latitude is None or longitude is None:
        shown = {**told, **{k: told[k] or f"{v:g}" for k, v in read.items() if v is not None}}
        remarks = tuple(f"{key}: {text}" for key, text in shown.items() if text)
        return Place(bare, remarks, tuple(_not_understood(told, read)))
    faults = tuple(_out_of_range(group, latitude, longitude))
    if faults:
        return Place(bare, faults=faults)
    accuracy = figure_of(told["accuracy"] or "")
    try:
        position = Position(longitude, latitude, accuracy, told["label"])
    except InputRefused as refusal:
        return Place(
            bare, faults=tuple(group.fault_on("accuracy", f.message) for f in refusal.faults)
        )
    untold = told["accuracy"] is not None and accuracy is None
    remarks = (f"accuracy: {told['accuracy']}",) if untold else ()
    notes = tuple(
        f'The accuracy "{told["accuracy"]}" is kept as a remark, as it was not understood: a '
        "length in m such as 3 would be right."
        for _ in remarks
    )
    return Place(Site(group.site, group.stream, position), remarks, notes)


def _not_understood(told: dict[str, str | None], read: dict[str, float | None]) -> Iterator[str]:
    """Yield why there is no position although the sheet tells of one."""
    for key, value in read.items():
        if value is None and told[key]:
            yield (
                f'The {key} "{told[key]}" is not in decimal degrees: it is kept as a remark, and '
                "the site has no position."
            )
    if not any(told[key] for key in read):
        for key in ("accuracy", "label"):
            if told[key]:
                yield f'The {key} "{told[key]}" is kept as a remark, as no position goes with it.'
    lone = [key for key, value in read.items() if value is not None]
    if len(lone) == 1 and not any(told[key] for key in read if key not in lone):
        yield f"There is a {lone[0]} alone: it is kept as a remark, and the site has no position."


def _degrees(text: str | None) -> float | None:
    """Return decimal degrees, negative for S and W; None for anything else."""
    found = _DEGREES.fullmatch((text or "").strip())
    if found is None:
        return None
    degrees = float(found["figure"].replace(",", "."))
    return -degrees if (found["side"] or "").upper() in ("S", "W") else degrees


def _out_of_range(group: Group, latitude: float, longitude: float) -> list[Fault]:
    """Return a fault for each coordinate that lies nowhere, where it is written."""
    faults = []
    for key, value, most in (("latitude", latitude, 90), ("longitude", longitude, 180)):
        if abs(value) <= most:
            continue
        message = f"found {value:g}; a {key} from -{most} to {most} degrees would be right"
        row = next((r for r in group.rows if getattr(r, key) is not None), None)
        faults.append(group.fault_on(key, message) if row is None else row.fault(message, key))
    return faults
