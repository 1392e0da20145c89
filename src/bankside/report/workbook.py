"""The auditable workbook of one gauging: raw readings, and every figure as a live formula.

No macros, no links to other files, no function younger than 2007; equal input gives equal bytes.
"""

from __future__ import annotations

import datetime
import io
from collections.abc import Sequence

import xlsxwriter

from bankside.gauging.budget import Budget
from bankside.gauging.checks.finding import Finding
from bankside.gauging.practice_mark import refuse_practice
from bankside.gauging.records import Gauging
from bankside.gauging.result import Result
from bankside.gauging.rule_sets.rule_set import RuleSet
from bankside.report.workbook_about import write_about
from bankside.report.workbook_cells import Looks
from bankside.report.workbook_constants import constants
from bankside.report.workbook_findings import write_corrections, write_findings
from bankside.report.workbook_panels import write_panels
from bankside.report.workbook_points import write_points
from bankside.report.workbook_readings import write_readings
from bankside.report.workbook_section import write_section
from bankside.report.workbook_summary import Figures, write_summary
from bankside.report.workbook_uncertainty import write_uncertainty
from bankside.report.workbook_verticals import Origins

__all__ = ["SHEETS", "gauging_workbook"]

SHEETS = (
    "Summary",
    "Readings",
    "Points",
    "Panels",
    "Section",
    "Findings",
    "Uncertainty",
    "Corrections",
    "About",
)
"""The sheets, in the order in which they stand."""

_NO_DAY = datetime.date(1980, 1, 1)


def gauging_workbook(
    gauging: Gauging,
    result: Result,
    findings: Sequence[Finding] | None = None,
    budgets: Sequence[Budget] = (),
    rules: RuleSet | None = None,
    *,
    notes: Sequence[str] = (),
    finished: bool = True,
) -> bytes:
    """Return a gauging with its result as the bytes of an XLSX workbook that can be audited.

    `result` is that of `compute` for this gauging, by any method and edge rule. Cells carry the
    engine's figures for viewers that work nothing out. `findings` are those of the checks, None
    where none were made; `budgets` those of the discharge; `rules` the rule set of both; `notes`
    what was understood when the record was read. `finished` says whether all readings are there.
    The workbook is dated by the record, never by the clock.

    InputRefused if a text of the record is longer than a cell can hold, and for practice.
    """
    refuse_practice(gauging)
    out = io.BytesIO()
    with xlsxwriter.Workbook(out, {"in_memory": True}) as book:
        book.set_properties({"title": "Discharge measurement", "created": _created(gauging)})
        sheets = {name: book.add_worksheet(name) for name in SHEETS}
        looks = Looks(book)

        def title(name: str) -> str:
            return " — ".join([name, *_name(gauging)])

        write_about(book, sheets["About"], looks, tuple(constants(gauging)), title("About"))
        readings = write_readings(sheets["Readings"], looks, gauging, title("Readings"))
        points = write_points(sheets["Points"], looks, gauging, result, readings, title("Points"))
        origins = Origins(gauging, result, readings, points)
        panels = write_panels(sheets["Panels"], looks, origins, title("Panels"))
        section = write_section(sheets["Section"], looks, gauging, result, panels, title("Section"))
        write_findings(sheets["Findings"], looks, gauging, findings, title("Findings"))
        discharge = panels.table.ref("discharge", panels.total)
        figures = Figures(
            gauging,
            result,
            panels,
            section,
            write_uncertainty(
                sheets["Uncertainty"],
                looks,
                budgets,
                (discharge, result.discharge_m3s),
                title("Uncertainty"),
            ),
            tuple(findings or ()),
            tuple(notes),
            finished,
        )
        write_corrections(sheets["Corrections"], looks, gauging, title("Corrections"))
        write_summary(sheets["Summary"], looks, figures, rules, title("Summary"))
    return out.getvalue()


def _name(gauging: Gauging) -> list[str]:
    """Return what tells the gauging from others, for the head of every sheet."""
    day = gauging.date.isoformat() if gauging.date is not None else None
    return [part for part in (gauging.site.stream, gauging.site.name, day) if part]


def _created(gauging: Gauging) -> datetime.datetime:
    day = gauging.date
    if day is None:
        day = _NO_DAY if gauging.started is None else gauging.started.date()
    return datetime.datetime.combine(day, datetime.time())
