"""What would have told the discharge, or something of it, with everybody on the bank."""

from __future__ import annotations

from typing import Final

from bankside.practice.debrief.better import Better
from bankside.practice.debrief.judgement_words import Asked
from bankside.practice.session.high_water import HighWater

__all__ = ["instead_of"]

_NO_SOURCE: Final = "common practice, no source"

_ANOTHER_DAY: Final = Better(
    "Another day tells more than a guess in high water.",
    "From the bank, read the staff gauge, take photos, write down the time and why nobody went "
    "in, and come back when the water has fallen.",
    _NO_SOURCE,
)
_FLOATS: Final = Better(
    "Floats tell something without anybody in the water.",
    "From the bank, well back from the edge, never above wood, time what drifts by over a measured "
    "length, and call what it gives an estimate: surface velocity is not the mean, and the depth "
    "is that of an earlier visit.",
    "EPA volunteer stream monitoring, 1997 (from memory); back from the edge: common practice, no "
    "source",
)
_WIDE_AND_SLOW: Final = Better(
    "Another place may do.",
    "Measure from a bridge with the gear and the rules for it, or walk along the bank, well back "
    "from the edge, never above wood, to where the stream is wide and slow, and look anew there, "
    "while it stays clear and steady.",
    _NO_SOURCE,
)
_NO_OTHER_PLACE: Final = Better(
    "No other place is safer today.",
    "Do not look for one to wade: the same water comes down there, and wood holds whoever slips "
    "above it. Measure from a bridge, with the gear and the rules for it, or another day.",
    _NO_SOURCE,
)
_BRIDGE: Final = Better(
    "A bridge may do.",
    "Measure from it with the gear and the rules for it.",
    _NO_SOURCE,
)


def instead_of(high: HighWater | None, asked: Asked) -> tuple[Better, ...]:
    """Return what to do instead of wading a reach, by its water and by who asked to stay out."""
    return (_ANOTHER_DAY, _FLOATS, _another_place(high, asked))


def _another_place(high: HighWater | None, asked: Asked) -> Better:
    """Return whether another place may be tried: only where strong water is clear and steady.

    Rising or brown water is the same flood at the next place, and a second try at it.
    """
    if asked == "by nothing":
        return _BRIDGE
    if high is not None and high.danger == "too strong" and not high.signs.brown:
        return _WIDE_AND_SLOW
    return _NO_OTHER_PLACE
