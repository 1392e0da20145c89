"""The locator map: where points fall, and what is left to the reader."""

import math
from xml.etree import ElementTree

import pytest

from bankside.gauging.records import Position
from bankside.note.map_point import MapPoint
from bankside.report.locator_map import _frame, _near, draw_locator_map
from bankside.report.map_scale import round_down

from ..note.gaugings import HOSTILE

METRES_PER_DEGREE = 111_195.0
"""On a sphere of 6371 km: 40 030 km of circumference through 360."""


def point(lon: float, lat: float, name: str | None = None) -> MapPoint:
    """A point on the map."""
    return MapPoint(Position(lon, lat), name)


def test_one_point_stands_in_the_middle_of_two_kilometres() -> None:
    """A frame for one point is 2 km high, and as wide in metres as its paper is in shape."""
    west, east, south, north = _frame([(-1.2345, 45.6)])

    assert (west + east) / 2 == pytest.approx(-1.2345)
    assert (north - south) * METRES_PER_DEGREE == pytest.approx(2000, rel=1e-3)
    width = (east - west) * METRES_PER_DEGREE * math.cos(math.radians(45.6))
    assert width / 2000 == pytest.approx(62 / 46, rel=1e-3)


def test_all_points_have_room_in_the_frame() -> None:
    """Points that lie far apart widen the frame beyond themselves."""
    places = [(-121.2, 39.4), (-121.0, 39.5), (-121.1, 39.9)]
    west, east, south, north = _frame(places)

    assert all(west < lon < east and south < lat < north for lon, lat in places)


def test_the_date_line_does_not_part_a_map() -> None:
    """179.99° E and 179.99° W are neighbours."""
    assert _near(-179.99, 179.99) == pytest.approx(180.01)


@pytest.mark.parametrize(
    ("value", "nice"), [(0.9, 0.5), (1.0, 1.0), (4.9, 2.0), (7.0, 5.0), (333.0, 200.0)]
)
def test_a_scale_bar_has_a_round_length(value: float, nice: float) -> None:
    """1, 2 or 5 times a power of ten, never longer than there is room."""
    assert round_down(value) == pytest.approx(nice)


@pytest.mark.parametrize(
    ("here", "others"),
    [
        (point(-1.2345, 45.6012, "QB-02"), []),
        (point(0.0, 0.0), [point(0.0, 0.0, "the same place")]),
        (point(179.99, -10.0, "west"), [point(-179.99, -10.0, "east")]),
        (point(12.0, 89.9, "far north"), [point(-100.0, 89.9)]),
        (point(-121.1, 39.5, HOSTILE), [point(-121.1 + i / 50, 39.5, f"P{i}") for i in range(40)]),
    ],
    ids=["alone", "equator", "date line", "pole", "crowd"],
)
def test_every_place_on_earth_can_be_drawn(here: MapPoint, others: list[MapPoint]) -> None:
    """The map is sound SVG wherever it lies, and the same bytes every time."""
    svg = draw_locator_map(here, others, "svg")

    assert ElementTree.fromstring(svg).tag.endswith("svg")
    assert svg == draw_locator_map(here, others, "svg")
