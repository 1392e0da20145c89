"""What can be said of the channels of a section: their verticals, and the readings of these."""

from typing import Final, get_args

from bankside.gauging.journal.readers import (
    FIGURE,
    FLAG,
    MOMENT,
    NUMBER,
    TEXT,
    ListOf,
    ObjectOf,
    OneOf,
)
from bankside.gauging.journal.thing import Sayable
from bankside.gauging.records import Bank, Edge

__all__ = ["CHANNEL", "READING", "READINGS", "VERTICAL"]

CHANNEL: Final = "channels/<c>"
VERTICAL: Final = f"{CHANNEL}/verticals/<k>"
READING: Final = f"{VERTICAL}/readings/<r>"

READINGS: Final = (
    Sayable(f"{CHANNEL}/name", TEXT, "name of the channel"),
    Sayable(f"{CHANNEL}/order", ListOf(TEXT), "order of the verticals", kept=False),
    Sayable(f"{VERTICAL}/tape", FIGURE, "tape position"),
    Sayable(f"{VERTICAL}/edge", OneOf(get_args(Edge)), "edge of water"),
    Sayable(f"{VERTICAL}/bank", OneOf(get_args(Bank)), "form of the bank"),
    Sayable(f"{VERTICAL}/depth", FIGURE, "depth"),
    Sayable(f"{VERTICAL}/dry", FLAG, "whether it is dry"),
    Sayable(f"{VERTICAL}/angle", FIGURE, "angle of the flow"),
    Sayable(f"{VERTICAL}/angle_coefficient", FIGURE, "angle coefficient"),
    Sayable(f"{VERTICAL}/wall_factor", FIGURE, "wall factor"),
    Sayable(f"{VERTICAL}/at", MOMENT, "time of the vertical"),
    Sayable(f"{VERTICAL}/remark", TEXT, "remark"),
    Sayable(f"{VERTICAL}/inserted", FLAG, "whether it was inserted"),
    Sayable(
        READING,
        ObjectOf(
            {
                "value": FIGURE,
                "fraction": NUMBER,
                "seconds": FIGURE,
                "counts": FIGURE,
                "rod_setting": FIGURE,
            },
        ),
        "velocity",
    ),
)
"""Channels, verticals and point readings."""
