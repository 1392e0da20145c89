"""Texts as the columns of both databases can hold them."""

from __future__ import annotations

import re
from typing import overload

__all__ = ["plain"]

_UNKEPT = re.compile("[\0\ud800-\udfff]")


@overload
def plain(text: str) -> str: ...
@overload
def plain(text: None) -> None: ...
def plain(text: str | None) -> str | None:
    """Return a text with a mark for what no column can hold: NUL, and half characters.

    As it was said, it stands in the entry, the sheet or the record that it is from.
    """
    return None if text is None else _UNKEPT.sub("\N{REPLACEMENT CHARACTER}", text)
