"""Who is ready, as a table of all and a certificate for each; kindly worded, and marked."""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Sequence
from typing import Final

from bankside.note.content import Cell, Column, Fact, FactGroup, Part, Picture, Table
from bankside.practice.readiness.requirements import Requirements
from bankside.practice.readiness.standing import PersonStanding
from bankside.practice.readiness.tries import Try
from bankside.practice.readiness.words import (
    CHOICE,
    REAL_WATER,
    TryWords,
    asked_words,
    gauged_words,
    other_tries,
    paper_words,
    percent_words,
    shown_words,
    try_words,
)
from bankside.report.practice.content import practice_document
from bankside.report.practice.pictures import draw_tries
from bankside.report.survey.documents import SurveyReport

__all__ = ["certificate", "readiness_table"]

_KEY: Final = "tries"


def readiness_table(people: Sequence[PersonStanding], requirements: Requirements) -> SurveyReport:
    """Return the table of all persons, with the picture of their tries."""
    days = [day for person in people if (day := _last_day(person)) is not None]
    picture = Picture(
        _KEY,
        "Errors by person: "
        + "; ".join(
            f"{person.person}: {', '.join(percent_words(one.percent) for one in person.tries)}"
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
            Part("Everybody", pictures=(picture,), tables=(_table(people),), below=(CHOICE,)),
            Part("What this does not show", sentences=(REAL_WATER,), fine=True),
        ),
        {_KEY: draw_tries(people, requirements, "svg").decode()},
    )


def certificate(person: PersonStanding, requirements: Requirements) -> SurveyReport:
    """Return the certificate of a person, or, before that, how far along they are."""
    words = paper_words(person, requirements)
    return practice_document(
        words.kind,
        person.person,
        _last_day(person),
        (_asked(requirements), _shown(person)),
        (
            Part(words.title, sentences=words.sentences, points=words.points),
            Part("The streams that count", tables=(_tries(person.counted),)),
            *_others(person),
            Part("What this does not show", sentences=(REAL_WATER,)),
            _signatures(requirements),
            Part("How it was worked out", sentences=(CHOICE,), fine=True),
        ),
        {},
    )


def _asked(requirements: Requirements) -> FactGroup:
    facts = tuple(Fact(name, value) for name, value in asked_words(requirements))
    return FactGroup("What is asked for", facts)


def _shown(person: PersonStanding) -> FactGroup:
    return FactGroup(
        "What was shown", tuple(Fact(name, value) for name, value in shown_words(person))
    )


def _table(people: Sequence[PersonStanding]) -> Table:
    return Table(
        name="Everybody",
        columns=(
            Column("who"),
            Column("tries", align="right"),
            Column("within", align="right"),
            Column("rightly out", align="right"),
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
        Cell(gauged_words(person)),
        Cell(str(person.within - person.gauged)),
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
        rows=tuple(_try(try_words(one)) for one in tries),
    )


def _try(said: TryWords) -> tuple[Cell, ...]:
    return (
        Cell(said.day, "" if said.day else "open"),
        *(Cell(said.stream), Cell(said.seed), Cell(said.off, "strong")),
        *(Cell(said.section), Cell(said.cost)),
    )


def _others(person: PersonStanding) -> Iterator[Part]:
    """Yield the tries that do not count, if any: a record leaves nothing out."""
    others = other_tries(person)
    if others:
        title = "Other tries: earlier ones, streams that were gauged again, and those left aside"
        yield Part(title, tables=(_tries(others),), fine=True)


def _signatures(requirements: Requirements) -> Part:
    def lines() -> Iterator[tuple[Cell, ...]]:
        for who in (requirements.leader or "The leader", "Who practised"):
            yield Cell(who), Cell("\n\n"), Cell("")

    columns = (Column("name"), Column("signature", weight=1.0), Column("date", weight=0.4))
    return Part("Signed", tables=(Table("Signatures", columns, tuple(lines())),))


def _last_day(person: PersonStanding) -> datetime.date | None:
    days = [datetime.date.fromisoformat(one.day) for one in person.tries if one.day is not None]
    return max(days, default=None)
