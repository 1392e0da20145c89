"""From the rows at one tape position to the vertical of a record, or to a question."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from datetime import datetime, time

import attrs

from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.mean_velocity import mean_velocity
from bankside.gauging.records import Edge as Side
from bankside.gauging.records import PointReading, RatingPart, Vertical
from bankside.sheets.answers import Answers
from bankside.sheets.sheet_row import Point, SheetRow, first_of

__all__ = ["Read", "empty_ends", "vertical_of"]


@attrs.frozen
class Read:
    """What rows at one tape position came to: a vertical, nothing, or faults; and notes."""

    vertical: Vertical | None
    notes: tuple[str, ...] = ()
    faults: tuple[Fault, ...] = ()


_CLOSE = 0.01
_LAST_DIGIT = 0.0051
"""The sheet's mean agrees with its points within 1 %, or within rounding to two decimals."""


def vertical_of(
    rows: Sequence[SheetRow],
    at_end: bool,
    bank_there: Side | None,
    rating: tuple[RatingPart, ...],
    answers: Answers,
) -> Read:
    """Return the vertical that one or more rows describe; None without any reading on them.

    at_end: whether it is the first or the last of its channel, where an edge of water belongs;
    bank_there: the bank at that end as an answer gives it; rating: the meter's, for counts.
    """
    first = rows[0]
    depth = first_of(rows, "depth")
    points, mean_note = _points_of(rows)
    edge = first_of(rows, "edge")
    notes = [mean_note] if mean_note else []
    if _empty(rows):
        if not at_end and edge is None:
            return Read(None)
        if answers.empty_edge == "sloping":
            depth = 0.0
            notes.append(
                f"The depth at tape {first.tape:g} is empty; it is taken as a sloping edge of "
                "water, as said by --empty-edge."
            )
    faults = (*_faults(rows, depth, at_end), *_unnamed_bank(rows, depth, at_end, bank_there))
    if faults:
        return Read(None, (), faults)
    zero = bool(depth) and not points and not at_end and answers.empty_velocity == "zero"
    if zero:
        notes.append(
            f"The velocity at tape {first.tape:g} is empty; it counts as zero, as said by "
            "--empty-velocity."
        )
    try:
        readings = tuple(
            PointReading(p.value, p.fraction, p.seconds, p.counts, p.rod_setting) for p in points
        )
        readings = (PointReading(0.0),) if zero else readings
        side = _side(edge, depth, bank_there) if at_end else None
        vertical = _vertical(rows, depth, readings, side)
    except InputRefused as refusal:
        return Read(None, (), tuple(first.fault(f.message, _role_of(f)) for f in refusal.faults))
    return Read(vertical, (*notes, *_against_mean(rows, vertical, rating)))


def _points_of(rows: Sequence[SheetRow]) -> tuple[list[Point], str | None]:
    """Return the velocities of a vertical, the sheet's own mean where nothing else is there.

    A lone velocity that the sheet repeats as the mean of the vertical is that mean, in whatever
    column of points it stands; this is told in a note.
    """
    points = [point for row in rows for point in row.points]
    mean = first_of(rows, "mean")
    if mean is None:
        return points, None
    if not points:
        angled = first_of(rows, "angle") or first_of(rows, "angle_coefficient") is not None
        note = (
            f"The sheet's mean velocity at tape {rows[0].tape:g} is taken as before the angle: the "
            "angle is taken off it."
        )
        return [Point(mean)], note if angled else None
    lone = points[0]
    if len(points) == 1 and lone.fraction is not None and lone.value == mean:
        return [attrs.evolve(lone, fraction=None)], (
            f"The only velocity at tape {rows[0].tape:g} stands under {lone.fraction:g} of the "
            "depth, and the sheet repeats it as the mean: it is taken as the mean of the vertical."
        )
    return points, None


