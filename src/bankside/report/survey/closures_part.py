"""Balances at confluences, and gain and loss along streams, each with how sure it is."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from bankside.gauging.rounding import to_figures
from bankside.note.content import Cell, Column, Part, Table
from bankside.report.survey.material import SurveyMaterial
from bankside.survey.closure import Closure
from bankside.survey.records import SurveySite
from bankside.survey.site_flow import SiteFlow

__all__ = ["closures_part"]

_RULE: Final = (
    "A gain or a loss is claimed only where the difference is no less than two combined standard "
    "uncertainties; what is smaller is no measurable change."
)


_NO_BREAK: Final = "\N{NO-BREAK SPACE}"
_WIDE_PERCENT: Final = 10.0
"""With a band from here on, in percent of what comes in, tenths of a percent say nothing (ours)."""


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
    off = "one day" if days == 1 else f"{days} days"
    return f"Gaugings that are at most {off} from the gauging below are held against it."


def _table(name: str, closures: Sequence[Closure]) -> Table:
    return Table(
        name=name,
        columns=(
            Column("between", weight=1.9),
            Column("day"),
            Column("comes in", "m³/s", "right"),
            Column("goes on", "m³/s", "right"),
            Column("difference", "m³/s", "right"),
            Column("uncertain by", "± m³/s", "right"),
            Column("difference", "%", "right"),
            Column("verdict", weight=1.2),
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
        Cell(_line(closure), "fine", lead=f"{closure.name}:"),
        Cell("" if closure.day is None else closure.day.isoformat()),
        Cell(to_figures(closure.incoming_m3s, 3) if told else ""),
        Cell(to_figures(closure.outgoing_m3s, 3) if told else ""),
        Cell(_signed(closure.difference_m3s, band)),
        Cell("" if band is None else to_figures(band, 2)),
        Cell(_percent(closure)),
        verdict,
    )


def _line(closure: Closure) -> str:
    """Return the sum in a line: "QB-02 1.27 → QB-03 1.30 + QL-01 0.120 taken out"."""
    sides = closure.sides
    above = (_term(site, closure.above) for site in sides.above)
    out = (f"{_term(site, closure.taken_out)} taken out" for site in sides.taken_out)
    below = _term(sides.below, () if closure.below is None else (closure.below,))
    return f"{' + '.join(above)} → {' + '.join((below, *out))}"


def _term(site: SurveySite, flows: Sequence[SiteFlow]) -> str:
    flow = next((flow for flow in flows if flow.site.id == site.id), None)
    figure = "?" if flow is None else to_figures(flow.discharge_m3s, 3)
    return f"{site.id}{_NO_BREAK}{figure}"


def _percent(closure: Closure) -> str:
    """Return the difference in percent: no decimals where its band is as wide as whole percents."""
    percent, band, incoming = closure.percent, closure.band_m3s, closure.incoming_m3s
    if percent is None:
        return ""
    fine = band is not None and 100 * band < _WIDE_PERCENT * abs(incoming)
    told = f"{percent:+.{1 if fine else 0}f}"
    return told if float(told) else told[1:]


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
