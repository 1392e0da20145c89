"""Reading a file of sheets: the one way in for everything that is not our own JSON."""

from __future__ import annotations

import sys
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from datetime import date
from pathlib import Path

import attrs

from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.records import Gauging
from bankside.sheets.answers import Answers, unit_faults
from bankside.sheets.build import Built, Places, build_gauging
from bankside.sheets.channels import split_channels
from bankside.sheets.dates import as_date
from bankside.sheets.filed import is_row_of_sums
from bankside.sheets.files.grid import Grid, cell, column_letter
from bankside.sheets.files.reading import read_grids, shown_name
from bankside.sheets.group import Group, group_rows, nothing_measured
from bankside.sheets.heads import is_title
from bankside.sheets.no_heads import no_table
from bankside.sheets.offsets import WANTED_OFFSET, parse_offset
from bankside.sheets.owned import Owned, owned_by_groups, preface_of
from bankside.sheets.preface import Preface, read_preface
from bankside.sheets.rows import TableRows, read_rows
from bankside.sheets.sheet_row import FiledTotal, RowFate
from bankside.sheets.table import Table, find_tables
from bankside.sheets.values import ValueFault, looks_numeric
from bankside.sheets.written import Written, how_written

_NAMES = ("site", "stream", "date", "channel")

__all__ = ["SheetGauging", "SheetReading", "read_sheets"]


@attrs.frozen
class SheetGauging:
    """One gauging found on a sheet.

    gauging is None where nothing was measured (`reason` says so) or where `faults` stand in the
    way. rows: the fate of every row that belongs to it; places: where each vertical was read.
    finished: whether all readings are there; False for a journal that says neither end nor closing.
    """

    label: str
    gauging: Gauging | None
    rows: tuple[RowFate, ...] = ()
    notes: tuple[str, ...] = ()
    faults: tuple[Fault, ...] = ()
    reason: str | None = None
    places: Places = attrs.field(factory=dict)
    finished: bool = True

    @property
    def counts(self) -> dict[str, int]:
        """How many rows were used, kept as remark, and refused."""
        return count_fates(self.rows)


@attrs.frozen
class SheetReading:
    """Everything read from one file; `rows` holds the fate of every row of the input."""

    file: str
    gaugings: tuple[SheetGauging, ...]
    rows: tuple[RowFate, ...]
    notes: tuple[str, ...]

    @property
    def counts(self) -> dict[str, int]:
        """How many rows were used, kept as remark, and refused."""
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
    if answers.time_zone is not None and parse_offset(answers.time_zone) is None:
        wrong.append(Fault(f'--time-zone: found "{answers.time_zone}"; {WANTED_OFFSET}'))
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
        faults.append(no_table(grids, every) if grids else _only_hidden(every))
    how, asked_how = how_written(tables, answers)
    faults.extend(asked_how)
    if faults:
        raise InputRefused(faults)
    read = [(table, read_rows(table, how)) for table in tables]
    gaugings, fates = _gaugings(read, answers, how, several_sheets=len(_sheets(tables)) > 1)
    outside = _fates_outside(every, tables)
    if not gaugings:
        raise InputRefused([_no_rows(tables[0])])
    notes = (*_unused(tables), *_sheets_without_table(every, tables))
    rows = sorted([*fates, *outside], key=lambda f: (f.sheet or "", f.row))
    return SheetReading(shown_name(path), tuple(gaugings), tuple(rows), notes)


def _gaugings(
    read: Sequence[tuple[Table, TableRows]], answers: Answers, how: Written, several_sheets: bool
) -> tuple[list[SheetGauging], list[RowFate]]:
    """Return the gaugings of all tables, and the fate of every row inside the tables."""
    prefaced = []
    date_faults: dict[int, list[Fault]] = {}
    for table, rows in read:
        preface = _naming_lines(table, rows, several_tables=len(read) > 1)
        day, date_faults[id(table)] = _date(table, preface, how)
        if several_sheets and preface.first("site") is None and table.column("site") is None:
            sheet_name = ("site", table.grid.sheet, table.heads[0] if table.heads else 0)
            preface = attrs.evolve(preface, pairs=(*preface.pairs, sheet_name))
        prefaced.append((table, rows.rows, preface, day))
    groups = group_rows(prefaced)
    owned, loose = owned_by_groups(read, groups)
    shared = Counter(id(table) for group in groups for table in group.tables)
    gaugings: list[SheetGauging] = []
    for group, own in zip(groups, owned, strict=True):
        several = any(shared[id(table)] > 1 for table in group.tables)
        whole = attrs.evolve(group, preface=preface_of(group, own, several))
        own.faults.extend(f for table in group.tables for f in date_faults[id(table)])
        gaugings.extend(_finish(whole, own, answers))
    return gaugings, [fate for g in gaugings for fate in g.rows] + loose


