"""Signs that a note can show, and what stands in for the others.

Names and remarks can hold any sign: where a note cannot show one, its Unicode number stands there
in brackets, so that nothing is lost and nothing is guessed.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Callable, Iterator
from typing import Any, Final

__all__ = ["in_every_document", "with_signs"]

# These turn the reading direction of what follows, so that a line could show what it does not say.
_TURNING: Final = frozenset(
    "\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069"
)

# Control signs, halves of signs, private and unassigned ones: nobody else could know their meaning.
_MEANINGLESS: Final = frozenset({"Cc", "Cs", "Co", "Cn"})

# Letters of living languages carry two or three marks at the most.
_MOST_MARKS: Final = 4


def in_every_document(sign: str) -> bool:
    """Return whether a sign can stand in any text: it has a meaning and keeps its place."""
    if sign == "\n":
        return True
    return unicodedata.category(sign) not in _MEANINGLESS and sign not in _TURNING


def with_signs(content: Any, allowed: Callable[[str], bool]) -> Any:
    """Return lists, dicts and texts with the number in place of each sign that is not allowed."""
    if isinstance(content, str):
        text = content.replace("\r\n", "\n").replace("\r", "\n").replace("\t", " ")
        return "".join(_shown(text, allowed))
    if isinstance(content, dict):
        return {key: with_signs(value, allowed) for key, value in content.items()}
    if isinstance(content, list | tuple):
        return [with_signs(value, allowed) for value in content]
    return content


def _shown(text: str, allowed: Callable[[str], bool]) -> Iterator[str]:
    marks = 0
    for sign in text:
        marks = marks + 1 if unicodedata.combining(sign) else 0
        # A pile of marks on one letter would run over the lines above it.
        yield sign if allowed(sign) and marks <= _MOST_MARKS else f"[U+{ord(sign):04X}]"
