"""One column of a table, as its head, its values or an answer decide it."""

from __future__ import annotations

import attrs

from bankside.sheets.files.grid import column_letter
from bankside.sheets.head_meaning import Unit
from bankside.sheets.values import show

__all__ = ["Column"]


@attrs.frozen
class Column:
    """One column of a table: where it stands, what it holds, and the unit its head gives."""

    index: int
    role: str
    head: str
    fraction: float | None = None
    unit: Unit | None = None

    @property
    def name(self) -> str:
        """The column's letter and head, as sentences name it."""
        shown = f" {show(self.head, 80)}" if self.head else ""
        return f"{column_letter(self.index)}{shown}"
