"""Why of what is set out before the first reading: wading, meter, stage, position, units."""

from __future__ import annotations

from typing import Final

from bankside.bank.reasons.reason import NO_SOURCE, Reason, source_of_check
from bankside.note.cautions import CAUTIONS

__all__ = ["SETTING_OUT"]


def _source_of_caution(title: str) -> str:
    return next(caution.source for caution in CAUTIONS if caution.title == title)


SETTING_OUT: Final = (
    Reason(
        "wading limits",
        "Limits of depth, and of depth × velocity",
        "They say from where on the leader decides whether anybody stands there, and where "
        "nobody does.",
        "Depth and velocity push together, so their product counts, and depth counts alone as "
        "well, all of it sooner for light people, on a soft bed and in cold water.",
        f"{source_of_check('Water too strong to wade')}; Australian Rainfall & Runoff, book 6, "
        f"ch. 7 (Cox et al. 2010), from memory; {source_of_check('Deeper than wading work')}; "
        "that a bad bed or a light person asks for less: common practice, no source",
        ("wade_product_caution", "wade_product_stop", "wade_depth_caution", "wade_depth_stop"),
    ),
    Reason(
        "cold water",
        "Is the water cold?",
        "Cold water takes the use of the hands long before it kills.",
        "It is asked before anybody goes in, as the limits for wading know nothing of it.",
        _source_of_caution("Cold"),
    ),
    Reason(
        "alone",
        "Would anybody wade alone?",
        "Whoever falls needs somebody on the bank who sees it.",
        "So nobody wades alone, and the one who records on the bank is the spotter as well.",
        _source_of_caution("Never alone"),
    ),
    Reason(
        "spin",
        "Spin of the meter",
        "A rotor that stops too soon turns too slowly in the water as well.",
        "How long a good one turns depends on its size, and the rule set says it for cup meters.",
        source_of_check("Rotor stops too soon"),
        ("spin_small", "spin_large"),
    ),
    Reason(
        "zero",
        "Zero of the meter",
        "What a meter shows in still water it adds to every velocity.",
        "So it is read before and after, and the rule set says how much may be shown.",
        source_of_check("Zero is off"),
        ("zero_velocity",),
    ),
    Reason(
        "calibration",
        "Calibration of the meter",
        "A meter that has worn or bent shows other velocities than on its papers.",
        "The papers say by which day it has to be looked at again.",
        "the papers of the meter; " + source_of_check("Calibration overdue"),
    ),
    Reason(
        "meter range",
        "Least velocity and depth of the meter",
        "Below them the meter tells little, so only little of the discharge may run there.",
        "What its papers say goes before what the rule set says.",
        source_of_check("Slower than the meter can tell"),
        ("slowest", "shallowest", "shallowest_large", "slow_share", "shallow_share"),
    ),
    Reason(
        "rotor",
        "Size of the rotor",
        "A small rotor measures in thinner water than a large one, but not as fast.",
        "So the size decides which limits of the rule set count.",
        NO_SOURCE,
        ("fastest_small", "one_point_deepest_small", "shallowest_large"),
    ),
    Reason(
        "rating",
        "Rating of the meter",
        "It is the line that makes a velocity of revolutions a second.",
        "Slope and intercept come with the calibration and belong to that one meter.",
        "the calibration of the meter",
    ),
    Reason(
        "stage",
        "Stage",
        "It says at which level the discharge was measured, so that later visits can use it.",
        "One reading at the start and one at the end show whether the level stood still, and "
        "more are needed while it moves.",
        source_of_check("Stage read too seldom"),
        ("stage_interval",),
    ),
    Reason(
        "stage change",
        "Change of stage",
        "While the level moves the discharge is not one figure, and rising water is a danger.",
        "A change is held against a length, and once all is read against the mean depth.",
        source_of_check("Level changed"),
        (
            "stage_change_note",
            "stage_change_explain",
            "stage_change_depth_explain",
            "stage_change_depth_fix",
        ),
    ),
    Reason(
        "whole flow",
        "Does all the water pass this section?",
        "Water that passes elsewhere is missing in the discharge, however well this is read.",
        "So it is asked before the first reading, and other water is a channel of its own.",
        source_of_check("Is all the water here?"),
    ),
    Reason(
        "cleared",
        "Stones or weed that were moved",
        "A bed that was tidied while it was measured is not one section any more.",
        "So it is tidied first, then the water settles, and what was moved is written down.",
        source_of_check("Bed disturbed during measuring"),
    ),
    Reason(
        "position",
        "Position of the section",
        "It brings the next crew to the same place, and the section onto a map.",
        "The mean of several fixes is nearer than one, and the rule set says how far off it may "
        "be.",
        source_of_check("Position too vague"),
        ("position_accuracy", "site_distance"),
    ),
    Reason(
        "units",
        "Units",
        "They are said once and stand beside every figure, as feet taken for metres spoil all.",
        "Readings stay in the units in which they were called and are turned into others once.",
        "the crew; the foot is 0.3048 m exactly",
    ),
    Reason(
        "rule set",
        "Rule set",
        "It holds the thresholds by which plans are laid out and findings are raised.",
        "Each value has its own source and says how far that can be trusted, and local rules go "
        "before all of them.",
        "docs/rules.md",
    ),
    Reason(
        "decimals",
        "Decimals",
        "They say where the point stands when digits are typed without its key.",
        "A key less with gloves on is a slip less, and the figure is shown before it is taken.",
        "ours",
    ),
)
"""Reasons of what is said before the first reading."""