def _against_mean(
    rows: Sequence[SheetRow], vertical: Vertical, rating: tuple[RatingPart, ...]
) -> Iterator[str]:
    """Yield a note where the sheet's own mean velocity is not what its readings give."""
    mean = first_of(rows, "mean")
    if mean is None or not any(row.points for row in rows):
        return
    square = attrs.evolve(vertical, angle=None, angle_coefficient=None)
    try:
        used, as_read = (mean_velocity(v, rating, 1.0).value_ms for v in (vertical, square))
    except InputRefused:
        return
    if all(abs(ours - mean) > max(_CLOSE * abs(ours), _LAST_DIGIT) for ours in (used, as_read)):
        yield (
            f"The sheet's own mean velocity at tape {rows[0].tape:g} is {mean:g}; its readings "
            f"give {used:.4g}, which is used."
        )


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


def _side(edge: str | None, depth: float | None, bank_there: Side | None) -> Side | None:
    """Return the edge of water at an end: as the sheet names it, else by the answer."""
    if edge == "left":
        return "left"
    if edge == "right":
        return "right"
    return bank_there if edge == "unnamed" or depth == 0 else None


def _role_of(fault: Fault) -> str | None:
    """Return the column in which the part of a record stands to which a fault points."""
    found = re.match(r"[a-z_]+", fault.path or "")
    return None if found is None else found[0]


def _unnamed_bank(
    rows: Sequence[SheetRow], depth: float | None, at_end: bool, bank_there: Side | None
) -> Iterator[Fault]:
    """Yield a question where an edge with water at it does not say which bank it is."""
    if at_end and depth and first_of(rows, "edge") == "unnamed" and bank_there is None:
        yield rows[0].fault(
            "found an edge of water with a depth and without its bank; left or right beside it "
            "would be right, or say --first-bank left or right for the bank of the first row",
            "edge",
        )


def _empty(rows: Sequence[SheetRow]) -> bool:
    return not any(
        row.depth is not None or row.points or row.mean is not None or row.dry for row in rows
    )


def _faults(rows: Sequence[SheetRow], depth: float | None, at_end: bool) -> Iterator[Fault]:
    """Yield what keeps rows from being a vertical."""
    first = rows[0]
    edge = first_of(rows, "edge")
    if not at_end and edge in ("left", "right"):
        yield first.fault(
            f"found the {edge} edge of water between other verticals; an edge at the end of the "
            "section would be right, or two edges side by side where an island parts two channels",
            "edge",
        )
    for name in ("angle", "angle_coefficient"):
        told = [(row, getattr(row, name)) for row in rows if getattr(row, name) is not None]
        for row, angle in told[1:]:
            if angle != told[0][1]:
                yield row.fault(
                    f"found the {name.replace('_', ' ')} {angle:g} where row "
                    f"{told[0][0].number} of the same vertical has {told[0][1]:g}; one for a "
                    "vertical would be right, or velocities with the angle taken off, point by "
                    "point",
                    name,
                )
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
            "found a wall factor where no bank is named; left or right in a bank column beside it "
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
    side: Side | None,
) -> Vertical:
    """Return the record; InputRefused where its parts contradict one another."""
    first = rows[0]
    assert first.tape is not None
    bank = first_of(rows, "bank") or ("sloping" if depth == 0 else None)
    moments = (row.at for row in rows if isinstance(row.at, datetime))
    at = next((moment for moment in moments if moment.tzinfo is not None), None)
    remarks = [
        text
        for row in rows
        for text in (
            row.remark,
            _time_remark(row.at, at),
            "edge of water" if row.edge and not side else None,
        )
        if text
    ]
    return Vertical(
        first.tape,
        depth,
        readings,
        dry=first.dry,
        edge=side,
        bank=bank if side else None,  # type: ignore[arg-type]
        wall_factor=first_of(rows, "wall_factor") if side else None,
        angle=first_of(rows, "angle"),
        angle_coefficient=first_of(rows, "angle_coefficient"),
        at=at,
        remark="; ".join(remarks) or None,
    )


def _time_remark(told: time | datetime | None, at: datetime | None) -> str | None:
    """Return what a row tells of the time beyond the moment of its vertical, as a remark.

    A time of day without its day and its offset from UTC is no moment.
    """
    if told is None or told == at:
        return None
    full = isinstance(told, datetime) or told.second
    return f"read at {told.isoformat(timespec='auto' if full else 'minutes')}"
