"""Lines around a table whose key is nearly one that is understood, told so that none is missed."""

from __future__ import annotations

import re
from collections.abc import Iterator
from difflib import get_close_matches
from functools import lru_cache

from bankside.sheets.keys import KEYS
from bankside.sheets.preface import Preface, key_text

__all__ = ["unknown_keys"]

_CLOSE = 0.85
"""How like a known key another must be (a ratio of `difflib`) to be told; found by trial."""

_LONGEST = 2 * max(len(written) for ways in KEYS.values() for written in ways)
_WRITTEN = {written: ways[0] for ways in KEYS.values() for written in ways}


def unknown_keys(preface: Preface) -> Iterator[str]:
    """Yield a sentence for each line whose key looks like a known one and is none."""
    for text, row in preface.texts:
        key = key_text(re.split(r"[:=]|\s(?=[\d.+-])", text)[0])
        near = _nearest(key)
        if key in _WRITTEN:
            yield f'The line "{text}" on row {row} stands over several gaugings: it is a remark.'
        elif near is not None:
            yield (
                f'The line "{text}" on row {row} is kept as a remark, as "{key}" is not '
                f'understood; if it is the {_WRITTEN[near]}, "{near}" would be right.'
            )


@lru_cache(maxsize=4096)
def _nearest(key: str) -> str | None:
    """Return the known key that another is most like, None where it is like none."""
    if len(key) > _LONGEST:
        return None
    return next(iter(get_close_matches(key, _WRITTEN, n=1, cutoff=_CLOSE)), None)