def _naming_lines(table: Table, rows: TableRows, several_tables: bool) -> Preface:
    """Return the lines above a table, with the site, stream, date or channel told below it.

    What stands below names a gauging only where no column of the table does.
    """
    above = read_preface(table.grid, table.above)
    above = _titled(table, above, several_tables)
    if any(table.column(key) for key in _NAMES):
        return above
    last = max((row.index for row in rows.rows), default=-1)
    below = read_preface(table.grid, [index for index in rows.notes if index > last])
    named = tuple(
        pair for pair in below.pairs if pair[0] in _NAMES and above.first(pair[0]) is None
    )
    return attrs.evolve(above, pairs=(*above.pairs, *named))


def _titled(table: Table, preface: Preface, several: bool) -> Preface:
    """Return the preface with the last line of words above the heads as the site, if none is told.

    Only where tables stand one under another, each under a line of its own.
    """
    titles = [index for index in table.above if is_title(table.grid, index)]
    named = preface.first("site") is not None or preface.first("stream") is not None
    if not several or named or not titles:
        return preface
    title = titles[-1]
    number = table.grid.row_numbers[title]
    text = next(text for text, row in preface.texts if row == number)
    texts = tuple(pair for pair in preface.texts if pair[1] != number)
    return Preface((*preface.pairs, ("site", text, number)), texts)


def _finish(group: Group, own: Owned, answers: Answers) -> Iterator[SheetGauging]:
    """Yield the gauging (or, where the tape runs again and a person said so, the gaugings)."""
    totals, aside, faults = own.totals, tuple(own.fates), tuple(own.faults)
    if is_row_of_sums(group.rows):
        *rows, sums = group.rows
        group = attrs.evolve(group, rows=tuple(rows))
        aside = (*aside, sums.fate("remark", "row of sums or means of the columns above it"))
        faults = tuple(fault for fault in faults if fault.row != sums.number)
        if sums.discharge is not None:
            totals = [*totals, FiledTotal(sums.discharge, sums.number)]
    if faults:
        refused = tuple(r.fate("refused", "its gauging could not be read") for r in group.rows)
        yield SheetGauging(group.label, None, refused + aside, faults=faults)
        return
    if nothing_measured(group.rows):
        reason = "no row holds a depth above 0: nothing was measured, or the section was dry"
        fates = tuple(r.fate("remark", reason) for r in group.rows)
        yield SheetGauging(group.label, None, fates + aside, reason=reason)
        return
    split = split_channels(group, [total.row for total in totals], answers)
    if split.faults:
        refused = tuple(r.fate("refused", "its gauging could not be read") for r in group.rows)
        yield SheetGauging(group.label, None, refused + aside, split.notes, split.faults)
        return
    parts = [(c,) for c in split.channels] if split.separate else [split.channels]
    starts = [min(row.number for c in part for v in c.verticals for row in v) for part in parts]
    for position, part in enumerate(parts):
        until = starts[position + 1] if position + 1 < len(parts) else sys.maxsize
        since = starts[position] if position else 0
        piece = attrs.evolve(group, rows=tuple(r for c in part for v in c.verticals for r in v))
        figures = [total for total in totals if since <= total.row < until]
        built: Built = build_gauging(piece, part, figures, answers)
        label = group.label + (f" ({position + 1} of {len(parts)})" if split.separate else "")
        yield SheetGauging(
            label,
            built.gauging,
            built.fates + tuple(fate for fate in aside if since <= fate.row < until),
            (*split.notes, *built.notes, *_unused_numbers(piece), *_unread_filed(piece)),
            built.faults,
            places=built.places,
        )


def _date(table: Table, preface: Preface, how: Written) -> tuple[date | None, list[Fault]]:
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
    heads = dict.fromkeys(c.head for table in tables for c in table.with_role("unused"))
    if heads:
        listed = ", ".join(f'"{head}"' for head in heads)
        yield f"Columns not understood, kept as remarks: {listed}."


def _unused_numbers(group: Group) -> Iterator[str]:
    """Yield a note for each column of numbers that is not understood: a reading may be in it."""
    for table in group.tables:
        rows = [row.index for row in group.rows if row.table is table]
        for column in table.with_role("unused"):
            if any(looks_numeric(cell(table.grid, row, column.index)) for row in rows):
                yield (
                    f"Column {column.name} holds numbers that are not used; if they are readings, "
                    f"say --column NAME={column_letter(column.index)}."
                )


def _unread_filed(group: Group) -> Iterator[str]:
    """Yield a note for each filed figure that is no figure."""
    for row in group.rows:
        for unread in row.unread:
            yield f"The filed figure on row {row.number} cannot be read (column {unread})."


def _no_rows(table: Table) -> Fault:
    row = table.grid.row_numbers[table.heads[-1]] if table.heads else None
    return Fault(
        "found heads and no rows of readings below them; one row for every vertical would be right",
        file=table.grid.file,
        sheet=table.grid.sheet,
        row=row,
    )
