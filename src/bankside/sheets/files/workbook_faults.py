"""Why a workbook cannot be read: errors raised anywhere inside one, given as one sentence."""

from __future__ import annotations

__all__ = ["PASSWORD", "SAVE_AS", "Damaged", "Unfit"]

SAVE_AS = "the table saved as XLSX or CSV would be right"
PASSWORD = "found a workbook protected by a password; one saved without it would be right"
_DAMAGED = "found a damaged or incomplete workbook"


class Unfit(Exception):
    """The workbook cannot be read; the text is the sentence to give, about `sheet` if known."""

    def __init__(self, sentence: str, sheet: str | None = None) -> None:
        super().__init__(sentence)
        self.sheet = sheet


class Damaged(Unfit):
    """The workbook contradicts itself or ends too early; the reason goes into the sentence."""

    def __init__(self, reason: str) -> None:
        super().__init__(f"{_DAMAGED} ({reason}); {SAVE_AS}")
