"""The letters that come with Bankside, and what stands in for a sign that they do not have.

Documents and pictures use Noto Sans (SIL Open Font License 1.1, in `fonts/`), so that they look and
read the same on every machine. Names and remarks can hold any sign: where a document cannot show
one, its Unicode number stands there in brackets, so that nothing is lost and nothing is guessed.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import cache
from importlib import resources
from pathlib import Path
from typing import Any, Final

__all__ = ["FAMILY", "fonts_folder", "in_every_document", "in_our_letters", "with_signs"]

FAMILY: Final = "Noto Sans"

_FONTS = resources.files(__package__) / "fonts"
_REGULAR: Final = "NotoSans-Regular.ttf"

# Signs of formulas that Noto Sans lacks and that Typst brings along itself.
_BROUGHT_ALONG: Final = frozenset("≤≥√−→")

# These turn the reading direction of what follows, so that a line could show what it does not say.
_TURNING: Final = frozenset(
    "\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069"
)

# Control signs, halves of signs, private and unassigned ones: nobody else could know their meaning.
_MEANINGLESS: Final = frozenset({"Cc", "Cs", "Co", "Cn"})


# Letters of living languages carry two or three marks at the most.
_MOST_MARKS: Final = 4


@contextmanager
def fonts_folder() -> Iterator[Path]:
    """Lend the folder of the fonts, wherever the package is installed."""
    with resources.as_file(_FONTS) as folder:
        yield folder


def in_every_document(sign: str) -> bool:
    """Return whether a sign can stand in any text: it has a meaning and keeps its place."""
    if sign == "\n":
        return True
    return unicodedata.category(sign) not in _MEANINGLESS and sign not in _TURNING


def in_our_letters(sign: str) -> bool:
    """Return whether a sign can also be shown in the letters that come with Bankside."""
    known = sign == "\n" or ord(sign) in _signs_of_the_font() or sign in _BROUGHT_ALONG
    return known and in_every_document(sign)


@cache
def _signs_of_the_font() -> frozenset[int]:
    from matplotlib.ft2font import FT2Font  # loads an array library: only when one is drawn

    with fonts_folder() as folder:
        return frozenset(FT2Font(str(folder / _REGULAR)).get_charmap())


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
