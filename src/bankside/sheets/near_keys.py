"""Lines around a table whose key is nearly one that is understood, told so that none is missed."""

from __future__ import annotations

import re
from collections.abc import Iterator
from difflib import get_close_matches

from bankside.sheets.keys import KEYS
from bankside.sheets.preface import Preface, key_text

__all__ = ["unknown_keys"]

_CLOSE = 0.85
"""How like a known key another must be (a ratio of `difflib`) to be told; found by trial."""

_WRITTEN = {written: ways[0] for ways in KEYS.values() for written in ways}


def unknown_keys(preface: Preface) -> Iterator[str]:
    """Yield a sentence for each line whose key looks like a known one and is none."""
    for text, row in preface.texts:
        key = key_text(re.split(r"[:=]|\s(?=[\d.+-])", text)[0])
        near = get_close_matches(key, _WRITTEN, n=1, cutoff=_CLOSE)
        if near:
            yield (
                f'The line "{text}" on row {row} is kept as a remark, as "{key}" is not '
                f'understood; if it is the {_WRITTEN[near[0]]}, "{near[0]}" would be right.'
            )
