"""What came in with the files that were handed to an archive, for whoever leads the crews.

What is in order is counted; what needs a look is named; and what can be done next is said.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from typing import Final

from rich.console import Console
from sqlalchemy import RowMapping

from bankside.archive.taking import TakenFile
from bankside.cli.amounts import amount_or_no
from bankside.cli.inputs import Computed, compute_all
from bankside.cli.output import asked_once, print_faults
from bankside.cli.render import render_lines, render_points
from bankside.cli.summary import gauging_words
from bankside.gauging.rounding import to_figures
from bankside.gauging.rule_sets.load import BASE, load_rule_set

__all__ = ["render_taken"]

_NAMED: Final = 5
"""So many are named in a line; more are counted."""


def render_taken(
    console: Console, place: str, taken: Sequence[TakenFile], added: Sequence[RowMapping]
) -> None:
    """Print what came in, what needs a look, and where to go on; faults go to stderr.

    added: the rows of the gaugings that are new or have new entries.
    """
    computed = compute_all([one.read for one in taken if one.read], "mid-section", "half-width")[1]
    filed = [one for one in computed if one.filed is not None]
    far = [one for one in filed if _is_far(one)]
    render_lines(console, [*_came_in(taken), *_rows(taken), *_filed(len(filed), len(far))])
    looks = [*map(_far_words, far), *_grave(added), *_unfinished(added), *_notes(taken)]
    if looks:
        render_lines(console, ["", "To look at:"])
        render_points(console, looks)
    render_lines(console, ["", *_go_on(place, taken, added)])
    print_faults(asked_once([fault for one in taken for fault in one.faults]))


def _came_in(taken: Sequence[TakenFile]) -> Iterator[str]:
    added = {id_ for one in taken for id_ in one.added}
    entries = sum(one.entries for one in taken)
    photos = sum(one.photos for one in taken)
    surveys = {one.survey for one in taken if one.survey is not None and one.survey_put}
    parts = [
        amount_or_no(len(added), "gauging") + (f" with {_entries(entries)}" if added else ""),
        *([amount_or_no(photos, "photo")] if photos else []),
        *([amount_or_no(len(surveys), "survey")] if surveys else []),
    ]
    yield f"New from {amount_or_no(len(taken), 'file')}: {', '.join(parts)}."
    known = list(dict.fromkeys(one.file for one in taken if one.is_known))
    if known:
        yield f"Already in the archive: {amount_or_no(len(known), 'file')} ({_some(known)})."


def _rows(taken: Sequence[TakenFile]) -> Iterator[str]:
    rows = Counter[str]()
    for one in taken:
        rows.update(one.rows)
    if rows.total():
        yield (
            f"Rows of sheets: {rows['used']} used, {rows['remark']} kept as remark, "
            f"{rows['refused']} refused."
        )


def _filed(filed: int, far: int) -> Iterator[str]:
    if not filed:
        return
    limit = load_rule_set(BASE)["totals_difference"].words()
    near = {0: "none of them is", filed: "all of them are" if filed > 1 else "it is"}
    others = f"{filed - far} of them {'is' if filed - far == 1 else 'are'}"
    said = near.get(filed - far, others)
    yield f"Totals that stood on sheets: {filed}; {said} within {limit} of what the readings give."


def _is_far(one: Computed) -> bool:
    if one.filed is None:
        return False
    percent = one.filed.difference_percent
    if percent is None:
        return one.filed.discharge_m3s != one.result.discharge_m3s
    return abs(percent) > load_rule_set(BASE).si("totals_difference")


def _far_words(one: Computed) -> str:
    assert one.filed is not None  # only those are far from anything
    percent = one.filed.difference_percent
    off = "" if percent is None else f", {percent:+.1f} %"
    rule = "by no known rule" if one.filed.rule is None else f'by "{one.filed.rule}"'
    return (
        f"{one.file}, {gauging_words(one)}: the sheet says {_figure(one.filed.discharge_m3s)} "
        f"({rule}), its readings give {_figure(one.result.discharge_m3s)}{off}."
    )


def _figure(m3s: float) -> str:
    return f"{to_figures(m3s, 3)} m³/s"


def _grave(added: Sequence[RowMapping]) -> Iterator[str]:
    grave = [row for row in added if row["over"] and (row["open_stop"] or row["open_fix"])]
    if grave:
        have = "has" if len(grave) == 1 else "have"
        gaugings = amount_or_no(len(grave), "gauging")
        yield (
            f'{gaugings} {have} findings of "stop" or "fix now" that nobody '
            f"answered: {_some([_row_words(row) for row in grave])}."
        )
    for row in added:
        if row["trouble"]:
            yield f"{_row_words(row)}: {row['trouble'].rstrip('.')}."


def _unfinished(added: Sequence[RowMapping]) -> Iterator[str]:
    names = [_row_words(row) for row in added if not row["over"]]
    if names:
        are = "is" if len(names) == 1 else "are"
        yield f"{amount_or_no(len(names), 'gauging')} {are} not finished: {_some(names)}."


def _notes(taken: Sequence[TakenFile]) -> Iterator[str]:
    """Yield what else there is to know, each sentence once, with what it is about."""
    about: dict[str, list[str]] = {}
    for one in taken:
        labels = [] if one.read is None else [item.label for item in one.read.items]
        for note in one.notes:
            label = next((label for label in labels if note.startswith(f"{label}: ")), None)
            words = note if label is None else note.removeprefix(f"{label}: ")
            about.setdefault(words, []).append(one.file if label is None else f"{one.file} {label}")
    for words, names in about.items():
        count = f"{len(names)} times: " if len(names) > 1 else ""
        yield f"{words} ({count}{_some(names)})"


def _go_on(place: str, taken: Sequence[TakenFile], added: Sequence[RowMapping]) -> Iterator[str]:
    surveys = Counter(row["survey"] for row in added if row["survey"] is not None)
    surveys.update({one.survey: 0 for one in taken if one.survey is not None})
    if not surveys:
        yield f"Go on with: bankside archive list {place}"
    for survey, _ in surveys.most_common(_NAMED):
        yield f"Go on with: bankside archive list {place} --survey {survey}"
    lost = sum(1 for row in added if row["survey"] is None)
    if lost and surveys:
        belong = "gauging belongs" if lost == 1 else "gaugings belong"
        yield f"{lost} new {belong} to no survey: bankside archive list {place} --survey none"


def _row_words(row: RowMapping) -> str:
    parts = (row["site"], row["stream"], row["place"], row["day"])
    known = dict.fromkeys(part for part in parts if part)
    return ", ".join(known) or "a gauging without site and day"


def _some(names: Sequence[str]) -> str:
    more = f"; and {len(names) - _NAMED} more" if len(names) > _NAMED else ""
    return f"{'; '.join(names[:_NAMED])}{more}"


def _entries(count: int) -> str:
    return amount_or_no(count, "new entry", "new entries")
