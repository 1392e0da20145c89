"""Why of the section as a whole: what its readings come to."""

from __future__ import annotations

from typing import Final

from bankside.bank.reasons.reason import NO_SOURCE, Reason, source_of_check

__all__ = ["SECTION"]

_MID_SECTION: Final = "USBR Water Measurement Manual, 3rd ed., ch. 10 sec. 15"
_BRITISH_COLUMBIA: Final = (
    "Manual of Standard Operating Procedures for Hydrometric Surveys in British Columbia, 1998, "
    "D.3.2"
)

SECTION: Final = (
    Reason(
        "discharge",
        "Discharge",
        "It says how much water passes the section in a second, which is what a gauging is for.",
        "Width, depth and mean velocity of every panel are multiplied, and all panels are added "
        "up: the mid-section method.",
        _MID_SECTION,
    ),
    Reason(
        "width",
        "Width",
        "It is the width of the water surface, so an edge that was missed shows in it first.",
        "It is the distance between the edges of water on the tape, without dry gaps, and all "
        "channels are added up.",
        "sum of its channels; the definition",
    ),
    Reason(
        "area",
        "Area",
        "It is the section of the water through which all of the discharge runs.",
        "The bed is taken as straight from one depth to the next, and the trapezoids between "
        "them are added up.",
        "sum of trapezoids",
    ),
    Reason(
        "mean depth",
        "Mean depth",
        "It tells in one figure how deep the water is, so that visits can be held side by side.",
        "It is the area divided by the width, and not the mean of the depths that were read.",
        "the definition",
    ),
    Reason(
        "mean velocity",
        "Mean velocity of the section",
        "It tells in one figure how fast the water is, so that visits can be held side by side.",
        "It is the discharge divided by the area, so fast and deep water has more say in it.",
        "the definition",
    ),
    Reason(
        "share",
        "Share of a panel",
        "It says how much of the discharge hangs on what was read at one vertical.",
        "A panel with a large share makes one bad reading dear, so the rule set has an aim and a "
        "limit for it.",
        source_of_check("One panel carries too much"),
        ("panel_share_aim", "panel_share_limit"),
    ),
    Reason(
        "panel width",
        "Width of a panel",
        "It is the part of the width for which the readings of one vertical stand.",
        "It reaches half-way to the verticals on both sides, and at an edge of water half-way to "
        "the one beside it: the half-width rule.",
        f"{_MID_SECTION}; {_BRITISH_COLUMBIA}",
    ),
    Reason(
        "verticals",
        "Number of verticals",
        "Between verticals nobody reads anything, so their number decides how much is guessed.",
        "The rule set says how many are enough, and how close is too close to ask for more.",
        source_of_check("Too few verticals"),
        ("verticals_least", "verticals_by_width", "spacing_least", "spacing_least_large"),
    ),
    Reason(
        "edge",
        "Edge of water",
        "Both edges of water say where the section begins and ends, and which panels lie there.",
        "Left and right are as seen facing downstream, and the first and the last vertical stand "
        "as close to the edges as can be.",
        "ISO 772 (from memory): banks as seen facing downstream; "
        + source_of_check("Too big a jump from the bank"),
        ("edge_gap", "edge_strip_share"),
    ),
    Reason(
        "bank",
        "Sloping, steep or undercut",
        "How the water ends at a bank decides whether there is a depth at the edge.",
        "At a sloping bank it ends with no depth, at a steep or undercut one with a depth, which "
        "is read in front of the bank.",
        f"{_BRITISH_COLUMBIA}; {source_of_check('Edge without depth')}",
    ),
    Reason(
        "wall factor",
        "Wall factor, the coefficient of velocity at an upright bank",
        "At an upright bank the water is slower than at the vertical beside it, and this factor "
        "says how much.",
        "A factor that the crew writes goes before the table, which stands in where no velocity "
        "was read there.",
        source_of_check("Edge with depth"),
    ),
    Reason(
        "last visit",
        "Beside the last visit",
        "A width or a mean depth that differs much at a similar stage may be another section or "
        "a missed edge.",
        "It is a question while somebody can still look, and no verdict, as streams do change.",
        NO_SOURCE,
    ),
)
"""Reasons of the figures that a whole section has."""
