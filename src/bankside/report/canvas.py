"""How pictures are drawn and kept: black on white, our letters, equal bytes for equal data."""

from __future__ import annotations

import io
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache
from typing import TYPE_CHECKING, Any, Final, Literal

from bankside.note.signs import with_signs
from bankside.report.letters import FAMILY, fonts_folder, in_our_letters

if TYPE_CHECKING:
    from matplotlib.figure import Figure

__all__ = [
    "INK",
    "POINTS_PER_MM",
    "PictureForm",
    "drawing_style",
    "new_figure",
    "picture_bytes",
    "short_label",
    "text_size_mm",
]

PictureForm = Literal["svg", "png"]

INK: Final = "#1a1a1a"
_INCH: Final = 25.4
POINTS_PER_MM: Final = 72 / _INCH
_DOTS_PER_INCH: Final = 200

_STYLE: Final[Any] = {  # its keys are matplotlib's own
    "font.family": [FAMILY],
    "font.size": 7.0,
    "text.color": INK,
    "text.parse_math": False,
    "axes.unicode_minus": False,
    "axes.edgecolor": INK,
    "axes.labelcolor": INK,
    "axes.linewidth": 0.5,
    "axes.labelsize": 7.0,
    "axes.spines.top": False,
    "axes.spines.right": False,
    "axes.formatter.useoffset": False,
    "axes.formatter.limits": (-9, 9),
    "xtick.color": INK,
    "ytick.color": INK,
    "xtick.labelsize": 6.5,
    "ytick.labelsize": 6.5,
    "xtick.major.width": 0.5,
    "ytick.major.width": 0.5,
    "xtick.major.size": 2.5,
    "ytick.major.size": 2.5,
    "hatch.linewidth": 0.4,
    "hatch.color": "#555555",
    "svg.fonttype": "path",
    "svg.hashsalt": "bankside",
    "savefig.facecolor": "white",
    "figure.constrained_layout.h_pad": 0.02,
    "figure.constrained_layout.w_pad": 0.02,
}


@contextmanager
def drawing_style() -> Iterator[None]:
    """Draw in our own style, whatever the machine or the calling program has set."""
    from matplotlib import rc_context, rcdefaults

    _learn_letters()
    with rc_context():
        rcdefaults()
        with rc_context(_STYLE):
            yield


@cache
def _learn_letters() -> None:
    from matplotlib import font_manager

    manager = font_manager.fontManager
    with fonts_folder() as folder:
        ours = [str(font) for font in sorted(folder.glob("*.ttf"))]
    for font in ours:
        manager.addfont(font)
    # Ours go first: the machine may have another edition of the same letters.
    manager.ttflist.sort(key=lambda entry: entry.fname not in ours)


def new_figure(width_mm: float, height_mm: float, *, laid_out: bool = True) -> Figure:
    """Return an empty figure of a size on paper; it needs no screen and no global state.

    laid_out: whether what is drawn is moved until it fits; else it stands where it is put, so that
    a millimetre on paper is one.
    """
    from matplotlib.figure import Figure

    layout: Literal["constrained"] | None = "constrained" if laid_out else None
    return Figure(figsize=(width_mm / _INCH, height_mm / _INCH), layout=layout)


def text_size_mm(text: str, points: float, weight: str = "normal") -> tuple[float, float]:
    """Return how wide and high a text of one line is in our letters, in millimetres."""
    from matplotlib.font_manager import FontProperties
    from matplotlib.textpath import TextPath

    letters = FontProperties(family=FAMILY, weight=weight)
    outline = TextPath((0, 0), text, size=points, prop=letters, usetex=False)
    width = outline.get_extents().x1 if text.strip() else 0.0
    return width / POINTS_PER_MM, points / POINTS_PER_MM


def short_label(text: str, longest: int) -> str:
    """Return a text of a record as one line of so many signs, all of them in our letters.

    Three dots say where it goes on; the whole text stands in the document.
    """
    line = str(with_signs(" ".join(text.split()), in_our_letters))
    return line if len(line) <= longest else f"{line[: longest - 1]}…"


def picture_bytes(figure: Figure, form: PictureForm) -> bytes:
    """Return a figure as SVG or PNG, without a time or a program in it."""
    buffer = io.BytesIO()
    # None takes out what would change from run to run or with the version of the library.
    metadata = {"Date": None, "Creator": None} if form == "svg" else {"Software": None}
    figure.savefig(buffer, format=form, dpi=_DOTS_PER_INCH, metadata=metadata)
    return buffer.getvalue()
