"""What a sheet itself carries beside its readings: widths, areas, products and a total.

All of it is kept apart from what is computed, and none of it is ever computed with.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from typing import get_args

import attrs

from bankside.gauging.records import Filed, FiledPanel
from bankside.gauging.units import DischargeUnit
from bankside.sheets.group import Group
from bankside.sheets.sheet_row import FiledTotal, SheetRow, first_of
from bankside.sheets.values import as_label, figure_of

__all__ = ["filed_of", "filed_panel", "foreign_totals", "is_row_of_sums"]

_MANY = 3
"""In more rows than this, a figure that stands once, or is the same in all, is a total."""


_MOST_TOTALS = 10
"""More different figures than this are a running sum or another column, and no totals."""


def filed_panel(rows: Sequence[SheetRow], channel: int, vertical: int) -> FiledPanel | None:
    """Return what the rows of one vertical carry of width, area and product, None for nothing."""
    width, area, discharge = (first_of(rows, name) for name in ("width", "area", "discharge"))
    if width is None and area is None and discharge is None:
        return None
    return FiledPanel(channel, vertical, width, area, discharge)


def filed_of(
    group: Group, panels: Sequence[FiledPanel], totals: Sequence[FiledTotal]
) -> tuple[Filed | None, str | None]:
    """Return what the sheet carried, and a note where its totals contradict one another.

    panels: the filed products; totals: those on total rows. A total in another unit than the
    products beside it is left out (`foreign_totals`).
    """
    unit = _unit_of_products(group)
    units = {total.unit for total in totals if total.unit is not None}
    around = as_label(group.preface.first("total_unit"))
    if not any(panel.discharge is not None for panel in panels):
        unit = around or (units.pop() if len(units) == 1 else unit)
    found = [row.total for row in group.rows if row.total is not None]
    found.extend(total.value for total in totals if total.unit in (None, unit))
    if around in (None, unit):
        found.extend(_totals_around(group))
    lone = _total_among_products(panels) if not found else None
    if lone is not None:
        found = [lone]
        panels = [attrs.evolve(panel, discharge=None) for panel in panels]
    figures = list(dict.fromkeys(found))
    distinct = _distinct(figures) if len(figures) <= _MOST_TOTALS else figures
    note = None
    if len(distinct) > 1:
        listed = ", ".join(f"{value:g}" for value in distinct[:_MOST_TOTALS])
        more = f" and {len(distinct) - _MOST_TOTALS} more" if len(distinct) > _MOST_TOTALS else ""
        note = f"The sheet carries several totals ({listed}{more}); none of them is taken as filed."
    total = distinct[0] if len(distinct) == 1 else None
    kept = tuple(p for p in panels if (p.width, p.area, p.discharge) != (None, None, None))
    if total is None and not kept:
        return None, note
    known = unit if unit in get_args(DischargeUnit) else None
    return Filed(total, known, kept), note  # type: ignore[arg-type]


def foreign_totals(
    group: Group, panels: Sequence[FiledPanel], totals: Sequence[FiledTotal]
) -> list[str]:
    """Return the totals that stand beside products in another unit, as texts."""
    unit = _unit_of_products(group)
    if unit is None or not any(panel.discharge is not None for panel in panels):
        return []
    found = [
        f"total {total.value:g} {total.unit}" for total in totals if total.unit not in (None, unit)
    ]
    around = as_label(group.preface.first("total_unit"))
    if around not in (None, unit):
        found.extend(f"total {value:g} {around}" for value in _totals_around(group))
    return found


def _unit_of_products(group: Group) -> str | None:
    """Return the unit of the products: of their head, or of a unit column."""
    table = group.tables[0]
    column = table.column("discharge") or table.column("total")
    of_head = column.unit.name if column is not None and column.unit is not None else None
    of_rows: str | None = first_of(group.rows, "discharge_unit")
    return of_rows or of_head


def is_row_of_sums(rows: Sequence[SheetRow]) -> bool:
    """Return whether the last of a gauging's rows holds sums or means of the columns above it.

    It does when two columns at least add up, or average, to something: that is no vertical.
    """
    *above, last = rows
    if len(above) < _MANY or last.edge is not None:
        return False
    return any(_columns_give(above, last, fold) >= 2 for fold in (math.fsum, _mean))


def _mean(values: Sequence[float]) -> float:
    return math.fsum(values) / len(values)


def _columns_give(
    above: Sequence[SheetRow], last: SheetRow, fold: Callable[[Sequence[float]], float]
) -> int:
    """Return in how many columns the last figure is what `fold` makes of those above, or 0."""
    agree = 0
    for value_of in _SUMMED:
        figure = value_of(last)
        values = [v for v in map(value_of, above) if v is not None]
        if figure is None or len(values) < 2 or figure == 0.0:
            continue
        if abs(figure - fold(values)) > 0.5 * 10.0 ** -_decimals(figure) + 1e-9:
            return 0
        agree += 1
    return agree


_SUMMED: tuple[Callable[[SheetRow], float | None], ...] = (
    lambda row: row.depth,
    lambda row: row.points[0].value if len(row.points) == 1 else None,
    lambda row: row.width,
    lambda row: row.area,
    lambda row: row.discharge,
)


def _total_among_products(panels: Sequence[FiledPanel]) -> float | None:
    """Return the total that a column of products holds: on one row only, or the same on all."""
    products = [panel.discharge for panel in panels if panel.discharge is not None]
    if len(panels) <= _MANY or len(set(products)) != 1 or products[0] == 0.0:
        return None
    return products[0] if len(products) in (1, len(panels)) else None


def _totals_around(group: Group) -> Iterator[float]:
    """Yield the totals that lines around the table tell."""
    for value in group.preface.values("total"):
        figure = figure_of(as_label(value) or "")
        if figure is not None:
            yield figure


def _distinct(totals: Sequence[float]) -> list[float]:
    """Return the totals that differ; one that another rounds to is the same total."""
    kept: list[float] = []
    for total in sorted(totals, key=_decimals, reverse=True):
        if not any(round(other, _decimals(total)) == total for other in kept):
            kept.append(total)
    return kept


def _decimals(value: float) -> int:
    return len(f"{value:.12f}".rstrip("0").partition(".")[2])
