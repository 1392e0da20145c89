"""Invented gaugings, each with something that the workbook has to put into formulas."""

from pathlib import Path
from typing import Any

import attrs

from bankside.gauging.compute import EdgeRule, Method
from bankside.gauging.records import (
    Channel,
    Correction,
    Gauging,
    Meter,
    PointReading,
    RatingPart,
    Site,
    Units,
    Vertical,
)
from bankside.sheets.read import read_sheets

DEMO = Path(__file__).parents[2] / "demo" / "sheets"
WAYS: tuple[tuple[Method, EdgeRule], ...] = (
    ("mid-section", "half-width"),
    ("mid-section", "triangular"),
    ("mean-section", "half-width"),
)
METRIC = Units("m", "m/s")
LEFT, RIGHT = Vertical(0, 0, edge="left"), Vertical(5, 0, edge="right")


def _at(tape: float, depth: float, velocity: float, **fields: Any) -> Vertical:
    return Vertical(tape, depth, (PointReading(velocity, 0.6),), **fields)


def _points(tape: float, depth: float, **points: float) -> Vertical:
    """A vertical read at points: p02 is 0.2 of the depth, p10 the bed."""
    read = tuple(PointReading(value, int(key[1:]) / 10) for key, value in points.items())
    return Vertical(tape, depth, read)


def _counted(tape: float, depth: float, *readings: tuple[float, float, float]) -> Vertical:
    """A vertical with counts: fraction, counts and seconds of each reading."""
    read = tuple(
        PointReading(fraction=at, counts=counts, seconds=seconds)
        for at, counts, seconds in readings
    )
    return Vertical(tape, depth, read)


def _gauging(*verticals: Vertical, units: Units = METRIC, **fields: Any) -> Gauging:
    return Gauging(units, (Channel(verticals),), site=Site("ford", "Alder Fork"), **fields)


RATING = (RatingPart(0.31, 0.012, 1.5), RatingPart(0.33, -0.018, 6.0))

