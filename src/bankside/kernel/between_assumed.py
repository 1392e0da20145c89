"""What the model between verticals assumes of readings, rods, meters and profiles.

All are standard deviations, over the velocity where no unit stands; docs/uncertainty.md says why
each is so much.
"""

__all__ = [
    "CALIBRATION",
    "DEPTH_READING_M",
    "PILE_UP",
    "PROFILE_COMMON",
    "PROFILE_LENGTH",
    "PROFILE_SMOOTH",
    "PROFILE_UNEVEN",
    "ROD_M",
    "STANDS_IN",
    "TWO_POINTS",
    "ZERO_MS",
]

DEPTH_READING_M = 0.006
"""A depth as read and rounded, each for itself, m."""

ROD_M = 0.006
"""All depths together: a rod that sinks in or stands on stones, m."""

PILE_UP = 0.2
"""All depths together: part of the velocity head that they may be too large by."""

CALIBRATION = 0.01
"""The meter's calibration."""

ZERO_MS = 0.004
"""The meter's zero, m/s."""

PROFILE_COMMON = 0.015
"""The vertical profile of the whole section."""

PROFILE_SMOOTH = 0.02
"""The profile of one vertical read at one point, on any bed; ISO 748:2007, annex E has 7.5 % for
one point and 3.5 % for two (from memory)."""

PROFILE_UNEVEN = 0.10
"""The same, times the root of unevenness besides."""

TWO_POINTS = 3.5 / 7.5
"""How much of that is left with two points."""

PROFILE_LENGTH = 1.25
"""Verticals nearer than this share the eddies that make a profile differ, in mean depths."""

STANDS_IN = 0.2
"""A velocity that stands for one that was not read, at a wall."""
