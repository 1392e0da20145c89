"""What each column of a table holds: by the words over it, by its values, or by an answer.

Where a column cannot be decided, the candidates are listed and asked about.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

import attrs

from bankside.gauging.faults import Fault
from bankside.sheets.answers import Answers
from bankside.sheets.column import Column
from bankside.sheets.files.grid import Grid, cell, column_letter
from bankside.sheets.head_meaning import Head
from bankside.sheets.heads import normal_text, read_heads
from bankside.sheets.missing_columns import missing_columns
from bankside.sheets.values import is_empty, looks_numeric, show

__all__ = ["decide_columns"]


_SHARED_ROLES = frozenset({"mean_velocity", "width", "remark", "ignore", "number", "share"})


_FILED_ROLES = frozenset({"width", "area", "discharge", "total"})


def decide_columns(
    grid: Grid, heads: tuple[int, ...], body: tuple[int, ...], answers: Answers
) -> tuple[tuple[Column, ...], list[Fault]]:
    """Decide every column of one table, those not used among them; return questions as well."""
    read = read_heads(grid, heads)
    width = max((len(grid.rows[i]) for i in (*heads, *body)), default=0)
    named, faults = _named_columns(grid, heads, read, width, answers)
    columns: dict[int, Column] = dict(named)
    given = {(c.role, c.fraction) for c in named.values()}
    for index, head in sorted(read.items()):
        if index in columns or not head.roles:
            continue
        role = _role_by_values(grid, body, index, head)
        if role is not None and (role, head.fraction) not in given:
            columns[index] = Column(index, role, head.text, head.fraction, head.unit)
    columns = _without_numbers(grid, body, columns, named)
    columns = _with_points(columns, read)
    columns = _with_means_apart(columns, read, named)
    faults.extend(_ambiguities(grid, heads, columns))
    faults.extend(_doubtful_angles(grid, heads, body, columns, named))
    faults.extend(missing_columns(grid, heads, body, columns, read, width))
    unused = [Column(i, "unused", h.text) for i, h in sorted(read.items()) if i not in columns]
    kept = [c for c in columns.values() if c.role != "ignore"]
    everything = sorted([*kept, *unused], key=lambda column: column.index)
    return tuple(c for c in everything if c.role != "unused" or c.head), faults


def _without_numbers(
    grid: Grid, body: tuple[int, ...], columns: dict[int, Column], named: dict[int, Column]
) -> dict[int, Column]:
    """Set aside columns that only number the rows: 1, 2, 3 … under "Station" or "Point".

    A column of tape positions is taken for such only beside another one that has a unit.
    """
    tapes = [c for c in columns.values() if c.role == "tape"]
    measured = any(c.unit is not None for c in tapes)
    return {
        i: attrs.evolve(c, role="number")
        if i not in named
        and c.unit is None
        and (c.role == "fraction" or (c.role == "tape" and measured and len(tapes) > 1))
        and _numbers_rows(grid, body, i)
        else c
        for i, c in columns.items()
    }


def _numbers_rows(grid: Grid, body: tuple[int, ...], index: int) -> bool:
    """Return whether a column counts 0 or 1, 2, 3 … down its rows, starting anew at will."""
    values = [v for v in (cell(grid, row, index) for row in body) if looks_numeric(v)]
    numbers = [float(str(v).replace(",", ".")) for v in values]
    if len(numbers) < 3 or max(numbers) < 3:
        return False
    return all(
        here.is_integer() and (here == before + 1 or here in (0.0, 1.0))
        for before, here in pairwise([numbers[0] - 1, *numbers])
    )


def _with_points(columns: dict[int, Column], read: dict[int, Head]) -> dict[int, Column]:
    """Take heads such as "0.2 D" for velocities where no column names the velocity plainly."""
    if any(c.role in ("velocity", "counts") for c in columns.values()):
        return {i: c for i, c in columns.items() if c.role != "point"}
    return {
        i: attrs.evolve(c, role="velocity") if c.role == "point" else c for i, c in columns.items()
    }


def _named_columns(
    grid: Grid, heads: tuple[int, ...], read: dict[int, Head], width: int, answers: Answers
) -> tuple[dict[int, Column], list[Fault]]:
    """Return the columns that answers name, and a fault for each name that is not found."""
    columns: dict[int, Column] = {}
    faults: list[Fault] = []
    for name, wanted_heads in answers.columns.items():
        role, _, fraction = name.partition("@")
        for wanted in wanted_heads:
            matches = [i for i, h in read.items() if normal_text(h.text) == normal_text(wanted)]
            letters = [i for i in range(width) if column_letter(i) == wanted.upper()]
            chosen = matches or letters
            if len(chosen) != 1:
                there = ", ".join(show(h.text, 80) for h in read.values()) or "no heads"
                what = "stands over more than one column" if chosen else "is not on the sheet"
                faults.append(
                    _fault(
                        grid,
                        heads[0] if heads else None,
                        f'--column {name}="{wanted}": that head {what}; there are {there}; '
                        "a column can also be named by its letter",
                    )
                )
                continue
            head = read.get(chosen[0], Head(""))
            point = float(fraction) if fraction else None
            columns[chosen[0]] = Column(chosen[0], role, head.text, point, head.unit)
    return columns, faults


def _role_by_values(grid: Grid, body: tuple[int, ...], index: int, head: Head) -> str | None:
    """Return the head's role, decided by the column's values where the words allow two."""
    if len(head.roles) < 2:
        return head.roles[0]
    values = [v for v in (cell(grid, row, index) for row in body) if not is_empty(v)]
    numeric = 2 * sum(1 for v in values if looks_numeric(v)) > len(values)
    if head.roles == ("clock", "seconds"):
        numbers = [float(str(v).replace(",", ".")) for v in values if looks_numeric(v)]
        seconds = numeric and all(n >= 1 for n in numbers) and not all(map(_is_clock, numbers))
        return "seconds" if seconds else "clock"
    return head.roles[0] if numeric or not values else head.roles[1]


def _is_clock(number: float) -> bool:
    """Return whether a number reads as a time of day without its colon, from 0600 on.

    As seconds it would be ten minutes of exposure and more, which nobody counts (common practice,
    no source).
    """
    return 600 <= number < 2400 and number.is_integer() and number % 100 < 60


def _with_means_apart(
    columns: dict[int, Column], read: dict[int, Head], named: dict[int, Column]
) -> dict[int, Column]:
    """Tell a "mean velocity" column from the columns of points that it was made from.

    A velocity column that an answer names is the reading, whatever its head says.
    """
    plain = [c for c in columns.values() if c.role == "velocity" and c.fraction is None]
    points = [c for c in columns.values() if c.role == "velocity" and c.fraction is not None]
    chosen = [c for c in plain if c.index in named]
    if chosen and points:
        dropped = {c.index for c in points if c.index not in named}
        return {i: c for i, c in columns.items() if i not in dropped}
    means = {c.index for c in plain if c.index in read and read[c.index].mean} - set(named)
    counted = any(c.role == "counts" for c in columns.values())
    if not points and not counted and len(plain) <= len(means):
        return columns
    return {
        i: attrs.evolve(c, role="mean_velocity") if i in means else c for i, c in columns.items()
    }


def _doubtful_angles(
    grid: Grid,
    heads: tuple[int, ...],
    body: tuple[int, ...],
    columns: dict[int, Column],
    named: dict[int, Column],
) -> Iterator[Fault]:
    """Yield a question where a column of angles may hold their cosines instead."""
    for index, column in columns.items():
        if column.role != "angle" or index in named or column.unit is not None:
            continue
        values = [v for v in (cell(grid, row, index) for row in body) if looks_numeric(v)]
        numbers = [float(str(v).replace(",", ".")) for v in values]
        if any(numbers) and all(0.0 <= number <= 1.0 for number in numbers):
            letter = column_letter(index)
            yield _fault(
                grid,
                heads[0] if heads else None,
                f"column {column.name} may hold angles in degrees or their coefficients (all are "
                f"between 0 and 1); say --column angle={letter} or --column "
                f"angle_coefficient={letter}",
            )


def _ambiguities(grid: Grid, heads: tuple[int, ...], columns: dict[int, Column]) -> Iterator[Fault]:
    """Yield a question for every reading that more than one column could hold."""
    by_role: dict[tuple[str, float | None], list[Column]] = {}
    for column in columns.values():
        if column.role not in _SHARED_ROLES and column.role not in _FILED_ROLES:
            by_role.setdefault((column.role, column.fraction), []).append(column)
    doubles = {key: found for key, found in by_role.items() if len(found) > 1}
    side_by_side = {"tape", "depth"} <= {role for role, _ in doubles}
    for (role, fraction), found in doubles.items():
        name = role if fraction is None else f"{role}@{fraction:g}"
        listed = " and ".join(c.name for c in found)
        beside = (
            "; two tables stand side by side, and one under the other would be right"
            if side_by_side
            else ""
        )
        letters = [column_letter(c.index) for c in found]
        yield _fault(
            grid,
            heads[0] if heads else None,
            f"columns {listed} could both be the {role}{beside}; say which: "
            + " or ".join(f"--column {name}={letter}" for letter in letters),
        )


def _fault(grid: Grid, row: int | None, message: str) -> Fault:
    number = None if row is None else grid.row_numbers[row]
    return Fault(message, file=grid.file, sheet=grid.sheet, row=number)
