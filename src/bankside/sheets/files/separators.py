"""The separator of a text file: asked for, written in its first line, or found in its lines.

Nothing is guessed between two separators that fit equally well: then the sentence names both and
the option that settles it.
"""

from __future__ import annotations

import contextlib
import csv
import re
from collections import Counter
from collections.abc import Sequence

from bankside.sheets.files.grid import quoted, refusal
from bankside.sheets.files.text_lines import BLANKS, csv_line, is_comment, is_key_line, is_number

__all__ = [
    "ALL_NAMES",
    "SEPARATOR_NAMES",
    "sample_of_table",
    "separator_asked_for",
    "separator_for_sign",
    "separator_found",
    "sign_in_first_line",
    "usual_width",
]

SEPARATOR_NAMES: dict[str, str] = {
    ",": "comma",
    ";": "semicolon",
    "\t": "tab",
    "|": "pipe",
    BLANKS: "blank",
}
"""Separator → the name by which it is offered and asked for."""

ALL_NAMES = ", ".join(SEPARATOR_NAMES.values())
"""The names of all separators, for sentences that offer them."""

_SAMPLE_LINES = 2000
_SAMPLE_SIGNS = 1_000_000
_MARKS = (",", ";", "\t", "|")
_BLANKS_OUTWEIGH = 10  # times the best other separator: a few commas in prose above a table
_SEPARATOR_LINE = re.compile(r'"?sep=(.)"?[ \t]*', re.IGNORECASE)
_DECIMAL_COMMA = re.compile(r"(?:(?<=\d)|(?<![^\s+-])),(?=\d)")


def separator_asked_for(separator: str | None, file: str) -> str | None:
    """Return the sign for a separator given as a sign or by name; None when none is given.

    Raises InputRefused.
    """
    if separator is None or separator in SEPARATOR_NAMES:
        return separator
    asked = separator.strip().casefold().removesuffix("s")
    aliases = {name: mark for mark, name in SEPARATOR_NAMES.items()}
    aliases |= {"\\t": "\t", "space": BLANKS}
    if asked not in aliases:
        raise refusal(
            file,
            f"found {quoted(separator)} for `--separator`; one of {ALL_NAMES} would be right",
        )
    return aliases[asked]


def sign_in_first_line(lines: Sequence[str]) -> str | None:
    """Return the sign in a first line such as "sep=;"; None when the first line is no such line."""
    written = _SEPARATOR_LINE.fullmatch(lines[0].rstrip("\r\n")) if lines else None
    return None if written is None else written[1]


def separator_for_sign(mark: str, file: str) -> str:
    """Return the sign that a first line names, if it is a separator; else raise InputRefused."""
    if mark not in SEPARATOR_NAMES:
        raise refusal(
            file,
            f"found {quoted('sep=' + mark)}; the sign for one of {ALL_NAMES} would be right",
            row=1,
        )
    return mark


def sample_of_table(lines: Sequence[str]) -> list[str]:
    """Return the first lines that can belong to a table; all that say something if none can."""
    said: list[str] = []
    signs = 0
    for line in lines[:_SAMPLE_LINES]:
        if line.strip() and not is_comment(line):
            said.append(line)
            signs += len(line)
        if signs > _SAMPLE_SIGNS:
            break
    return [line for line in said if not is_key_line(line)] or said


def separator_found(sample: Sequence[str], file: str) -> str:
    """Return the separator by which most lines fall into as many cells as a line next to them.

    Lines count with their separators, and only while no cell holds another separator: a comma
    between digits is a decimal comma and may stand in a cell. Raises InputRefused when none fits,
    or when several fit equally well.
    """
    records = {mark: _records(sample, mark) for mark in _MARKS}
    blank_records = _records(sample, BLANKS)
    blanks = _weight(blank_records, BLANKS) if _holds_number(blank_records) else 0
    clean = {mark: _weight(records[mark], mark) for mark in _MARKS}
    if blanks > _BLANKS_OUTWEIGH * max(clean.values()):
        return BLANKS
    if not any(clean.values()):
        clean = {mark: _weight(records[mark], mark, alone=True) for mark in _MARKS}
    if not any(clean.values()):
        clean = {mark: max(map(len, records[mark]), default=1) > 1 for mark in _MARKS}
    most = max(clean.values())
    if not most:
        raise refusal(
            file,
            "found a single column, or no separator that can be told; a table with a comma, "
            "semicolon, tab or pipe between its cells, or `--separator`, would be right",
        )
    # More than half as good is too good to be chance.
    return _only([mark for mark in _MARKS if 2 * clean[mark] > most], file)


def _only(marks: Sequence[str], file: str) -> str:
    if len(marks) == 1:
        return marks[0]
    names = [SEPARATOR_NAMES[mark] for mark in marks]
    options = " or ".join(f"`--separator {name}`" for name in names)
    raise refusal(
        file, f"found {' and '.join(names)} to fit equally well as separator; say which: {options}"
    )


def _records(lines: Sequence[str], mark: str) -> list[list[str]]:
    """Return the cells of sample lines, with no demand on quotation marks yet."""
    taken = (csv_line(line, mark) for line in lines)
    reader = csv.reader(taken, delimiter=mark, skipinitialspace=mark == BLANKS)
    records: list[list[str]] = []
    with contextlib.suppress(csv.Error):  # a cell too long to be one; the reading proper says so
        records.extend(reader)
    return [record for record in records if record]


def usual_width(sample: Sequence[str], mark: str) -> int:
    """Return how many cells most lines have that have more than one; 0 when none has."""
    counts = Counter(len(record) for record in _records(sample, mark))
    counts.pop(1, None)
    return max(counts, key=lambda count: (counts[count], count), default=0)


def _weight(records: Sequence[Sequence[str]], mark: str, alone: bool = False) -> int:
    """Return how many separators stand in clean lines that have as many as a neighbour.

    With `alone`, the neighbours do not matter.
    """
    counts = [len(record) for record in records]
    weight = 0
    for index, record in enumerate(records):
        beside = counts[max(index - 1, 0) : index] + counts[index + 1 : index + 2]
        if (alone or counts[index] in beside) and all(_is_clean(cell, mark) for cell in record):
            weight += counts[index] - 1
    return weight


def _is_clean(cell: str, mark: str) -> bool:
    """Return whether a cell holds neither another separator nor two numbers."""
    if any(other in cell for other in ";\t|" if other != mark):
        return False
    if mark != "," and "," in cell and "," in _DECIMAL_COMMA.sub("", cell):
        return False
    parts = cell.split()
    return len(parts) < 2 or not all(is_number(part) for part in parts)


def _holds_number(records: Sequence[Sequence[str]]) -> bool:
    return any(is_number(cell) for record in records for cell in record)
