"""Reading a drawn rod or tape as an eye does: by where its marks, numerals and the water lie."""

from __future__ import annotations

from itertools import pairwise
from statistics import fmean
from typing import Any

from playwright.sync_api import Locator

_PARTS = """svg => {
  const all = part => [...svg.querySelectorAll(`[data-part=${part}]`)];
  return {
    marks: all("mark").map(mark => [mark.dataset.kind, Number(mark.dataset.at)]),
    numerals: all("numeral").map(text => [Number(text.textContent), Number(text.dataset.at)]),
    water: all("water-line")[0].getAttribute("points"),
  };
}"""


def read_rod(rod: Locator, graduation: float) -> float:
    """Return the depth that a drawn rod shows, in its unit, counted from a numeral in marks."""
    return _read(rod.locator("svg.close").evaluate(_PARTS), graduation, along=1)


def read_tape(tape: Locator, graduation: float) -> float:
    """Return where the water's edge crosses a drawn tape, in its unit."""
    return _read(tape.evaluate(_PARTS), graduation, along=0)


def _read(drawn: dict[str, Any], graduation: float, along: int) -> float:
    places = sorted(place for _, place in drawn["marks"])
    steps = [after - before for before, after in pairwise(places)]
    step = fmean(steps)
    assert max(steps) - min(steps) < 1e-6 * step, "the marks do not lie evenly"
    wholes = {place for kind, place in drawn["marks"] if kind == "whole"}
    numeral, where = drawn["numerals"][0]
    assert where in wholes, "a numeral stands beside no whole mark"
    line = [tuple(map(float, point.split(","))) for point in drawn["water"].split()]
    # The first and the last point are one wave apart: the middle of the ripple leaves one out.
    level = fmean(point[along] for point in line[:-1])
    # A rod grows upwards, and pictures are counted from the top.
    sign = -1.0 if along == 1 else 1.0
    return float(numeral + sign * (level - where) / step * graduation)
