"""Records that a table can hold whole, each odd in one way."""

from datetime import UTC, date, datetime

import attrs

from bankside.gauging.records import (
    Channel,
    CrewMember,
    Filed,
    FiledPanel,
    Gauging,
    Meter,
    PointReading,
    Position,
    RatingPart,
    Site,
    StageReading,
    Units,
    Vertical,
)

LEFT = Vertical(0.0, 0.0, edge="left", bank="sloping")
RIGHT = Vertical(4.0, 0.0, edge="right", bank="sloping")


def point(value: float, fraction: float | None = None) -> PointReading:
    """A velocity as called."""
    return PointReading(value, fraction)


PLAIN = Gauging(
    Units("m", "m/s"),
    (
        Channel(
            (LEFT, Vertical(1.1, 0.3, (point(0.1),)), Vertical(2.7, 0.45, (point(0.3),)), RIGHT)
        ),
    ),
    site=Site("above the weir", "Alder Fork"),
    date=date(2026, 7, 14),
)

RECORDS: dict[str, Gauging] = {
    "plain": PLAIN,
    "without a name": attrs.evolve(PLAIN, site=Site(), date=None),
    "three units": attrs.evolve(PLAIN, units=Units("ft", "cm/s", "in")),
    "far bank first": attrs.evolve(PLAIN, channels=(Channel(PLAIN.channels[0].verticals[::-1]),)),
    "points": attrs.evolve(
        PLAIN,
        channels=(
            Channel(
                (
                    LEFT,
                    Vertical(1.0, 0.4, (point(0.31, 0.6),)),
                    Vertical(2.0, 1.1, (point(0.5, 0.2), point(0.3, 0.8))),
                    Vertical(3.0, 0.9, (point(0.4, 0.2), point(0.35, 0.6), point(0.2, 0.8))),
                    RIGHT,
                )
            ),
        ),
    ),
    "a reading of 0 and water running back": attrs.evolve(
        PLAIN,
        channels=(
            Channel(
                (
                    LEFT,
                    Vertical(1.0, 0.4, (point(0.0),)),
                    Vertical(2.0, 0.5, (point(-0.05),)),
                    Vertical(3.0, 0.5, (point(0.25),)),
                    RIGHT,
                )
            ),
        ),
    ),
    "soundings and dry ground": attrs.evolve(
        PLAIN,
        channels=(
            Channel(
                (
                    LEFT,
                    Vertical(0.8, 0.4),
                    Vertical(1.5, 0.5, (point(0.25),)),
                    Vertical(2.0, dry=True),
                    Vertical(2.5, 0.0),
                    Vertical(3.0, 0.5, (point(0.25),), remark="weed; stones, gravel"),
                    RIGHT,
                )
            ),
        ),
    ),
    "steep and undercut banks": attrs.evolve(
        PLAIN,
        channels=(
            Channel(
                (
                    Vertical(0.0, 0.3, edge="right", bank="steep", wall_factor=0.7),
                    Vertical(1.5, 0.5, (point(0.25),)),
                    Vertical(3.0, 0.4, (point(0.1),), edge="left", bank="undercut"),
                )
            ),
        ),
    ),
    "two channels": attrs.evolve(
        PLAIN,
        channels=(
            attrs.evolve(PLAIN.channels[0], name="main"),
            Channel(
                (
                    Vertical(0.0, 0.1, (point(0.1),)),
                    Vertical(0.7, 0.2, (point(0.2),)),
                    Vertical(1.0, 0.0),
                ),
                "side",
            ),
        ),
    ),
    "angles and times": attrs.evolve(
        PLAIN,
        channels=(
            Channel(
                (
                    LEFT,
                    Vertical(1.0, 0.4, (PointReading(0.2, 0.6, seconds=40.0),), angle=-15.0),
                    Vertical(2.0, 0.4, (PointReading(0.3),), angle_coefficient=0.93),
                    RIGHT,
                )
            ),
        ),
    ),
    "counts and a rating of two parts": attrs.evolve(
        PLAIN,
        channels=(
            Channel(
                (
                    LEFT,
                    Vertical(1.0, 0.4, (PointReading(None, 0.6, 50.0, 21.0),)),
                    Vertical(
                        2.0,
                        0.9,
                        (PointReading(None, 0.2, 50.0, 60.0), PointReading(None, 0.8, 41.5, 30.0)),
                    ),
                    RIGHT,
                )
            ),
        ),
        meter=Meter("propeller", "P-7", (RatingPart(0.7, 0.02, 0.9), RatingPart(0.72, 0.002))),
    ),
    "everything around it": attrs.evolve(
        PLAIN,
        site=Site("above the weir", "Alder Fork", Position(-1.23, 45.6, 4.0, "AF-01")),
        started=datetime(2026, 7, 14, 10, 5, tzinfo=UTC),
        ended=datetime(2026, 7, 14, 10, 52, tzinfo=UTC),
        crew=(CrewMember("A. Mora", "rod"), CrewMember("B. Lind", "recorder")),
        stage=(StageReading(0.52), StageReading(0.53)),
        rule_set="wading",
        remarks="clear water, light wind",
    ),
    "filed products and total": attrs.evolve(
        PLAIN,
        filed=Filed(
            0.1,
            "m3/s",
            (FiledPanel(0, 1, 1.35, 0.405, 0.0405), FiledPanel(0, 2, 1.45, None, 0.19575)),
        ),
    ),
    "a filed total in litres": attrs.evolve(PLAIN, filed=Filed(236.25, "L/s")),
    "a filed total in no known unit": attrs.evolve(PLAIN, filed=Filed(236.25)),
    "long decimals": attrs.evolve(
        PLAIN,
        channels=(
            Channel(
                (
                    Vertical(0.1 + 0.2, 0.0),
                    Vertical(1 / 3 + 1, 0.1 + 0.7, (point(2 / 3),)),
                    Vertical(1e2, 1e-7, (point(1e-12),)),
                )
            ),
        ),
    ),
    "a name that looks like a formula": attrs.evolve(PLAIN, site=Site("=1+2", "@brook")),
    "a name that looks like a number": attrs.evolve(PLAIN, site=Site("007", "1.50")),
    "a name that looks like a date": attrs.evolve(PLAIN, site=Site("2026-07-01", "Alder Fork")),
    "a name with signs": attrs.evolve(PLAIN, site=Site('weir, "old"; north', "Bäche | Fälle")),
}
"""Records that a table can hold whole, each odd in one way."""
