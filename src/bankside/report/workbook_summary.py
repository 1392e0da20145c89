"""The sheet "Summary": the gauging on a page, each figure pointing at where it is worked out."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from importlib.metadata import version

import attrs
from xlsxwriter.worksheet import Worksheet

from bankside.gauging.checks.doubt import in_doubt
from bankside.gauging.checks.finding import Finding
from bankside.gauging.reconcile import reconcile
from bankside.gauging.records import Gauging, Meter, MeterCheck
from bankside.gauging.result import Result
from bankside.gauging.rule_sets.rule_set import RuleSet
from bankside.gauging.units import cubic_metres_per_second_per
from bankside.note.called_figures import called_units
from bankside.note.section_drawing import section_drawing
from bankside.note.standing import IN_DOUBT, warnings
from bankside.report.workbook_cells import Column, Formula, Look, Looks, Table
from bankside.report.workbook_figures import Line, discharge_lines, section_lines
from bankside.report.workbook_panels import Panels
from bankside.report.workbook_readings import moment
from bankside.report.workbook_section import Section
from bankside.report.workbook_uncertainty import BudgetCells

__all__ = ["Figures", "write_summary"]


@attrs.frozen
class Figures:
    """What the summary points at: the result, and where its parts stand."""

    gauging: Gauging
    result: Result
    panels: Panels
    section: Section
    budgets: Sequence[BudgetCells]
    findings: Sequence[Finding] = ()
    notes: Sequence[str] = ()
    finished: bool = True


def write_summary(
    sheet: Worksheet, looks: Looks, figures: Figures, rules: RuleSet | None, title: str
) -> None:
    """Write where and with what it was made, what it comes to, and what was assumed."""
    table = Table(
        sheet,
        looks,
        title,
        "One measurement of discharge by wading. Figures point at the sheets on which they are "
        "worked out; the sheet About says how to follow them.",
        (
            Column("what", "", 34, "text"),
            Column("value", "value", 34, "text"),
            Column("unit", "unit", 10, "text"),
            Column("where", "where it comes from", 64, "text"),
        ),
    )
    drawing = section_drawing(figures.gauging, figures.result)
    for warning in warnings(figures.findings, drawing.channels, figures.finished):
        table.part(warning, gap=False)
    parts: tuple[tuple[str, Iterator[Line]], ...] = (
        ("Discharge and section", _figures(figures)),
        ("How it was worked out", _method(figures.result, rules)),
        ("Where and when", _place(figures.gauging)),
        ("With what, by whom", _means(figures.gauging)),
        ("Stage and remarks", _circumstances(figures.gauging)),
    )
    for heading, lines in parts:
        table.part(heading, gap=not table.is_empty)
        for what, value, unit, where in lines:
            if value is not None:
                look = "text" if isinstance(value, str) else _look(value, unit)
                cells = {"what": what, "value": value, "unit": unit, "where": where}
                table.add(cells, looks={"value": look})
    notes = (*figures.notes, *figures.result.notes)
    if notes:
        table.part("What was assumed")
        for note in notes:
            table.sentence(note)


def _look(value: float | Formula, unit: str) -> Look:
    return _LOOKS.get(unit, "as called") if isinstance(value, Formula) else "as called"


_LOOKS: Mapping[str, Look] = {
    **dict.fromkeys(("m", "cm", "mm", "ft", "in"), "length"),
    **dict.fromkeys(("m/s", "cm/s", "ft/s"), "velocity"),
    **dict.fromkeys(("m²", "ft²"), "area"),
    **dict.fromkeys(("m³/s", "ft³/s", "L/s"), "discharge"),
    "%": "percent",
}


def _figures(figures: Figures) -> Iterator[Line]:
    gauging, result = figures.gauging, figures.result
    discharge = figures.panels.table.ref("discharge", figures.panels.total)
    yield from discharge_lines(discharge, result, called_units(gauging))
    yield from section_lines(figures.panels, figures.section, result, called_units(gauging))
    yield _largest_share(figures.panels, result)
    yield from _uncertainties(figures)
    yield from _filed(gauging, result, discharge)


def _uncertainties(figures: Figures) -> Iterator[Line]:
    """Yield what each method gives, the lower bound called so; nothing while a reading is in doubt.

    The budgets stand on their sheet either way.
    """
    if figures.budgets and in_doubt(figures.gauging, figures.result, figures.findings):
        yield "uncertainty", IN_DOUBT, "", "Uncertainty: what each method makes of the readings"
        return
    for cells in figures.budgets:
        value = Formula(cells.expanded, cells.budget.expanded_percent)
        words = f"Uncertainty: {cells.budget.interval_words} by {cells.budget.method}"
        least = cells.budget.key == "components"
        yield "uncertainty, a lower bound" if least else "uncertainty", value, "%", words


def _largest_share(panels: Panels, result: Result) -> Line:
    sheet = panels.table
    first, last = panels.rows[0][0], panels.total
    span = f"{sheet.ref('share', first)}:{sheet.at('share', last)}"
    shares = [panel.share for panel in result.panels if panel.share is not None]
    value = max(shares) if shares else None
    formula = Formula(f'IF(COUNT({span})>0,MAX({span}),"")', value)
    return "largest share of a panel", formula, "%", "Panels: the largest share"


def _filed(gauging: Gauging, result: Result, discharge: str) -> Iterator[Line]:
    """Yield the total that the sheet carried, and how far the one worked out is from it."""
    filed, found = gauging.filed, reconcile(gauging, result)
    if filed is None or filed.discharge is None or found is None:
        return
    unit = filed.unit or found.unit
    shown, there = _DISCHARGE_UNITS[unit]
    words = "the record, as filed"
    if filed.unit is None:
        words += f"; the sheet names no unit, {shown} is taken"
    yield "total that the sheet carried", Formula("filed_discharge", filed.discharge), shown, words
    if filed.discharge != 0:
        in_si = filed.discharge * cubic_metres_per_second_per(unit)
        value = (result.discharge_m3s - in_si) / in_si * 100
        difference = Formula(f"({discharge}-{there})/{there}*100", value)
        yield "difference from it", difference, "%", "of the total that the sheet carried"


_DISCHARGE_UNITS: Mapping[str, tuple[str, str]] = {
    "m3/s": ("m³/s", "filed_discharge"),
    "ft3/s": ("ft³/s", "(filed_discharge*m3s_per_ft3s)"),
    "L/s": ("L/s", "(filed_discharge*m3s_per_litre)"),
}
"""How a unit of discharge is written, and the total in m³/s."""


def _method(result: Result, rules: RuleSet | None) -> Iterator[Line]:
    yield "method", result.method, "", ""
    if result.edge_rule is not None:
        yield "edge rule", result.edge_rule, "", ""
    yield "version of the method", result.method_version, "", "changes when figures change"
    yield "Bankside", version("bankside"), "", "version of the program"
    if rules is not None:
        yield "rule set", rules.name, "", rules.title


def _place(gauging: Gauging) -> Iterator[Line]:
    site = gauging.site
    yield "stream", site.stream, "", ""
    yield "site", site.name, "", ""
    if site.position is not None:
        yield "latitude", site.position.lat, "°", "WGS 84, positive north"
        yield "longitude", site.position.lon, "°", "WGS 84, positive east"
        yield "accuracy of the position", site.position.accuracy_m, "m", "as the receiver said"
        yield "label of the position", site.position.label, "", ""
    yield "date", moment(gauging.date), "", ""
    yield "first reading", moment(gauging.started), "", ""
    yield "last reading", moment(gauging.ended), "", ""
    yield "identity of the record", gauging.id, "", ""


def _means(gauging: Gauging) -> Iterator[Line]:
    for member in gauging.crew:
        yield member.role or "crew", member.name, "", ""
    meter = gauging.meter
    if meter is not None:
        yield from _meter(meter, gauging.units.velocity)


def _meter(meter: Meter, unit: str) -> Iterator[Line]:
    yield "meter", meter.kind, "", ""
    yield "serial number of the meter", meter.serial, "", ""
    yield "last calibrated", moment(meter.calibrated), "", ""
    yield "to be calibrated by", moment(meter.calibration_due), "", ""
    if meter.rating:
        lines = "one straight line" if len(meter.rating) == 1 else "two straight lines"
        yield "rating", lines, "", "About: the constants whose names begin with rating"
    for check in meter.checks:
        yield _proof(check, unit)


def _proof(check: MeterCheck, unit: str) -> Line:
    at = moment(check.at) or ""
    if check.kind == "spin":
        return f"spin {check.when} the readings", check.seconds, "s", at
    return f"zero {check.when} the readings", check.value, unit, at


def _circumstances(gauging: Gauging) -> Iterator[Line]:
    for stage in gauging.stage:
        yield "stage", stage.value, gauging.units.length, moment(stage.at) or ""
    if gauging.no_gauge:
        yield "stage", "the site has no staff gauge", "", ""
    if gauging.whole_flow is not None:
        yield "all water passes the section", "yes" if gauging.whole_flow else "no", "", ""
    yield "duplicate of gauging", gauging.repeats, "", ""
    yield "last cleared", moment(gauging.cleared), "", ""
    yield "moved", gauging.moved, "", ""
    yield "quality, as the crew holds it", gauging.quality, "", ""
    yield "remarks", gauging.remarks, "", ""
