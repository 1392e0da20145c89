"""Distances along a line, against figures of the sphere and a fine search."""

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bankside.gauging.records import Position
from bankside.survey.along_line import km_from_mouth, line_km

RADIUS = 6371.0088
BENT = (Position(10.00, 47.10), Position(10.03, 47.08), Position(10.02, 47.05))


def _on_sphere(one: Position, other: Position) -> float:
    """The angle between two unit vectors times the radius: another way than the haversine."""
    vectors = []
    for place in (one, other):
        lat, lon = math.radians(place.lat), math.radians(place.lon)
        vectors.append(
            np.array([math.cos(lat) * math.cos(lon), math.cos(lat) * math.sin(lon), math.sin(lat)])
        )
    cross = np.linalg.norm(np.cross(*vectors))
    return float(RADIUS * math.atan2(cross, np.dot(*vectors)))


def test_the_length_of_a_degree() -> None:
    """A degree of a great circle is a 360th of 2 pi R, of a parallel at 60 degrees half that."""
    assert line_km((Position(0, 0), Position(0, 1))) == pytest.approx(2 * math.pi * RADIUS / 360)
    assert line_km((Position(0, 60), Position(0.001, 60))) == pytest.approx(
        2 * math.pi * RADIUS / 360 / 1000 * 0.5, rel=1e-6
    )


def test_a_line_is_the_sum_of_its_pieces() -> None:
    """By vectors on the sphere."""
    expected = _on_sphere(BENT[0], BENT[1]) + _on_sphere(BENT[1], BENT[2])

    assert line_km(BENT) == pytest.approx(expected, rel=1e-9)


def _vectors(lon: np.ndarray, lat: np.ndarray) -> np.ndarray:
    lon, lat = np.radians(lon), np.radians(lat)
    return np.stack([np.cos(lat) * np.cos(lon), np.cos(lat) * np.sin(lon), np.sin(lat)], axis=-1)


def _chords(places: np.ndarray, point: np.ndarray) -> np.ndarray:
    """Straight distances in km: those on the ground but for less than a millimetre here."""
    return RADIUS * np.linalg.norm(places - point, axis=-1)


@given(st.floats(9.98, 10.05), st.floats(47.04, 47.11))
def test_the_nearest_place_is_that_of_a_fine_search(lon: float, lat: float) -> None:
    """2000 places on the line, the nearest of them by vectors on the sphere, within 10 m."""
    found = km_from_mouth(BENT, Position(lon, lat))
    assert found is not None

    share, point = np.linspace(0, 1, 1000), _vectors(np.array(lon), np.array(lat))
    offs, from_mouth = [], []
    for (start, end), below in zip(pairwise(BENT), (line_km(BENT[1:]), 0.0), strict=True):
        places = _vectors(
            start.lon + share * (end.lon - start.lon), start.lat + share * (end.lat - start.lat)
        )
        offs.append(_chords(places, point))
        from_mouth.append(below + _chords(places, places[-1]))
    off, km = np.concatenate(offs), np.concatenate(from_mouth)
    assert found[1] == pytest.approx(off.min(), abs=0.01)
    # Where two places are about as near, either is right.
    assert np.abs(km[off < off.min() + 0.005] - found[0]).min() < 0.02


def test_beyond_an_end_the_end_is_nearest() -> None:
    """Above the source it is the whole length, below the mouth it is nothing."""
    line = (Position(10, 47.1), Position(10, 47.0))

    above, below = (km_from_mouth(line, Position(10, lat)) for lat in (47.2, 46.9))
    assert above is not None and above[0] == pytest.approx(line_km(line), rel=1e-9)
    assert below is not None and below[0] == pytest.approx(0.0, abs=1e-9)


def test_across_the_line_of_dates() -> None:
    """179.99 east and 179.99 west are neighbours."""
    found = km_from_mouth((Position(179.99, 0.1), Position(-179.99, 0.1)), Position(180, 0.1))

    assert found is not None
    assert found[0] == pytest.approx(2 * math.pi * RADIUS / 360 * 0.01, rel=1e-4)


def test_no_line_no_distance() -> None:
    """One point has no direction."""
    assert km_from_mouth((), Position(10, 47)) is None
