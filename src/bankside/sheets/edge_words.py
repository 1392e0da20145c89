"""The words by which sheets name an edge of water and the form of its bank."""

from __future__ import annotations

import re

from bankside.sheets.sheet_row import Form, Side

__all__ = ["edge_in"]

_EDGE_WORDS: dict[str, Side] = {
    "lew": "left",
    "left": "left",
    "left edge": "left",
    "left bank": "left",
    "lb": "left",
    "left edge of water": "left",
    "left water edge": "left",
    "lwe": "left",
    "l": "left",
    "rew": "right",
    "right": "right",
    "right edge": "right",
    "right bank": "right",
    "rb": "right",
    "right edge of water": "right",
    "right water edge": "right",
    "rwe": "right",
    "r": "right",
    "edge": "unnamed",
    "bank": "unnamed",
    "edge of water": "unnamed",
    "water edge": "unnamed",
    "water's edge": "unnamed",
    "waters edge": "unnamed",
}

_TOKENS: dict[str, Side] = {"lew": "left", "lwe": "left", "rew": "right", "rwe": "right"}
"""Words that name an edge of water wherever they stand in a text."""

_FORMS: dict[str, Form] = {"sloping": "sloping", "steep": "steep", "undercut": "undercut"}
_FORMS_ALONE: dict[str, Form] = {**_FORMS, "vertical": "steep", "wall": "steep", "cut": "steep"}
"""The same and words that mean something else among others: "LEW, first vertical, weed cut"."""


def edge_in(text: str, in_bank_column: bool) -> tuple[Side | None, Form | None, bool]:
    """Return the edge and the form of its bank that a text names, and whether it says more.

    In a column of banks any wording will do that begins with the edge; among remarks only the
    trade's letters (LEW, REW) or nothing but the name of the edge.
    """
    words = [word for word in re.split(r"[^a-z']+", text.casefold()) if word]
    whole, form = _parted(words, _FORMS_ALONE)
    name = " ".join(whole)
    # A lone letter among remarks may be anything.
    if name in _EDGE_WORDS and (in_bank_column or len(name) > 1):
        return _EDGE_WORDS[name], form, False
    if in_bank_column and (
        name in ("y", "yes", "x", "true") or text.strip() == "1" or (not whole and form is not None)
    ):
        return "unnamed", form, False
    named, form = _parted(words, _FORMS)
    token = next((word for word in named if word in _TOKENS), None)
    if token is not None:
        return _TOKENS[token], form, True
    if in_bank_column:
        for length in range(len(named) - 1, 0, -1):
            start = " ".join(named[:length])
            if start in _EDGE_WORDS:
                return _EDGE_WORDS[start], form, True
    return None, None, True


def _parted(words: list[str], forms: dict[str, Form]) -> tuple[list[str], Form | None]:
    """Return the words that name no form of a bank, and the first form that one names."""
    form = next((forms[word] for word in words if word in forms), None)
    return [word for word in words if word not in forms], form
