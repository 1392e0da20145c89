"""Reading a file of sheets: the one way in for everything that is not our own JSON."""

from __future__ import annotations

from bisect import bisect_left
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from datetime import date
from pathlib import Path

import attrs

from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.records import Gauging
from bankside.sheets.answers import Answers, unit_faults
from bankside.sheets.build import Built, Places, build_gauging
from bankside.sheets.dates import DateStyle, as_date, date_orders
from bankside.sheets.files.grid import Grid, cell
from bankside.sheets.files.reading import read_grids, shown_name
from bankside.sheets.group import Group, group_rows, nothing_measured, split_channels
from bankside.sheets.preface import Preface, join_prefaces, read_preface
from bankside.sheets.row import Reading, RowFate
from bankside.sheets.rows import TableRows, read_rows
from bankside.sheets.table import Table, find_tables
from bankside.sheets.values import ValueFault, decimal_marks

_NUMBERS = ("tape", "depth", "velocity", "seconds", "counts")

__all__ = ["SheetGauging", "SheetReading", "read_sheets"]


@attrs.frozen
class SheetGauging:
    """One gauging found on a sheet.

    gauging is None where nothing was measured (`reason` says so) or where `faults` stand in the
    way. rows: the fate of every row that belongs to it; places: where each vertical was read.
    """

    label: str
    gauging: Gauging | None
    rows: tuple[RowFate, ...]
    notes: tuple[str, ...] = ()
    faults: tuple[Fault, ...] = ()
    reason: str | None = None
    places: Places = attrs.field(factory=dict)

    def counts(self) -> dict[str, int]:
        """Return how many rows were used, kept as remark, and refused."""
        return count_fates(self.rows)


@attrs.frozen
class SheetReading:
    """Everything read from one file; `rows` holds the fate of every row of the input."""

    file: str
    gaugings: tuple[SheetGauging, ...]
    rows: tuple[RowFate, ...]
    notes: tuple[str, ...]

    def counts(self) -> dict[str, int]:
        """Return how many rows were used, kept as remark, and refused."""
        return count_fates(self.rows)


def count_fates(fates: Iterable[RowFate]) -> dict[str, int]:
    """Return the number of rows of each fate."""
    counted = Counter(fate.fate for fate in fates)
    return {fate: counted[fate] for fate in ("used", "remark", "refused")}


def read_sheets(path: Path, answers: Answers | None = None) -> SheetReading:
    """Read every gauging of a CSV, XLSX, XLS or ODS file.

    Raises InputRefused with everything that keeps the file's tables from being read. Faults of a
    single gauging do not raise: they stand in its `faults`, so that the others can still be used.
    """
    answers = answers or Answers()
    wrong = [
        Fault(f"--unit {name}={answers.units[name]}: {message}")
        for name, message in unit_faults(answers.units)
    ]
    if wrong:
        raise InputRefused(wrong)
    every = read_grids(path, answers.separator, answers.encoding, answers.sheet)
    grids = tuple(grid for grid in every if not grid.hidden or answers.sheet is not None)
    tables: list[Table] = []
    faults: list[Fault] = []
    for grid in grids:
        found, asked = find_tables(grid, answers)
        tables.extend(found)
        faults.extend(asked)
    if not tables and not faults:
        faults.append(_no_table(grids, every) if grids else _only_hidden(every))
    how, asked_how = _how(tables, answers)
    faults.extend(asked_how)
    if faults:
        raise InputRefused(faults)
    read = [(table, read_rows(table, how)) for table in tables]
    gaugings, fates = _gaugings(read, answers, how, several=len(_sheets(tables)) > 1)
    outside = _fates_outside(every, tables)
    if not gaugings:
        raise InputRefused([_no_rows(tables[0])])
    notes = (*_unused(tables), *_sheets_without_table(every, tables))
    rows = sorted([*fates, *outside], key=lambda f: (f.sheet or "", f.row))
    return SheetReading(shown_name(path), tuple(gaugings), tuple(rows), notes)


def _how(tables: Sequence[Table], answers: Answers) -> tuple[Reading, list[Fault]]:
    """Decide how the file writes decimals and dates, from all its numbers and dates at once."""
    numbers: set[str] = set()
    days: list[object] = []
    for table in tables:
        for column in table.columns:
            values = [cell(table.grid, row, column.index) for row in table.body]
            if column.role in _NUMBERS:
                numbers |= decimal_marks(values)
            elif column.role == "date":
                days.extend(values)
        days.extend(read_preface(table.grid, table.above).values("date"))
    orders = date_orders(days)  # type: ignore[arg-type]
    order = answers.date_order or (next(iter(orders)) if len(orders) == 1 else None)
    dates = DateStyle(order, answers.century)
    if answers.decimal is not None or len(numbers) < 2:
        decimal = answers.decimal or next(iter(numbers), "point")
        return Reading(decimal, dates), []
    return Reading("point", dates), [_mixed_decimals(tables)]


