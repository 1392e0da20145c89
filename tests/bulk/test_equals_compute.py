"""What the compiled kernel gives over columns is what `compute` gives a record, to the last bit."""

from __future__ import annotations

import datetime
import math
import os
import struct
from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np
import pytest

from bankside.bulk.engine import faults_of, panels_of
from bankside.bulk.figures import BETWEEN_COUNTS, figures_of
from bankside.gauging.between_remarks import unlike_the_judged
from bankside.gauging.compute import compute
from bankside.gauging.records import Channel, Gauging, Meter, PointReading, Site, Units, Vertical
from bankside.gauging.uncertainty import uncertainty_budgets
from bankside.gauging.uncertainty_between import section_as_read
from bankside.gauging.uncertainty_flow import Assumed, flow_of

from .gaugings import TRANSECTS, as_given, demo, sheets, simulated

# `BANKSIDE_GAUGINGS=10000` looks longer.
SIMULATED = int(os.environ.get("BANKSIDE_GAUGINGS", "300"))

BY_KEY = {
    "iso-748": "iso_748_percent",
    "interpolated-variance": "interpolated_variance_percent",
    "components": "components_percent",
    "between-verticals": "between_percent",
}


def _by_record(gauging: Gauging, names: Mapping[str, Any]) -> dict[str, float | None]:
    """Every figure of a gauging by the road of records."""
    result = compute(gauging)
    figures = {name: getattr(result, name) for name in names if hasattr(result, name)}
    figures["mean_section_m3s"] = compute(gauging, "mean-section").discharge_m3s
    figures |= dict.fromkeys((*BY_KEY.values(), "between_95_percent", "between_68_percent"))
    figures |= dict.fromkeys(BETWEEN_COUNTS)
    for budget in uncertainty_budgets(gauging, result):
        if budget.key in BY_KEY:
            figures[BY_KEY[budget.key]] = budget.standard_percent
        if budget.key == "between-verticals":
            figures["between_95_percent"] = budget.expanded_percent
            figures["between_68_percent"] = budget.two_thirds_percent
            figures |= _judged(gauging, budget.remarks)
    return figures


def _judged(gauging: Gauging, remarks: Sequence[str]) -> dict[str, float | None]:
    """What the interval rests on, by the section of the record, and as its budget says it."""
    section = section_as_read(gauging, flow_of(gauging, compute(gauging)), Assumed())
    assert section is not None
    read = sum(one.measured and one.depth_m > 0.0 for water in section.waters for one in water)
    beyond = len(unlike_the_judged(section, gauging.units))
    told = " ".join(remarks)
    assert ("It was not judged by fewer than 8 verticals" in told) == (read < 8)
    assert ("The stream is unlike all that the model" in told) == (beyond > 0)
    return {"between_verticals": float(read), "between_beyond": float(beyond)}


def _bits(value: float | None) -> bytes:
    """The bits of a figure; nothing for none."""
    return b"" if value is None or math.isnan(value) else struct.pack("<d", value)


def _agree(gaugings: list[Gauging]) -> None:
    found = as_given(gaugings)
    figures = dict(figures_of(found.columns, Assumed()))
    panels = panels_of(found.columns, figures["discharge_m3s"], figures.pop("amount_m3s"))
    assert faults_of(found.columns) == {}
    for k, gauging in enumerate(gaugings):
        expected = _by_record(gauging, figures)
        assert set(expected) == set(figures)
        for name, value in expected.items():
            assert _bits(value) == _bits(float(figures[name][k])), (gauging.id, name)
        here = slice(found.columns.starts[k], found.columns.starts[k + 1])
        for name in ("width_m", "area_m2", "discharge_m3s", "share"):
            ours = [_bits(float(value)) for value in getattr(panels, name)[here]]
            assert ours == [_bits(getattr(panel, name)) for panel in compute(gauging).panels]


def test_every_gauging_of_the_demo() -> None:
    """Sheets in feet and metres, ratings, two points, angles, walls, soundings, journals."""
    _agree(list(demo()))


