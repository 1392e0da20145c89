"""What did not go as planned, and what is still open: everything that a reader must be told."""

from __future__ import annotations

from collections.abc import Iterator

import attrs

from bankside.gauging.checks.answers import key_of
from bankside.gauging.checks.finding import SEVERITIES
from bankside.note.content import Cell, Column, Part, Table
from bankside.report.survey.material import Surveyed, SurveyMaterial
from bankside.report.survey.numbering import in_order, numbers_of
from bankside.survey.repeats import unknown_repeats
from bankside.survey.summary import open_findings
from bankside.survey.words import listed

__all__ = ["Exceptional", "exceptions_of", "exceptions_part"]

_OVERDUE = "Calibration overdue"


@attrs.frozen
class Exceptional:
    """Something exceptional: of which kind, where, and what it is, in a sentence.

    `grave` says whether it has to be seen first.
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
                columns=(Column("what"), Column("where", weight=0.9), Column("found", weight=2.6)),
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
    """Return everything exceptional, what keeps a discharge from being used before the rest."""
    return (
        *_left_out(material),
        *_without_discharge(material),
        *_unplaced(material),
        *_findings(material),
        *_not_visited(material),
        *_meters(material),
        *_without_position(material),
        *_without_gauge(material),
        *_corrected(material),
        *_lost_repeats(material),
    )


def _where(one: Surveyed, material: SurveyMaterial) -> str:
    """Return the note, site and day of a gauging."""
    site = one.visit.site
    named = one.visit.gauging.site
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
        if one.visit.result is None:
            kind = "no discharge" if one.finished else "unfinished"
            reason = one.visit.refused
            remarks = one.visit.gauging.remarks
            said = f" The crew wrote: {remarks}" if remarks else ""
            what = f"{reason[:1].upper()}{reason[1:]}.{said}"
            yield Exceptional(kind, _where(one, material), what, True)


def _unplaced(material: SurveyMaterial) -> Iterator[Exceptional]:
    starts, ends = material.survey.starts, material.survey.ends
    for one in in_order(material):
        day = one.visit.day
        if one.visit.site is None:
            what = (
                "What the record says of its place names no site of the survey, or more than one."
            )
            yield Exceptional("site not known", _where(one, material), what, True)
        if day is None:
            what = "The record says no day, so that it is held against no other gauging."
            yield Exceptional("day not known", _where(one, material), what, True)
        elif (starts is not None and day < starts) or (ends is not None and day > ends):
            what = f"The survey runs from {starts or 'an open day'} to {ends or 'an open day'}."
            yield Exceptional("outside the season", _where(one, material), what, True)


def _findings(material: SurveyMaterial) -> Iterator[Exceptional]:
    """Yield what the checks found and nobody answered, the gravest first."""
    for severity in SEVERITIES:
        for one in in_order(material):
            for finding in open_findings(one.visit):
                if finding.severity == severity and one.finished:
                    what = f"{finding.check} ({key_of(finding)}). {finding.found}"
                    grave = severity in ("stop", "fix now")
                    kind = f"{severity}, not answered"
                    yield Exceptional(kind, _where(one, material), what, grave)


def _not_visited(material: SurveyMaterial) -> Iterator[Exceptional]:
    for site in material.survey.sites:
        wanted = 1 if site.visits_planned is None else site.visits_planned
        there = [v for v in material.visits if v.site is not None and v.site.id == site.id]
        days = {v.day for v in there if v.result is not None}
        place = f"{site.id}, {site.stream}, {site.name}"
        if not there and wanted > 0:
            yield Exceptional("not visited", place, f"Visits planned: {wanted:g}.")
        elif len(days) < wanted:
            what = f"Visits planned: {wanted:g}; with a discharge: {len(days)}."
            yield Exceptional("visits missing", place, what)


def _meters(material: SurveyMaterial) -> Iterator[Exceptional]:
    due: dict[str, list[int]] = {}
    numbers = numbers_of(material)
    for one in in_order(material):
        meter = one.visit.gauging.meter
        if meter is not None and any(f.check == _OVERDUE for f in one.visit.findings):
            name = " ".join(part for part in (meter.kind, meter.serial) if part) or "a meter"
            day = meter.calibration_due
            named = name if day is None else f"{name}, due by {day.isoformat()}"
            due.setdefault(named, []).append(numbers[one.visit.id])
    for name, notes in due.items():
        what = f"It was used after that day in notes {listed([str(n) for n in notes])}."
        yield Exceptional("meter overdue", name, what)


def _without_position(material: SurveyMaterial) -> Iterator[Exceptional]:
    for site in material.survey.sites:
        there = [v for v in material.visits if v.site is not None and v.site.id == site.id]
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
            reason = f" {found.reason}" if found.reason else ""
            signed = f" ({found.by})" if found.by else ""
            what = f"{found.what}: was {found.was}, now {now}.{reason}{signed}"
            yield Exceptional("corrected", _where(one, material), what)


def _lost_repeats(material: SurveyMaterial) -> Iterator[Exceptional]:
    lost = {visit.id for visit in unknown_repeats(material.visits)}
    for one in in_order(material):
        if one.visit.id in lost:
            what = "It is said to repeat a gauging that is not among these."
            yield Exceptional("repeat of nothing", _where(one, material), what)
