"""A gauging laid out for the checks: in SI, in both orders, as far as it can be worked out."""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Mapping

import attrs

from bankside.gauging.compute import compute
from bankside.gauging.faults import InputRefused
from bankside.gauging.mean_velocity import mean_velocity
from bankside.gauging.notes import tape_positions
from bankside.gauging.point_velocity import point_velocities
from bankside.gauging.records import Channel, Gauging, Vertical
from bankside.gauging.result import Panel, Result
from bankside.gauging.rule_sets.rule_set import RuleSet, Threshold
from bankside.gauging.units import metres_per, metres_per_second_per

__all__ = ["Examined", "ExaminedChannel", "Spot", "examine"]


@attrs.frozen
class Spot:
    """A vertical as called, in SI; None is what was not read, or cannot be worked out.

    `index` is its place among those of the channel in the record. `depth_m` is 0 where it is dry.
    `velocity_ms` is the mean velocity square to the section by the vertical's own readings,
    `points` the velocity read at each fraction of the depth (None: the mean of the vertical).
    `panel` is its panel by the mid-section method where the gauging has a result.
    """

    channel: int
    index: int
    vertical: Vertical
    tape_m: float
    depth_m: float | None
    velocity_ms: float | None
    points: Mapping[float | None, float]
    panel: Panel | None = None

    @property
    def tape(self) -> float:
        """The tape position as called."""
        return self.vertical.tape

    @property
    def ends_water(self) -> bool:
        """Whether the water ends there: at a marked edge, or where there is none."""
        return self.vertical.edge is not None or self.depth_m == 0

    @property
    def share(self) -> float | None:
        """The percent of the discharge that its panel carries, if that can be told."""
        return None if self.panel is None else self.panel.share


@attrs.frozen
class ExaminedChannel:
    """The verticals of a channel: `called` as they were called, `across` along the tape."""

    index: int
    channel: Channel
    called: tuple[Spot, ...]
    across: tuple[Spot, ...]

    @property
    def edges(self) -> tuple[Spot, ...]:
        """The verticals that are marked as edges of water, along the tape."""
        return tuple(spot for spot in self.across if spot.vertical.edge is not None)

    @property
    def between(self) -> tuple[Spot, ...]:
        """The verticals that are not marked as edges, along the tape."""
        return tuple(spot for spot in self.across if spot.vertical.edge is None)


@attrs.frozen
class Examined:
    """A gauging as the checks see it.

    `finished` says whether all readings are there: only then is what is missing a fault, and only
    then are shares of the discharge told. `result` is by the mid-section method, None where the
    readings do not give one yet. `today` is for dates that lie ahead; None leaves that unasked.
    """

    gauging: Gauging
    rules: RuleSet
    channels: tuple[ExaminedChannel, ...]
    finished: bool
    result: Result | None
    today: datetime.date | None = None

    @property
    def spots(self) -> Iterator[Spot]:
        """Every vertical, channel by channel, along the tape."""
        for channel in self.channels:
            yield from channel.across

    @property
    def metres(self) -> float:
        """How many metres the unit of the tape is."""
        return metres_per(self.gauging.units.length)

    @property
    def depth_metres(self) -> float:
        """How many metres the unit of depth is."""
        return metres_per(self.depth_unit)

    @property
    def depth_unit(self) -> str:
        """The unit of depth."""
        return self.gauging.units.depth or self.gauging.units.length

    @property
    def metres_per_second(self) -> float:
        """How many m/s the unit of velocity is."""
        return metres_per_second_per(self.gauging.units.velocity)

    def at(self, *tapes: float) -> str:
        """Return tape positions in words: "tape 1.5 m", "tapes 1, 2 and 3 m"."""
        return tape_positions(tapes, self.gauging.units.length)

    def depth(self, metres: float) -> str:
        """Return a depth in metres as the crew reads it: "1.2 ft"."""
        return f"{_short(metres / self.depth_metres)} {self.depth_unit}"

    def length(self, metres: float) -> str:
        """Return a length along the tape as the crew reads it: "1.2 ft"."""
        return f"{_short(metres / self.metres)} {self.gauging.units.length}"

    def limit(self, threshold: Threshold) -> str:
        """Return a limit in the crew's system, as its rule set has it in brackets if that differs.

        "10 ft²/s" where the tape is in feet, "0.929 m²/s (10 ft²/s)" where it is in metres.
        """
        return threshold.words_in("ft" if self.gauging.units.length in ("ft", "in") else "m")

    def velocity(self, metres_per_second: float) -> str:
        """Return a velocity as the crew reads it: "1.05 ft/s"."""
        value = metres_per_second / self.metres_per_second
        return f"{_short(value)} {self.gauging.units.velocity}"


def examine(
    gauging: Gauging, rules: RuleSet, *, finished: bool, today: datetime.date | None = None
) -> Examined:
    """Lay out a gauging for the checks; never refuses one, however little of it is there."""
    try:
        result = compute(gauging)
    except InputRefused:
        result = None
    panels = {} if result is None else {(p.channel, p.vertical): p for p in result.panels}
    channels = tuple(
        _channel(gauging, index, channel, panels if finished else {})
        for index, channel in enumerate(gauging.channels)
    )
    return Examined(gauging, rules, channels, finished, result, today)


def _channel(
    gauging: Gauging, index: int, channel: Channel, panels: Mapping[tuple[int, int], Panel]
) -> ExaminedChannel:
    called = tuple(
        _spot(gauging, index, place, vertical, panels.get((index, place)))
        for place, vertical in enumerate(channel.verticals)
    )
    return ExaminedChannel(index, channel, called, tuple(sorted(called, key=lambda s: s.tape)))


def _spot(
    gauging: Gauging, channel: int, index: int, vertical: Vertical, panel: Panel | None
) -> Spot:
    units = gauging.units
    depth = 0.0 if vertical.dry else vertical.depth
    points, mean = _velocities(gauging, vertical)
    return Spot(
        channel=channel,
        index=index,
        vertical=vertical,
        tape_m=vertical.tape * metres_per(units.length),
        depth_m=None if depth is None else depth * metres_per(units.depth or units.length),
        velocity_ms=mean,
        points=points,
        panel=panel,
    )


def _velocities(
    gauging: Gauging, vertical: Vertical
) -> tuple[Mapping[float | None, float], float | None]:
    """Return the points of a vertical in m/s, and the mean that they give, if they give one."""
    if not vertical.velocity:
        return {}, None
    rating = () if gauging.meter is None else gauging.meter.rating
    per = metres_per_second_per(gauging.units.velocity)
    try:
        points = {at: v * per for at, v in point_velocities(vertical.velocity, rating, []).items()}
    except InputRefused:
        return {}, None
    try:
        return points, mean_velocity(vertical, rating, per).value_ms
    except InputRefused:
        return points, None


def _short(value: float) -> str:
    """Return a figure to four digits, without zeros that say nothing."""
    return f"{value:.4g}"
