"""Sentences about the assumptions of a computation, one for all the verticals it concerns."""

from collections.abc import Iterable, Sequence

import attrs

from bankside.gauging.records import Units
from bankside.gauging.units import LengthUnit

__all__ = ["Note", "sentences", "tape_positions"]


@attrs.frozen
class Note:
    """One assumption, at one tape position unless it concerns the whole gauging.

    In the sentence `{at}` stands for the tape positions of all notes with that sentence, each with
    its `detail` in brackets; `{length}` and `{velocity}` stand for the units of the gauging.
    """

    sentence: str
    tape: float | None = None
    detail: str | None = None


def sentences(notes: Iterable[Note], units: Units) -> tuple[str, ...]:
    """Return the sentences in the order of their first use, each naming all its tape positions."""
    places: dict[str, list[Note]] = {}
    for note in notes:
        places.setdefault(note.sentence, []).append(note)
    return tuple(
        sentence.format(at=_at(here, units.length), length=units.length, velocity=units.velocity)
        for sentence, here in places.items()
    )


def tape_positions(tapes: Sequence[float], unit: LengthUnit) -> str:
    """Return tape positions in words: "tape 1.5 m", "tapes 1, 2 and 3 m"."""
    figures = _listed([f"{tape:.10g}" for tape in tapes])
    return f"{'tape' if len(tapes) == 1 else 'tapes'} {figures} {unit}"


def _at(notes: Sequence[Note], unit: LengthUnit) -> str:
    if all(note.detail is None for note in notes):
        return tape_positions([note.tape for note in notes if note.tape is not None], unit)
    figures = _listed([f"{note.tape:.10g} {unit} ({note.detail})" for note in notes])
    return f"{'tape' if len(notes) == 1 else 'tapes'} {figures}"


def _listed(words: Sequence[str]) -> str:
    return " and ".join(part for part in (", ".join(words[:-1]), *words[-1:]) if part)
