"""Invented crossings of a stream, as a crew calls them out: every figure a text, as it is typed."""

from __future__ import annotations

import csv
import io
from dataclasses import dataclass


@dataclass(frozen=True)
class Called:
    """What is called at one vertical: the depth, and velocities by the fraction of the depth."""

    depth: str
    velocity: dict[str, str]
    angle: str = ""
    remark: str = ""


@dataclass(frozen=True)
class Crossing:
    """A stream from the left edge to the right one, and what is read between them."""

    unit: str
    """ft or m; velocities are in that unit a second."""
    left: str
    right: str
    verticals: tuple[Called, ...]
    """In the order of the plan."""
    inserted: tuple[str, Called]
    """A tape position between two of the plan, and what is called there."""
    misheard: tuple[int, str]
    """Which vertical's depth is called wrong at first, counted from 0, and as what."""
    stages: tuple[str, str]
    zero: tuple[str, str]
    """What the meter shows in still water before and after."""


def called(depth: str, velocity: str) -> Called:
    """A vertical with one reading, at 0.6 of the depth."""
    return Called(depth, {"0.6": velocity})


def as_sheet(crossing: Crossing, positions: list[str]) -> str:
    """Write a crossing as somebody keeps it in a table; `positions` are those of its verticals."""
    rows = {
        **dict(zip(positions, crossing.verticals, strict=True)),
        crossing.inserted[0]: crossing.inserted[1],
    }
    out = io.StringIO()
    sheet = csv.writer(out, lineterminator="\n")
    unit = crossing.unit
    points = sorted({point for one in rows.values() for point in one.velocity})
    sheet.writerow(
        [f"tape ({unit})", f"depth ({unit})", *(f"{p} ({unit}/s)" for p in points), "angle", "bank"]
    )
    blank = [""] * len(points)
    sheet.writerow([crossing.left, "0", *blank, "", "left edge"])
    for tape in sorted(rows, key=float):
        one = rows[tape]
        velocities = [one.velocity.get(point, "") for point in points]
        sheet.writerow([tape, one.depth, *velocities, one.angle, ""])
    sheet.writerow([crossing.right, "0", *blank, "", "right edge"])
    return out.getvalue()


ALDER_FORK = Crossing(
    unit="ft",
    left="3.2",
    right="27.1",
    verticals=(
        # So shallow that the rule set has it read at half the depth.
        Called("0.21", {"0.5": "0.23"}),
        called("0.33", "0.33"),
        called("0.35", "0.51"),
        called("0.62", "0.73"),
        called("0.69", "0.66"),
        called("0.96", "0.91"),
        called("1.0", "1.04"),
        called("1.22", "1.03"),
        called("1.51", "1.11"),
        called("1.43", "1.11"),
        Called("1.57", {"0.6": "1.26"}, angle="15"),
        called("1.61", "1.28"),
        called("1.70", "1.37"),
        Called("1.79", {"0.2": "1.52", "0.8": "1.10"}),
        called("1.64", "1.40"),
        called("1.66", "1.34"),
        called("1.65", "1.35"),
        called("1.68", "1.35"),
        called("1.89", "1.32"),
        called("1.70", "1.19"),
        called("1.55", "1.31"),
        called("1.46", "1.23"),
        called("1.32", "1.03"),
        called("1.10", "0.90"),
        called("0.83", "1.00"),
        Called("0.55", {"0.6": "0.48"}, remark="weed"),
        called("0.30", "-0.12"),
    ),
    inserted=("16.4", called("1.72", "1.38")),
    misheard=(4, "0.96"),
    stages=("1.32", "1.33"),
    zero=("0.00", "0.01"),
)

QUILL_BROOK = Crossing(
    unit="m",
    left="0.4",
    right="8.6",
    verticals=(
        called("0.11", "0.042"),
        called("0.18", "0.10"),
        called("0.24", "0.155"),
        called("0.29", "0.211"),
        called("0.33", "0.248"),
        called("0.38", "0.263"),
        called("0.41", "0.305"),
        called("0.4", "0.322"),
        called("0.47", "0.34"),
        called("0.50", "0.351"),
        Called("0.52", {"0.6": "0.366"}, angle="12"),
        called("0.55", "0.371"),
        called("0.58", "0.38"),
        Called("0.81", {"0.2": "0.432", "0.8": "0.301"}),
        called("0.61", "0.385"),
        called("0.60", "0.382"),
        called("0.57", "0.374"),
        called("0.55", "0.360"),
        called("0.51", "0.352"),
        called("0.46", "0.33"),
        called("0.42", "0.301"),
        called("0.37", "0.27"),
        called("0.31", "0.226"),
        called("0.25", "0.171"),
        called("0.20", "0.1"),
        Called("0.14", {"0.6": "0.064"}, remark="eddy"),
        called("0.1", "-0.021"),
    ),
    inserted=("4.65", called("0.72", "0.379")),
    misheard=(5, "0.68"),
    stages=("0.412", "0.41"),
    zero=("0.000", "0.002"),
)
