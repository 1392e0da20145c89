"""Sheets with one planted error, to be found by eye; the checks can find each of them as well.

The errors are those of `practice/mistakes.py`, besides a tape position read a metre wrongly. Only
such are planted as change a finding of the checks at that place: what no check can see nobody is
asked to see.
"""

from __future__ import annotations

import random
from collections.abc import Mapping, Sequence
from functools import lru_cache
from typing import Final, Literal

import attrs

from bankside.gauging.checks.finding import Finding
from bankside.gauging.checks.run import check_gauging
from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.fields import shown
from bankside.gauging.records import Gauging, Vertical
from bankside.gauging.rule_sets.load import BASE, load_rule_set
from bankside.practice.crew import CAREFUL
from bankside.practice.making import make_stream
from bankside.practice.mistakes import Mistake, MistakeKind, one_mistake
from bankside.practice.parameters import seeded
from bankside.practice.simulated_gauging import simulate_gauging

__all__ = ["ERRORS", "ErrorKind", "Judged", "SpoiltSheet", "judge", "spoilt_sheet"]

ErrorKind = MistakeKind | Literal["tape position wrong"]

ERRORS: Final[Mapping[ErrorKind, str]] = {
    "decimal slip": "A point one place off: read both neighbours, and ask for the figure again.",
    "digits swapped": "Two digits changed places: say figures back digit by digit.",
    "metres and feet": "A figure in the other unit, about 3.28 times too large or too small: one "
    "unit for the whole sheet, said aloud at the start.",
    "depth and velocity exchanged": "Depth stands where velocity should: always call depth first.",
    "vertical doubled": "The readings of the vertical before stand there again: the recorder "
    "repeats each figure, and the caller listens.",
    "edge forgotten": "An edge of water is missing: write both edges before the first vertical.",
    "tape position wrong": "A tape mark a metre off: say the whole metre with every mark.",
}
"""What there is to find, each with what helps against it (common practice, no source)."""

_STREAMS: Final = ("run", "canal", "bar and thalweg", "undercut bank")
_VERTICALS: Final = 14
# Sheets that are tried until the checks see the error and nothing else is odd there.
_TRIES: Final = 1000
_METRE: Final = 1.0
_DECIMALS: Final = 6


@attrs.frozen(eq=False)
class SpoiltSheet:
    """A sheet with one error: the gauging as it stands there, and what is wrong with it.

    `tape` is the position of the vertical, as it stands on the sheet (of an edge that is left out,
    where it was). `found` is the finding of the checks that sees it.
    """

    seed: int
    gauging: Gauging
    kind: ErrorKind
    tape: float
    read: Vertical
    written: Vertical | None
    found: Finding


@attrs.frozen
class Judged:
    """Whether the place and the kind of an error were told rightly, and a kind sentence."""

    place: bool
    kind: bool
    words: str


@lru_cache(maxsize=32)
def spoilt_sheet(seed: int, kind: ErrorKind | None = None) -> SpoiltSheet:
    """Return the sheet that belongs to a seed, the same one everywhere.

    kind: which error is on it, any if nothing is said. KeyError for one that there is not.
    """
    rng = seeded("find the error", seed, kind)
    wanted = rng.choice(list(ERRORS)) if kind is None else kind
    for _ in range(_TRIES):
        sheet = _tried(seed, wanted, rng)
        if sheet is not None:
            return sheet
    raise KeyError(wanted)


def judge(sheet: SpoiltSheet, tape: float, kind: str) -> Judged:
    """Return how good an answer is; InputRefused for a kind of error that there is not."""
    if kind not in ERRORS:
        listed = ", ".join(f'"{name}"' for name in ERRORS)
        raise InputRefused(
            [Fault(f"kind must be one of {listed} (got {shown(kind)})", path="kind")]
        )
    place, right = abs(tape - sheet.tape) < 10.0**-_DECIMALS, kind == sheet.kind
    begun = {
        (True, True): "Well seen.",
        (True, False): "The right place; it is another kind of error.",
        (False, True): "The right kind of error, at another place.",
        (False, False): "Not this one.",
    }[place, right]
    words = f"{begun} {_what(sheet)} {ERRORS[sheet.kind]}"
    return Judged(place, right, f'{words} Bankside says of it: "{sheet.found.found}"')


def _what(sheet: SpoiltSheet) -> str:
    where = f"At tape {sheet.tape:g} m: {sheet.kind}."
    if sheet.written is None:
        return where
    return f"{where} It was read as {_figures(sheet.read)}."


def _figures(read: Vertical) -> str:
    velocities = ", ".join(f"{reading.value:g} m/s" for reading in read.velocity)
    return f"tape {read.tape:g} m, depth {read.depth or 0.0:g} m" + (
        f", {velocities}" if velocities else ""
    )


def _tried(seed: int, wanted: ErrorKind, rng: random.Random) -> SpoiltSheet | None:
    """Return a sheet with an error that a check sees at its place, None where none came out."""
    stream = make_stream(rng.choice(_STREAMS), rng.getrandbits(24))
    clean = simulate_gauging(stream, CAREFUL, rng.getrandbits(24), _VERTICALS).gauging
    rows = list(clean.channels[0].verticals)
    place = rng.randrange(len(rows))
    if wanted == "edge forgotten":
        place = rng.choice((0, len(rows) - 1))
    kind, written = _spoilt(rows, place, wanted, rng)
    if kind is None or kind != wanted:
        return None
    new = [*rows[:place], *([written] if written else []), *rows[place + 1 :]]
    if len({row.tape for row in new}) < len(new):
        return None
    channel = attrs.evolve(clean.channels[0], verticals=tuple(new))
    gauging = attrs.evolve(clean, channels=(channel,), id=f"practice-sheet-{seed}")
    found = _seen(clean, gauging, rows, place, written)
    if found is None:
        return None
    tape = rows[place].tape if written is None else written.tape
    return SpoiltSheet(seed, gauging, kind, tape, rows[place], written, found)


def _spoilt(
    rows: Sequence[Vertical], place: int, wanted: str, rng: random.Random
) -> tuple[ErrorKind | None, Vertical | None]:
    read = rows[place]
    if wanted == "tape position wrong":
        if read.edge is not None:
            return None, None
        moved = round(read.tape + rng.choice((-_METRE, _METRE)), _DECIMALS)
        return "tape position wrong", attrs.evolve(read, tape=moved)
    made: Mistake | None = one_mistake(read, rows[place - 1] if place else None, rng)
    return (None, None) if made is None else (made.kind, made.called)


def _seen(
    clean: Gauging,
    spoilt: Gauging,
    rows: Sequence[Vertical],
    place: int,
    written: Vertical | None,
) -> Finding | None:
    """Return the gravest finding that the error alone has brought, and that names its place."""
    rules = load_rule_set(BASE)
    before = {(f.check, f.tapes) for f in check_gauging(clean, rules)}
    for finding in check_gauging(spoilt, rules):
        if finding.severity == "note" or (finding.check, finding.tapes) in before:
            continue
        if written is None or written.tape in finding.tapes or rows[place].tape in finding.tapes:
            return finding
    return None
