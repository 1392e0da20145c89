"""Gaugings as records, for whatever holds bulk figures against those of `compute`."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pyarrow as pa

from bankside.bulk.gather import row_of
from bankside.bulk.given import Given, given
from bankside.bulk.layout import SCHEMA
from bankside.cli.inputs import load
from bankside.gauging.faults import InputRefused
from bankside.gauging.records import Gauging
from bankside.practice.crew import draw_crew
from bankside.practice.making import make_stream
from bankside.practice.section_types import SECTION_TYPES
from bankside.practice.simulated_gauging import simulate_gauging
from bankside.sheets.answers import Answers

ROOT = Path(__file__).parents[2]
TRANSECTS = ROOT / "../shared/data/stream_survey_flow_2015/flow_transects.xlsx"


@cache
def demo() -> tuple[Gauging, ...]:
    """Every gauging of the demo that has a discharge: sheets, survey, journals of the app."""
    folders = [ROOT / "demo" / "sheets"]
    folders += [ROOT / "demo" / "survey" / crew for crew in ("north", "south", "west")]
    found = tuple(sheets([path for folder in folders for path in sorted(folder.glob("*.*"))]))
    assert len(found) >= 30
    return found


def sheets(paths: list[Path]) -> Iterator[Gauging]:
    """The gaugings of these files that have a discharge."""
    for source in load(paths, Answers()):
        for item in source.items:
            if item.gauging is not None and _has_discharge(item.gauging):
                yield item.gauging


def _has_discharge(gauging: Gauging) -> bool:
    try:
        row_of(gauging, "it")
    except InputRefused:
        return False
    return True


def simulated(count: int) -> Iterator[Gauging]:
    """Gaugings of every kind of stream by all sorts of crews, in metres and in feet."""
    kinds = sorted(SECTION_TYPES)
    for seed in range(count):
        stream = make_stream(kinds[seed % len(kinds)], seed // 5)
        crew = draw_crew(seed, in_feet=seed % 3 == 0)
        gauging = simulate_gauging(stream, crew, seed, 6 + seed % 30).gauging
        if _has_discharge(gauging):
            yield gauging


def as_given(gaugings: list[Gauging]) -> Given:
    """The gaugings as the columns that are read of a table."""
    rows = [row_of(gauging, str(number)) for number, gauging in enumerate(gaugings)]
    found, refused = given(pa.Table.from_pylist(rows, SCHEMA), 0)
    assert refused == []
    return found
