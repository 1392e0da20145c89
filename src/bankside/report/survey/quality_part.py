"""How good the gaugings are held to be, how far they can be trusted, and what that rests on."""

from __future__ import annotations

import statistics
from collections import Counter
from collections.abc import Iterator, Sequence
from typing import Final

from bankside.gauging.checks.finding import SEVERITIES
from bankside.gauging.rounding import to_figures
from bankside.note.content import Cell, Column, Part, Table
from bankside.note.facts import NOT_RECORDED
from bankside.report.survey.material import Surveyed, SurveyMaterial
from bankside.report.survey.numbering import in_order, range_words
from bankside.survey.summary import open_findings
from bankside.survey.words import listed

__all__ = ["meter_words", "quality_part"]

_WORDS: Final = ("excellent", "good", "fair", "poor")


def quality_part(material: SurveyMaterial) -> Part:
    """Return quality and uncertainty of the gaugings with a discharge, and findings of all."""
    told = [one for one in in_order(material) if one.visit.final_m3s is not None]
    if not told:
        return Part("Quality and uncertainty", sentences=("No gauging gives a discharge.",))
    return Part(
        "Quality and uncertainty",
        sentences=tuple(_sentences(told)),
        tables=(_by_meter(in_order(material)), _by_word(told), _by_severity(material)),
        below=(
            "Borne out: the best word that the uncertainty of a gauging allows. Words are held "
            "against one standard uncertainty, about half of the column within (our choice).",
        ),
    )


def _sentences(told: Sequence[Surveyed]) -> Iterator[str]:
    budgets = [one.visit.told_budget for one in told if one.visit.told_budget is not None]
    if not budgets:
        yield "No gauging states an uncertainty."
        return
    percents = [budget.expanded_percent for budget in budgets]
    methods = Counter(budget.method for budget in budgets)
    by = listed([f"{method} in {count}" for method, count in methods.most_common()])
    low, middle, high = (
        to_figures(value, 2)
        for value in (min(percents), statistics.median(percents), max(percents))
    )
    spread = f"{low} %" if low == high else f"{low} to {high} % ({middle} % in the middle)"
    yield f"How far a discharge may be off (about 19 in 20): {spread}; by {by}."
    largest = Counter(max(b.parts, key=lambda part: part.percent).name for b in budgets if b.parts)
    parts = listed([f"{name} in {count}" for name, count in largest.most_common()])
    yield f"The largest part of the uncertainty: {parts}."
    doubtful = sum(1 for one in told if one.visit.in_doubt)
    if doubtful:
        yield f"Not told while a reading is in doubt: {doubtful}."
    silent = sum(1 for one in told if one.visit.budget is None and not one.visit.in_doubt)
    if silent:
        yield f"Without a stated uncertainty: {silent}."


def meter_words(one: Surveyed) -> str:
    """Return kind and serial number of a meter."""
    meter = one.visit.gauging.meter
    if meter is None:
        return NOT_RECORDED
    return " ".join(part for part in (meter.kind, meter.serial) if part) or NOT_RECORDED


def _by_meter(every: Sequence[Surveyed]) -> Table:
    groups: dict[str, list[Surveyed]] = {}
    for one in every:
        groups.setdefault(meter_words(one), []).append(one)
    return Table(
        name="By meter",
        columns=(
            Column("meter", weight=1.0),
            Column("gaugings", align="right"),
            Column("led by", weight=0.8),
            Column("verticals", align="right"),
            Column("largest share", "%", "right"),
            Column("within", "± %", "right"),
            Column("open", "findings", "right"),
        ),
        rows=tuple(_meter_row(name, groups[name]) for name in sorted(groups)),
        whole=True,
    )


def _meter_row(name: str, group: Sequence[Surveyed]) -> tuple[Cell, ...]:
    told = [one for one in group if one.visit.final_m3s is not None]
    results = [one.visit.result for one in told if one.visit.result is not None]
    verticals = [float(sum(1 for v in r.verticals if v.depth_m > 0)) for r in results]
    shares = [
        max((abs(p.share) for p in r.panels if p.share is not None), default=0.0) for r in results
    ]
    budgets = [one.visit.told_budget for one in told if one.visit.told_budget is not None]
    leaders = dict.fromkeys(leader for one in group if (leader := _leader(one)))
    return (
        Cell(name, "open" if name == NOT_RECORDED else ""),
        Cell(str(len(group))),
        Cell("; ".join(leaders) or NOT_RECORDED, "" if leaders else "open"),
        Cell(range_words(verticals, ".0f") if verticals else ""),
        Cell(range_words(shares, ".1f") if shares else ""),
        Cell(range_words([b.expanded_percent for b in budgets], ".1f") if budgets else ""),
        Cell(str(sum(len(open_findings(one.visit)) for one in group))),
    )


def _leader(one: Surveyed) -> str | None:
    crew = one.visit.gauging.crew
    named = [m.name for m in crew if m.role is not None and "leader" in m.role.casefold()]
    return next(iter([*named, *(member.name for member in crew)]), None)


def _by_word(told: Sequence[Surveyed]) -> Table:
    said = Counter(one.visit.gauging.quality for one in told)
    borne = Counter(one.visit.borne_out for one in told)
    rows = [(Cell(word), said[word], borne[word]) for word in _WORDS]
    rows.append((Cell(NOT_RECORDED, "open"), said[None], borne[None]))
    return Table(
        name="By quality",
        columns=(
            Column("quality"),
            Column("as the crews say", align="right"),
            Column("borne out", align="right"),
        ),
        rows=tuple((word, Cell(str(crews)), Cell(str(out))) for word, crews, out in rows),
        whole=True,
    )


def _by_severity(material: SurveyMaterial) -> Table:
    findings = [f for one in material.surveyed for f in one.visit.findings]
    return Table(
        name="Findings of the checks",
        columns=(
            Column("how grave"),
            Column("found", align="right"),
            Column("answered", align="right"),
        ),
        rows=tuple(
            (
                Cell(severity),
                Cell(str(sum(1 for f in findings if f.severity == severity))),
                Cell(
                    ""
                    if severity == "note"
                    else str(sum(1 for f in findings if f.severity == severity and f.answer))
                ),
            )
            for severity in SEVERITIES
        ),
        whole=True,
    )
