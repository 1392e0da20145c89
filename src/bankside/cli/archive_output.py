"""What the commands of an archive print."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from rich.console import Console

from bankside.archive.difference import Difference
from bankside.archive.taking import TakenFile
from bankside.cli.inputs import compute_all
from bankside.cli.output import asked_once, print_faults
from bankside.cli.render import render_lines, render_points
from bankside.cli.summary import filed_lines

__all__ = ["render_found", "render_taken"]


def render_taken(console: Console, taken: Sequence[TakenFile], seconds: float) -> None:
    """Print what became of the files, of their rows, and of the totals that stood on them."""
    rows = Counter[str]()
    for one in taken:
        rows.update(one.rows)
    gaugings = {id_ for one in taken for id_ in one.gaugings}
    added = {id_ for one in taken for id_ in one.added}
    surveys = {one.survey for one in taken if one.survey is not None}
    entries = sum(one.entries for one in taken)
    photos = sum(one.photos for one in taken)
    lines = [
        f"{_counted(len(taken), 'file')} in {seconds:.1f} s: {_counted(len(gaugings), 'gauging')}, "
        f"{len(added)} of them new or with new entries; "
        f"{_counted(entries, 'new entry', 'new entries')}, {_counted(photos, 'new photo')}, "
        f"{_counted(len(surveys), 'survey')}.",
    ]
    if sum(rows.values()):
        lines.append(
            f"Rows of sheets: {rows['used']} used, {rows['remark']} kept as remark, "
            f"{rows['refused']} refused."
        )
    render_lines(console, lines)
    _, computed = compute_all([one.read for one in taken if one.read], "mid-section", "half-width")
    if any(one.filed is not None for one in computed):
        render_lines(console, ["", *filed_lines(computed)])
    _render_some(console, [f"{one.file}: {note}" for one in taken for note in one.notes])
    print_faults(asked_once([fault for one in taken for fault in one.faults]))


def render_found(console: Console, place: str, gaugings: int, found: Sequence[Difference]) -> None:
    """Print what verifying found."""
    counts = Counter(one.kind for one in found)
    said = ", ".join(f"{count} {kind}" for kind, count in counts.items()) or "nothing differs"
    render_lines(console, [f"{place}: {_counted(gaugings, 'gauging')} worked out anew: {said}."])
    _render_some(console, [f"{one.kind}: {one.what}: {one.words}." for one in found])


def _render_some(console: Console, sentences: Sequence[str]) -> None:
    if sentences:
        render_points(console, sentences)


def _counted(count: int, one: str, several: str | None = None) -> str:
    return f"{count} {one if count == 1 else several or f'{one}s'}"
