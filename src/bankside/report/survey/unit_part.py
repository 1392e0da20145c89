"""Discharge for each area that drains to a site, beside that of the other sites of its day."""

from __future__ import annotations

from typing import Final

from bankside.gauging.rounding import to_figures
from bankside.note.content import Cell, Column, Part, Picture, Table
from bankside.report.survey.material import SurveyMaterial
from bankside.survey.unit_discharge import UnitDischarge

__all__ = ["UNIT_KEY", "unit_part", "units_in_order"]

UNIT_KEY: Final = "unit discharges"


def units_in_order(material: SurveyMaterial) -> tuple[UnitDischarge, ...]:
    """Return the unit discharges, by site as the water meets them, then by day."""
    sites = [ordered.site.id for ordered in material.examined.order.sites]
    found = material.examined.unit_discharges
    return tuple(sorted(found, key=lambda unit: (sites.index(unit.site.id), unit.day)))


def unit_part(units: tuple[UnitDischarge, ...]) -> Part:
    """Return the comparison as a picture and a table."""
    title = "Discharge for each area"
    if not units:
        nothing = "No site with a drainage area gives a discharge."
        return Part(title, sentences=(nothing,))
    low, high = (threshold.words() for threshold in units[0].thresholds)
    return Part(
        title,
        pictures=(
            Picture(
                UNIT_KEY,
                "Dots in hydrographic order: " + " ".join(unit.words for unit in units),
                "Filled: within the limits beside the other sites of the day; open: outside; "
                "crossed: cannot be judged. A short line marks the median of the others.",
            ),
        ),
        sentences=(
            f"A discharge for each area outside {low} to {high} times the median of the other "
            f"sites of its day is a question and no verdict ({units[0].thresholds[0].source}).",
        ),
        tables=(
            Table(
                name="Discharge for each area",
                columns=(
                    Column("site"),
                    Column("day"),
                    Column("area", "km²", "right"),
                    Column("per area", "L/s/km²", "right"),
                    Column("per area", "ft³/s/mi²", "right"),
                    Column("others", align="right"),
                    Column("their median", "L/s/km²", "right"),
                    Column("times it", align="right"),
                    Column("beside others", weight=1.0),
                ),
                rows=tuple(map(_row, units)),
            ),
        ),
    )


def _row(unit: UnitDischarge) -> tuple[Cell, ...]:
    site, median, ratio = unit.site, unit.median_l_s_km2, unit.ratio
    judged = {None: Cell("cannot be judged", "open"), True: Cell("outside", "strong")}
    beside = judged.get(unit.odd, Cell("within"))
    if unit.remark:
        beside = Cell(unit.remark, "fine", lead=beside.text)
    return (
        Cell(site.id),
        Cell(unit.day.isoformat()),
        Cell(f"{site.drainage_area_km2:g}"),
        Cell(to_figures(unit.l_s_km2, 3), "strong"),
        Cell(to_figures(unit.ft3_s_mi2, 3)),
        Cell(str(unit.others)),
        Cell("" if median is None else to_figures(median, 3)),
        Cell("" if ratio is None else to_figures(ratio, 2)),
        beside,
    )
