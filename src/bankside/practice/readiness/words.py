"""What is said of who is ready, on paper and in the app alike: kindly, and with its caution."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

import attrs

from bankside.practice.debrief.source_words import SOURCES
from bankside.practice.readiness.requirements import Requirements
from bankside.practice.readiness.standing import PersonStanding
from bankside.practice.readiness.tries import Try

__all__ = [
    "CHOICE",
    "REAL_WATER",
    "PaperWords",
    "TryWords",
    "asked_words",
    "gauged_words",
    "other_tries",
    "paper_words",
    "percent_words",
    "shown_words",
    "try_words",
]

REAL_WATER: Final = (
    "Nothing here makes anybody safe in a river. Practice on a screen shows how somebody reads, "
    "writes and chooses. It shows nothing about footing, cold or current: who wades, where and "
    "with whom is decided by local rules, the hazard plan of the site and the leader there."
)
CHOICE: Final = (
    "The limits are the choice of the programme; no published figure is known. Only a person's "
    "first try at a stream counts, as its debrief tells what is true there; of these the last ones "
    "count, so that better days push worse ones out. Every figure is worked out anew from the acts."
)


@attrs.frozen
class PaperWords:
    """The words of a person's paper: `kind` heads it, `title` stands over what is said."""

    kind: str
    title: str
    sentences: tuple[str, ...]
    points: tuple[str, ...] = ()


@attrs.frozen
class TryWords:
    """A try as a row: `off` in percent or how it ended, `cost` what cost most, "" where nothing."""

    day: str
    stream: str
    seed: str
    off: str
    section: str
    cost: str


def asked_words(requirements: Requirements) -> Iterator[tuple[str, str]]:
    """Yield what is asked for, each as a name and what it is."""
    yield (
        "Streams",
        f"{requirements.streams} within ± {requirements.within_percent:g} %, or rightly out",
    )
    yield "Kinds", f"{requirements.kinds} at least"
    yield "Gauged", f"{requirements.gauged} of them at least"
    if requirements.must:
        yield "Among them", ", ".join(requirements.must)
    stops = "none passed over" if requirements.no_stop_ignored else "not looked at"
    yield "Findings that call people out", stops
    unread = "none" if requirements.no_figure_unread else "not looked at"
    yield "Figures without a reading", unread
    mend = "none left open" if requirements.no_fix_now_open else "not looked at"
    yield "Findings to fix now", mend
    yield "Leader", requirements.leader or "nobody named"


def gauged_words(person: PersonStanding, of: str = "of") -> str:
    """Return how many of the tries that count were gauged within the limit: "3 of 5"."""
    return f"{person.gauged} {of} {len(person.counted)}" if person.counted else "none counts yet"


def shown_words(person: PersonStanding) -> Iterator[tuple[str, str]]:
    """Yield what a person has shown, each as a name and what it is."""
    yield "Gauged within the limit", gauged_words(person, "of the last")
    yield "Stayed or came out rightly", str(person.within - person.gauged)
    yield "On the mean off by", percent_words(person.bias)
    yield "Spread", "cannot be told" if person.spread is None else f"{person.spread:.1f} %"
    yield "Tries in all", str(len(person.tries))


def paper_words(person: PersonStanding, requirements: Requirements) -> PaperWords:
    """Return the words of a certificate or, before that, of how far along somebody is."""
    if person.ready:
        kinds = len({one.stream for one in person.counted if not one.left})
        out = person.within - person.gauged
        stayed = f", and stayed or came out rightly at {out}" if out else ""
        return PaperWords(
            "Certificate of practice",
            "Ready to go on at a real stream, beside somebody who knows it",
            (
                f"{person.person} gauged {_counted(person.gauged, 'practice stream')} of "
                f"{_counted(kinds, 'kind')} within ± {requirements.within_percent:g} % of a "
                f"discharge that is known{stayed}, each at the first try. Well done.",
            ),
        )
    habit = f" What cost most so far: {person.cost_most}." if person.cost_most else ""
    return PaperWords(
        "On the way",
        "Well begun; this is still to come",
        (f"Every try tells something.{habit}",),
        person.still,
    )


def _counted(count: int, one: str) -> str:
    return f"{count} {one if count == 1 else f'{one}s'}"


def other_tries(person: PersonStanding) -> tuple[Try, ...]:
    """Return the tries that do not count: a record leaves nothing out."""
    return tuple(one for one in person.tries if one not in person.counted)


def try_words(one: Try) -> TryWords:
    """Return a try as a row of a table."""
    return TryWords(
        day=one.day or "",
        stream=one.stream,
        seed=str(one.seed),
        off=_off(one),
        section=_section(one),
        cost="" if one.largest is None else SOURCES[one.largest].name,
    )


def _off(one: Try) -> str:
    if one.left or one.set_aside:
        return "stayed or came out"
    return percent_words(one.percent).removesuffix(" %")


def _section(one: Try) -> str:
    """Return whether the better section was chosen; nothing where nothing was gauged."""
    if one.percent is None:
        return ""
    return "the better one" if one.better_section else "another one"


def percent_words(value: float | None) -> str:
    """Return an error as it is said, also where there is none."""
    return "no discharge" if value is None else f"{value:+.1f} %"
