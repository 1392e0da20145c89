"""Questions for the readings that no column of a table was found for."""

from __future__ import annotations

from collections.abc import Iterator

from bankside.gauging.faults import Fault
from bankside.sheets.column import Column
from bankside.sheets.files.grid import Grid, cell, column_letter
from bankside.sheets.head_meaning import Head
from bankside.sheets.values import is_empty, looks_numeric, show

__all__ = ["missing_columns"]

_UNITS = (("tape", "m", "length"), ("depth", "m", "length"), ("velocity", "m/s", "velocity"))


def missing_columns(
    grid: Grid,
    heads: tuple[int, ...],
    body: tuple[int, ...],
    columns: dict[int, Column],
    read: dict[int, Head],
    width: int,
) -> Iterator[Fault]:
    """Yield a question for each of tape, depth and velocity that no column was found for."""
    roles = {c.role for c in columns.values()}
    candidates = []
    for index in range(width):
        values = [v for v in (cell(grid, row, index) for row in body) if not is_empty(v)]
        if index not in columns and values and 2 * sum(map(looks_numeric, values)) > len(values):
            head = read[index].text if index in read else ""
            letter = column_letter(index)
            candidates.append(f"{letter} {show(head, 80)}" if head else letter)
    if candidates and not _with_numbers(grid, body, columns, ("counts",)):
        roles.discard("counts")  # no revolutions: the velocities stand in a column left over
    units = _unit_options(columns, read)
    for role in ("tape", "depth", "velocity"):
        if role in roles or (role == "velocity" and "counts" in roles):
            continue
        what = {"tape": "tape positions", "depth": "depths", "velocity": "velocities"}[role]
        hint = f"candidates: {', '.join(candidates)}" if candidates else "no column is left over"
        taken = _with_numbers(grid, body, columns, ("area", "discharge", "total", "number"))
        if not candidates and taken:
            hint += "".join(
                f"; column {c.name} was taken as the {c.role}, and if it holds the {what}, "
                f"--column {role}={column_letter(c.index)} would be right"
                for c in taken
            )
        if role == "tape" and "width" in roles:
            hint += "; a width column is there, but widths are never used to compute"
        misfits = [
            f"{column_letter(i)} {show(h.text, 80)}" for i, h in read.items() if h.misfit == role
        ]
        if misfits:
            right = "velocity such as m/s" if role == "velocity" else "length such as m"
            hint = f"{', '.join(misfits)} is named so, but a unit of {right} would be right"
        option = f'--column {role}="…"'
        if role == "velocity" and any(h.fraction is not None for h in read.values()):
            option += ", or --column velocity@0.2=… for points of the depth"
        yield _fault(
            grid,
            heads[0] if heads else None,
            f"no column was recognised as the {what}; {hint}; say which with {option}{units}",
        )
        units = ""  # asked for once


def _with_numbers(
    grid: Grid, body: tuple[int, ...], columns: dict[int, Column], roles: tuple[str, ...]
) -> list[Column]:
    """Return the columns of some roles that hold numbers."""
    return [
        column
        for index, column in sorted(columns.items())
        if column.role in roles and any(looks_numeric(cell(grid, row, index)) for row in body)
    ]


def _unit_options(columns: dict[int, Column], read: dict[int, Head]) -> str:
    """Return the options for the units that no head gives: they would be the next question."""
    roles = {c.role for c in columns.values()}
    known = {c.role for c in columns.values() if c.unit is not None}
    spare = {h.unit.kind for i, h in read.items() if i not in columns and h.unit is not None}
    wanted = [
        f"--unit {role}={unit}"
        for role, unit, kind in _UNITS
        if role not in known
        and not {f"{role}_unit", f"{kind}_unit"} & roles
        and (role in roles or kind not in spare)
    ]
    shown = " ".join(wanted)
    ask = f", and where neither a head nor a line gives the unit {shown} (or ft, ft/s)"
    return ask if wanted else ""


def _fault(grid: Grid, row: int | None, message: str) -> Fault:
    number = None if row is None else grid.row_numbers[row]
    return Fault(message, file=grid.file, sheet=grid.sheet, row=number)