def _mixed_decimals(tables: Sequence[Table]) -> Fault:
    """Return the question about decimal points and commas, placed at the second kind to come."""
    seen: dict[str, tuple[str, int]] = {}
    for table in tables:
        for row in table.body:
            for column in table.columns:
                value = cell(table.grid, row, column.index)
                marks = decimal_marks([value]) if column.role in _NUMBERS else set()
                number = table.grid.row_numbers[row]
                for mark in marks - seen.keys():
                    seen[mark] = (str(value), number)
                    if len(seen) == 2:
                        (first, first_row), (second, _) = seen.values()
                        return Fault(
                            f'found "{second}" where row {first_row} has "{first}"; either a '
                            "decimal point or a decimal comma throughout would be right, or say "
                            "--decimal point or --decimal comma",
                            table.grid.file,
                            table.grid.sheet,
                            number,
                            column.name,
                        )
    raise AssertionError("two decimal marks were seen before")


def _gaugings(
    read: Sequence[tuple[Table, TableRows]], answers: Answers, how: Reading, several: bool
) -> tuple[list[SheetGauging], list[RowFate]]:
    """Return the gaugings of all tables, and the fate of every row inside the tables."""
    prefaced = []
    date_faults: dict[int, list[Fault]] = {}
    for table, rows in read:
        preface = join_prefaces([read_preface(table.grid, table.above), rows.notes])
        day, date_faults[id(table)] = _date(table, preface, how)
        if several and preface.first("site") is None and table.column("site") is None:
            sheet_name = ("site", table.grid.sheet, table.heads[0] if table.heads else 0)
            preface = attrs.evolve(preface, pairs=(*preface.pairs, sheet_name))
        prefaced.append((table, rows.rows, preface, day))
    groups = group_rows(prefaced)
    owners = {
        (row.table.grid.sheet, row.number): number
        for number, group in enumerate(groups)
        for row in group.rows
    }
    aside, totals = _owned(read, owners)
    gaugings: list[SheetGauging] = []
    for number, group in enumerate(groups):
        mine = {(r.table.grid.sheet, r.number) for r in group.rows}
        found_faults = tuple(
            f for _, rows in read for f in rows.faults if (f.sheet, f.row) in mine
        ) + tuple(f for table in group.tables for f in date_faults[id(table)])
        gaugings.extend(
            _finish(
                group, found_faults, totals.get(number, []), tuple(aside.get(number, [])), answers
            )
        )
    loose = [fate for fate in aside.get(-1, [])]
    return gaugings, [fate for g in gaugings for fate in g.rows] + loose


def _finish(
    group: Group,
    faults: tuple[Fault, ...],
    totals: Sequence[tuple[float, int]],
    aside: tuple[RowFate, ...],
    answers: Answers,
) -> Iterator[SheetGauging]:
    """Yield the gauging (or, where the tape runs again and a person said so, the gaugings)."""
    if faults:
        refused = tuple(r.fate("refused", "its gauging could not be read") for r in group.rows)
        yield SheetGauging(group.label, None, refused + aside, faults=faults)
        return
    if nothing_measured(group.rows):
        reason = "no row holds a depth above 0: nothing was measured, or the section was dry"
        fates = tuple(r.fate("remark", reason) for r in group.rows)
        yield SheetGauging(group.label, None, fates + aside, reason=reason)
        return
    channels, notes, asked, separate = split_channels(
        group, [number for _, number in totals], answers
    )
    if asked:
        refused = tuple(r.fate("refused", "its gauging could not be read") for r in group.rows)
        yield SheetGauging(group.label, None, refused + aside, notes, asked)
        return
    parts = [(c,) for c in channels] if separate else [channels]
    for position, part in enumerate(parts):
        rows = tuple(r for c in part for v in c.verticals for r in v)
        piece = attrs.evolve(group, rows=rows)
        built: Built = build_gauging(
            piece, part, [] if separate else [total for total, _ in totals], answers
        )
        label = group.label + (f" ({position + 1} of {len(parts)})" if separate else "")
        yield SheetGauging(
            label,
            built.gauging,
            built.fates + (aside if position == 0 else ()),
            notes + built.notes,
            built.faults,
            places=built.places,
        )


