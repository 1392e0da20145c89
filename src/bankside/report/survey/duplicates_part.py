"""What repeats of one measurement say, as a table with verdicts."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from bankside.gauging.rounding import to_figures
from bankside.note.content import Cell, Column, Kind, Part, Table
from bankside.report.survey.material import SurveyMaterial
from bankside.report.survey.numbering import numbers_of
from bankside.survey.duplicates import DuplicatePair, Duplicates
from bankside.survey.visits import Visit

__all__ = ["duplicates_part"]

_VERDICTS: Mapping[str, tuple[str, Kind]] = {
    "agree": ("they agree", ""),
    "look": ("to be looked into", "strong"),
    "measure again": ("too far apart", "strong"),
    "cannot be told": ("cannot be told", "open"),
}


def duplicates_part(material: SurveyMaterial) -> Part:
    """Return the repeats with their verdicts, and the share of visits that were repeated."""
    found = material.examined.duplicates
    if not found:
        nothing = "Nothing was measured twice."
        return Part("Duplicates", sentences=(nothing, material.examined.share.words))
    numbers = numbers_of(material)
    look, third = found[0].look, found[0].third
    return Part(
        "Duplicates",
        sentences=(
            material.examined.share.words,
            f"Two gaugings of one flow agree when they are no more than {look.words()} of their "
            f"mean apart; beyond {third.words()} a third one is due ({look.source}).",
        ),
        tables=(
            Table(
                name="Gaugings of one flow",
                columns=(
                    Column("site"),
                    Column("day"),
                    Column("first", "note, start, meter", weight=1.0),
                    Column("m³/s", align="right"),
                    Column("second", "note, start, meter", weight=1.0),
                    Column("m³/s", align="right"),
                    Column("apart", "% of mean", "right"),
                    Column("allowed", "± m³/s", "right"),
                    Column("verdict", weight=0.7),
                ),
                rows=tuple(_row(pair, group, numbers) for group in found for pair in group.pairs),
            ),
        ),
        below=("Allowed: what the stated uncertainties of both allow, 2 √(u₁² + u₂²).",),
        points=tuple(_points(found)),
    )


def _row(pair: DuplicatePair, group: Duplicates, numbers: Mapping[str, int]) -> tuple[Cell, ...]:
    site, day = pair.first.site, pair.first.day
    verdict, kind = _VERDICTS[group.verdict]
    allowed = "" if pair.allowed_m3s is None else to_figures(pair.allowed_m3s, 2)
    if pair.within_allowed is False:
        verdict += "; more than both allow"
    return (
        Cell("" if site is None else site.id),
        Cell("" if day is None else day.isoformat()),
        *_gauging(pair.first, numbers),
        *_gauging(pair.second, numbers),
        Cell(
            "" if pair.difference_percent is None else to_figures(pair.difference_percent, 2),
            "strong",
        ),
        Cell(allowed),
        Cell(verdict, kind),
    )


def _gauging(visit: Visit, numbers: Mapping[str, int]) -> tuple[Cell, Cell]:
    started, meter = visit.gauging.started, visit.gauging.meter
    clock = "" if started is None else f"{started:%H:%M}"
    serial = "" if meter is None else meter.serial or meter.kind or ""
    words = ", ".join(part for part in (f"note {numbers[visit.id]}", clock, serial) if part)
    flow = visit.discharge_m3s
    return Cell(words), Cell("none" if flow is None else to_figures(flow, 3))


def _points(found: tuple[Duplicates, ...]) -> Iterator[str]:
    """Yield what is to be done where gaugings differ, with what was alike between them."""
    for group in found:
        if group.verdict != "agree":
            pairs = " ".join(pair.words for pair in group.pairs)
            yield f"{group.words} {pairs} {group.advice}"
