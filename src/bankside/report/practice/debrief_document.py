"""The debrief of a practice gauging on paper: the error, its sources, the checks, what to do."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from bankside.note.content import Cell, Column, Fact, FactGroup, Part, Picture, Table
from bankside.note.facts import fact
from bankside.practice.debrief.debrief import Debrief
from bankside.practice.debrief.source_words import SOURCES
from bankside.practice.readiness.words import REAL_WATER
from bankside.report.practice.content import practice_document
from bankside.report.practice.pictures import draw_error_parts
from bankside.report.survey.documents import SurveyReport
from bankside.survey.words import discharge_words

__all__ = ["debrief_document"]

_KEY: Final = "error parts"
_HOW: Final = (
    "The parts add up to the whole error. What changes the readings is shared out by the value of "
    "Shapley (from memory): the mean, over all orders, of what a source changes when it joins the "
    "others, since sources that act together have no order of blame. What lies between the "
    "verticals is told after that: what verticals in the same places of the better section would "
    "have been off is the spacing's, the rest is the choice of the section."
)


def debrief_document(found: Debrief) -> SurveyReport:
    """Return the debrief with its picture drawn."""
    session = found.practice.session
    parts = (_sources(found), _better(found), _checks(found), _how())
    return practice_document(
        "Debrief",
        f"{session.stream} {session.seed}",
        found.practice.day,
        (_session(found), _result(found)),
        parts,
        {_KEY: draw_error_parts(found.parts, "svg").decode()},
    )


def _session(found: Debrief) -> FactGroup:
    better = "the better one" if found.section == found.parts.best else f"{found.parts.best} better"
    return FactGroup(
        "The session",
        (
            fact("Who", found.practice.person),
            Fact("Section", f"{found.section} ({better})"),
            Fact("Time", f"{found.minutes:.0f} min at the stream"),
        ),
    )


def _result(found: Debrief) -> FactGroup:
    parts = found.parts
    facts = [
        Fact("True discharge", discharge_words(parts.discharge)),
        Fact("Measured", discharge_words(parts.measured)),
        Fact("Off by", f"{found.percent:+.1f} %"),
    ]
    if found.one_more is not None:
        off = 100.0 * (found.one_more.discharge / parts.discharge - 1.0)
        where = f"one more at tape {found.one_more.tape:g}"
        facts.append(Fact("With one more vertical", f"off by {off:+.1f} %: {where}, read truly"))
    return FactGroup("The result", tuple(facts))


def _sources(found: Debrief) -> Part:
    parts = found.parts
    told = ", ".join(
        f"{SOURCES[source].name} {parts.percent(source):+.1f} %" for source, _ in parts.parts
    )
    return Part(
        "Where the error came from",
        pictures=(Picture(_KEY, f"Parts of the error: {told}.", "In percent of the discharge."),),
        tables=(
            Table(
                name="Parts of the error",
                columns=(
                    Column("source"),
                    Column("part", "%", "right"),
                    Column("what is in it", weight=1.0),
                ),
                rows=tuple(
                    (
                        Cell(SOURCES[source].name, "strong" if source == parts.largest else ""),
                        Cell(f"{parts.percent(source):+.2f}"),
                        Cell(SOURCES[source].what, "fine"),
                    )
                    for source, _ in parts.parts
                ),
                totals=((Cell("the whole error"), Cell(f"{found.percent:+.2f}"), Cell("")),),
                whole=True,
            ),
        ),
    )


def _better(found: Debrief) -> Part:
    return Part(
        "Three things to do better",
        points=tuple(f"{one.why} {one.what} ({one.source})" for one in found.better),
    )


def _checks(found: Debrief) -> Part:
    title = "The checks, and what became of them"
    if not found.findings:
        return Part(title, sentences=("No check asked for anything.",))
    return Part(
        title,
        tables=(
            Table(
                name="Findings",
                columns=(
                    Column("how grave"),
                    Column("check"),
                    Column("what was found", weight=1.0),
                    Column("then"),
                ),
                rows=tuple(_rows(found)),
            ),
        ),
    )


def _rows(found: Debrief) -> Iterator[tuple[Cell, ...]]:
    for row in found.findings:
        fate = Cell(row.fate, "strong" if row.fate == "left open" else "")
        yield Cell(row.severity), Cell(row.check), Cell(row.found, "fine"), fate


def _how() -> Part:
    return Part("How it was worked out", sentences=(_HOW, REAL_WATER), fine=True)
