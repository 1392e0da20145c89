"""Sentences about the assumptions of a computation, one for all the verticals it concerns."""

from collections.abc import Iterable

import attrs

from bankside.gauging.units import LengthUnit

__all__ = ["Note", "sentences"]


@attrs.frozen
class Note:
    """One assumption at one tape position; `{at}` in the sentence stands for the positions."""

    sentence: str
    tape: float


def sentences(notes: Iterable[Note], unit: LengthUnit) -> tuple[str, ...]:
    """Return the sentences in the order of their first use, each naming all its tape positions."""
    tapes: dict[str, list[float]] = {}
    for note in notes:
        tapes.setdefault(note.sentence, []).append(note.tape)
    return tuple(sentence.format(at=_at(places, unit)) for sentence, places in tapes.items())


def _at(tapes: list[float], unit: LengthUnit) -> str:
    figures = [f"{tape:.10g}" for tape in tapes]
    if len(figures) == 1:
        return f"tape {figures[0]} {unit}"
    return f"tapes {', '.join(figures[:-1])} and {figures[-1]} {unit}"
