"""What each source of error is called, and what helps against it, with where that comes from."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

import attrs

from bankside.practice.debrief.parts import Source

__all__ = ["SOURCES", "SourceWords"]

_NO_SOURCE: Final = "common practice, no source"
_SOP: Final = "stream-flow procedure of a state's mine permits, 2014 (read)"


@attrs.frozen
class SourceWords:
    """`name` of a source, `what` is in it, `better` what to do next time, `source` who says so."""

    name: str
    what: str
    better: str
    source: str


SOURCES: Final[Mapping[Source, SourceWords]] = {
    "section choice": SourceWords(
        "Choice of the section",
        "how much more, or less, true readings are off here than in the same places of the better "
        "section: one draw, and partly chance",
        "Walk the reach before the tape is out, and take the place that is straight and even, "
        "with all the water in one go: a smoother section buys more than ten more verticals.",
        "Florida DEP FT 1800 and Montana volunteer monitoring (read); ten verticals: computed on "
        "simulated channels",
    ),
    "spacing": SourceWords(
        "Number and places of the verticals",
        "bed and velocity between the verticals, which nobody read",
        "Only where the leader lets you stand: put verticals closer where most of the water goes "
        "and where the bed changes, so that none carries more than 10 % and few more than 5 %.",
        "USGS practice as quoted in MDPI Water 2018, 10, 1010 (read)",
    ),
    "tape": SourceWords(
        "Tape",
        "a tape that is not square to the flow, or marks that were read wrongly",
        "Stretch the tape square to the flow, look at it once from upstream, and call each mark "
        "back before it is written.",
        f"{_NO_SOURCE}; 10° off square cost 1.5 %, 20° 6.4 % (computed)",
    ),
    "edges": SourceWords(
        "Edges of water",
        "edges in the wrong place, left out, or taken for sloping where they have a depth",
        "Write down both edges with how the water ends there, first and last of all rows, and put "
        "the next vertical close to them, only where the leader lets you stand: beside an undercut "
        "bank it is deepest.",
        "British Columbia manual, 1998, D.3.2 (read)",
    ),
    "depth reading": SourceWords(
        "Reading the depth",
        "a surface that swings, water that heaps up on the rod, a rod that leans or sinks",
        "Turn the rod edge-on to the flow, watch the surface for a few seconds, and read the "
        "middle of its swing.",
        _NO_SOURCE,
    ),
    "points": SourceWords(
        "One or two points for a whole vertical",
        "what 0.6, or 0.2 and 0.8, differ from the true mean of a vertical, and the velocity that "
        "is taken at an upright bank; nobody's mistake",
        "Where velocity looks odd over the depth, read a second point: two points err about half "
        "as much as one.",
        "ISO 748:2007 Annex E (from memory)",
    ),
    "rod setting": SourceWords(
        "Setting the rod",
        "a meter that was higher or lower than it was meant to be",
        "Set the rod anew at every vertical: its scale reads the depth for 0.6, half of it for "
        "0.8, twice of it for 0.2.",
        "common knowledge of the rod (from memory)",
    ),
    "exposure": SourceWords(
        "Exposure",
        "what the water happened to do in the seconds of a reading",
        "Stay 40 seconds or more at a point, and longer where the figure still wanders.",
        f"40 to 70 s: {_SOP}",
    ),
    "meter handling": SourceWords(
        "Handling the meter",
        "facing, standing, the unit it shows, counter and mean not started anew, angles not noted",
        "Before each reading: meter into the flow, stand downstream and to the side at arm's "
        "length, counter at zero, the unit as on the sheet, the angle if there is one.",
        _SOP,
    ),
    "level": SourceWords(
        "Level that changed",
        "water that rose or fell while it was measured",
        "Read the gauge before, in the middle and after. Where it rises, leave the water, read it "
        "from the bank, and wait or come another day; the leader says when anybody goes in again.",
        "British Columbia manual, 1998, F.3, and ISO 748:2021 sample text (read)",
    ),
    "no reading": SourceWords(
        "Figures written without a reading",
        "depths and velocities at marks where nobody stood the rod or held the meter: never read, "
        "or written beside another mark",
        "Write what was read, where it was read, and nothing else; leave a cell empty, or go and "
        "read it.",
        "British Columbia manual, 1998 (read: notes are made at the moment of observation)",
    ),
    "arithmetic": SourceWords(
        "Writing and arithmetic",
        "figures that stand on the sheet otherwise than they were shown, and totals that do not "
        "add up",
        "Say each figure back before the next one is read, and add up again before leaving.",
        "British Columbia manual, 1998 (read: notes are made at the moment of observation); "
        f"reading back: {_NO_SOURCE}",
    ),
}
"""Every source of error, in the order in which a debrief tells them."""
