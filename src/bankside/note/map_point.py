"""A place on the small map of a note."""

from __future__ import annotations

import attrs

from bankside.gauging.records import Gauging, Position

__all__ = ["MapPoint", "map_point"]


@attrs.frozen
class MapPoint:
    """A point on the map and what is written beside it, if anything."""

    position: Position
    name: str | None


def map_point(gauging: Gauging) -> MapPoint | None:
    """Return the point of a gauging on a map, None where its position is not recorded."""
    site = gauging.site
    if site.position is None:
        return None
    return MapPoint(site.position, site.position.label or site.name or site.stream)
