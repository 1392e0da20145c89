"""Texts in CSV that a spreadsheet would take for a formula, and back.

A text that begins with one of the signs of a formula gets an apostrophe before it, by which
spreadsheets know a text (OWASP, CSV Injection). So does one that begins with an apostrophe: the
first apostrophe before such a text is always ours, and taking it away gives the text back.
"""

from __future__ import annotations

__all__ = ["guarded", "unguarded"]

_APOSTROPHE = "'"
# The wide signs are formulas too in spreadsheets of East Asia.
_SIGNS = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠", _APOSTROPHE)  # noqa: RUF001


def guarded(text: str) -> str:
    """Return a text such that no spreadsheet takes it for a formula."""
    return f"{_APOSTROPHE}{text}" if text.startswith(_SIGNS) else text


def unguarded(text: str) -> str:
    """Return the text that was guarded, or a text that never was as it is."""
    if text.startswith(_APOSTROPHE) and text[1:].startswith(_SIGNS):
        return text[1:]
    return text
