"""From the rows at one tape position to the vertical of a record, or to a question."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

import attrs

from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.records import PointReading, Vertical
from bankside.sheets.answers import Answers
from bankside.sheets.header import first_of
from bankside.sheets.row import SheetRow

__all__ = ["Read", "empty_ends", "vertical_of"]


@attrs.frozen
class Read:
    """What rows at one tape position came to: a vertical, nothing, or faults; and notes."""

    vertical: Vertical | None
    notes: tuple[str, ...] = ()
    faults: tuple[Fault, ...] = ()


def vertical_of(rows: Sequence[SheetRow], at_end: bool, answers: Answers) -> Read:
    """Return the vertical that one or more rows describe; None without any reading on them.

    at_end: whether it is the first or the last of its channel, where an edge of water belongs.
    """
    first = rows[0]
    depth = first_of(rows, "depth")
    points = [point for row in rows for point in row.points]
    edge = first_of(rows, "edge")
    notes = []
    if _empty(rows):
        if not at_end and edge is None:
            return Read(None)
        if answers.empty_edge == "sloping":
            depth = 0.0
            notes.append(
                f"The depth at tape {first.tape:g} is empty; it is taken as a sloping edge of "
                "water, as said by --empty-edge."
            )
    faults = tuple(_faults(rows, depth))
    if faults:
        return Read(None, (), faults)
    zero = bool(depth) and not points and answers.empty_velocity == "zero"
    if zero:
        notes.append(
            f"The velocity at tape {first.tape:g} is empty; it counts as zero, as said by "
            "--empty-velocity."
        )
    try:
        readings = tuple(PointReading(p.value, p.fraction, p.seconds, p.counts) for p in points)
        readings = (PointReading(0.0),) if zero else readings
        vertical = _vertical(rows, depth, readings, edge if at_end else None)
    except InputRefused as refusal:
        return Read(None, (), tuple(first.fault(f.message, _role_of(f)) for f in refusal.faults))
    return Read(vertical, tuple(notes))


def empty_ends(verticals: Sequence[Sequence[SheetRow]]) -> set[int]:
    """Return the places beyond an edge of water at which nothing was read.

    Forms printed with tape positions have them. Where the last reading before them is not an edge
    (depth 0), one of them may be it, and they are left to be asked about.
    """
    found: set[int] = set()
    for order in (range(len(verticals)), range(len(verticals) - 1, -1, -1)):
        empty: list[int] = []
        for place in order:
            rows = verticals[place]
            if not _empty(rows) or first_of(rows, "edge") is not None:
                if first_of(rows, "depth") == 0:
                    found.update(empty)
                break
            empty.append(place)
    return found


def _role_of(fault: Fault) -> str | None:
    """Return the column in which the part of a record stands to which a fault points."""
    found = re.match(r"[a-z_]+", fault.path or "")
    return None if found is None else found[0]


def _empty(rows: Sequence[SheetRow]) -> bool:
    return not any(row.depth is not None or row.points or row.dry for row in rows)


def _faults(rows: Sequence[SheetRow], depth: float | None) -> Iterator[Fault]:
    """Yield what keeps rows from being a vertical."""
    first = rows[0]
    if _empty(rows) and depth is None:
        yield first.fault(
            "found no depth at the end of the section; a depth (0 at a sloping edge of water) "
            "would be right, or say --empty-edge sloping",
            "depth",
        )
    elif depth is None and not first.dry:
        yield first.fault(
            "found a velocity without a depth; the depth of this vertical would be right", "depth"
        )
    if first_of(rows, "wall_factor") is not None and first_of(rows, "edge") in (None, "unnamed"):
        yield first.fault(
            "found a wall factor where no edge is named; left or right in a bank column beside it "
            "would be right",
            "wall_factor",
        )
    for row in rows:
        if any(point.counts is not None and point.seconds is None for point in row.points):
            yield row.fault(
                "found a number of revolutions without its time; seconds beside it would be right",
                "counts",
            )


def _vertical(
    rows: Sequence[SheetRow],
    depth: float | None,
    readings: tuple[PointReading, ...],
    edge: str | None,
) -> Vertical:
    """Return the record; InputRefused where its parts contradict one another."""
    first = rows[0]
    assert first.tape is not None
    side = edge if edge in ("left", "right") else None
    bank = first_of(rows, "bank") or ("sloping" if depth == 0 else None)
    remarks = [
        text
        for row in rows
        for text in (
            row.remark,
            row.at and f"read at {row.at:%H:%M}",
            "edge of water" if row.edge and not side else None,
        )
        if text
    ]
    return Vertical(
        first.tape,
        depth,
        readings,
        dry=first.dry,
        edge=side,  # type: ignore[arg-type]
        bank=bank if side else None,  # type: ignore[arg-type]
        wall_factor=first_of(rows, "wall_factor") if side else None,
        angle=first_of(rows, "angle"),
        angle_coefficient=first_of(rows, "angle_coefficient"),
        remark="; ".join(remarks) or None,
    )