def _owned(
    read: Sequence[tuple[Table, TableRows]], owners: dict[tuple[str | None, int], int]
) -> tuple[dict[int, list[RowFate]], dict[int, list[tuple[float, int]]]]:
    """Give every row that holds no readings to the gauging whose rows stand above it."""
    aside: dict[int, list[RowFate]] = {}
    totals: dict[int, list[tuple[float, int]]] = {}
    for table, rows in read:
        numbers = [row.number for row in rows.rows]
        owned = [owners[table.grid.sheet, number] for number in numbers]

        def owner(number: int, numbers: list[int] = numbers, owned: list[int] = owned) -> int:
            above = bisect_left(numbers, number)
            return owned[max(above - 1, 0)] if owned else -1

        for fate in rows.fates:
            aside.setdefault(owner(fate.row), []).append(fate)
        for value, number in rows.totals:
            totals.setdefault(owner(number), []).append((value, number))
        only = set(owned)
        if len(only) == 1:
            around = aside.setdefault(only.pop(), [])
            around.extend(_around(table))
        else:
            aside.setdefault(-1, []).extend(_around(table))
    return aside, totals


def _around(table: Table) -> Iterator[RowFate]:
    """Yield the fates of the rows above a table and of its heads."""
    for index in table.above:
        blank = all(value is None for value in table.grid.rows[index])
        reason = "blank row" if blank else "line above the table"
        yield RowFate(table.grid.sheet, table.grid.row_numbers[index], "remark", reason)
    for index in table.heads:
        yield RowFate(table.grid.sheet, table.grid.row_numbers[index], "remark", "heads")


def _date(table: Table, preface: Preface, how: Reading) -> tuple[date | None, list[Fault]]:
    """Return the date that the lines around a table tell, or the fault in it."""
    try:
        return as_date(preface.first("date"), how.dates), []
    except ValueFault as problem:
        grid = table.grid
        return None, [Fault(str(problem), grid.file, grid.sheet, preface.row_of("date"))]


def _fates_outside(grids: Sequence[Grid], tables: Sequence[Table]) -> list[RowFate]:
    """Return the fates of the rows of sheets that hold no table of verticals."""
    with_table = {id(table.grid) for table in tables}
    return [
        RowFate(grid.sheet, number, "remark", _why_not_read(grid))
        for grid in grids
        if id(grid) not in with_table
        for number in grid.row_numbers
    ]


def _why_not_read(grid: Grid) -> str:
    return "on a hidden sheet" if grid.hidden else "on a sheet without a table of verticals"


def _sheets(tables: Sequence[Table]) -> set[str | None]:
    return {table.grid.sheet for table in tables}


def _sheets_without_table(grids: Sequence[Grid], tables: Sequence[Table]) -> Iterator[str]:
    with_table = {id(table.grid) for table in tables}
    for grid in grids:
        if id(grid) in with_table or not grid.rows:
            continue
        if grid.hidden:
            yield f'Sheet "{grid.sheet}" is hidden and was not read; --sheet reads it.'
        else:
            yield f'Sheet "{grid.sheet}" holds no table of verticals; its rows were not used.'


def _only_hidden(grids: Sequence[Grid]) -> Fault:
    listed = ", ".join(f'"{grid.sheet}"' for grid in grids)
    return Fault(
        f"found only hidden sheets ({listed}); a visible one would be right, or --sheet NAME",
        file=grids[0].file if grids else None,
    )


def _unused(tables: Sequence[Table]) -> Iterator[str]:
    heads = dict.fromkeys(head for table in tables for head in table.unused)
    if heads:
        listed = ", ".join(f'"{head}"' for head in heads)
        yield f"Columns not used: {listed}."


def _no_table(grids: Sequence[Grid], every: Sequence[Grid]) -> Fault:
    """Return the fault of a file in which no row of heads was recognised."""
    hidden = [grid.sheet for grid in every if grid.hidden]
    hint = f'; sheet "{hidden[0]}" is hidden, and --sheet "{hidden[0]}" reads it' if hidden else ""
    first = next((grid for grid in grids if any(grid.rows)), None)
    if first is None:
        return Fault(
            "found no rows; a table with the heads tape (m), depth (m), velocity (m/s) would be "
            f"right{hint}",
            file=grids[0].file if grids else None,
        )
    index = next(i for i, row in enumerate(first.rows) if any(v is not None for v in row))
    shown = ", ".join(f'"{v}"' for v in first.rows[index][:8] if v is not None)
    return Fault(
        f"found no row of heads for tape, depth and velocity; the first row holds {shown[:160]}; "
        "heads such as tape (m), depth (m), velocity (m/s) would be right, or say "
        f'--column tape="…" --column depth="…" --column velocity="…" by head or letter{hint}',
        file=first.file,
        sheet=first.sheet,
        row=first.row_numbers[index],
    )


def _no_rows(table: Table) -> Fault:
    row = table.grid.row_numbers[table.heads[-1]] if table.heads else None
    return Fault(
        "found heads and no rows of readings below them; one row for every vertical would be right",
        file=table.grid.file,
        sheet=table.grid.sheet,
        row=row,
    )
