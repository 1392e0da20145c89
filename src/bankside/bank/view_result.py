"""What a gauging comes to, as the page shows it: the discharge, and how sure it is."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Final

from bankside.bank.standing import Standing
from bankside.gauging.budget import Budget
from bankside.gauging.checks.answers import is_open
from bankside.gauging.checks.doubt import in_doubt
from bankside.gauging.checks.finding import Finding
from bankside.gauging.checks.quality import borne_out
from bankside.gauging.mean_stage import mean_stage
from bankside.gauging.records import Gauging
from bankside.gauging.result import Result
from bankside.gauging.rounding import to_figures
from bankside.gauging.share_limits import limits_of
from bankside.gauging.uncertainty import stated_uncertainty
from bankside.gauging.units import cubic_metres_per_second_per
from bankside.note.called_figures import as_called, called_units, with_figures, with_four_figures
from bankside.note.headline import headline
from bankside.note.material import NoteMaterial
from bankside.note.section_drawing import SectionDrawing, section_drawing

__all__ = ["result_view"]

_GRAVE: Final = frozenset({"stop", "fix now"})
_FIGURES: Final = 3
"""Significant figures of a discharge: British Columbia manual, 1998, F.3 (read)."""


def result_view(standing: Standing, findings: Sequence[Finding]) -> dict[str, Any]:
    """Return `result`, `uncertainty` and `quality_suggested` of a view.

    They say what the note says of the same record, a word for the quality only once all readings
    are there, none is in doubt and no finding is open that asks for a stop or a fix.
    """
    gauging, result = standing.gauging, standing.result
    if gauging is None or result is None:
        return {"result": None, "uncertainty": [], "quality_suggested": None}
    budgets, refusals = stated_uncertainty(gauging, result)
    stage = mean_stage(gauging, result)
    material = NoteMaterial(
        gauging=gauging,
        result=result,
        findings=tuple(findings),
        rules=standing.rules,
        budgets=budgets,
        budget_refusals=refusals,
        mean_stage=stage,
        finished=standing.finished,
    )
    drawing = section_drawing(gauging, result, limits_of(standing.rules))
    head = headline(material, drawing)
    remarks = () if stage is None else stage.remarks
    grave = any(is_open(finding) and finding.severity in _GRAVE for finding in findings)
    settled = standing.finished and not grave and not in_doubt(gauging, result, findings)
    return {
        "result": {
            **_figures(gauging, result, drawing),
            "method_version": result.method_version,
            "notes": [*result.notes, *remarks],
            "warnings": list(head.warnings),
            "uncertainty": head.uncertainty,
            "uncertainty_basis": head.uncertainty_basis,
        },
        "uncertainty": [_budget(budget) for budget in budgets],
        "quality_suggested": borne_out(standing.rules, budgets) if settled else None,
    }


def _figures(gauging: Gauging, result: Result, drawing: SectionDrawing) -> dict[str, Any]:
    units = called_units(gauging)
    discharge = result.discharge_m3s
    other, per_other = ("m³/s", 1.0) if drawing.units.english else ("ft³/s", _cubic_foot())
    return {
        "discharge_m3s": discharge,
        "discharge": with_figures(discharge / units.cubic_metres_per_second, _FIGURES),
        "discharge_unit": units.discharge,
        "also": f"{with_figures(discharge / per_other, _FIGURES)} {other}",
        "area": f"{with_four_figures(result.area_m2 / units.square_metres)} {units.area}",
        "width": f"{as_called([result.width_m / units.metres])[0]} {units.length}",
        "mean_depth": _mean(result.mean_depth_m, units.depth_metres, units.depth),
        "mean_velocity": _mean(result.mean_velocity_ms, units.metres_per_second, units.velocity),
    }


def _cubic_foot() -> float:
    return cubic_metres_per_second_per("ft3/s")


def _mean(value: float | None, one: float, unit: str) -> str | None:
    return None if value is None else f"{with_four_figures(value / one)} {unit}"


def _budget(budget: Budget) -> dict[str, Any]:
    percent = to_figures(budget.expanded_percent, 2)
    within = "more than the discharge" if budget.exceeds_discharge else f"± {percent} %"
    lower = "at least, " if budget.left_out else ""
    return {
        "key": budget.key,
        "method": budget.method,
        "percent": percent,
        "words": f"{within} ({lower}{budget.interval_words.replace(' (', ', ')}",
    }
