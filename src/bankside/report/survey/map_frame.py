"""Which part of the plane a map shows, and how large it is on paper."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import attrs

from bankside.report.survey.projection import LocalPlane, plane_round

__all__ = ["BELOW_MM", "MapFrame", "frame_of"]

BELOW_MM: Final = 17.0
"""The strip below the map for scale bar, marks and north."""

_WIDTH_MM: Final = 180.0
_LEFT_MM: Final = 9.0
_TICKS_MM: Final = 5.0
_TOP_MM: Final = 1.5
_MARGIN_MM: Final = 9.0
_SHORTEST_MM: Final = 70.0
_TALLEST_MM: Final = 200.0
_SMALLEST_M: Final = 2000.0

LonLat = tuple[float, float]


@attrs.frozen
class MapFrame:
    """A map on paper: its plane, metres in a millimetre, and the size of the map itself.

    `west_m` and `south_m` are where its lower left corner is on the plane.
    """

    plane: LocalPlane
    metres_per_mm: float
    width_mm: float
    height_mm: float
    west_m: float
    south_m: float

    @property
    def paper_mm(self) -> tuple[float, float]:
        """The size of the whole picture."""
        return _WIDTH_MM, self.height_mm + BELOW_MM + _TICKS_MM + _TOP_MM

    @property
    def axes_part(self) -> tuple[float, float, float, float]:
        """Where the map is in the picture: left, bottom, width and height, as parts of it."""
        wide, high = self.paper_mm
        return (
            _LEFT_MM / wide,
            (BELOW_MM + _TICKS_MM) / high,
            self.width_mm / wide,
            self.height_mm / high,
        )

    def on_paper(self, place: LonLat) -> tuple[float, float]:
        """Return how far right of and above the lower left corner a place is, in millimetres."""
        east, north = self.plane.to_plane(place)
        return (east - self.west_m) / self.metres_per_mm, (
            north - self.south_m
        ) / self.metres_per_mm


def frame_of(places: Sequence[LonLat]) -> MapFrame:
    """Return the frame round places, with room for labels; ValueError without a place."""
    plane = plane_round(places)
    on_plane = [plane.to_plane(place) for place in places]
    wide, high = (max(axis) - min(axis) for axis in zip(*on_plane, strict=True))
    width_mm = _WIDTH_MM - _LEFT_MM - 1.0
    room, tallest = width_mm - 2 * _MARGIN_MM, _TALLEST_MM - 2 * _MARGIN_MM
    scale = max(wide / room, high / tallest, _SMALLEST_M / room)
    height_mm = max(high / scale + 2 * _MARGIN_MM, _SHORTEST_MM)
    return MapFrame(
        plane=plane,
        metres_per_mm=scale,
        width_mm=width_mm,
        height_mm=height_mm,
        west_m=-width_mm / 2 * scale,
        south_m=-height_mm / 2 * scale,
    )
