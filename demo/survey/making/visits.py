"""Who measured where and when in the invented season, and what was odd about it."""

from __future__ import annotations

import datetime
from typing import Final

from making.crews import NORTH, SOUTH, WEST
from making.reading import Visit

__all__ = ["IN_ONE_TABLE", "JOURNALS", "NORTH_SHEETS", "SOUTH_SHEETS", "VISITS"]


def _at(day: int, hour: int, minute: int) -> datetime.datetime:
    return datetime.datetime(2026, 7, day, hour, minute)


NORTH_SHEETS: Final = (
    Visit("AF-02", NORTH, _at(20, 9, 15), first="left"),
    Visit("TB-01", NORTH, _at(20, 11, 5), first="right"),
    Visit("AF-03", NORTH, _at(20, 13, 20)),
    Visit(
        "AF-03",
        NORTH,
        _at(20, 14, 25),
        first="right",
        number=2,
        remarks="Second gauging as a duplicate: T. Quayle held the rod this time.",
    ),
    Visit(
        "QB-02",
        NORTH,
        _at(21, 15, 40),
        first="right",
        remarks="Duplicate of the western crew's gauging, an hour later and 2 m further down.",
    ),
    Visit("AF-01", NORTH, _at(22, 10, 5)),
    Visit("TB-02", NORTH, _at(22, 13, 30), first="right"),
    Visit("MW-01", NORTH, _at(24, 9, 40)),
    Visit(
        "TR-02",
        NORTH,
        _at(27, 10, 20),
        gauge=False,
        remarks="Staff gauge gone since the spring flood; the bolt of the bridge is still there.",
    ),
    Visit(
        "QB-01",
        NORTH,
        _at(28, 11, 10),
        zero="right",
        called_zero="left",
        remarks="Fence post on the left bank was gone, so the tape was hung from the other side.",
    ),
)
"""Feet, a CSV file each."""

SOUTH_SHEETS: Final = (
    Visit("MW-05", SOUTH, _at(20, 10, 10)),
    Visit("MW-04", SOUTH, _at(21, 10, 30), first="right"),
    Visit("SB-02", SOUTH, _at(22, 9, 50), verticals=22),
    Visit("SB-01", SOUTH, _at(22, 13, 15), first="right", verticals=22),
    Visit(
        "MW-02",
        SOUTH,
        _at(23, 9, 30),
        slow=0.125,
        remarks="Weed round the rotor, seen only when the meter was packed.",
    ),
    Visit("MW-03", SOUTH, _at(23, 13, 45), first="right"),
    Visit("MW-01", SOUTH, _at(24, 11, 15), first="right"),
)
"""Metres, depths in centimetres, counts of a rotor: workbooks with a sheet for each gauging."""

JOURNALS: Final = (
    Visit("QB-01", WEST, _at(21, 9, 20)),
    Visit("TR-01", WEST, _at(21, 12, 5), quality="fair"),
    Visit("QB-02", WEST, _at(21, 14, 20), first="right"),
    Visit("QL-01", WEST, _at(22, 9, 40), verticals=20),
    Visit("QB-03", WEST, _at(22, 13, 10)),
    Visit("MW-02", WEST, _at(23, 11, 20), first="right"),
    Visit("TR-02", WEST, _at(24, 15, 30), until=0.55, quality=None),
)
"""Metres, called into the telephone."""

IN_ONE_TABLE: Final = (
    Visit("MW-05", WEST, _at(29, 9, 25)),
    Visit("MW-04", WEST, _at(29, 11, 50)),
    Visit("AF-01", WEST, _at(29, 14, 30), first="right"),
)
"""Metres with a decimal comma, the day on which the telephone stayed at home: one CSV table."""

VISITS: Final = (*NORTH_SHEETS, *SOUTH_SHEETS, *JOURNALS, *IN_ONE_TABLE)
