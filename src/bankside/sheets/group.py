"""Rows put together: into gaugings by site and date, into channels, and into verticals.

Nothing is guessed where a sheet allows two readings of itself; the question names the option that
settles it. Decisions that the sheet's own evidence allows are made and told in a note.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date
from itertools import pairwise

import attrs

from bankside.gauging.faults import Fault
from bankside.sheets.answers import Answers
from bankside.sheets.preface import Preface
from bankside.sheets.row import SheetRow
from bankside.sheets.table import Table

__all__ = ["Group", "RowsOfChannel", "group_rows", "nothing_measured", "split_channels"]


@attrs.frozen
class Group:
    """The rows of one gauging, in file order, with what its sheet tells around them."""

    site: str | None
    stream: str | None
    date: date | None
    rows: tuple[SheetRow, ...]
    preface: Preface
    tables: tuple[Table, ...]

    @property
    def label(self) -> str:
        """The gauging's name in sentences: stream, site and date as far as they are known."""
        parts = [self.stream, self.site, None if self.date is None else self.date.isoformat()]
        return ", ".join(part for part in parts if part) or "the gauging"

    def fault_on(self, key: str, message: str) -> Fault:
        """Return a fault placed at the line around the table that tells `key`."""
        grid = self.tables[0].grid
        row = self.preface.row_of(key)
        return Fault(message, grid.file, grid.sheet, self.rows[0].number if row is None else row)


@attrs.frozen
class RowsOfChannel:
    """The rows of one channel along one stretch of tape, grouped a vertical each."""

    name: str | None
    verticals: tuple[tuple[SheetRow, ...], ...]


def group_rows(
    read: Iterable[tuple[Table, Sequence[SheetRow], Preface, date | None]],
) -> tuple[Group, ...]:
    """Return the gaugings in a file: rows of one site, stream and date belong together.

    read: each table with its rows, what stands around it, and the date that tells.
    """
    order: dict[tuple[str | None, str | None, date | None], list[SheetRow]] = {}
    around: dict[tuple[str | None, str | None, date | None], list[tuple[Table, Preface]]] = {}
    for table, rows, preface, day in read:
        site, stream = _text(preface, "site"), _text(preface, "stream")
        channel = _text(preface, "channel")
        for read_row in rows:
            row = attrs.evolve(read_row, channel=read_row.channel or channel)
            key = (row.site or site, row.stream or stream, row.date or day)
            order.setdefault(key, []).append(row)
            tables = around.setdefault(key, [])
            if all(known is not table for known, _ in tables):
                tables.append((table, preface))
    return tuple(
        Group(
            site,
            stream,
            day,
            tuple(rows),
            Preface(
                tuple(pair for _, p in around[site, stream, day] for pair in p.pairs),
                tuple(text for _, p in around[site, stream, day] for text in p.texts),
            ),
            tuple(table for table, _ in around[site, stream, day]),
        )
        for (site, stream, day), rows in order.items()
    )


def _text(preface: Preface, key: str) -> str | None:
    value = preface.first(key)
    return None if value is None else " ".join(str(value).split())


def nothing_measured(rows: Iterable[SheetRow]) -> bool:
    """Return whether no row holds any water: no depth above 0 and no velocity other than 0."""
    return not any(
        (row.depth or 0) > 0 or any((p.value or p.counts or 0) != 0 for p in row.points)
        for row in rows
    )


def split_channels(
    group: Group, total_rows: Sequence[int], answers: Answers
) -> tuple[tuple[RowsOfChannel, ...], tuple[str, ...], tuple[Fault, ...], bool]:
    """Return a gauging's channels, notes on how they were told apart, and questions.

    total_rows: the numbers of the rows on which the sheet files a total of the gauging.
    The last value says that the tape runs again and every run is a gauging of its own (an
    answer, never our guess); each run is then returned as a channel.
    """
    labelled: dict[str | None, list[SheetRow]] = {}
    for row in group.rows:
        labelled.setdefault(row.channel, []).append(row)
    channels: list[RowsOfChannel] = []
    notes: list[str] = []
    faults: list[Fault] = []
    separate = False
    for name, rows in labelled.items():
        verticals, found = _verticals(rows, answers)
        faults.extend(found)
        runs, evidence, asked = _runs(verticals, total_rows, answers)
        faults.extend(asked)
        if len(runs) > 1 and evidence:
            notes.append(
                f"The tape starts again at row {runs[1][0][0].number} "
                f"({evidence}): read as {len(runs)} channels, whose discharges are added."
            )
        separate = separate or (len(runs) > 1 and answers.tape_restart == "gaugings")
        for position, run in enumerate(runs):
            label = name if len(runs) == 1 else f"{name or 'channel'} part {position + 1}"
            channels.append(RowsOfChannel(label if len(labelled) + len(runs) > 2 else None, run))
    return tuple(channels), tuple(notes), tuple(faults), separate


def _verticals(
    rows: Sequence[SheetRow], answers: Answers
) -> tuple[tuple[tuple[SheetRow, ...], ...], list[Fault]]:
    """Put rows of one vertical together: further points below it, or repeats of the tape."""
    verticals: list[list[SheetRow]] = []
    faults: list[Fault] = []
    for row in rows:
        if row.tape is None:
            if verticals and row.continues:
                verticals[-1].append(row)
            else:
                faults.append(
                    row.fault(
                        "found no tape position beside readings; the tape position of this "
                        "vertical would be right",
                        "tape",
                    )
                )
        elif verticals and verticals[-1][0].tape == row.tape:
            problem = _not_the_same_vertical(verticals[-1], row, answers)
            if problem is not None:
                faults.append(problem)
            verticals[-1].append(row)
        else:
            verticals.append([row])
    return tuple(tuple(v) for v in verticals), faults


