"""What to say of a file in which no row of heads was recognised."""

from __future__ import annotations

from collections.abc import Sequence

from bankside.gauging.faults import Fault
from bankside.sheets.files.grid import CellValue, Grid
from bankside.sheets.head_meaning import read_head, unknown_words
from bankside.sheets.values import looks_numeric

__all__ = ["no_table"]

_SHOWN = 160


def no_table(grids: Sequence[Grid], every: Sequence[Grid]) -> Fault:
    """Return the fault of a file without heads; it shows the row that is most like a row of heads.

    grids: the sheets that were looked at; every: the hidden ones as well.
    """
    hidden = [grid.sheet for grid in every if grid.hidden]
    hint = f'; sheet "{hidden[0]}" is hidden, and --sheet "{hidden[0]}" reads it' if hidden else ""
    first = next((grid for grid in grids if any(grid.rows)), None)
    if first is None:
        return Fault(
            "found no rows; a table with the heads tape (m), depth (m), velocity (m/s) would be "
            f"right{hint}",
            file=grids[0].file if grids else None,
        )
    likely = [(rank, grid, index) for grid in grids for rank, index in _ranked(grid)]
    if likely:
        _, grid, index = max(likely, key=lambda found: found[0])
        shown = f"row {grid.row_numbers[index]} is most like one and holds {_quoted(grid, index)}"
        words = [word for text in _texts(grid, index) for word in unknown_words(text)]
        unknown = tuple(dict.fromkeys(words))
        if unknown:
            listed = ", ".join(f'"{word}"' for word in unknown)
            shown += f", of which {listed[:_SHOWN]} {'is' if len(unknown) == 1 else 'are'} not "
            shown += "understood"
    else:
        grid = first
        filled = (i for i, row in enumerate(grid.rows) if any(v is not None for v in row))
        index = next(filled, 0)
        shown = f"the first row holds {_quoted(grid, index) or 'errors or formulas alone'}"
    return Fault(
        f"found no row of heads for tape, depth and velocity; {shown}; "
        "heads such as tape (m), depth (m), velocity (m/s) would be right, or say "
        '--column tape="…" --column depth="…" --column velocity="…" by head or letter, and where '
        "no head gives the unit --unit tape=m --unit depth=m --unit velocity=m/s (or ft, ft/s)"
        f"{hint}",
        file=grid.file,
        sheet=grid.sheet,
        row=grid.row_numbers[index],
    )


def _ranked(grid: Grid) -> list[tuple[tuple[int, int], int]]:
    """Return how like heads each row is that could be some: its known words, and numbers below it.

    A row of fewer than two texts, or with a key and its value alone, is none.
    """
    found = []
    below: tuple[CellValue, ...] = ()
    for index in reversed(range(len(grid.rows))):
        filled = sum(1 for value in grid.rows[index] if value is not None)
        texts = _texts(grid, index)
        if len(texts) >= 2 and len(texts) == filled:
            known = sum(1 for text in texts if read_head(text).roles)
            numbers = sum(1 for value in below if looks_numeric(value))
            if known >= 2 or numbers >= 2:
                found.append(((min(numbers, len(texts)) + known, known), index))
        below = grid.rows[index] if filled else below
    return found[::-1]


def _texts(grid: Grid, index: int) -> list[str]:
    return [v for v in grid.rows[index] if isinstance(v, str) and not looks_numeric(v)]


def _quoted(grid: Grid, index: int) -> str:
    return ", ".join(f'"{v}"' for v in grid.rows[index][:8] if v is not None)[:_SHOWN]
