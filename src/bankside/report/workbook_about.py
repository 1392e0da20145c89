"""The sheet "About": how to follow the workbook, and the constants that its formulas call."""

from __future__ import annotations

from collections.abc import Sequence

from xlsxwriter.workbook import Workbook
from xlsxwriter.worksheet import Worksheet

from bankside.report.workbook_cells import Column, Looks, Table
from bankside.report.workbook_constants import Constant

__all__ = ["write_about"]

_FOLLOW = (
    "Start at the discharge on Summary and go from cell to cell: Summary → Panels (totals, then "
    "the row of a vertical) → Points (the velocity at each point) → Readings (what was called). "
    "Section holds widths, area and wetted perimeter. Trace Precedents of your spreadsheet program "
    "draws the way.",
    "Whatever is worked out is a live formula: change a reading and every figure that rests on it "
    "changes. The sheet Readings holds no formula.",
    "Which formula stands where was chosen from the readings as they are: which velocities are "
    "interpolated, where the banks are, how many points a vertical has. Where a change of readings "
    "would change that, compute the gauging again.",
    "Cells hold every digit. What they show is rounded by their number format alone.",
    "Units: Readings as called; everything else in metres, m/s, m² and m³/s, by the factors above.",
    "A blank cell is what was not read, or does not apply; it is never a 0.",
)


def write_about(
    book: Workbook, sheet: Worksheet, looks: Looks, constants: Sequence[Constant], title: str
) -> None:
    """Write how to follow the workbook, and each constant as a cell with a name."""
    table = Table(
        sheet,
        looks,
        title,
        "The constants that formulas call by name, then how to follow the workbook cell by cell.",
        (
            Column("name", "name in formulas", 24, "text"),
            Column("value", "value", 16),
            Column("unit", "unit", 16, "text"),
            Column("meaning", "meaning", 64, "text"),
            Column("source", "source", 60, "text"),
        ),
    )
    for constant in constants:
        row = table.add(
            {
                "name": constant.name,
                "value": constant.value,
                "unit": constant.unit,
                "meaning": constant.meaning,
                "source": constant.source,
            }
        )
        book.define_name(constant.name, table.fixed("value", row))
    table.part("How to follow the workbook")
    for sentence in _FOLLOW:
        table.sentence(sentence)