def _not_the_same_vertical(
    vertical: Sequence[SheetRow], row: SheetRow, answers: Answers
) -> Fault | None:
    """Return why a row at the same tape is no further point of the vertical, or None."""
    first = vertical[0]
    at = f"tape {row.tape:g}, as row {first.number}"
    if row.depth is not None and first.depth is not None and row.depth != first.depth:
        return row.fault(
            f"found {at}, but with depth {row.depth:g} instead of {first.depth:g}; one tape "
            "position and one depth for every vertical would be right",
            "tape",
        )
    fractions = [p.fraction for r in vertical for p in r.points]
    new = [p.fraction for p in row.points]
    distinct = all(f is not None and f not in fractions for f in new) and None not in fractions
    if (new and distinct and fractions) or answers.same_tape == "repeated":
        return None
    return row.fault(
        f"found {at}; a position of its own for every vertical would be right, or say "
        "--same-tape repeated if the reading was repeated there",
        "tape",
    )


def _runs(
    verticals: tuple[tuple[SheetRow, ...], ...], total_rows: Sequence[int], answers: Answers
) -> tuple[tuple[tuple[tuple[SheetRow, ...], ...], ...], str, list[Fault]]:
    """Cut verticals where the tape starts again; return runs, the evidence, and questions."""
    tapes = [v[0].tape or 0.0 for v in verticals]
    cuts = _cuts(tapes)
    if not cuts or answers.tape_restart == "sort":
        return ((verticals,) if verticals else ()), "", []
    bounds = [0, *cuts, len(verticals)]
    runs = tuple(verticals[a:b] for a, b in pairwise(bounds))
    if answers.tape_restart in ("channels", "gaugings"):
        return runs, f"as said by --tape-restart {answers.tape_restart}", []
    evidence = _restart_evidence(runs, total_rows)
    if evidence:
        return runs, evidence, []
    asked = [
        verticals[cut][0].fault(
            f"found tape {tapes[cut]:g} after {tapes[cut - 1]:g}, against the order of the rows "
            "before; say --tape-restart channels (another channel starts here), --tape-restart "
            "gaugings (another gauging starts here) or --tape-restart sort (the rows are only out "
            "of order)",
            "tape",
        )
        for cut in cuts
    ]
    return (verticals,), "", asked


def _cuts(tapes: Sequence[float]) -> list[int]:
    """Return the indexes at which the tape turns against the direction in which it runs."""
    direction = _direction(tapes)
    return [
        index for index in range(1, len(tapes)) if (tapes[index] - tapes[index - 1]) * direction < 0
    ]


def _direction(tapes: Sequence[float]) -> int:
    """Return +1 where most steps along the rows go up the tape, -1 where most go down."""
    up = 0
    for index in range(1, len(tapes)):
        up += 1 if tapes[index] > tapes[index - 1] else -1
    return 1 if up >= 0 else -1


def _restart_evidence(
    runs: Sequence[Sequence[Sequence[SheetRow]]], total_rows: Sequence[int]
) -> str:
    """Return what on the sheet shows that each run of the tape is a channel, or nothing.

    A second gauging of the section looks much like a second channel. It is told from one by the
    tape, which the channels of one section share without overlapping, or else by a single filed
    total below all of them.
    """
    for before, after in pairwise(runs):
        if len(before) < 2 or len(after) < 2:
            return ""
    shown = [_end_shown(before, after) for before, after in pairwise(runs)]
    if not all(shown) or not (_apart(runs) or _one_total(runs, total_rows)):
        return ""
    return shown[0]


def _end_shown(before: Sequence[Sequence[SheetRow]], after: Sequence[Sequence[SheetRow]]) -> str:
    """Return what shows that a channel ends between two runs, or nothing."""
    last, first = before[-1][-1], after[0][0]
    if first.table is not last.table:
        return ""
    widths = [rows[0].width is not None for rows in before[:-1]]
    if all(widths) and last.width is None and first.width is not None:
        return f"the width is left out on row {last.number}, where a channel ends"
    if last.depth == 0 and first.depth == 0:
        return f"edges of water on rows {last.number} and {first.number}"
    return ""


def _apart(runs: Sequence[Sequence[Sequence[SheetRow]]]) -> bool:
    """Return whether no two runs cover the same stretch of tape."""
    spans = sorted(
        (min(r[0].tape or 0.0 for r in run), max(r[0].tape or 0.0 for r in run)) for run in runs
    )
    return all(here[1] <= there[0] for here, there in pairwise(spans))


def _one_total(runs: Sequence[Sequence[Sequence[SheetRow]]], total_rows: Sequence[int]) -> bool:
    """Return whether the sheet's own total stands once, at the end of all runs or below them."""
    on_rows = [row.number for run in runs for rows in run for row in rows if row.total is not None]
    numbers = [*on_rows, *total_rows]
    first_of_last = runs[-1][0][0].number
    return len(numbers) == 1 and numbers[0] >= first_of_last
