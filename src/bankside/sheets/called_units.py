"""The units in which a gauging was called: from heads, unit columns, lines, or answers."""

from __future__ import annotations

from bankside.gauging.faults import Fault
from bankside.gauging.records import (
    Units,
)
from bankside.sheets.answers import UNIT_CHOICES, Answers
from bankside.sheets.group import Group
from bankside.sheets.sheet_row import SheetRow

__all__ = ["units_of"]


def units_of(group: Group, answers: Answers) -> tuple[Units | None, list[Fault]]:
    """Return the units of a gauging, from heads, unit columns, lines around, or answers."""
    faults: list[Fault] = []
    found: dict[str, str] = {}
    for role in ("tape", "depth", "velocity"):
        sources = _unit_sources(group, role, answers)
        names = {name for names in sources.values() for name in names}
        if len(names) == 1:
            found[role] = names.pop()
        elif not names:
            faults.append(_unit_question(group, role))
        else:
            listed = "; ".join(f"{where}: {', '.join(sorted(n))}" for where, n in sources.items())
            faults.append(
                _row_of_change(group, role).fault(
                    f"found more than one unit for the {role} ({listed}); one unit would be right; "
                    f"to overrule the sheet name the column as well: --column {role}=… --unit "
                    f"{role}=…",
                    role,
                )
            )
    faults += [] if "depth" not in found else _rod_faults(group, found["depth"])
    if faults:
        return None, faults
    depth = found["depth"] if found["depth"] != found["tape"] else None
    return Units(found["tape"], found["velocity"], depth), []  # type: ignore[arg-type]


def _rod_faults(group: Group, depth: str) -> list[Fault]:
    """Return a fault for a column of rod settings in another unit than the depths."""
    return [
        Fault(
            f"found rod settings in {column.unit.name} beside depths in {depth}; one unit for both "
            "would be right, or say --column ignore=… for the rod settings",
            table.grid.file,
            table.grid.sheet,
            table.grid.row_numbers[table.heads[0]] if table.heads else None,
            column.name,
        )
        for table in group.tables
        for column in table.with_role("rod_setting")
        if column.unit is not None and column.unit.name != depth
    ]


def _row_of_change(group: Group, role: str) -> SheetRow:
    """Return the first row on which the unit column says something else than on the first."""
    name = "velocity_unit" if role == "velocity" else "length_unit"
    first = group.rows[0]
    return next((r for r in group.rows if getattr(r, name) != getattr(first, name)), first)


def _unit_sources(group: Group, role: str, answers: Answers) -> dict[str, set[str]]:
    """Return where a unit is named → the names found there.

    An answer fills a gap. It outweighs the sheet only for a column that an answer names as well.
    """
    sources: dict[str, set[str]] = {}
    kind = "velocity" if role == "velocity" else "length"
    if role in answers.units:
        sources["--unit"] = {answers.units[role]}
        if any(name.partition("@")[0] == role for name in answers.columns):
            return sources
    heads = {
        c.unit.name
        for table in group.tables
        for c in table.columns
        if c.role == role and c.unit is not None and c.unit.kind == kind
    }
    if heads:
        sources["the head"] = heads
    listed = {
        (row.depth_unit if role == "depth" else None) or getattr(row, f"{kind}_unit")
        for row in group.rows
    } - {None}
    if listed:
        sources["the unit column"] = listed
    lines = group.preface.units(role)
    known = {name for names in sources.values() for name in names}
    # A line such as "units: m, m/s" does not contradict a head in cm; one in feet does.
    if lines and (not known or _systems(lines) != _systems(known)):
        sources["the lines around the table"] = lines
    return sources


def _systems(units: set[str]) -> set[str]:
    return {"feet" if unit in ("ft", "in", "ft/s") else "metres" for unit in units}


def _unit_question(group: Group, role: str) -> Fault:
    """Return the question for a unit that the sheet does not give, placed at the table's head."""
    table = group.tables[0]
    column = table.column(role)
    row = table.grid.row_numbers[table.heads[0]] if table.heads else None
    first, *others = UNIT_CHOICES[role]
    return Fault(
        f"found no unit for the {role}; a unit in the head such as ({first}) would be right, or "
        f"say --unit {role}={first} (or {', '.join(others)})",
        file=table.grid.file,
        sheet=table.grid.sheet,
        row=row,
        column=None if column is None else column.name,
    )
