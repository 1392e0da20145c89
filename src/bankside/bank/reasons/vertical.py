"""Why of one vertical: what is read there, where and how long."""

from __future__ import annotations

from typing import Final

from bankside.bank.reasons.reason import NO_SOURCE, Reason, source_of_check

__all__ = ["VERTICAL"]

VERTICAL: Final = (
    Reason(
        "tape",
        "Tape position",
        "It says where a vertical stands, and with its neighbours how wide its panel is.",
        "It is called as it is read on the tape and kept to the digit, since what was read is "
        "never changed.",
        "the tape; Bankside",
    ),
    Reason(
        "depth",
        "Depth",
        "With the width of the panel it makes the area through which the water runs there.",
        "It is read on the rod in the middle of the swing of the surface, with the rod edge-on "
        "to the flow.",
        NO_SOURCE,
    ),
    Reason(
        "velocity",
        "Velocity",
        "It says how fast the water runs at a point of the vertical, less than nothing where it "
        "runs upstream.",
        "From the points the mean velocity of the vertical is worked out, as the panel needs "
        "the mean and no meter shows it.",
        "CWCB document 55378, p. 17; USGS WSP 2175; ISO 748 (from memory)",
    ),
    Reason(
        "points",
        "0.6, or 0.2 and 0.8 of the depth",
        "At 0.6 of the depth below the surface the velocity is about the mean of the vertical, "
        "and the mean of 0.2 and 0.8 is nearer to it still.",
        "The depth and the rotor decide which of them the rule set asks for, and in thin water "
        "it asks for half the depth.",
        "CWCB document 55378, p. 17; ISO 748:2007 Annex E (from memory)",
        ("half_depth_below", "one_point_deepest", "one_point_deepest_small", "pair_ratio"),
    ),
    Reason(
        "rod setting",
        "Rod setting",
        "It brings the meter to the point that is asked for without any sums in the water.",
        "A top-setting rod that is set to the depth holds the meter at 0.6, set to half of it "
        "at 0.8, and set to twice of it at 0.2.",
        "USGS practice, top-setting rod (from memory)",
        ("rod_setting", "rod_setting_share"),
    ),
    Reason(
        "exposure",
        "Exposure",
        "Moving water pulses, so a velocity is a mean over some time, and a longer one leaves "
        "less to chance.",
        "How long is enough the rule set says, and the key that counts down begins with that.",
        source_of_check("Count too short"),
        ("exposure",),
    ),
    Reason(
        "counts",
        "Counts and seconds",
        "Revolutions of the rotor and the time for them are what a meter with a rating gives.",
        "The rating makes a velocity of them, and both are kept as they were called.",
        "USGS Office of Surface Water memorandum 99.05, from memory",
    ),
    Reason(
        "angle",
        "Angle of the flow",
        "Only the part of a velocity that is square to the tape carries water through the section.",
        "The cosine of the angle, its coefficient, gives that part, and small ones say that the "
        "tape hangs askew where they are alike all along, and elsewhere that the flow is oblique "
        "there.",
        "ISO 748:2007, 7.1.4 (formula from memory)",
        ("angle_coefficient_note", "angle_coefficient_fix", "oblique_share"),
    ),
    Reason(
        "severity",
        "Stop, fix now, explain, note",
        "The word says how grave a finding is, and so what has to be done before leaving.",
        "Stop calls the crew out of the water, fix now wants another reading, explain wants a "
        "reason, and a note is only to be known, but rising water calls everybody out, whatever "
        "the word.",
        "Bankside; " + source_of_check("Level changed"),
    ),
)
"""Reasons of what is read at a vertical."""
