"""A very long cell, in any place of a sheet: what it costs grows with its length, no faster."""

from __future__ import annotations

import time
from pathlib import Path

import pytest

from ..fuzz.reading import said_of

# As many signs as a cell of a workbook may hold.
LENGTH = 32_000
# A reader whose patterns try every way to part such a cell takes a minute, another 0.1 s.
MOST_SECONDS = 3.0

SIGNS = {
    name: (pattern * LENGTH)[:LENGTH]
    for name, pattern in {
        "figures": "9",
        "commas in figures": "9,",
        "points in figures": "9.",
        "thousands": "1,000",
        "minus": "-",
        "points": ".",
        "brackets": "(",
        "square brackets": "[",
        "brackets closed": "(m)",
        "slashes": "/",
        "parted by slashes": "ft/s ",
        "letters": "a",
        "letters with points": "a.",
        "capitals in words": "aB",
        "words": "depth ",
        "in": "in ",
        "hashes": "#",
        "equals": "= ",
        "quotes": "'",
        "degrees": "1° ",
        "clocks": "10:",
        "dates": "1/2/",
        "exponents": "1e",
        "rating": "0.5N+",
        "underlines": "_",
        "bars": "|",
        "signs that are spelled out": "\u202e",
    }.items()
} | {
    "blanks": "1" + " " * LENGTH + "x",
    "blanks before": " " * LENGTH + "x",
    "blanks in a degree": "12°" + " " * LENGTH + "Q",
}

SHEET = """\
# site: Alder Fork
# date: 2026-07-14
# start: 10:05
# position: 44.1, -120.2
# meter rating: V = 0.51 N + 0.03
# discharge: 0.3 m3/s
site;tape (m);depth (m);fraction;velocity (m/s);revolutions;seconds;angle;edge;remarks
A;0;0;;;;;;left;
A;1;0.30;0.6;0.20;;40;;;
A;2;0.50;0.2;0.40;;;10;;rock
A;4;0;;;;;;right;
"""
PLACES = (
    *("# site", "Alder Fork", "2026-07-14", "10:05", "44.1", "V = 0.51 N + 0.03", "0.3 m3/s"),
    *("tape (m)", "velocity (m/s)", "remarks", "0.30", "0.40", "40", "10", "left", "rock"),
)


@pytest.mark.parametrize("signs", SIGNS.values(), ids=list(SIGNS))
def test_a_very_long_cell_is_met_in_time(signs: str, tmp_path: Path) -> None:
    """Wherever it stands, the sheet is read or refused in a moment, in sentences of some length."""
    for number, place in enumerate(PLACES):
        path = tmp_path / f"sheet{number}.csv"
        assert SHEET.count(place) >= 1
        path.write_text(SHEET.replace(place, signs, 1), encoding="utf-8")
        begun = time.process_time()
        sentences = said_of(path)
        taken = time.process_time() - begun
        assert all(len(sentence) < 2000 for sentence in sentences), (place, sentences[0][:200])
        assert taken < MOST_SECONDS, f'{taken:.1f} s with "{signs[:8]}…" in place of "{place}"'
