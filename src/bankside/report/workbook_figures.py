"""The figures of the summary: each in the unit called first, then in SI, all live formulas."""

from __future__ import annotations

from collections.abc import Iterator

import attrs

from bankside.gauging.result import Result
from bankside.gauging.units import cubic_metres_per_second_per
from bankside.note.called_figures import CalledUnits
from bankside.report.workbook_cells import Cell, Formula
from bankside.report.workbook_panels import Panels
from bankside.report.workbook_section import Section

__all__ = ["Line", "discharge_lines", "section_lines"]

Line = tuple[str, Cell, str, str]
"""What it is, the value, its unit, and where it comes from."""

_SAME = "the same in another unit"


@attrs.frozen
class _Amount:
    """A figure in SI: its formula and value, and where there must be more than 0 for it to be."""

    text: str
    value: float | None
    needs: str = ""

    def over(self, name: str, one: float) -> Formula:
        """Return it in a unit: `name` is what formulas call one of the unit in SI, `one` that."""
        text = f"{self.text}/{name}" if name else self.text
        value = None if self.value is None else self.value / one
        return Formula(f'IF({self.needs}>0,{text},"")' if self.needs else text, value)


@attrs.frozen
class _Unit:
    """A unit as written, and one of it in SI: the name for formulas, and the figure."""

    shown: str
    name: str
    one: float


def discharge_lines(discharge: str, result: Result, units: CalledUnits) -> Iterator[Line]:
    """Yield the discharge in the unit called, in m³/s, and in the other units of discharge.

    `discharge` is the cell of the total in m³/s.
    """
    amount = _Amount(discharge, result.discharge_m3s)
    known = {
        unit.shown: unit
        for unit in (
            _Unit("m³/s", "", 1.0),
            _Unit("L/s", "m3s_per_litre", cubic_metres_per_second_per("L/s")),
            _Unit("ft³/s", "m3s_per_ft3s", cubic_metres_per_second_per("ft3/s")),
        )
    }
    for place, shown in enumerate(dict.fromkeys((units.discharge, *known))):
        unit = known[shown]
        what, where = ("", _SAME) if place else ("discharge", "Panels: sum of the panels")
        yield what, amount.over(unit.name, unit.one), shown, where


def section_lines(
    panels: Panels, section: Section, result: Result, units: CalledUnits
) -> Iterator[Line]:
    """Yield area, width, mean depth, mean velocity, wetted perimeter and hydraulic radius."""
    discharge = panels.table.ref("discharge", panels.total)
    area, width, bed = (section.table.ref(key, section.total) for key in ("area", "water", "bed"))
    tape = _Unit(units.length, "metres_per_tape", units.metres)
    depth = _Unit(units.depth, "metres_per_depth", units.depth_metres)
    velocity = _Unit(units.velocity, "ms_per_velocity", units.metres_per_second)
    square = _Unit(units.area, "metres_per_foot/metres_per_foot", units.square_metres)
    triangular = result.edge_rule == "triangular"
    over = panels.table.ref("area", panels.total) if triangular else area
    of = "panels" if triangular else "section"
    for what, amount, unit, si, where in (
        ("area", _Amount(area, result.area_m2), square, "m²", "Section: sum of the trapezoids"),
        (
            "width of the water",
            _Amount(width, result.width_m),
            *(tape, "m", "Section: sum of the stretches with water"),
        ),
        (
            "mean depth",
            _Amount(f"{area}/{width}", result.mean_depth_m, width),
            *(depth, "m", "area over width"),
        ),
        (
            "mean velocity",
            _Amount(f"{discharge}/{over}", result.mean_velocity_ms, over),
            *(velocity, "m/s", f"discharge over the area of the {of}"),
        ),
        (
            "wetted perimeter",
            _Amount(bed, result.wetted_perimeter_m),
            *(tape, "m", "Section: the bed under water and the faces of steep banks"),
        ),
        (
            "hydraulic radius",
            _Amount(f"{area}/{bed}", result.hydraulic_radius_m, bed),
            *(tape, "m", "area over wetted perimeter"),
        ),
    ):
        yield from _called_first(what, amount, unit, si, where)


def _called_first(what: str, amount: _Amount, unit: _Unit, si: str, where: str) -> Iterator[Line]:
    if unit.shown != si:
        yield what, amount.over(unit.name, unit.one), unit.shown, where
    again = unit.shown != si
    yield "" if again else what, amount.over("", 1.0), si, _SAME if again else where
