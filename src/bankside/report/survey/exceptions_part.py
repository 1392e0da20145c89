"""What did not go as planned, and what is still open: everything that a reader must be told."""

from __future__ import annotations

from collections.abc import Iterator

import attrs

from bankside.gauging.checks.answers import key_of
from bankside.gauging.checks.finding import SEVERITIES
from bankside.note.content import Cell, Column, Part, Table
from bankside.report.survey.material import Surveyed, SurveyMaterial
from bankside.report.survey.numbering import in_order, numbers_of
from bankside.report.survey.review import filed_words
from bankside.survey.checks.finding import SurveyFinding
from bankside.survey.checks.run import check_survey
from bankside.survey.summary import open_findings
from bankside.survey.words import listed, sentence

__all__ = ["Exceptional", "exceptions_of", "exceptions_part"]

_TOLD_ELSEWHERE = frozenset(
    {
        "Gain or loss on the way",
        "Change inside the error",
        "Balance cannot be told",
        "Findings without an answer",
        "Gauging without a discharge",
    }
)
"""Checks on the survey whose findings the report tells in full where they belong."""

_FIGURES_ABOVE = {
    "Duplicate disagrees": "The figures stand under Duplicates.",
    "Change in a balance": "The figures stand under Balances, gain and loss.",
}
"""Checks on the survey whose figures the report has in a table already."""

_GRAVE = SEVERITIES[:2]


@attrs.frozen
class Exceptional:
    """Something exceptional: of which kind, where, and what it is, in a sentence.

    `grave` says whether it keeps a figure of the report from being final.
    """

    kind: str
    where: str
    what: str
    grave: bool = False


def exceptions_part(found: tuple[Exceptional, ...]) -> Part:
    """Return everything exceptional as a table, in the order of `exceptions_of`."""
    if not found:
        return Part("Exceptions", sentences=("There are none.",))
    return Part(
        "Exceptions",
        tables=(
            Table(
                name="Exceptions",
                columns=(
                    Column("what", weight=0.9),
                    Column("where", weight=1.0),
                    Column("found", weight=2.8),
                ),
                rows=tuple(
                    (
                        Cell(one.kind, "strong" if one.grave else ""),
                        Cell(one.where),
                        Cell(one.what),
                    )
                    for one in found
                ),
            ),
        ),
    )


def exceptions_of(material: SurveyMaterial) -> tuple[Exceptional, ...]:
    """Return everything exceptional, what keeps a figure from being final before the rest."""
    found = [
        *_left_out(material),
        *_without_discharge(material),
        *_of_survey(material),
        *_of_gaugings(material),
        *_without_day(material),
        *_filed_otherwise(material),
        *_without_position(material),
        *_without_gauge(material),
        *_corrected(material),
    ]
    return tuple(sorted(found, key=lambda one: not one.grave))


def _where(one: Surveyed, material: SurveyMaterial) -> str:
    """Return the note, site and day of a gauging."""
    site, named = one.visit.site, one.visit.gauging.site
    place = site.id if site is not None else ", ".join(filter(None, (named.stream, named.name)))
    day = one.visit.day
    number = numbers_of(material)[one.visit.id]
    parts = (f"note {number}", place or one.file, "" if day is None else day.isoformat())
    return ", ".join(part for part in parts if part)


def _left_out(material: SurveyMaterial) -> Iterator[Exceptional]:
    for left in material.left_out:
        yield Exceptional("refused", f"{left.file}, {left.label}", " ".join(left.reasons), True)


def _without_discharge(material: SurveyMaterial) -> Iterator[Exceptional]:
    for one in in_order(material):
        if one.visit.final_m3s is None:
            reason, remarks = one.visit.why_none, one.visit.gauging.remarks
            said = f" The crew wrote: {remarks}" if remarks else ""
            what = f"No discharge: {reason}.{said}"
            kind = "no discharge" if one.visit.finished else "unfinished"
            yield Exceptional(kind, _where(one, material), what, True)


def _of_survey(material: SurveyMaterial) -> Iterator[Exceptional]:
    """Yield what the checks on the survey as a whole found, the gravest first."""
    for finding in check_survey(material.examined):
        if finding.check not in _TOLD_ELSEWHERE:
            found = _FIGURES_ABOVE.get(finding.check, finding.found)
            yield Exceptional(
                finding.check,
                _concerned(finding, material),
                f"{found} {finding.advice}",
                finding.severity in _GRAVE,
            )


def _concerned(finding: SurveyFinding, material: SurveyMaterial) -> str:
    """Return the notes, sites and day that a finding on the survey is about."""
    numbers = numbers_of(material)
    notes = sorted(numbers[id_] for id_ in finding.visits)
    words = "note" if len(notes) == 1 else "notes"
    parts = (
        f"{words} {listed([str(number) for number in notes])}" if notes else "",
        listed(list(finding.sites)),
        "" if finding.day is None else finding.day.isoformat(),
    )
    return "; ".join(part for part in parts if part) or "the survey"


def _of_gaugings(material: SurveyMaterial) -> Iterator[Exceptional]:
    """Yield what the checks found on single gaugings and nobody answered, the gravest first."""
    for severity in SEVERITIES:
        for one in in_order(material):
            for finding in open_findings(one.visit) if one.visit.finished else ():
                if finding.severity == severity:
                    what = f"{finding.check} ({key_of(finding)}). {finding.found}"
                    kind = f"{severity}, not answered"
                    yield Exceptional(kind, _where(one, material), what, severity in _GRAVE)


def _without_day(material: SurveyMaterial) -> Iterator[Exceptional]:
    for one in in_order(material):
        if one.visit.day is None:
            what = "The record says no day, so that it is held against no other gauging."
            yield Exceptional("day not known", _where(one, material), what)


def _filed_otherwise(material: SurveyMaterial) -> Iterator[Exceptional]:
    for one in in_order(material):
        if words := filed_words(one.visit):
            what = f"{sentence(words)}."
            yield Exceptional("filed otherwise", _where(one, material), what, True)


def _without_position(material: SurveyMaterial) -> Iterator[Exceptional]:
    visits = material.examined.visits
    for site in material.survey.sites:
        there = [v for v in visits if v.site is not None and v.site.id == site.id]
        if site.position is None and all(v.gauging.site.position is None for v in there):
            place = f"{site.id}, {site.stream}, {site.name}"
            what = "Neither the survey nor a gauging says where the section is."
            yield Exceptional("position missing", place, what)


def _without_gauge(material: SurveyMaterial) -> Iterator[Exceptional]:
    for one in in_order(material):
        if one.visit.gauging.no_gauge:
            what = "The site has no staff gauge, so that no level goes with the discharge."
            yield Exceptional("no staff gauge", _where(one, material), what)


def _corrected(material: SurveyMaterial) -> Iterator[Exceptional]:
    for one in in_order(material):
        for found in one.visit.gauging.corrections:
            now = "taken out" if found.now is None else found.now
            thing = f"{found.what[:1].upper()}{found.what[1:]}"
            why = ": ".join(part for part in (found.by, found.reason) if part)
            what = f"{thing}: was {found.was}, now {now}{f' ({why})' if why else ''}."
            yield Exceptional("corrected", _where(one, material), what)