def test_the_public_transects() -> None:
    """Real transects, read in place."""
    if not TRANSECTS.exists():
        pytest.skip("the survey's flow transects are not beside this repository")
    _agree(list(sheets([TRANSECTS])))


def test_simulated_gaugings() -> None:
    """Streams of every kind by all sorts of crews; among them gaps, stones and eddies."""
    _agree(list(simulated(SIMULATED)))


def _channel(*rows: tuple[float, float, float | None]) -> Channel:
    return Channel(
        verticals=tuple(
            Vertical(tape=x, depth=d, velocity=() if v is None else (PointReading(value=v),))
            for x, d, v in rows
        )
    )


def test_channels_islands_backwater_and_what_cancels() -> None:
    """Channels by themselves, a dry gap, water running back, panels that cancel, still water."""
    island = _channel(
        (0, 0, None), (1, 0.5, 0.3), (2, 0, None), (3, 0, None), (4, 0.4, 0.2), (5, 0, None)
    )
    side = _channel((10, 0.3, None), (11, 0.4, 0.25), (12, 0.2, None))
    eddy = _channel((0, 0, None), (1, 0.5, -0.1), (2, 0.5, 0.3), (3, 0, None))
    nothing = _channel((0, 0, None), (1, 0.5, 0.2), (2, 0.5, -0.2), (3, 0, None))
    still = _channel((0, 0, None), (1, 0.5, 0.0), (2, 0, None))
    site = Site(stream="invented", name="here")

    _agree(
        [
            Gauging(units=Units("m", "m/s"), site=site, channels=channels)
            for channels in ((island,), (island, side), (eddy, island), (nothing,), (still,))
        ]
    )


@pytest.mark.parametrize("calibrated", [None, datetime.date(2026, 3, 2)])
def test_surfaces_floats_and_an_own_rating(calibrated: datetime.date | None) -> None:
    """A float, a surface with its time, and points inside, by a meter of either rating."""
    readings = ((0.0, None), (0.0, 60.0), (0.6, 40.0), (0.6, 40.0), (0.0, None))
    verticals = [
        Vertical(
            tape=float(i + 1),
            depth=0.3,
            velocity=(PointReading(value=0.1 + 0.1 * i, fraction=fraction, seconds=seconds),),
        )
        for i, (fraction, seconds) in enumerate(readings)
    ]
    ends = (Vertical(tape=0.0, depth=0.0), Vertical(tape=6.0, depth=0.0))
    _agree(
        [
            Gauging(
                units=Units("m", "m/s"),
                site=Site(stream="invented", name="here"),
                meter=Meter(kind="propeller", calibrated=calibrated),
                channels=(Channel(verticals=(ends[0], *verticals, ends[1])),),
            )
        ]
    )


def test_plain_columns_are_the_record_that_says_no_more() -> None:
    """Without a word on how velocities were read, both take what `Assumed` says."""
    gaugings = list(simulated(40))
    found = as_given(gaugings)
    columns = found.columns
    plain = [
        Gauging(
            units=Units("m", "m/s"),
            site=Site(stream="invented", name=str(k)),
            channels=(
                _channel(
                    *zip(
                        columns.tape_m[start:stop].tolist(),
                        columns.depth_m[start:stop].tolist(),
                        columns.velocity_ms[start:stop].tolist(),
                        strict=True,
                    )
                ),
            ),
        )
        for k, (start, stop) in enumerate(zip(columns.starts, columns.starts[1:], strict=False))
    ]

    _agree(plain)
    again = as_given(plain).columns
    without = type(again)(**{name: getattr(again, name) for name in _FIELDS}, read=None)
    with_it, of_nothing = (figures_of(one, Assumed()) for one in (again, without))
    assert all(np.array_equal(with_it[n], of_nothing[n], equal_nan=True) for n in with_it)


_FIELDS = ("starts", "channels", "counts", "tape_m", "depth_m", "velocity_ms", "measured")