ODD: dict[str, Gauging] = {
    "points": _gauging(
        LEFT,
        _points(0.5, 0.31, p06=0.21),
        _points(1, 0.42, p02=0.34, p08=0.19),
        _points(1.5, 0.55, p02=0.45, p06=0.37, p08=0.25),
        _points(2, 0.61, p00=0.5, p02=0.52, p06=0.44, p08=0.3, p10=0.11),
        _points(2.5, 0.66, p00=0.51, p02=0.55, p04=0.5, p06=0.43, p08=0.32, p10=0.12),
        _points(3, 0.58, p05=0.41),
        _points(3.5, 0.49, p02=0.44),
        _points(4, 0.37, p00=0.36),
        Vertical(4.5, 0.21, (PointReading(0.17),)),
        RIGHT,
    ),
    "integration": _gauging(
        LEFT,
        _points(1.1, 0.62, p01=0.4, p03=0.39, p07=0.28, p09=0.13),
        _points(2.3, 0.71, p00=0.5, p04=0.47, p10=0.05),
        _points(3.9, 0.44, p02=0.31, p06=0.24),
        RIGHT,
    ),
    "repeats": _gauging(
        LEFT,
        Vertical(1, 0.4, tuple(PointReading(v, 0.6, t) for v, t in ((0.31, 40), (0.37, 25)))),
        Vertical(2, 0.5, tuple(PointReading(v, 0.6) for v in (0.44, 0.41, 0.47))),
        # Called 0.8 first; the fraction worked out from a height above the bed.
        Vertical(
            3.2,
            0.6,
            (
                PointReading(0.2, 0.8, 40),
                PointReading(0.41, 1 - 0.8, 60),
                PointReading(0.22, 0.8, 30),
                PointReading(0.45, 0.2, 20),
            ),
        ),
        RIGHT,
    ),
    "counts": _gauging(
        LEFT,
        _counted(1, 0.4, (0.6, 30, 42)),
        _counted(2, 0.7, (0.2, 97, 41), (0.8, 0, 40)),
        _counted(3, 0.6, (0.6, 60, 40)),
        _counted(3.5, 0.5, (0.6, 400, 40)),
        Vertical(4, 0.4, (PointReading(0.35, 0.6, 40, 44),)),
        RIGHT,
        meter=Meter("rotating element", "R-3", RATING),
    ),
    "one_line": _gauging(
        LEFT,
        _counted(1.7, 0.4, (0.6, 30, 42), (0.6, 33, 40)),
        RIGHT,
        meter=Meter(rating=(RatingPart(2.2, 0.03),)),
        units=Units("ft", "ft/s"),
    ),
    "walls": _gauging(
        Vertical(0, 0.5, edge="left", bank="steep"),
        Vertical(0.12, 0.52),
        _at(0.4, 0.6, 0.3),
        _at(2, 0.7, 0.5),
        Vertical(2.6, 0.66),
        _at(4, 0.5, 0.41),
        Vertical(4.3, 0.45, edge="right", bank="undercut", wall_factor=0.55),
    ),
    "undercut": _gauging(
        _at(0, 0.3, 0.2),
        _at(1, 0.7, 0.5),
        Vertical(2, 0.6, edge="right", bank="undercut"),
    ),
    "island": _gauging(
        LEFT,
        Vertical(0.3, 0.2),
        _at(0.8, 0.4, 0.5),
        Vertical(1.5, dry=True),
        Vertical(2.5, 0, dry=True),
        _at(2.9, 0.3, 0.4),
        Vertical(3.1, 0),
        _at(3.6, 0.5, 0.6),
        Vertical(4.2, 0.3),
        RIGHT,
    ),
    "two_channels": Gauging(
        Units("ft", "ft/s", "cm"),
        (
            Channel((LEFT, _at(2, 30.5, 1.1), _at(3, 41, 1.25, angle=20), RIGHT), "main"),
            # Called from the other bank.
            Channel(
                (
                    Vertical(12, 0, edge="right"),
                    _at(11, 22, 0.7, angle_coefficient=0.93),
                    _at(10, 15, -0.2, angle=90),
                    _at(9, 18, -0.3, angle=-35),
                    Vertical(8.1, 0, edge="left"),
                )
            ),
        ),
    ),
    "cancelling": _gauging(LEFT, _at(1, 0.5, 0.4), _at(4, 0.5, -0.4), RIGHT),
    "still": _gauging(LEFT, _at(1, 0.5, 0), _at(4, 0.5, 0), RIGHT),
    "millimetres": _gauging(
        _at(120, 250, 31, remark="read from the bank"),
        Vertical(0, 0, (PointReading(4, 0.6),), edge="left"),
        _at(333, 410, 47.5),
        Vertical(700, 0, edge="right"),
        units=Units("in", "cm/s", "mm"),
    ),
    "sixty": _gauging(
        Vertical(0, 0, edge="left"),
        *(_at(0.25 * i, 0.2 + 0.01 * (i % 17), 0.1 + 0.013 * (i % 23)) for i in range(1, 61)),
        Vertical(15.25, 0, edge="right"),
    ),
}

HOSTILE = (
    "=1+1",
    "+1",
    "-1",
    "@SUM(A1)",
    "{=1}",
    "http://example.org/",
    "&A &P",
    "<b>&amp;",
    "\t=2",
)


def hostile() -> Gauging:
    """A gauging whose texts would be formulas, links or markup if anybody took them so."""
    [channel] = ODD["walls"].channels
    verticals = tuple(
        attrs.evolve(vertical, remark=text)
        for vertical, text in zip(channel.verticals, HOSTILE, strict=False)
    )
    return attrs.evolve(
        ODD["walls"],
        channels=(Channel(verticals, "=channel"),),
        site=Site("=site", "@stream"),
        remarks="+remarks",
        corrections=(Correction("=what", "-was", "+now", "@reason"),),
    )


def demo() -> dict[str, Gauging]:
    """Every gauging of the demonstration, by the name of its file."""
    return {
        f"demo_{file.stem}_{number}": item.gauging
        for file in sorted(DEMO.iterdir())
        for number, item in enumerate(read_sheets(file).gaugings)
        if item.gauging is not None
    }
