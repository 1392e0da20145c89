"""How offices work out the products on their sheets: each rule as a spreadsheet would do it."""

from collections.abc import Callable, Sequence
from fractions import Fraction
from itertools import pairwise

from .building import CUBIC_FOOT, Station, lines_of

BASE = "tape (m),depth (m),velocity (m/s)"
"""Heads of the readings, before the filed columns."""

EDGED: tuple[Station, ...] = (
    ("0.2", "0", "0"),
    ("0.5", "0.20", "0.10"),
    ("1.0", "0.35", "0.25"),
    ("1.8", "0.50", "0.40"),
    ("2.4", "0.40", "0.30"),
    ("3.4", "0.25", "0.15"),
    ("4.0", "0", "0"),
)
"""A section in which no two gaps are equal, so that every rule gives other figures."""

OPEN = EDGED[1:-1]
"""The same without its edges of water."""

OWN_WIDTHS = ("0.1", "0.45", "0.6", "0.75", "0.8", "0.7", "0.2")
"""Widths that follow no rule."""


def gaps(stations: Sequence[Station]) -> list[Fraction]:
    """Distances between neighbours along the tape."""
    tape = [Fraction(x) for x, _, _ in stations]
    return [after - before for before, after in pairwise(tape)]


def half_widths(stations: Sequence[Station]) -> list[Fraction]:
    """Half the gap on both sides; at the ends half of the one gap."""
    gap = [Fraction(0), *gaps(stations), Fraction(0)]
    return [(gap[i] + gap[i + 1]) / 2 for i in range(len(stations))]


def to_next(stations: Sequence[Station]) -> list[Fraction]:
    """The gap after each vertical, none after the last."""
    return [*gaps(stations), Fraction(0)]


def from_last(stations: Sequence[Station]) -> list[Fraction]:
    """The gap before each vertical, none before the first."""
    return [Fraction(0), *gaps(stations)]


def full_ends(stations: Sequence[Station]) -> list[Fraction]:
    """Half widths, but the whole gap at both ends."""
    widths = half_widths(stations)
    return [2 * widths[0], *widths[1:-1], 2 * widths[-1]]


def triangular_ends(stations: Sequence[Station]) -> list[Fraction]:
    """Half widths, but (W1 + W2/2)²/(2 W1) beside the edges of water and nothing at them."""
    gap = gaps(stations)
    widths = half_widths(stations)
    first = (gap[0] + gap[1] / 2) ** 2 / (2 * gap[0])
    last = (gap[-1] + gap[-2] / 2) ** 2 / (2 * gap[-1])
    return [Fraction(0), first, *widths[2:-2], last, Fraction(0)]


def own(stations: Sequence[Station]) -> list[Fraction]:
    """Widths as they stand on the sheet, whatever they mean."""
    return [Fraction(width) for width in OWN_WIDTHS[: len(stations)]]


def unit_flow(stations: Sequence[Station]) -> list[Fraction]:
    """Depth times velocity at every vertical."""
    return [Fraction(d) * Fraction(v) for _, d, v in stations]


def by_width(
    widths: Callable[[Sequence[Station]], list[Fraction]], stations: Sequence[Station]
) -> list[Fraction]:
    """Width times depth times velocity at every vertical."""
    return [w * q for w, q in zip(widths(stations), unit_flow(stations), strict=True)]


def mean_sections(stations: Sequence[Station]) -> list[Fraction]:
    """Mean depth times mean velocity times gap, on the row before the gap."""
    depth = [Fraction(d) for _, d, _ in stations]
    velocity = [Fraction(v) for _, _, v in stations]
    products = [
        gap * (depth[i] + depth[i + 1]) / 2 * (velocity[i] + velocity[i + 1]) / 2
        for i, gap in enumerate(gaps(stations))
    ]
    return [*products, Fraction(0)]


RULES: dict[str, tuple[Sequence[Station], list[Fraction]]] = {
    "mid-section": (EDGED, by_width(half_widths, EDGED)),
    "distance to next vertical": (EDGED, by_width(to_next, EDGED)),
    "distance from last vertical": (EDGED, by_width(from_last, EDGED)),
    "full cell at the edges": (OPEN, by_width(full_ends, OPEN)),
    "mid-section with triangular edges": (EDGED, by_width(triangular_ends, EDGED)),
    "mean-section": (EDGED, mean_sections(EDGED)),
    "the sheet's own widths": (EDGED, by_width(own, EDGED)),
}
"""Rule → a section and the products that the rule files for it."""


def total(products: Sequence[Fraction]) -> Fraction:
    """The sum of products, exactly."""
    return sum(products, Fraction(0))


def figure(value: Fraction, decimals: int = 8) -> str:
    """A number as a sheet shows it."""
    return f"{float(value):.{decimals}f}"


def filed_sheet(rule: str, unit: str, products: bool, totals: bool) -> str:
    """A sheet whose products and total follow a rule, in the unit of its head."""
    stations, filed = RULES[rule]
    per = {"": 1, "m3/s": 1, "L/s": 1000, "cfs": 1 / CUBIC_FOOT}[unit]
    head = f"Q ({unit})" if unit else "Q"
    own = rule == "the sheet's own widths"
    rows = []
    for index, (station, product) in enumerate(zip(stations, filed, strict=True)):
        width = [OWN_WIDTHS[index]] if own else []
        rows.append((*station, *width, figure(product * per) if products else ""))
    below = "Total" + "," * (4 if own else 3) + figure(total(filed) * per) + "\n"
    width_head = ",width (m)" if own else ""
    return f"{BASE}{width_head},{head}\n{lines_of(rows)}{below if totals else ''}"
