"""Text files as grids: character set, separator, rows.

Nothing is guessed between two readings that fit equally well: then the sentence names both and the
option that settles it. Lines above a table ("# key: value", "key: value", a title) neither decide
the separator nor are cut up by it.
"""

from __future__ import annotations

import io
from collections.abc import Sequence

from bankside.sheets.files.encodings import decoded
from bankside.sheets.files.grid import MAX_ROWS, Grid, padded_rows, refusal, size_fault
from bankside.sheets.files.separators import (
    ALL_NAMES,
    SEPARATOR_NAMES,
    sample_of_table,
    separator_asked_for,
    separator_for_sign,
    separator_found,
    sign_in_first_line,
    usual_width,
)
from bankside.sheets.files.text_rows import RowReader

__all__ = ["read_text"]

# A row may take several lines, and a cell may have 100,000 characters; more of either is no table,
# and would fill the memory before its rows and cells could be counted.
_MAX_LINES = 10 * MAX_ROWS
_MAX_LINE = 200_000


def read_text(data: bytes, file: str, separator: str | None, encoding: str | None) -> Grid:
    """Read the bytes of a text file as one grid of texts.

    `separator` (a sign, or one of SEPARATOR_NAMES) and `encoding` settle what else is found from
    the content. Cells are stripped of white space around them and never turned into numbers.
    Raises InputRefused.
    """
    text, found_encoding = decoded(data, file, encoding)
    _require_few_lines(text, file)
    lines = list(io.StringIO(text, newline=""))
    _require_short_lines(lines, file)
    mark = separator_asked_for(separator, file)
    written = sign_in_first_line(lines)
    if written is not None and mark is None:
        mark = separator_for_sign(written, file)
    sample = sample_of_table(lines if written is None else lines[1:])
    if not sample:
        raise refusal(file, "found no line with a table; a head and rows of values would be right")
    if mark is None:
        mark = separator_found(sample, file)
    reader = RowReader(lines, mark, usual_width(sample, mark), file)
    if written is not None:
        reader.take_whole_line()
    reader.read()
    if reader.widest < 2:
        raise refusal(
            file,
            f"found no {SEPARATOR_NAMES[mark]} that separates cells; another of {ALL_NAMES} by "
            "`--separator` would be right",
        )
    return Grid(
        file=file,
        sheet=None,
        rows=padded_rows(reader.rows, set(reader.errors)),
        row_numbers=tuple(reader.numbers),
        cell_errors=reader.errors,
        separator=mark,
        encoding=found_encoding,
    )


def _require_few_lines(text: str, file: str) -> None:
    if text.count("\n") + text.count("\r") > 2 * _MAX_LINES:
        fault = size_fault(_MAX_LINES, 0, 0)
        assert fault is not None  # so many rows are too many
        raise refusal(file, fault)


def _require_short_lines(lines: Sequence[str], file: str) -> None:
    for number, line in enumerate(lines, 1):
        if len(line) > _MAX_LINE:
            raise refusal(
                file,
                f"found a line of {len(line):,} characters; at most {_MAX_LINE:,} are read: are "
                "the ends of its rows missing?",
                row=number,
            )
