"""What repeats of one measurement say, as a table with verdicts."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from bankside.gauging.rounding import to_figures
from bankside.note.content import Cell, Column, Kind, Part, Table
from bankside.report.survey.material import SurveyMaterial
from bankside.report.survey.numbering import numbers_of
from bankside.report.survey.review import open_words
from bankside.survey.duplicates import DuplicatePair, Duplicates
from bankside.survey.summary import open_findings
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
            f"{material.examined.share.words} {_by_two_crews(found)}".rstrip(),
            f"Two gaugings of one flow agree when they are no more than {look.words()} of their "
            f"mean apart; beyond {third.words()} a third one is due ({look.source}).",
        ),
        tables=(
            Table(
                name="Gaugings of one flow",
                columns=(
                    Column("site"),
                    Column("day"),
                    Column("first", "note, start, meter, open", weight=1.0),
                    Column("m³/s", align="right"),
                    Column("second", "note, start, meter, open", weight=1.0),
                    Column("m³/s", align="right"),
                    Column("apart", "% of mean", "right"),
                    Column("allowed", "± m³/s", "right"),
                    Column("crew, meter", weight=0.75),
                    Column("verdict", weight=0.75),
                ),
                rows=tuple(_row(pair, group, numbers) for group in found for pair in group.pairs),
            ),
        ),
        below=(
            "Allowed: what the stated uncertainties of both allow, 2 √(u₁² + u₂²).",
            "Open: findings of the checks that nobody answered, notes aside.",
        ),
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
        Cell(f"{_alike('crew', pair.same_crew)},\n{_alike('meter', pair.same_meter)}"),
        Cell(verdict, kind),
    )


def _gauging(visit: Visit, numbers: Mapping[str, int]) -> tuple[Cell, Cell]:
    started, meter = visit.gauging.started, visit.gauging.meter
    clock = "" if started is None else f"{started:%H:%M}"
    serial = "" if meter is None else meter.serial or meter.kind or ""
    words = ", ".join(part for part in (f"note {numbers[visit.id]}", clock, serial) if part)
    if waiting := open_findings(visit):
        words += f"\n{open_words(waiting)}"
    flow = visit.discharge_m3s
    return Cell(words), Cell("none" if flow is None else to_figures(flow, 3))


def _alike(what: str, same: bool | None) -> str:
    if same is None:
        return f"{what} not known"
    return f"same {what}" if same else f"other {what}"


def _by_two_crews(found: tuple[Duplicates, ...]) -> str:
    """Return how many of the visits that were measured twice were so by more than one crew."""
    pairs = [[p for p in group.pairs if p.difference_percent is not None] for group in found]
    twice = [group for group in pairs if group]
    if not twice:
        return ""
    others = sum(1 for group in twice if any(pair.same_crew is False for pair in group))
    silent = sum(
        1
        for group in twice
        if all(pair.same_crew is not False for pair in group)
        and any(pair.same_crew is None for pair in group)
    )
    unknown = f"; of {silent} it is not written down" if silent else ""
    return f"By more than one crew: {others} of {len(twice)}{unknown}."


def _points(found: tuple[Duplicates, ...]) -> Iterator[str]:
    """Yield what is to be done where gaugings differ, with what was alike between them."""
    for group in found:
        if group.verdict != "agree":
            pairs = " ".join(pair.words for pair in group.pairs)
            yield f"{group.words} {pairs} {group.advice}"
