"""Finding the rows of heads over tables of verticals, and reading what they say."""

from __future__ import annotations

from collections.abc import Sequence

import attrs

from bankside.sheets.answers import Answers
from bankside.sheets.dates import is_written_date
from bankside.sheets.files.grid import CellValue, Grid, cell, column_letter
from bankside.sheets.head_meaning import Head, parse_unit, read_head
from bankside.sheets.values import is_empty, looks_numeric, show
from bankside.sheets.words import READING_ROLES, WORDS

__all__ = ["full_head", "head_rows", "is_title", "next_introduction", "normal_text", "read_heads"]


_LONGEST_TITLE = 60
_POINT_FRACTIONS = (0.0, 0.2, 0.4, 0.5, 0.6, 0.8, 1.0)


def head_rows(grid: Grid, answers: Answers) -> list[int]:
    """Return the rows at which a table starts; repeats of a table's own heads do not count.

    Only heads that follow rows of their own introduction (site, date, …) start a new table when
    they repeat the heads above; without such an introduction they are a page's repeated heads.
    """
    found: list[int] = []
    known: tuple[str, ...] | None = None
    for index, row in enumerate(grid.rows):
        if not _is_head_row(grid, index, answers):
            continue
        texts = tuple(normal_text(str(value)) for value in row if isinstance(value, str))
        if texts == known and not _introduced(grid, found[-1], index):
            continue
        found.append(index)
        known = texts
    if not found and answers.columns:
        first = _first_row_of_numbers(grid, answers)
        return [] if first is None else [first]
    return found


def _introduced(grid: Grid, start: int, end: int) -> bool:
    """Return whether rows of introduction (words without readings) stand right above `end`."""
    index = end - 1
    while index > start:
        row = grid.rows[index]
        filled = [value for value in row if value is not None]
        if filled and any(looks_numeric(value) for value in filled[:3]) and len(filled) > 2:
            return False
        if any(_is_introduction(value) for value in filled) or is_title(grid, index):
            return True
        index -= 1
    return False


def is_title(grid: Grid, index: int) -> bool:
    """Return whether a row is a single line of words, such as a name right above a table's heads.

    A line that begins with "#", names a key, or speaks of a total is none.
    """
    filled = [value for value in grid.rows[index] if value is not None] if index >= 0 else []
    if len(filled) != 1 or not isinstance(filled[0], str) or looks_numeric(filled[0]):
        return False
    text = filled[0].strip()
    words = text.casefold().split()
    if is_written_date(text):
        return False
    aside = text.startswith("#") or ":" in text or "=" in text or len(text) > _LONGEST_TITLE
    return not aside and not set(words[:1]) & {*WORDS["total"], *WORDS["mean"], *WORDS["remark"]}


def _is_introduction(value: object) -> bool:
    if not isinstance(value, str):
        return False
    key = value.lstrip("# ").split(":")[0]
    roles = read_head(key).roles
    return bool(roles) and roles[0] in ("site", "stream", "date", "channel")


def next_introduction(grid: Grid, body: Sequence[int]) -> int:
    """Return the row at which the introduction of the next table starts, seen from its heads.

    It reaches up to the first line that names a site, a stream, a date or a channel, and further
    over the title lines right above that one.
    """
    between: list[int] = []
    for index in reversed(body):
        if _holds_readings(grid, index):
            break
        between.insert(0, index)
    named = [i for i in between if any(_is_introduction(value) for value in grid.rows[i])]
    named = named or [i for i in between if is_title(grid, i)][-1:]
    if not named:
        return body[-1] + 1 if body else 0
    start = named[0]
    while start - 1 in between and any(value is not None for value in grid.rows[start - 1]):
        start -= 1
    return start


def _holds_readings(grid: Grid, index: int) -> bool:
    filled = [value for value in grid.rows[index] if value is not None]
    numeric = [value for value in filled if looks_numeric(value)]
    return bool(numeric) and (len(numeric) >= 2 or len(filled) > 2)


