"""Three things to do better, in plain words, the dearest first, each with where it comes from."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

import attrs

from bankside.practice.debrief.error_parts import ErrorParts
from bankside.practice.debrief.heeded import Heeded, called_out
from bankside.practice.debrief.read_on import broken_off
from bankside.practice.debrief.source_words import SOURCES
from bankside.practice.session.followed import Followed
from bankside.practice.session.reach import section_error
from bankside.practice.session.shown import ShownPoint, ShownStage

__all__ = ["Better", "three_better"]

_THREE: Final = 3
# A part smaller than this, in percent of the discharge, is told by nobody's habits (ours).
_COUNTS: Final = 0.5
_SHORT: Final = 30.0
# Who stayed so long did what is asked for; what is left is chance (as the words on exposure).
_LONG: Final = 40.0
# A section errs clearly more than the better one from so many times on (ours).
_CLEARLY: Final = 1.5
# The check on the strip beside a bank, by its name.
_BIG_JUMP: Final = "Too big a jump from the bank"
_ASKEW: Final = 5.0
_NO_SOURCE: Final = "common practice, no source"
_CHANCE: Final = (
    "Nothing: every reading was as long as is asked for, and this is what the water happened to do "
    "in those seconds. Chance shows in one gauging, habits in several."
)
_IN_TIME: Final = (
    "Look at the gauge, and at each depth times velocity, between verticals, so that the call "
    "comes in time; then leave the water."
)
_WAIT: Final = (
    "Leave the water, read the gauge from the bank, and wait or come another day: the leader says "
    "when anybody goes in again."
)


@attrs.frozen
class Better:
    """One thing to do better next time: why, what, and who says so."""

    why: str
    what: str
    source: str


_SLIPPED: Final = Better(
    "A call brought everybody out, and to leave is never wrong; but it came of a figure that the "
    "stream did not show.",
    "From the bank, hold the sheet against what was called, and put the figure right before "
    "anybody decides.",
    _NO_SOURCE,
)


def three_better(
    followed: Followed,
    parts: ErrorParts,
    rows: Sequence[Heeded],
    unit: str,
    unread: int,
    *,
    slipped: bool = False,
) -> tuple[Better, ...]:
    """Return three things: safety first, then what was seen to be done, then what cost most.

    `unit` is that of velocities on the sheet, `unread` the number of verticals with a figure that
    nobody read. `slipped` says whether a figure that the stream did not show called people out.
    Where less than three are left to say, what holds
    at every stream fills them up.
    """
    found: dict[str, Better] = {}
    out = called_out(rows)
    told = (
        *((_SLIPPED,) if slipped else _stops(rows, broken_off(followed))),
        *_without_reading(unread),
        *_seen(followed, unit),
    )
    # Nothing that keeps people in the water is told to somebody who was called out of it.
    more = (
        _ashore()
        if out
        else (*_short(followed), *_beside_banks(rows), *_dear(parts, followed), *_always())
    )
    for better in (*told, *more):
        found.setdefault(better.what, better)
    return tuple(found.values())[:_THREE]


def _stops(rows: Sequence[Heeded], in_time: bool) -> Iterator[Better]:
    for row in rows:
        if not row.calls_out or row.fate == "put right":
            continue
        if row.fate == "came out":
            why = f'The check "{row.check}" called everybody out, and nobody read on'
            if in_time:
                yield Better(f"{why}: well done.", _WAIT, _NO_SOURCE)
            else:
                yield Better(f"{why}, but all had been read by then.", _IN_TIME, _NO_SOURCE)
            continue
        answered = " An answer does not stand for coming out." if row.fate == "answered" else ""
        yield Better(
            f'The check "{row.check}" called everybody out, and it was passed over.{answered}',
            row.advice or "Come out, and talk it over before anybody goes on.",
            "the rule set of the checks, docs/rules.md",
        )


def _without_reading(unread: int) -> Iterator[Better]:
    """Yield that figures were written which nobody read, whatever they cost this time."""
    if unread:
        words = SOURCES["no reading"]
        where = "One vertical has" if unread == 1 else f"{unread} verticals have"
        why = f"{where} figures at a mark where nobody stood the rod or held the meter."
        yield Better(why, words.better, words.source)


def _seen(followed: Followed, unit: str) -> Iterator[Better]:
    """Yield what can be seen in the acts themselves, whatever it cost this time."""
    acts = followed.session.acts
    holds = [act for act in acts if act.do == "hold"]
    handling = SOURCES["meter handling"]
    if followed.cleared_late:
        yield Better(
            "Stones were moved after the first reading, so that not all readings are of one bed.",
            "Clear first, let the water settle, and touch nothing before the second edge is "
            "written.",
            _NO_SOURCE,
        )
    wrong = [
        name
        for name, there in (
            ("stood close upstream of the meter", any(a.stance != "aside" for a in holds)),
            ("did not face the flow", any(abs(a.facing) > _ASKEW for a in holds)),
            ("went on counting from the point before", any(not a.restarted for a in holds)),
            (f"showed another unit than {unit}", any(a.unit != unit for a in holds)),
        )
        if there
    ]
    if wrong:
        why = f"Some readings were made while somebody or the meter {', or '.join(wrong)}."
        yield Better(why, handling.better, handling.source)
    gauge = sum(1 for shown in followed.shown if isinstance(shown, ShownStage))
    if followed.reach.kind.rise and gauge < 2:
        level = SOURCES["level"]
        why = "The level rose, and the gauge was not read both before and after."
        yield Better(why, level.better, level.source)


def _short(followed: Followed) -> Iterator[Better]:
    """Yield that readings were shorter than can be told from chance."""
    exposure = SOURCES["exposure"]
    short = [shown for shown in followed.shown if isinstance(shown, ShownPoint)]
    few = sum(1 for shown in short if shown.seconds < _SHORT)
    if few:
        yield Better(
            f"{few} of {len(short)} readings were shorter than {_SHORT:g} s.",
            *(exposure.better, exposure.source),
        )


def _beside_banks(rows: Sequence[Heeded]) -> Iterator[Better]:
    """Yield that too little was read beside a bank, where the check on it was passed over."""
    if any(row.check == _BIG_JUMP and row.fate == "left open" for row in rows):
        edges = SOURCES["edges"]
        why = "Beside a bank the step to the first vertical was too wide, or its cell was left out."
        yield Better(why, edges.better, edges.source)


def _dear(parts: ErrorParts, followed: Followed) -> Iterator[Better]:
    """Yield what the largest parts of the error ask for; the method's own part asks for nothing."""
    for source, part in sorted(parts.parts, key=lambda one: -abs(one[1])):
        percent = 100.0 * part / parts.discharge
        if abs(percent) < _COUNTS or source in ("points", "level"):
            continue
        words = SOURCES[source]
        why = f"{words.name}: {percent:+.1f} % of the discharge."
        if source == "section choice":
            yield from _of_the_section(parts, followed, why)
        elif source == "exposure" and _stayed_long(followed):
            yield Better(why, _CHANCE, _NO_SOURCE)
        else:
            yield Better(why, words.better, words.source)


