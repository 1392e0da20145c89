"""Figures as people read them: in the units called, with the decimals that they were called with.

Every table and document shows a figure the same way, so the ways are written once, here.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence
from typing import Final, Literal

import attrs

from bankside.gauging.records import Gauging
from bankside.gauging.result import Panel, Result
from bankside.gauging.share_limits import USUAL_LIMITS, ShareLimits, above
from bankside.gauging.units import (
    LengthUnit,
    VelocityUnit,
    cubic_metres_per_second_per,
    metres_per,
    metres_per_second_per,
)

__all__ = [
    "CalledUnits",
    "as_called",
    "as_read",
    "called_units",
    "decimals_read",
    "discharge_words",
    "gauging_title",
    "method_words",
    "share_legend",
    "share_mark",
    "usual_origin",
    "velocity_decimals",
    "wanted_decimals",
    "with_decimals",
    "with_figures",
    "with_four_figures",
]

_METHOD_NAMES: Final = {"mid-section": "mid-section method", "mean-section": "mean-section method"}
_EDGE_RULE_NAMES: Final = {
    "half-width": "edges by the half-width rule",
    "triangular": "edges by the triangular rule",
}


@attrs.frozen
class CalledUnits:
    """The units of a gauging as they are written over columns, and what one of each is in SI."""

    length: LengthUnit
    depth: LengthUnit
    velocity: VelocityUnit
    discharge: Literal["ft³/s", "m³/s"]
    area: Literal["ft²", "m²"]

    @property
    def english(self) -> bool:
        """Whether areas and discharges are in feet."""
        return self.area == "ft²"

    @property
    def metres(self) -> float:
        """Metres in one unit of the tape."""
        return metres_per(self.length)

    @property
    def depth_metres(self) -> float:
        """Metres in one unit of depth."""
        return metres_per(self.depth)

    @property
    def metres_per_second(self) -> float:
        """Metres a second in one unit of velocity."""
        return metres_per_second_per(self.velocity)

    @property
    def cubic_metres_per_second(self) -> float:
        """Cubic metres a second in one unit of discharge."""
        return cubic_metres_per_second_per("ft3/s" if self.english else "m3/s")

    @property
    def square_metres(self) -> float:
        """Square metres in one unit of area."""
        side = metres_per("ft" if self.english else "m")
        return side * side


def called_units(gauging: Gauging) -> CalledUnits:
    """Return the units of a gauging; area and discharge follow the tape."""
    units = gauging.units
    english = units.length in ("ft", "in")
    return CalledUnits(
        length=units.length,
        depth=units.depth or units.length,
        velocity=units.velocity,
        discharge="ft³/s" if english else "m³/s",
        area="ft²" if english else "m²",
    )


def gauging_title(gauging: Gauging) -> str:
    """Return stream, site and day of a gauging, as far as they are known."""
    day = gauging.date or (gauging.started.date() if gauging.started is not None else None)
    parts = (gauging.site.stream, gauging.site.name, day.isoformat() if day is not None else None)
    return ", ".join(part for part in parts if part) or "Gauging without a name"


def discharge_words(discharge_m3s: float, units: CalledUnits, figures: int = 4) -> tuple[str, ...]:
    """Return a discharge with its unit as called, and once more in m³/s where that is another."""
    called = with_figures(discharge_m3s / units.cubic_metres_per_second, figures)
    if units.discharge == "m³/s":
        return (f"{called} m³/s",)
    return (f"{called} {units.discharge}", f"{with_figures(discharge_m3s, figures)} m³/s")


def method_words(result: Result) -> str:
    """Return the method and the edge rule of a result in words."""
    words = [_METHOD_NAMES.get(result.method, result.method)]
    if result.edge_rule is not None:
        words.append(_EDGE_RULE_NAMES.get(result.edge_rule, result.edge_rule))
    return ", ".join(words)


def share_mark(share: float | None, limits: ShareLimits = USUAL_LIMITS) -> str:
    """Return "*" for a share above the aim, "**" for one above the limit, else nothing."""
    if share is None or not above(share, limits.aim):
        return ""
    return "**" if above(share, limits.limit) else "*"


def share_legend(panels: Sequence[Panel], limits: ShareLimits = USUAL_LIMITS) -> list[str]:
    """Return what the marks mean that stand beside the shares of these panels."""
    marks = {share_mark(panel.share, limits) for panel in panels}
    lines = []
    if "**" in marks:
        lines.append(f"** above {limits.limit:g} % of the discharge, the limit for one panel")
    if "*" in marks:
        lines.append(f"*  above {limits.aim:g} % of the discharge, the aim for one panel")
    return lines


def usual_origin(panels: Sequence[Panel]) -> str:
    """Return what most velocities come from: said once below a table instead of in every row."""
    origins = Counter(panel.velocity_from for panel in panels)
    if "measured" in origins:
        return "measured"
    origin, count = max(origins.items(), key=lambda pair: pair[1], default=("", 0))
    return origin if 2 * count > len(panels) else ""


def as_called(values: Sequence[float]) -> list[str]:
    """Return figures with as many decimals as the longest of them needs, at most three.

    Values that have been to metres and back are a few 1e-16 off; nine decimals take that away.
    """
    needed = max((decimals_read(value) for value in values), default=0)
    return with_decimals(values, min(needed, 3))


def as_read(values: Sequence[float]) -> list[str]:
    """Return readings with as many decimals as the longest of them has, and none taken away."""
    return with_decimals(values, max((decimals_read(value) for value in values), default=0))


def decimals_read(value: float) -> int:
    """Return how many decimals a reading has, zeros at its end not counted."""
    return len(f"{round(value, 9):.9f}".rstrip("0").partition(".")[2])


def wanted_decimals(values: Sequence[float]) -> int:
    """Return the decimals that give the largest value four figures: one at least, six at most."""
    largest = max((abs(value) for value in values), default=0.0)
    if largest == 0.0:
        return 3
    return min(max(3 - math.floor(math.log10(largest)), 1), 6)


def velocity_decimals(units: CalledUnits) -> int:
    """Return the decimals of a mean velocity: the same fineness in cm/s as in m/s."""
    return 1 if units.velocity == "cm/s" else 3


def with_decimals(values: Sequence[float | None], decimals: int) -> list[str]:
    """Return figures all with so many decimals; nothing where there is none, never "-0"."""
    return ["" if value is None else f"{value:z.{decimals}f}" for value in values]


def with_four_figures(value: float) -> str:
    """Return a total to four figures, written out without an exponent."""
    return with_figures(value, 4)


def with_figures(value: float, figures: int) -> str:
    """Return a total to so many figures, written out without an exponent: 12300, 9.98, 10.0."""
    if value == 0.0:
        return "0"
    # The power of ten after rounding: 9.996 to three figures is 10.0.
    power = int(f"{value:.{figures - 1}e}".partition("e")[2])
    decimals = figures - 1 - power
    return f"{round(value, decimals):.{max(decimals, 0)}f}"
