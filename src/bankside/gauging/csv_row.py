"""A row of CSV by RFC 4180: whatever stands in a cell, the row is one row."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable

__all__ = ["csv_row"]

_END = "\r\n"


def csv_row(cells: Iterable[str]) -> str:
    """Return cells with commas between them and a line feed behind them, quoted where needed."""
    out = io.StringIO(newline="")
    # A writer quotes a carriage return or a line feed in a cell only where both end its lines.
    csv.writer(out, lineterminator=_END).writerow(cells)
    return f"{out.getvalue().removesuffix(_END)}\n"
