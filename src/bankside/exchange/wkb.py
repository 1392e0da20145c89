"""Points and lines in longitude and latitude as well-known binary, and back.

Source: OGC 06-103r4, Simple Feature Access, 8.2 (codes of the types), from memory.
"""

from __future__ import annotations

import math
import struct
from collections.abc import Sequence

__all__ = ["LonLat", "line_of_wkb", "line_wkb", "point_of_wkb", "point_wkb"]

LonLat = tuple[float, float]

_POINT, _LINE = 1, 2
# With heights: the type and 1000 by ISO, or the type and a high bit as older programs write it.
_WITH_HEIGHT = {base + z: base for base in (_POINT, _LINE) for z in (1000, 0x80000000)}


def point_wkb(point: LonLat) -> bytes:
    """Return a point as well-known binary, the least significant byte first."""
    return struct.pack("<BI2d", 1, _POINT, *point)


def line_wkb(points: Sequence[LonLat]) -> bytes:
    """Return a line as well-known binary, the least significant byte first."""
    figures = [figure for point in points for figure in point]
    return struct.pack(f"<BII{len(figures)}d", 1, _LINE, len(points), *figures)


def point_of_wkb(content: bytes) -> LonLat | None:
    """Return a point, None where it is empty; ValueError where there is no point."""
    order, _ = _head(content, _POINT)
    if len(content) < 21:
        raise ValueError("a point that is cut off")
    lon, lat = struct.unpack_from(f"{order}2d", content, 5)
    if math.isnan(lon) and math.isnan(lat):
        return None
    return lon, lat


def line_of_wkb(content: bytes) -> list[LonLat]:
    """Return the points of a line; ValueError where there is no line."""
    order, has_height = _head(content, _LINE)
    (count,) = struct.unpack_from(f"{order}I", content, 5)
    step = 24 if has_height else 16
    if len(content) < 9 + count * step:
        raise ValueError("a line that is cut off")
    return [struct.unpack_from(f"{order}2d", content, 9 + n * step) for n in range(count)]


def _head(content: bytes, wanted: int) -> tuple[str, bool]:
    """Return the order of the bytes, and whether there are heights; ValueError for other types."""
    if len(content) < 9 or content[0] not in (0, 1):
        raise ValueError("no geometry")
    order = "<" if content[0] == 1 else ">"
    (kind,) = struct.unpack_from(f"{order}I", content, 1)
    if _WITH_HEIGHT.get(kind, kind) != wanted:
        raise ValueError(f"a geometry of type {kind}")
    return order, kind in _WITH_HEIGHT
