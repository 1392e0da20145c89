"""How many verticals a target needs, as an earlier gauging of the section tells."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from typing import Final

import attrs

from bankside.gauging.advice import is_doubt
from bankside.gauging.advice_design import HowRead, added
from bankside.gauging.advice_words import common_in_the_way
from bankside.gauging.between_section import BetweenSection
from bankside.gauging.between_station import Station
from bankside.gauging.checks.examined import examine
from bankside.gauging.checks.run import check_gauging
from bankside.gauging.checks.vertical_count import verticals_wanted, water_width
from bankside.gauging.records import Gauging, Meter, Units
from bankside.gauging.result import Result
from bankside.gauging.rounding import to_figures
from bankside.gauging.rule_sets.rule_set import RuleSet
from bankside.gauging.uncertainty_between import section_as_read
from bankside.gauging.uncertainty_flow import Assumed, flow_of

__all__ = [
    "MOST_PLANNED",
    "USUAL_TARGET",
    "Source",
    "evenly_read",
    "fewest_verticals",
    "target_remark",
    "target_words",
]

USUAL_TARGET: Final = 8.0
"""Half the interval of 95 % that is planned for where nobody says another, in percent (ours)."""

MOST_PLANNED: Final = 60
"""More verticals than this nobody reads; what they do not reach is not to be reached (ours)."""

_FEWEST: Final = 3


@attrs.frozen
class Source:
    """What a number of verticals rests on, in words, and what has to be said beside it."""

    words: str
    caution: str = ""
    instead: str = "a smoother section would do with fewer"


_EARLIER: Final = Source("the earlier gauging")


def fewest_verticals(section: BetweenSection, target: float, how: HowRead) -> int | None:
    """Return how many verticals at equal distances reach a target, None where 60 do not.

    `target` is half the interval of 95 % in percent. None as well where they would stand closer
    than is asked.
    """

    def reaches(count: int) -> bool:
        return evenly_read(section, count, how).half_width(0.95) <= target

    low, high = _FEWEST - 1, _most(section, how)
    if high <= low or not reaches(high):
        return None
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if reaches(middle) else (middle, high)
    return high


def evenly_read(section: BetweenSection, count: int, how: HowRead) -> BetweenSection:
    """Return the section as it would be read by so many verticals at equal distances.

    Every water has its part of them by its width, one at the least; edges of water stay. Depth and
    unit discharge go straight between what was read. What fewer verticals than were read would tell
    of the section, those of them tell that stand nearest.
    """
    whole = sum(line.width_m for line in section.between.lines)
    wanted = [
        _even_positions(stations, max(round(count * line.width_m / whole), 1))
        for stations, line in zip(section.waters, section.between.lines, strict=True)
    ]
    if count < sum(map(_was_read, itertools.chain.from_iterable(section.waters))):
        section = section.weighed_by(
            [
                _nearest(stations, tapes)
                for stations, tapes in zip(section.waters, wanted, strict=True)
            ]
        )
    for place, tapes in enumerate(wanted):
        stations = section.waters[place]
        new = (_station_at(stations, tape, how) for tape in tapes)
        section = section.replaced(place, (stations[0], *new, stations[-1]))
    return section


def _was_read(station: Station) -> bool:
    """Return whether somebody read it; of depths alone no reading is to be left out."""
    return station.vertical is not None and station.depth_m > 0.0


def _even_positions(stations: Sequence[Station], count: int) -> list[float]:
    first, last = stations[0].tape_m, stations[-1].tape_m
    return [first + (last - first) * k / (count + 1) for k in range(1, count + 1)]


def _nearest(stations: Sequence[Station], tapes: Sequence[float]) -> list[Station]:
    """Return the ends, and of the stations between them each that is nearest to one of the tapes.

    One where something flows is among them.
    """
    between = stations[1:-1]
    if not between:
        return list(stations)
    nearest = {min(between, key=lambda one: abs(one.tape_m - tape)).tape_m for tape in tapes}
    nearest.add(max(between, key=lambda one: abs(one.unit_discharge)).tape_m)
    return [stations[0], *(one for one in between if one.tape_m in nearest), stations[-1]]


def _station_at(stations: Sequence[Station], tape_m: float, how: HowRead) -> Station:
    for one in stations:
        if one.tape_m == tape_m:
            return how.station(tape_m, one.depth_m, one.velocity_ms)
    return added(stations, tape_m, how)


def _most(section: BetweenSection, how: HowRead) -> int:
    width = sum(line.width_m for line in section.between.lines)
    room = int(width / how.least_m) - 1 if how.least_m > 0.0 else MOST_PLANNED
    return min(room, MOST_PLANNED)


def target_remark(
    gauging: Gauging,
    result: Result,
    rules: RuleSet,
    *,
    target: float = USUAL_TARGET,
    channel: int | None = None,
    exposure_seconds: float | None = None,
) -> str | None:
    """Return how many verticals a target needs, in a sentence; None where nothing can be told.

    `gauging` and `result` are the earlier ones, `channel` the one that is planned (None: all),
    `exposure_seconds` how long a point is to be read, else by the rules.
    """
    if any(map(is_doubt, check_gauging(gauging, rules))):
        return (
            "How many verticals a target needs cannot be told: findings on the earlier gauging "
            "doubt its figures."
        )
    flow = flow_of(gauging, result)
    section = section_as_read(gauging, flow, Assumed()) if flow.has_percents else None
    if section is not None and channel is not None:
        section = section.of_channel(channel)
    if section is None:
        return None
    how = HowRead.by(rules, gauging.meter)
    if exposure_seconds is not None:
        how = attrs.evolve(how, seconds=exposure_seconds)
    count = fewest_verticals(section, target, how)
    examined = examine(gauging, rules, finished=True)
    channels = examined.channels if channel is None else examined.channels[channel : channel + 1]
    width = sum(map(water_width, channels))
    return target_words(section, target, how, count, _EARLIER, rules, width, gauging.meter)


def target_words(
    section: BetweenSection,
    target: float,
    how: HowRead,
    count: int | None,
    source: Source,
    rules: RuleSet,
    width_m: float,
    meter: Meter | None = None,
) -> str:
    """Return how many verticals a target needs, or that it is out of reach, in a sentence.

    `count` is what `fewest_verticals` says; the rule set asks for its own number in water of that
    width with that meter.
    """
    if count is None:
        return _unreached(section, target, how, source)
    nothing_read = Gauging(Units("m", "m/s"), (), meter=meter)
    wanted, _ = verticals_wanted(examine(nothing_read, rules, finished=False), width_m)
    sentence = (
        f"For ± {target:g} % (19 in 20) about {count} verticals do, by {source.words}, as likely "
        f"as not{source.caution}"
    )
    if count >= wanted:
        return f"{sentence}."
    return f'{sentence}; the rule set "{rules.name}" asks for at least {wanted:g}.'


def _unreached(section: BetweenSection, target: float, how: HowRead, source: Source) -> str:
    most = _most(section, how)
    left = evenly_read(section, max(most, 1), how).half_width(0.95)
    sentence = (
        f"± {target:g} % (19 in 20) is not likely here, by {source.words}: {most} verticals "
        f"would still leave ± {to_figures(left, 2)} %"
    )
    if not common_in_the_way(section.floor, target):
        return f"{sentence}; {source.instead}."
    return (
        f"{sentence}, as rod, meter and profile, the same at all verticals, alone leave "
        f"± {to_figures(section.floor, 2)} %."
    )
