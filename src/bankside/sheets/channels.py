"""The rows of one gauging put together: into verticals, and into channels along the tape.

Nothing is guessed where a sheet allows two readings of itself; the question names the option that
settles it. Decisions that the sheet's own evidence allows are made and told in a note.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import attrs

from bankside.gauging.faults import Fault
from bankside.sheets.answers import Answers
from bankside.sheets.group import Group
from bankside.sheets.sheet_row import SheetRow

__all__ = ["Channels", "RowsOfChannel", "split_channels"]

VerticalRows = tuple[SheetRow, ...]
Run = tuple[VerticalRows, ...]
"""Verticals along a stretch of tape that runs one way."""


@attrs.frozen
class RowsOfChannel:
    """The rows of one channel along one stretch of tape, grouped a vertical each."""

    name: str | None
    verticals: tuple[tuple[SheetRow, ...], ...]


@attrs.frozen
class Channels:
    """A gauging's channels, notes on how they were told apart, and questions.

    separate: every channel is a gauging of its own (an answer, never our guess).
    """

    channels: tuple[RowsOfChannel, ...]
    notes: tuple[str, ...] = ()
    faults: tuple[Fault, ...] = ()
    separate: bool = False


@attrs.frozen
class _Runs:
    """The runs of the tape under one channel name, the evidence for them, and questions."""

    runs: tuple[Run, ...]
    evidence: str = ""
    faults: tuple[Fault, ...] = ()


def split_channels(group: Group, total_rows: Sequence[int], answers: Answers) -> Channels:
    """Return a gauging's rows as channels of verticals.

    total_rows: the numbers of the rows on which the sheet files a total of the gauging.
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
        parts = [_runs(part, total_rows, answers) for part in _between_edges(verticals)]
        runs = [run for part in parts for run in part.runs]
        faults += [*found, *(fault for part in parts for fault in part.faults)]
        separate = separate or (len(runs) > 1 and answers.tape_restart == "gaugings")
        notes.extend(_notes(parts, runs))
        for position, run in enumerate(runs):
            label = name if len(runs) == 1 else f"{name or 'channel'} part {position + 1}"
            channels.append(RowsOfChannel(label if len(labelled) + len(runs) > 2 else None, run))
    told = () if separate else tuple(notes)
    return Channels(tuple(channels), told, tuple(faults), separate)


def _notes(parts: Sequence[_Runs], runs: Sequence[Run]) -> list[str]:
    """Return how the channels were told apart, where the sheet does not name them."""
    notes = [
        f"The tape starts again at row {part.runs[1][0][0].number} ({part.evidence}): read as "
        f"{len(part.runs)} channels, whose discharges are added."
        for part in parts
        if part.evidence and len(part.runs) > 1
    ]
    if len(parts) > 1:
        ends = " and ".join(
            f"rows {before.runs[-1][-1][0].number} and {after.runs[0][0][0].number}"
            for before, after in pairwise(parts)
        )
        notes.append(
            f"Two edges of water stand side by side on {ends}: read as {len(runs)} channels, whose "
            "discharges are added."
        )
    return notes


def _between_edges(verticals: Run) -> list[Run]:
    """Cut verticals where an edge of water stands beside another one, as at an island.

    The tape must run on there: where it starts again, it may be another gauging.
    """
    turns = set(_cuts([rows[0].tape or 0.0 for rows in verticals]))
    cuts: list[int] = []
    for index in range(1, len(verticals)):
        closes = index - 1 not in (0, *cuts)
        beside = _edge(verticals[index - 1]) and _edge(verticals[index])
        if closes and beside and index not in turns and index < len(verticals) - 1:
            cuts.append(index)
    return [verticals[a:b] for a, b in pairwise([0, *cuts, len(verticals)])]


def _edge(rows: VerticalRows) -> str | None:
    return next((row.edge for row in rows if row.edge is not None), None)


