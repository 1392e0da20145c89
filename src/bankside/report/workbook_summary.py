"""The sheet "Summary": the gauging on a page, each figure pointing at where it is worked out."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from importlib.metadata import version

import attrs
from xlsxwriter.worksheet import Worksheet

from bankside.gauging.records import Gauging, Meter, MeterCheck
from bankside.gauging.result import Result
from bankside.gauging.rule_sets.rule_set import RuleSet
from bankside.gauging.units import cubic_metres_per_second_per
from bankside.report.workbook_cells import Cell, Column, Formula, Look, Looks, Table
from bankside.report.workbook_panels import Panels
from bankside.report.workbook_readings import moment
from bankside.report.workbook_section import Section
from bankside.report.workbook_uncertainty import BudgetCells

__all__ = ["Figures", "write_summary"]

Line = tuple[str, Cell, str, str]
"""What it is, the value, its unit, and where it comes from."""


@attrs.frozen
class Figures:
    """What the summary points at: the result, and where its parts stand."""

    gauging: Gauging
    result: Result
    panels: Panels
    section: Section
    budgets: Sequence[BudgetCells]


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
    parts: tuple[tuple[str, Iterator[Line]], ...] = (
        ("Discharge and section", _figures(figures)),
        ("How it was worked out", _method(figures.result, rules)),
        ("Where and when", _place(figures.gauging)),
        ("With what, by whom", _means(figures.gauging)),
        ("Stage and remarks", _circumstances(figures.gauging)),
    )
    for i, (heading, lines) in enumerate(parts):
        table.part(heading, gap=i > 0)
        for what, value, unit, where in lines:
            if value is not None:
                look = "text" if isinstance(value, str) else _look(value, unit)
                cells = {"what": what, "value": value, "unit": unit, "where": where}
                table.add(cells, looks={"value": look})
    if figures.result.notes:
        table.part("What was assumed")
        for note in figures.result.notes:
            table.sentence(note)


def _look(value: float | Formula, unit: str) -> Look:
    if not isinstance(value, Formula):
        return "as called"
    looks: dict[str, Look] = {
        "m": "length",
        "m/s": "velocity",
        "m²": "area",
        "m³/s": "discharge",
        "ft³/s": "discharge",
        "L/s": "discharge",
        "%": "percent",
    }
    return looks.get(unit, "as called")


def _figures(figures: Figures) -> Iterator[Line]:
    result, panels, section = figures.result, figures.panels, figures.section
    discharge = panels.table.ref("discharge", panels.total)
    area, width = (section.table.ref(key, section.total) for key in ("area", "water"))
    perimeter = section.table.ref("bed", section.total)
    sums = "Panels: sum of the panels"
    yield "discharge", Formula(discharge, result.discharge_m3s), "m³/s", sums
    for name, unit, key in (("m3s_per_litre", "L/s", "L/s"), ("m3s_per_ft3s", "ft³/s", "ft3/s")):
        converted = result.discharge_m3s / cubic_metres_per_second_per(key)
        yield "", Formula(f"{discharge}/{name}", converted), unit, "the same in another unit"
    yield "area", Formula(area, result.area_m2), "m²", "Section: sum of the trapezoids"
    water = "Section: sum of the stretches with water"
    yield "width of the water", Formula(width, result.width_m), "m", water
    depth = _ratio(area, width, result.mean_depth_m)
    yield "mean depth", depth, "m", "area over width"
    over = panels.table.ref("area", panels.total) if result.edge_rule == "triangular" else area
    of = "panels" if result.edge_rule == "triangular" else "section"
    velocity = _ratio(discharge, over, result.mean_velocity_ms)
    yield "mean velocity", velocity, "m/s", f"discharge over the area of the {of}"
    bed = "Section: the bed under water and the faces of steep banks"
    yield "wetted perimeter", Formula(perimeter, result.wetted_perimeter_m), "m", bed
    ratio = _ratio(area, perimeter, result.hydraulic_radius_m)
    yield "hydraulic radius", ratio, "m", "area over wetted perimeter"
    yield _largest_share(panels, result)
    for cells in figures.budgets:
        value = Formula(cells.expanded, cells.budget.expanded_percent)
        words = f"Uncertainty: two standard uncertainties by {cells.budget.method}"
        yield "uncertainty", value, "%", words
    yield from _filed(figures.gauging, result, discharge)


def _ratio(over: str, under: str, value: float | None) -> Formula:
    return Formula(f'IF({under}>0,{over}/{under},"")', value)


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
    filed = gauging.filed
    if filed is None or filed.discharge is None:
        return
    unit = filed.unit
    total = Formula("filed_discharge", filed.discharge)
    yield "total that the sheet carried", total, unit or "", "the record, as filed"
    if unit is not None and filed.discharge != 0:
        in_si = filed.discharge * cubic_metres_per_second_per(unit)
        there = {
            "m3/s": "filed_discharge",
            "ft3/s": "(filed_discharge*m3s_per_ft3s)",
            "L/s": "(filed_discharge*m3s_per_litre)",
        }[unit]
        value = (result.discharge_m3s - in_si) / in_si * 100
        difference = Formula(f"({discharge}-{there})/{there}*100", value)
        yield "difference from it", difference, "%", "of the total that the sheet carried"


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
    yield "last cleared", moment(gauging.cleared), "", ""
    yield "moved", gauging.moved, "", ""
    yield "quality, as the crew holds it", gauging.quality, "", ""
    yield "remarks", gauging.remarks, "", ""
