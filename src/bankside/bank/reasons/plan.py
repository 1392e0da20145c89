"""Why of a plan: where to stand, and how long it takes."""

from __future__ import annotations

from typing import Final

from bankside.bank.reasons.reason import Reason, source_of_check

__all__ = ["PLAN"]

# As debriefs have it, which are not imported at a real stream; ISO 748: by bed and velocity.
_BY_FLOW: Final = (
    "USGS practice as quoted in MDPI Water 2018, 10, 1010 (read); ISO 748 (from memory)"
)
_EQUAL: Final = "EPA field manuals for wadeable streams: 15 to 20 equal intervals, from memory"

PLAN: Final = (
    Reason(
        "spread",
        "How the verticals are spread",
        "It decides where the gaps lie in which nobody reads, and equal flow lays them out by the "
        "last visit.",
        "By flow and bed is the usual rule, closer where most of the water runs and where the bed "
        "changes, and equal distances do where the flow is even, or where a programme asks for "
        "them.",
        f"{_BY_FLOW}; {_EQUAL}; for equal flow: ours",
    ),
    Reason(
        "spacing",
        "Distance between verticals",
        "A gap far wider than those beside it may be a vertical that was missed or misheard.",
        "Verticals that stand too close add time and tell little, so the rule set has a least "
        "distance.",
        source_of_check("Strange gap"),
        ("spacing_least", "spacing_least_large", "gap_wide", "gap_narrow"),
    ),
    Reason(
        "tape mark",
        "Finest mark of the tape",
        "A position can only be found in the water where the tape has a mark.",
        "So the plan moves every position to the nearest mark that is free.",
        "ours",
    ),
    Reason(
        "expected share",
        "Share to be expected",
        "It says beforehand at which verticals most of the water is likely to run.",
        "It is the share that a panel there would have had at the last visit.",
        "the earlier gauging",
    ),
    Reason(
        "soundings",
        "Depths sounded beforehand",
        "Five depths or more tell before the first velocity how many verticals are likely to do, "
        "and they stand in no discharge.",
        "They are taken to carry water by Manning's formula in wide water, which is too hopeful in "
        "pools and weed, and sounding is wading too.",
        "Manning's formula in wide water (from memory); ours, docs/advice.md",
    ),
    Reason(
        "minutes in the water",
        "Minutes in the water",
        "They say how long somebody stands in the water, so that cold and weather can be weighed.",
        "Beforehand they are the exposure at each vertical with moving and crossing as assumed, "
        "and after four verticals the pace of this crew.",
        "exposure and, as assumed, moving and crossing",
        ("exposure",),
    ),
    Reason(
        "began and ended",
        "When the gauging began and ended",
        "The stage between both times is the one to which the discharge belongs.",
        "A gauging that takes very long sees more than one stage, so the rule set has a longest "
        "time.",
        source_of_check("Took very long"),
        ("duration_longest",),
    ),
)
"""Reasons of what a plan says."""
