"""Who is ready, as a table of all and a certificate for each; kindly worded, and marked."""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Sequence
from typing import Final

from bankside.note.content import Cell, Column, Fact, FactGroup, Part, Picture, Table
from bankside.practice.debrief.source_words import SOURCES
from bankside.practice.readiness.requirements import Requirements
from bankside.practice.readiness.standing import PersonStanding
from bankside.practice.readiness.tries import Try
from bankside.report.practice.content import REAL_WATER, practice_document
from bankside.report.practice.pictures import draw_tries
from bankside.report.survey.documents import SurveyReport

__all__ = ["certificate", "readiness_table"]

_KEY: Final = "tries"
_CHOICE: Final = (
    "The limits are the choice of the programme; no published figure is known. Only a person's "
    "first try at a stream counts, as its debrief tells what is true there; of these the last ones "
    "count, so that better days push worse ones out. Every figure is worked out anew from the acts."
)


def readiness_table(people: Sequence[PersonStanding], requirements: Requirements) -> SurveyReport:
    """Return the table of all persons, with the picture of their tries."""
    days = [day for person in people if (day := _last_day(person)) is not None]
    picture = Picture(
        _KEY,
        "Errors by person: "
        + "; ".join(
            f"{person.person}: {', '.join(_percent(one.percent) for one in person.tries)}"
            for person in people
        ),
        "A dot is a try, filled where it counts; grey is the limit that is asked for.",
    )
    return practice_document(
        "Who is ready",
        requirements.programme or "Practice streams",
        max(days, default=None),
        (_asked(requirements),),
        (
            Part("Everybody", pictures=(picture,), tables=(_table(people),), below=(_CHOICE,)),
            Part("What this does not show", sentences=(REAL_WATER,), fine=True),
        ),
        {_KEY: draw_tries(people, requirements, "svg").decode()},
    )


def certificate(person: PersonStanding, requirements: Requirements) -> SurveyReport:
    """Return the certificate of a person, or, before that, how far along they are."""
    kind = "Certificate of practice" if person.ready else "On the way"
    return practice_document(
        kind,
        person.person,
        _last_day(person),
        (_asked(requirements), _shown(person)),
        (
            _words(person, requirements),
            Part("The streams that count", tables=(_tries(person.counted),)),
            *_others(person),
            Part("What this does not show", sentences=(REAL_WATER,)),
            _signatures(requirements),
            Part("How it was worked out", sentences=(_CHOICE,), fine=True),
        ),
        {},
    )


def _asked(requirements: Requirements) -> FactGroup:
    stops = "none passed over" if requirements.no_stop_ignored else "not looked at"
    mend = "none left open" if requirements.no_fix_now_open else "not looked at"
    facts = [
        Fact("Streams", f"{requirements.streams} within ± {requirements.within_percent:g} %"),
        Fact("Kinds", f"{requirements.kinds} at least"),
        Fact("Findings that call people out", stops),
        Fact("Findings to fix now", mend),
        Fact("Leader", requirements.leader or "nobody named"),
    ]
    if requirements.must:
        facts.insert(2, Fact("Among them", ", ".join(requirements.must)))
    return FactGroup("What is asked for", tuple(facts))


def _shown(person: PersonStanding) -> FactGroup:
    return FactGroup(
        "What was shown",
        (
            Fact("Within the limit", f"{person.within} of the last {len(person.counted)}"),
            Fact("On the mean off by", _percent(person.bias)),
            Fact("Spread", "cannot be told" if person.spread is None else f"{person.spread:.1f} %"),
            Fact("Tries in all", str(len(person.tries))),
        ),
    )


def _words(person: PersonStanding, requirements: Requirements) -> Part:
    if person.ready:
        kinds = len({one.stream for one in person.counted})
        return Part(
            "Ready to go on at a real stream, beside somebody who knows it",
            sentences=(
                f"{person.person} gauged {requirements.streams} practice streams of {kinds} "
                f"kinds, each at the first try, and came within ± {requirements.within_percent:g} "
                "% of a discharge that is known, or out of the water where that was asked for. "
                "Well done.",
            ),
        )
    habit = f" What cost most so far: {person.cost_most}." if person.cost_most else ""
    return Part(
        "Well begun; this is still to come",
        sentences=(f"Every try tells something.{habit}",),
        points=person.still,
    )


def _table(people: Sequence[PersonStanding]) -> Table:
    return Table(
        name="Everybody",
        columns=(
            Column("who"),
            Column("tries", align="right"),
            Column("within", align="right"),
            Column("mean", "%", "right"),
            Column("spread", "%", "right"),
            Column("stops passed over", align="right"),
            Column("cost most"),
            Column("ready", weight=1.0),
        ),
        rows=tuple(_row(person) for person in people),
    )


def _row(person: PersonStanding) -> tuple[Cell, ...]:
    ready = Cell("yes", "strong") if person.ready else Cell(" ".join(person.still), "fine")
    return (
        Cell(person.person),
        Cell(str(len(person.tries))),
        Cell(f"{person.within} of {len(person.counted)}"),
        Cell("" if person.bias is None else f"{person.bias:+.1f}"),
        Cell("" if person.spread is None else f"{person.spread:.1f}"),
        Cell(str(sum(one.stops for one in person.counted))),
        Cell(person.cost_most),
        ready,
    )


def _tries(tries: Sequence[Try]) -> Table:
    return Table(
        name="The streams that count",
        columns=(
            Column("day"),
            Column("stream", weight=1.0),
            Column("seed", align="right"),
            Column("off by", "%", "right"),
            Column("section"),
            Column("cost most"),
        ),
        rows=tuple(
            (
                Cell(one.day or "", "" if one.day else "open"),
                Cell(one.stream),
                Cell(str(one.seed)),
                Cell(_off(one), "strong"),
                Cell(_section(one)),
                Cell("" if one.largest is None else SOURCES[one.largest].name),
            )
            for one in tries
        ),
    )


def _others(person: PersonStanding) -> Iterator[Part]:
    """Yield the tries that do not count, if any: a record leaves nothing out."""
    others = tuple(one for one in person.tries if one not in person.counted)
    if others:
        title = "Other tries: earlier ones, streams that were gauged again, and those left aside"
        yield Part(title, tables=(_tries(others),), fine=True)


def _signatures(requirements: Requirements) -> Part:
    def lines() -> Iterator[tuple[Cell, ...]]:
        for who in (requirements.leader or "The leader", "Who practised"):
            yield Cell(who), Cell("\n\n"), Cell("")

    columns = (Column("name"), Column("signature", weight=1.0), Column("date", weight=0.4))
    return Part("Signed", tables=(Table("Signatures", columns, tuple(lines())),))


def _section(one: Try) -> str:
    """Return whether the better section was chosen; nothing where nothing was gauged."""
    if one.percent is None:
        return ""
    return "the better one" if one.better_section else "another one"


def _off(one: Try) -> str:
    if one.left or one.set_aside:
        return "stayed or came out"
    return _percent(one.percent).removesuffix(" %")


def _percent(value: float | None) -> str:
    return "no discharge" if value is None else f"{value:+.1f} %"


def _last_day(person: PersonStanding) -> datetime.date | None:
    days = [datetime.date.fromisoformat(one.day) for one in person.tries if one.day is not None]
    return max(days, default=None)
