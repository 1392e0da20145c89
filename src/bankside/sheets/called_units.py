"""The units in which a gauging was called: from heads, unit columns, lines, or answers."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import get_args

from bankside.gauging.faults import Fault
from bankside.gauging.records import (
    Units,
)
from bankside.gauging.units import DischargeUnit, LengthUnit, VelocityUnit
from bankside.sheets.answers import Answers
from bankside.sheets.group import Group

__all__ = ["unit_faults", "units_of"]


_UNIT_CHOICES = {
    "tape": get_args(LengthUnit),
    "depth": get_args(LengthUnit),
    "velocity": get_args(VelocityUnit),
}


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
                group.rows[0].fault(
                    f"found more than one unit for the {role} ({listed}); one unit in a gauging "
                    f"would be right, or say --unit {role}=…",
                    role,
                )
            )
    if faults:
        return None, faults
    depth = found["depth"] if found["depth"] != found["tape"] else None
    return Units(found["tape"], found["velocity"], depth), []  # type: ignore[arg-type]


def _unit_sources(group: Group, role: str, answers: Answers) -> dict[str, set[str]]:
    """Return where a unit is named → the names found there; an answer outweighs all others."""
    if role in answers.units:
        return {"--unit": {answers.units[role]}}
    sources: dict[str, set[str]] = {}
    kind = "velocity" if role == "velocity" else "length"
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
    if not sources:
        lines = group.preface.units(role)
        if lines:
            sources["the lines around the table"] = lines
    return sources


def _unit_question(group: Group, role: str) -> Fault:
    """Return the question for a unit that the sheet does not give, placed at the table's head."""
    table = group.tables[0]
    column = table.column(role)
    row = table.grid.row_numbers[table.heads[0]] if table.heads else None
    example = "m/s or ft/s" if role == "velocity" else "m or ft"
    return Fault(
        f"found no unit for the {role}; a unit in the head such as ({example.split(' ')[0]}) would "
        f"be right, or say --unit {role}= with {example}",
        file=table.grid.file,
        sheet=table.grid.sheet,
        row=row,
        column=None if column is None else column.name,
    )


def unit_faults(answers: Answers) -> Iterator[Fault]:
    """Yield a fault for every unit given as an answer that is not a unit of its kind."""
    choices: Mapping[str, tuple[str, ...]] = {**_UNIT_CHOICES, "discharge": get_args(DischargeUnit)}
    for role, name in answers.units.items():
        if name not in choices.get(role, ()):
            right = ", ".join(choices.get(role, ())) or "a unit for " + ", ".join(choices)
            yield Fault(f"--unit {role}={name}: found {name!r}; one of {right} would be right")
