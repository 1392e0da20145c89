"""The plane of the map, held against distances on the ellipsoid."""

import pytest

from bankside.report.survey.projection import LocalPlane, plane_round

from .geodesic import GRS80, metres_between


def _degrees(degree: float, minute: float, second: float) -> float:
    return degree + minute / 60 + second / 3600


def test_the_measure_itself_agrees_with_a_published_line() -> None:
    """Flinders Peak to Buninyong: 54 972.271 m on GRS 80.

    Source: Geocentric Datum of Australia, technical manual (from memory).
    """
    flinders = (_degrees(144, 25, 29.52440), -_degrees(37, 57, 3.72030))
    buninyong = (_degrees(143, 55, 35.38390), -_degrees(37, 39, 10.15610))

    assert metres_between(flinders, buninyong, GRS80) == pytest.approx(54_972.271, abs=0.001)


@pytest.mark.parametrize("lat", [0.0, 12.5, 45.6, -38.0, 67.0, 80.0])
def test_the_scale_is_exact_at_the_centre(lat: float) -> None:
    """A kilometre of the plane around its centre is one on the ellipsoid, in every direction."""
    plane = LocalPlane(-1.29, lat)

    for east, north in ((500.0, 0.0), (0.0, 500.0), (353.5534, 353.5534), (-400.0, 300.0)):
        ends = plane.to_lon_lat((east, north)), plane.to_lon_lat((-east, -north))
        assert metres_between(*ends) == pytest.approx(1000.0, rel=2e-6)


def test_away_from_the_centre_it_is_off_by_what_is_said() -> None:
    """20 km north at latitude 45°, distances from west to east are off by about 0.3 %."""
    plane = LocalPlane(0.0, 45.0)
    ends = plane.to_lon_lat((-500.0, 20_000.0)), plane.to_lon_lat((500.0, 20_000.0))

    assert 1000.0 / metres_between(*ends) - 1 == pytest.approx(0.0031, abs=0.0002)


def test_there_and_back() -> None:
    """A place keeps its place."""
    plane = plane_round([(179.9, -10.0), (-179.8, -10.3)])

    assert plane.lon == pytest.approx(-179.95)
    for place in ((179.95, -10.1), (-179.9, -10.2)):
        assert plane.to_lon_lat(plane.to_plane(place)) == pytest.approx(place)
    west, east = plane.to_plane((179.95, -10.1)), plane.to_plane((-179.9, -10.1))
    assert 0 < east[0] - west[0] < 20_000


def test_a_plane_needs_a_place() -> None:
    """Without a place there is nothing to be in the middle of."""
    with pytest.raises(ValueError, match="one place"):
        plane_round([])
