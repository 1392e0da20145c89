"""The usual cautions about wading, for every document that goes to a stream.

They remind; they do not train anybody and decide nothing. Each says where it comes from: "from
memory" where nobody has checked the printed text, "common practice, no source" where there is none.
"""

from __future__ import annotations

from typing import Final, Literal

import attrs

from bankside.gauging.rule_sets.choice import strictest
from bankside.gauging.rule_sets.load import BASE, load_rule_set
from bankside.gauging.rule_sets.rule_set import RuleSet

__all__ = [
    "CAUTIONS",
    "DEFERENCE",
    "DEPTH_TIMES_VELOCITY",
    "Caution",
    "reminder_lines",
    "reminders",
]

_PRODUCT: Final = "wade_product_stop"
_FIGURES: Final = 2
"""Figures to which a rule of thumb is told in another unit than its own."""


@attrs.frozen
class Caution:
    """One caution: its `text` in full, one line (`short`) for tight places, and its `source`."""

    title: str
    text: str
    short: str
    source: str


DEFERENCE: Final = (
    "Local rules, permits, the site's hazard plan, licensed practice and the crew leader decide; "
    "these reminders replace none of them."
)
"""Whose word goes before every caution."""

DEPTH_TIMES_VELOCITY: Final = Caution(
    title="Depth times velocity",
    text=(
        "Do not wade where depth times velocity reaches 10 ft²/s (depth in ft, velocity in "
        "ft/s), which is 0.93 m²/s (m and m/s). It is a rule of thumb: keep further below it "
        "on a soft, slimy or uneven bed, in cold water, or with a light or new person. Work "
        "it out before the next step, and come out if in doubt. The rules of the crew and the "
        "site's hazard plan set the limit that holds."
    ),
    short=(
        "Depth × velocity: stay out at 10 ft²/s (0.93 m²/s), sooner on a bad bed; "
        "your own rules set the limit."
    ),
    source=(
        "USGS and EPA field guidance, from memory; only copies of the figure were read. That "
        "a bad bed or a light person asks for less: common practice, no source"
    ),
)
"""The rule of thumb; a document that prints the limits of its rule set says them instead."""

CAUTIONS: Final[tuple[Caution, ...]] = (
    DEPTH_TIMES_VELOCITY,
    Caution(
        title="Flotation",
        text=(
            "Wear a fitted, fastened personal flotation device (PFD) for all work in, near or "
            "over the water, unless the approved hazard plan of the site says otherwise."
        ),
        short="Wear a fastened PFD in, near and over water, unless the site's hazard plan differs.",
        source="USGS WRD memorandum 99.32, read",
    ),
    Caution(
        title="Cold",
        text=(
            "Cold water takes the use of the hands in about 4 to 5 minutes, long before it kills. "
            "Dress for the water, not for the air; carry dry clothes; warm up between turns; stop "
            "when fingers no longer work. The hazard plan says how cold is too cold."
        ),
        short="Cold water takes the use of your hands in minutes: dress for it, take turns, stop.",
        source=(
            "4 to 5 minutes: swift-water bulletin of the California Water Boards, read. Dress and "
            "turns: common practice, no source"
        ),
    ),
    Caution(
        title="Never alone",
        text=(
            "Nobody wades alone. The recorder on the bank is the spotter as well, a little "
            "downstream, with a throw bag at hand. Agree on signals for stop and come out. Leave "
            "word where you are and when you will check in, as the local rules ask."
        ),
        short="Never alone: spotter downstream with a throw bag, signals agreed, check-in left.",
        source="From memory; common practice, no source",
    ),
    Caution(
        title="Footwear, staff and belt",
        text=(
            "Wear a tight wader belt and soles that grip. Felt soles are banned in some places: "
            "look up the local rules. Use a wading staff or the rod as a third leg, stand side-on "
            "to the flow, move one foot at a time, and go in where it is easy to come out. Do not "
            "wade towards an undercut outer bank, where it is deep and fast at once."
        ),
        short="Tight wader belt, gripping soles (felt is banned in places), a staff as third leg.",
        source=(
            "Belt, staff, stance and outer bank: letter of a retired USGS hydrologist, read. Ban "
            "of felt: from memory"
        ),
    ),
    Caution(
        title="Trapped feet and strainers",
        text=(
            "A foot caught between stones or roots can hold a person under in shallow water; six "
            "inches (15 cm) of fast water can knock somebody over. If you fall, do not stand up "
            "in fast water: float on your back, feet downstream and at the surface, and make for "
            "the bank. Look downstream for strainers, such as fallen trees and fences, before you "
            "go in. Training for the water, as the hazard plan asks, goes before this paragraph."
        ),
        short="Look downstream for strainers first; if you fall, float feet up, never stand.",
        source=(
            "Foot entrapment and six inches: swift-water bulletin of the California Water Boards, "
            "read. What to do after a fall: from memory"
        ),
    ),
    Caution(
        title="Weather, debris and dam releases",
        text=(
            "Ask about dam releases and storms upstream before you go in. Come out for lightning, "
            "for rising or suddenly muddy water and for drifting wood. Agree on a time to turn "
            "back. Warnings of the authorities and of the dam's operator decide."
        ),
        short="Out for lightning, rising or muddy water, debris; ask about dam releases first.",
        source="From memory; common practice, no source",
    ),
    Caution(
        title="Permits before moving stones",
        text=(
            "Moving stones, weed or wood can be work in the water that needs a permit. Without a "
            "written permission move nothing. With one, tidy before measuring, let the water "
            "settle, write down what was moved, and put it back afterwards if the permit says so "
            "or says nothing."
        ),
        short="Move no stones without a written permit; write down what moved, and put it back.",
        source="From memory; common practice, no source. The permit decides",
    ),
    Caution(
        title="Spawning beds",
        text=(
            "Know the spawning seasons and the times when in-water work is closed. Do not step on "
            "redds; walk along the margins. If redds lie on the line, move the section. The local "
            "fisheries authority decides."
        ),
        short="Never step on redds: know the closed seasons, walk the margins, move the section.",
        source="A how-to on spawning surveys, read; agency manuals, from memory",
    ),
    Caution(
        title="Clean gear",
        text=(
            "Clean, drain and dry waders, boots, tape, rod and meter before they touch another "
            "water, and visit clean sites before infested ones. One guide dries 7 days in summer, "
            "18 in spring and autumn, 30 in winter, or freezes 3 days. The local rules on "
            "decontamination decide."
        ),
        short="Clean, drain and dry all gear before another water; local decontamination rules.",
        source=(
            "Clean, drain, dry and the days: Utah Water Watch, read. Order of sites: Colorado "
            "Parks and Wildlife, read"
        ),
    ),
)
"""The cautions in the order in which a crew needs them."""


def reminders(rules: RuleSet | None, system: Literal["ft", "m"]) -> str:
    """Return all cautions in one paragraph: `reminder_lines`."""
    return " ".join(reminder_lines(rules, system))


def reminder_lines(rules: RuleSet | None, system: Literal["ft", "m"]) -> tuple[str, ...]:
    """Return all cautions in one line each, their one figure that of the rule set in force.

    Never a laxer one than that of common practice: the lower of the two stands there. `system` is
    that of the crew's tape.
    """
    limit = strictest(load_rule_set(BASE) if rules is None else rules, _PRODUCT)
    product = (
        f"Depth × velocity: stay out at {limit.words_in(system, _FIGURES)}, sooner on a bad bed; "
        "your own rules set the limit."
    )
    others = (caution.short for caution in CAUTIONS if caution is not DEPTH_TIMES_VELOCITY)
    return (product, *others, DEFERENCE)
