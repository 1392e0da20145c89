"""What a line or a cell of a text file is by its look, before anything is read from it."""

from __future__ import annotations

import re

from bankside.sheets.files.grid import error_literal

__all__ = ["BLANKS", "csv_line", "is_comment", "is_key_line", "is_number"]

BLANKS = " "
"""The separator that stands for runs of blanks."""

_KEY_LINE = re.compile(r'\s*[^\W\d][^,;|\t:"]{0,60}:( |$)')
_HEAD_OF_NUMBERS = re.compile(r"#\s*[,;|\t]")
_NUMBER = re.compile(r"[+-]?(\d+([.,]\d*)?|[.,]\d+)")


def is_comment(line: str) -> bool:
    """Return whether a line begins with "#" and this is neither a head of numbers nor an error."""
    start = line.lstrip()
    return (
        start.startswith("#")
        and _HEAD_OF_NUMBERS.match(start) is None
        and error_literal(re.split(r"[,;|\s]", start, maxsplit=1)[0]) is None
    )


def is_key_line(line: str) -> bool:
    """Return whether a line says "key: value", or a key whose value is left out."""
    return _KEY_LINE.match(line) is not None


def is_number(cell: str) -> bool:
    """Return whether a cell holds one number and nothing else."""
    return _NUMBER.fullmatch(cell) is not None


def csv_line(line: str, mark: str) -> str:
    """Return a line as the CSV reader is to have it: between blanks, tabs are blanks too."""
    return line.replace("\t", " ").strip() if mark == BLANKS else line
