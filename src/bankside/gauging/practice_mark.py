"""The mark of practice: gaugings of simulated streams, which never stand among real ones.

A record of practice says so, and its id begins with `practice-`. An entry of a journal names the
gauging that it belongs to, so every single entry bears the mark, in whatever order it travels.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from bankside.gauging.faults import Fault, InputRefused

if TYPE_CHECKING:
    from bankside.gauging.records import Gauging

__all__ = [
    "PRACTICE_ID",
    "PRACTICE_REFUSED",
    "PRACTICE_WORDS",
    "is_practice_id",
    "refuse_practice",
]

PRACTICE_ID: Final = "practice-"
"""How the id of every practice gauging begins."""

PRACTICE_REFUSED: Final = (
    "found practice on a simulated stream; gaugings of real water alone are right here, and "
    "practice has a store of its own"
)
"""What is said wherever practice is refused."""

PRACTICE_WORDS: Final = "Practice on a simulated stream: no real water was measured."
"""What stands on everything that is printed or shown of a practice gauging."""


def is_practice_id(gauging: str | None) -> bool:
    """Return whether an id is that of a practice gauging."""
    return gauging is not None and gauging.startswith(PRACTICE_ID)


def refuse_practice(gauging: Gauging, file: str | None = None) -> None:
    """Raise InputRefused where a gauging is practice."""
    if gauging.practice:
        place = f'gauging "{gauging.id}"'
        raise InputRefused([Fault(PRACTICE_REFUSED, file=file, path=place)])