def _of_the_section(parts: ErrorParts, followed: Followed, why: str) -> Iterator[Better]:
    """Yield that another section errs less, where this one cost something and clearly errs more.

    What one gauging is off at one section is a single draw: it may be lucky at a poor one.
    """
    water, part = followed.water, dict(parts.parts)["section choice"]
    if water is None or part * parts.error <= 0.0:
        return
    here, there = section_error(water.stream), followed.reach.section(parts.best).error
    if here > _CLEARLY * there:
        words = SOURCES["section choice"]
        usual = (
            f" Twenty verticals are usually off by {100.0 * here:.1f} % here and by "
            f"{100.0 * there:.1f} % at {parts.best}."
        )
        yield Better(why + usual, words.better, words.source)


def _stayed_long(followed: Followed) -> bool:
    return all(one.seconds >= _LONG for one in followed.shown if isinstance(one, ShownPoint))


def _ashore() -> Iterator[Better]:
    """Yield what is worth doing wherever everybody was called out of the water."""
    for what in (
        _WAIT,
        "Agree beforehand on the one word that brings everybody out, and look upstream between "
        "verticals.",
        "Write down why you came out: that the discharge could not be measured is a result.",
    ):
        yield Better("Worth doing wherever water says no.", what, _NO_SOURCE)


def _always() -> Iterator[Better]:
    """Yield what is worth doing at every stream, for whoever did little wrong."""
    for what in (
        "Say each figure back before the next one is read.",
        "Look at the largest shares before you leave, and read one more vertical beside them.",
        "Measure once more with the tape moved by half a spacing: two that agree say most.",
    ):
        yield Better("Worth doing every time.", what, _NO_SOURCE)
