"""A plane for the map of a basin: east and north of its centre, in metres.

Local equirectangular: degrees of longitude and latitude are stretched by what they are worth at the
centre, on the ellipsoid. The scale is exact there; 20 km north or south of it, east-west distances
are off by 0.3 % at latitude 45°. Enough for a map on paper, not for a survey of land.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import Final

import attrs

__all__ = ["LocalPlane", "plane_round"]

# WGS 84 (from memory): the equatorial radius in metres, and the flattening.
_EQUATORIAL_M: Final = 6_378_137.0
_FLATTENING: Final = 1 / 298.257223563
_SQUARED_ECCENTRICITY: Final = _FLATTENING * (2 - _FLATTENING)

LonLat = tuple[float, float]


@attrs.frozen
class LocalPlane:
    """The plane that touches the ellipsoid at a centre, given in degrees."""

    lon: float
    lat: float

    @property
    def metres_per_degree(self) -> tuple[float, float]:
        """How long a degree of longitude and one of latitude are at the centre.

        By the radii of curvature in the prime vertical and in the meridian, a/√(1 - e² sin² φ)
        and a (1 - e²)/(1 - e² sin² φ)^1.5 (Snyder, USGS Professional Paper 1395, from memory).
        """
        sine = math.sin(math.radians(self.lat))
        below = 1 - _SQUARED_ECCENTRICITY * sine * sine
        prime_vertical = _EQUATORIAL_M / math.sqrt(below)
        meridian = _EQUATORIAL_M * (1 - _SQUARED_ECCENTRICITY) / (below * math.sqrt(below))
        return (
            math.radians(1.0) * prime_vertical * math.cos(math.radians(self.lat)),
            math.radians(1.0) * meridian,
        )

    def to_plane(self, place: LonLat) -> tuple[float, float]:
        """Return how far east and north of the centre a longitude and latitude are."""
        east, north = self.metres_per_degree
        lon = (place[0] - self.lon + 180.0) % 360.0 - 180.0
        return lon * east, (place[1] - self.lat) * north

    def to_lon_lat(self, place: tuple[float, float]) -> LonLat:
        """Return the longitude and latitude of a point of the plane."""
        east, north = self.metres_per_degree
        return (self.lon + place[0] / east + 180.0) % 360.0 - 180.0, self.lat + place[1] / north


def plane_round(places: Iterable[LonLat]) -> LocalPlane:
    """Return the plane at the middle of places, on whichever side of the date line they lie.

    ValueError without a place.
    """
    places = list(places)
    if not places:
        raise ValueError("a plane needs one place or more")
    first = places[0][0]
    lons = [(lon - first + 180.0) % 360.0 - 180.0 for lon, _ in places]
    lats = [lat for _, lat in places]
    middle = first + (min(lons) + max(lons)) / 2
    return LocalPlane((middle + 180.0) % 360.0 - 180.0, (min(lats) + max(lats)) / 2)
