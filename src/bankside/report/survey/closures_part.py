"""Balances at confluences, and gain and loss along streams, each with how sure it is."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from bankside.gauging.rounding import to_figures
from bankside.note.content import Cell, Column, Part, Table
from bankside.report.survey.material import SurveyMaterial
from bankside.survey.closure import Closure

__all__ = ["closures_part"]

_RULE: Final = (
    "A gain or a loss is claimed only where the difference is no less than two combined standard "
    "uncertainties; what is smaller is no measurable change."
)


def closures_part(material: SurveyMaterial) -> Part:
    """Return the balances that the survey lists, and the reaches between its gauged sites."""
    balances, reaches = material.examined.balances, material.examined.reaches
    title = "Balances, gain and loss"
    if not balances and not reaches:
        return Part(
            title, sentences=("No sites were gauged between which water could be weighed.",)
        )
    tables = [
        _table(name, closures)
        for name, closures in (
            ("Balances of the survey", balances),
            ("Reaches between neighbouring sites", reaches),
        )
        if closures
    ]
    return Part(
        title,
        sentences=(_RULE, _window(material.examined.window_days)),
        tables=tuple(tables),
        points=tuple(_points((*balances, *reaches))),
    )


def _window(days: int) -> str:
    if not days:
        return "Gaugings of one day are held together."
    apart = "one day" if days == 1 else f"{days} days"
    return f"Gaugings that are at most {apart} apart are held together."


def _table(name: str, closures: Sequence[Closure]) -> Table:
    return Table(
        name=name,
        columns=(
            Column("between", weight=1.6),
            Column("day"),
            Column("comes in", "m³/s", "right"),
            Column("goes on", "m³/s", "right"),
            Column("difference", "m³/s", "right"),
            Column("uncertain by", "± m³/s", "right"),
            Column("difference", "%", "right"),
            Column("verdict", weight=1.5),
        ),
        rows=tuple(_row(closure) for closure in closures),
    )


def _row(closure: Closure) -> tuple[Cell, ...]:
    told = closure.difference_m3s is not None
    band = closure.band_m3s
    verdict = Cell(closure.verdict, "strong" if closure.verdict in ("gain", "loss") else "")
    if closure.verdict == "cannot be told":
        verdict = Cell(" ".join(closure.reasons), "fine", lead=closure.verdict)
    return (
        Cell(closure.name),
        Cell("" if closure.day is None else closure.day.isoformat()),
        Cell(to_figures(closure.incoming_m3s, 3) if told else ""),
        Cell(to_figures(closure.outgoing_m3s, 3) if told else ""),
        Cell(_signed(closure.difference_m3s, band)),
        Cell("" if band is None else to_figures(band, 2)),
        Cell("" if closure.percent is None else f"{closure.percent:+.1f}"),
        verdict,
    )


def _signed(difference: float | None, band: float | None) -> str:
    """Return a difference with its sign, as fine as what it is uncertain by."""
    if difference is None:
        return ""
    if not band:
        return f"{difference:+.3f}"
    return f"{difference:+.{len(to_figures(band, 2).partition('.')[2])}f}"


def _points(closures: Sequence[Closure]) -> Iterator[str]:
    """Yield what else is to be known, each sentence once with the closures that it is about."""
    about: dict[str, list[str]] = {}
    for closure in closures:
        day = "" if closure.day is None else f", {closure.day.isoformat()}"
        for sentence in closure.remarks:
            about.setdefault(sentence, []).append(f"{closure.name}{day}")
    told: dict[tuple[str, ...], list[str]] = {}
    for sentence, names in about.items():
        told.setdefault(tuple(names), []).append(sentence)
    for closures_named, sentences in told.items():
        yield f"{'; '.join(closures_named)}: {' '.join(sentences)}"