def _is_head_row(grid: Grid, index: int, answers: Answers) -> bool:
    row = grid.rows[index]
    if not _may_be_heads(row):
        return False
    texts = [value for value in row if isinstance(value, str) and not looks_numeric(value)]
    named = {normal_text(head) for heads in answers.columns.values() for head in heads}
    roles: set[str] = set()
    for text in texts:
        if text.lstrip().startswith("#"):
            return False
        if normal_text(text) in named:
            roles.add(normal_text(text))
            continue
        first = read_head(text).roles[:1]
        roles.update(role for role in first if role in READING_ROLES)
    return len(roles) >= 2


def _may_be_heads(row: Sequence[CellValue]) -> bool:
    """Return whether a row has two texts at least, and no numbers but fractions of the depth."""
    numbers = [value for value in row if looks_numeric(value)]
    texts = [value for value in row if isinstance(value, str) and not looks_numeric(value)]
    return len(texts) > 1 and all(_as_fraction(value) is not None for value in numbers)


def _first_row_of_numbers(grid: Grid, answers: Answers) -> int | None:
    """Return the head row (or first row) of a table whose columns are named by letter only."""
    letters = {
        head.upper()
        for name, heads in answers.columns.items()
        if name.partition("@")[0] in READING_ROLES
        for head in heads
    }
    for index, row in enumerate(grid.rows):
        wanted = [value for i, value in enumerate(row) if column_letter(i) in letters]
        if len(wanted) >= 2 and all(looks_numeric(value) for value in wanted):
            above = [v for v in grid.rows[index - 1] if isinstance(v, str)] if index else []
            is_head = len(above) > 1 and not above[0].startswith("#")
            return index - 1 if is_head else index
    return None


def full_head(grid: Grid, start: int) -> tuple[int, ...]:
    """Return the rows of heads from `start`: itself, and rows of units or fractions below it."""
    if not _may_be_heads(grid.rows[start]):
        return ()
    heads = [start]
    for index in range(start + 1, min(start + 3, len(grid.rows))):
        filled = [value for value in grid.rows[index] if not is_empty(value)]
        units = filled and all(isinstance(v, str) and parse_unit(v) is not None for v in filled)
        if units or (
            filled
            and len(filled) > 1
            and all(_as_fraction(v) is not None for v in filled)
            and _under_velocity(grid, start, index)
        ):
            heads.append(index)
        else:
            break
    return tuple(heads)


def _under_velocity(grid: Grid, start: int, index: int) -> bool:
    """Return whether every filled cell of `index` stands under a (spread) velocity head."""
    spread = _spread_heads(grid, start)
    filled = [i for i, value in enumerate(grid.rows[index]) if value is not None]
    return all(read_head(spread.get(i, "")).roles[:1] == ("velocity",) for i in filled)


def _as_fraction(value: object) -> float | None:
    if isinstance(value, float):
        return value if value in _POINT_FRACTIONS else None
    if isinstance(value, str):
        return read_head(f"v {value}").fraction
    return None


def _spread_heads(grid: Grid, row: int) -> dict[int, str]:
    """Return column index → head text of a row, a merged head spread over its columns."""
    spread = {
        i: " ".join(str(value).split())
        for i, value in enumerate(grid.rows[row])
        if isinstance(value, (str, float)) and not isinstance(value, bool)
    }
    for first_row, first_col, last_row, last_col in grid.merged:
        if first_row <= row <= last_row:
            text = cell(grid, first_row, first_col)
            if isinstance(text, str):
                for index in range(first_col, last_col + 1):
                    spread.setdefault(index, " ".join(text.split()))
    return spread


def read_heads(grid: Grid, heads: tuple[int, ...]) -> dict[int, Head]:
    """Return column index → head, the unit or fraction row below already joined to it."""
    if not heads:
        return {}
    read = {index: read_head(text) for index, text in _spread_heads(grid, heads[0]).items()}
    for row in heads[1:]:
        for index, value in enumerate(grid.rows[row]):
            head = read.get(index)
            if value is None or head is None:
                continue
            unit = parse_unit(value) if isinstance(value, str) else None
            if unit is not None:
                joined = read_head(f"{head.text} ({unit.name})")
                read[index] = attrs.evolve(joined, text=head.text)
            else:
                text = f"{head.text} {show(value).strip(chr(34))}"
                read[index] = attrs.evolve(head, text=text, fraction=_as_fraction(value))
    return read


def normal_text(text: str) -> str:
    """Return a head as it is compared: lower case, one blank between words."""
    return " ".join(text.split()).casefold()
