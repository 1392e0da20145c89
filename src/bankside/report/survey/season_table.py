"""The table of the season: a row a gauging, from the sources down, and what it comes to."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from bankside.gauging.checks.doubt import in_doubt
from bankside.gauging.rounding import to_figures
from bankside.note.content import Cell, Column, Part, Table
from bankside.note.facts import NOT_RECORDED
from bankside.note.standing import headline_budgets
from bankside.report.survey.material import Surveyed, SurveyMaterial
from bankside.report.survey.numbering import numbers_of
from bankside.report.survey.review import filed_in_short, open_words, state_to_know
from bankside.survey.summary import Summary, SummaryRow, open_findings

__all__ = ["off_percent", "season_part"]

_VERDICTS: Mapping[str, str] = {
    "agree": "twice, agrees",
    "look": "twice, differs",
    "measure again": "twice, far apart",
    "cannot be told": "twice, cannot be told",
}


def season_part(material: SurveyMaterial, summary: Summary) -> Part:
    """Return the summary table, with what its order rests on below it."""
    numbers = numbers_of(material)
    by_id = {one.visit.id: one for one in material.surveyed}
    return Part(
        "Summary",
        tables=(
            Table(
                name="Discharges of the season",
                columns=(
                    Column("note", align="right"),
                    Column("site"),
                    Column("stream and place", weight=2.0),
                    Column("day"),
                    Column("discharge", "m³/s", "right"),
                    Column("discharge", "ft³/s", "right"),
                    Column("within", "± %", "right"),
                    Column("quality"),
                    Column("per area", "L/s/km²", "right"),
                    Column("to be known", weight=1.5),
                ),
                rows=tuple(_row(row, by_id, numbers) for row in summary.rows),
            ),
        ),
        below=(
            "Within: about 19 times in 20, by what the readings tell of the water between "
            "verticals; where they tell nothing, two standard uncertainties, the larger where two "
            "methods are told.",
            "Quality: the words are held against one standard uncertainty, about half of the "
            "column within (our choice).",
            "Open: findings of the checks that nobody answered, notes aside.",
        ),
        sentences=tuple(summary.remarks),
    )


def _row(
    row: SummaryRow, by_id: Mapping[str, Surveyed], numbers: Mapping[str, int]
) -> tuple[Cell, ...]:
    if row.visit is None:
        return (
            Cell(""),
            *_place(row),
            *(Cell("") for _ in range(6)),
            Cell("not visited", "open"),
        )
    one = by_id[row.visit]
    return (
        Cell(str(numbers[row.visit])),
        *_place(row),
        _or_open(None if row.day is None else row.day.isoformat()),
        Cell(row.shown_m3s if row.finished else "", "strong"),
        Cell(row.shown_ft3s if row.finished else ""),
        Cell(off_percent(one)),
        _or_open(row.quality),
        Cell(to_figures(row.l_s_km2, 3) if row.finished and row.l_s_km2 is not None else ""),
        Cell("; ".join(_remarks(row, one))),
    )


def _place(row: SummaryRow) -> tuple[Cell, Cell]:
    named = ", ".join(part for part in (row.stream, row.place) if part)
    return Cell(row.site or "none", "" if row.site else "open"), _or_open(named or None)


def _or_open(text: str | None) -> Cell:
    return Cell(NOT_RECORDED, "open") if text is None else Cell(text)


def off_percent(one: Surveyed) -> str:
    """Return how far a discharge may be off, nothing where there is none.

    Where its note tells two methods, by the larger of them.
    """
    if one.visit.final_m3s is None:
        return ""
    if one.note is None:
        return "not stated"
    budgets = headline_budgets(one.note.budgets)
    if not budgets:
        return "not stated"
    if in_doubt(one.note.gauging, one.note.result, one.note.findings):
        return "not told"
    return to_figures(max(budget.expanded_percent for budget in budgets), 2)


def _remarks(row: SummaryRow, one: Surveyed) -> Iterator[str]:
    if not one.visit.finished:
        yield "unfinished"
    elif one.visit.final_m3s is None:
        yield "no discharge"
    if state := state_to_know(one.visit):
        yield state
    if filed := filed_in_short(one.visit):
        yield filed
    if row.open_findings:
        yield open_words(open_findings(one.visit))
    if row.duplicates is not None:
        yield _VERDICTS[row.duplicates]
    if one.visit.gauging.corrections:
        yield "corrected"