def _verticals(rows: Sequence[SheetRow], answers: Answers) -> tuple[Run, list[Fault]]:
    """Put rows of one vertical together: further points below it, or repeats of the tape."""
    verticals: list[list[SheetRow]] = []
    faults: list[Fault] = []
    for row in rows:
        if row.tape is None:
            if verticals and row.continues:
                problem = _not_the_same_vertical(verticals[-1], row, answers)
                faults.extend([problem] if problem is not None else [])
                verticals[-1].append(row)
            else:
                faults.append(
                    row.fault(
                        "found no tape position beside readings; the tape position of this "
                        "vertical would be right (or the word Total, if it is a row of totals)",
                        "tape",
                    )
                )
        elif verticals and verticals[-1][0].tape == row.tape:
            problem = _not_the_same_vertical(verticals[-1], row, answers)
            faults.extend([problem] if problem is not None else [])
            verticals[-1].append(row)
        else:
            verticals.append([row])
    return tuple(tuple(v) for v in verticals), faults


def _not_the_same_vertical(
    vertical: Sequence[SheetRow], row: SheetRow, answers: Answers
) -> Fault | None:
    """Return why a row at the same tape is no further point of the vertical, or None."""
    first = vertical[0]
    at = f"tape {first.tape:g}, as row {first.number}"
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


def _runs(verticals: Run, total_rows: Sequence[int], answers: Answers) -> _Runs:
    """Cut verticals where the tape starts again."""
    tapes = [rows[0].tape or 0.0 for rows in verticals]
    turns = _cuts(tapes)
    breaks = [i for i in range(2, len(verticals) - 1) if i not in turns and _broken(verticals, i)]
    cuts = sorted([*turns, *breaks])
    if not cuts or answers.tape_restart == "sort":
        return _Runs((verticals,) if verticals else ())
    runs = tuple(verticals[a:b] for a, b in pairwise([0, *cuts, len(verticals)]))
    if answers.tape_restart in ("channels", "gaugings"):
        return _Runs(runs, f"as said by --tape-restart {answers.tape_restart}")
    evidence = "" if breaks else _restart_evidence(runs, total_rows)
    if evidence:
        return _Runs(runs, evidence)
    questions = [
        (_break_question if cut in breaks else _restart_question)(verticals, cut) for cut in cuts
    ]
    return _Runs((verticals,), "", tuple(questions))


def _broken(verticals: Run, index: int) -> bool:
    """Return whether lines stand between a closed bank and another one, as between two sheets."""
    before, here = verticals[index - 1][-1], verticals[index][0]
    apart = here.table is not before.table or here.number - before.number > 1
    return apart and before.depth == 0 and here.depth == 0


def _break_question(verticals: Run, cut: int) -> Fault:
    here, before = verticals[cut][0], verticals[cut - 1][0]
    return here.fault(
        f"found an edge at tape {here.tape:g} after the edge at tape {before.tape:g} on row "
        f"{before.number}, with other lines between them; say --tape-restart gaugings (another "
        "gauging starts here), --tape-restart channels (another channel) or --tape-restart sort "
        "(one section, dry between the two)",
        "tape",
    )


def _restart_question(verticals: Run, cut: int) -> Fault:
    here, before = verticals[cut][0], verticals[cut - 1][0]
    return here.fault(
        f"found tape {here.tape:g} after {before.tape:g}, against the order of the rows before: if "
        "one of them is mistyped, correct it; else say --tape-restart channels (another channel "
        "starts here), --tape-restart gaugings (another gauging starts here) or --tape-restart "
        "sort (the rows are only out of order)",
        "tape",
    )


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


def _restart_evidence(runs: Sequence[Run], total_rows: Sequence[int]) -> str:
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


def _end_shown(before: Run, after: Run) -> str:
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


def _apart(runs: Sequence[Run]) -> bool:
    """Return whether no two runs cover the same stretch of tape."""
    spans = sorted(
        (min(r[0].tape or 0.0 for r in run), max(r[0].tape or 0.0 for r in run)) for run in runs
    )
    return all(here[1] <= there[0] for here, there in pairwise(spans))


def _one_total(runs: Sequence[Run], total_rows: Sequence[int]) -> bool:
    """Return whether the sheet's own total stands once, at the end of all runs or below them."""
    on_rows = [row.number for run in runs for rows in run for row in rows if row.total is not None]
    numbers = [*on_rows, *total_rows]
    first_of_last = runs[-1][0][0].number
    return len(numbers) == 1 and numbers[0] >= first_of_last
