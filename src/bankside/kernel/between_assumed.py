"""What the model between verticals assumes of readings, rods, meters and profiles.

All are standard deviations, over the velocity where no unit stands; docs/uncertainty.md says why
each is so much.
"""

__all__ = [
    "AT_SURFACE",
    "DEPTH_READING_M",
    "FLOAT",
    "PILE_UP",
    "PROFILE_COMMON",
    "PROFILE_LENGTH",
    "PROFILE_SMOOTH",
    "PROFILE_UNEVEN",
    "ROD_M",
    "STANDS_IN",
    "SURFACE_COMMON",
    "TWO_POINTS",
    "ZERO_MS",
]

DEPTH_READING_M = 0.006
"""A depth as read and rounded, each for itself, m."""

ROD_M = 0.006
"""All depths together: a rod that sinks in or stands on stones, m."""

PILE_UP = 0.2
"""All depths together: part of the velocity head that they may be too large by."""

ZERO_MS = 0.003
"""The meter's zero, m/s, beside what its rating may be off by at low velocities."""

PROFILE_COMMON = 0.015
"""The vertical profile of the whole section."""

SURFACE_COMMON = 0.04
"""The same where the surface alone was read: its coefficient."""

PROFILE_SMOOTH = 0.02
"""The profile of one vertical read at one point, on any bed; ISO 748:2007, annex E has 7.5 % for
one point and 3.5 % for two (from memory)."""

PROFILE_UNEVEN = 0.10
"""The same, times the root of unevenness besides."""

TWO_POINTS = 3.5 / 7.5
"""How much of that is left with two points."""

AT_SURFACE = 2.4
"""How many times as much it is where the surface alone was read."""

FLOAT = 0.15
"""A surface velocity by a float, each for itself."""

PROFILE_LENGTH = 1.25
"""Verticals nearer than this share the eddies that make a profile differ, in mean depths."""

STANDS_IN = 0.2
"""A velocity that stands for one that was not read, at a wall."""
