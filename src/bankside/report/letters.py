"""The letters that come with Bankside, and which signs they have.

Documents and pictures use Noto Sans (SIL Open Font License 1.1, in `fonts/`), so that they look and
read the same on every machine.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache
from importlib import resources
from pathlib import Path
from typing import Final

from bankside.note.signs import in_every_document

__all__ = ["FAMILY", "fonts_folder", "in_our_letters"]

FAMILY: Final = "Noto Sans"

_FONTS = resources.files(__package__) / "fonts"
_REGULAR: Final = "NotoSans-Regular.ttf"

# Signs of formulas that Noto Sans lacks and that Typst brings along itself.
_BROUGHT_ALONG: Final = frozenset("≤≥√−→")


@contextmanager
def fonts_folder() -> Iterator[Path]:
    """Lend the folder of the fonts, wherever the package is installed."""
    with resources.as_file(_FONTS) as folder:
        yield folder


def in_our_letters(sign: str) -> bool:
    """Return whether a sign can also be shown in the letters that come with Bankside."""
    known = sign == "\n" or ord(sign) in _signs_of_the_font() or sign in _BROUGHT_ALONG
    return known and in_every_document(sign)


@cache
def _signs_of_the_font() -> frozenset[int]:
    from matplotlib.ft2font import FT2Font  # loads an array library: only when one is drawn

    with fonts_folder() as folder:
        return frozenset(FT2Font(str(folder / _REGULAR)).get_charmap())
