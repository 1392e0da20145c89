"""Where to stand: verticals laid out between two edges of water before the crew steps in.

Tape positions are exact decimals, as the tape is read: every vertical stands on a graduation, and
0.1 ft steps stay 3.3 and never become 3.3000000000000003. The tape's zero may hang on either bank.

The rules, in our own words:

`equal`
    Equal distances with the edges as stations: n verticals make n + 1 intervals.
`cell-centres`
    n cells of equal width with a vertical at the centre of each; nothing is read at the edges.
`skip-first-cell`
    The interval is width / n, rounded to the tape's resolution. The cell at the left edge is too
    shallow to read: the first vertical stands one and a half intervals out (between two
    graduations: on the one further out), the others follow at whole intervals as long as there is
    water, and the last panel takes what is left. (Common practice, no source.)
`equal-flow`
    Verticals closer where an earlier gauging found more water. The flow per width of that gauging
    (depth times velocity, linear between its verticals) is stretched to today's edges. Its amount
    counts, not its sign: an eddy has to be measured as well. Where it is below half of its mean it
    counts as half of its mean, so that slow margins and dead water keep some verticals and no gap
    grows beyond three times width / n, but for rounding. The n verticals stand where this weight,
    summed up from the left edge, reaches 1/2, 3/2, … (n - 1/2) n-ths of its total: each in the
    middle of an equal share. (Ours, no source.)

Positions are then brought to the nearest graduations that keep the minimum spacing, each moving as
little as the others allow. Panels follow the half-width rule, edges included: USBR Water
Measurement Manual, 3rd ed., ch. 10 sec. 15.
"""

import math
from collections.abc import Callable, Mapping, Sequence
from decimal import Decimal
from fractions import Fraction
from itertools import pairwise
from typing import Final, Literal, get_args

import attrs

from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.records import Gauging
from bankside.gauging.result import Result
from bankside.gauging.units import LengthUnit, metres_per

__all__ = [
    "MOST_VERTICALS",
    "RULES",
    "USUAL_TIMING",
    "FlowProfile",
    "Plan",
    "PlannedEdge",
    "PlannedVertical",
    "Rule",
    "Timing",
    "flow_profile",
    "plan_verticals",
    "points_for_depth",
]

Rule = Literal["equal", "cell-centres", "skip-first-cell", "equal-flow"]
RULES: Final[tuple[Rule, ...]] = get_args(Rule)

MOST_VERTICALS: Final = 500
# HYDRO21676, p. 31: 0.3 ft for the small rotating meter, 0.5 ft for the large one.
_SMALL_METER_SPACING_M: Final = 0.3 * 0.3048
_LARGE_METER_SPACING_M: Final = 0.5 * 0.3048
# From 2.5 ft on, two points: US Army manual on coastal and hydraulic work, p. 2.60.
_TWO_POINT_DEPTH_M: Final = 2.5 * 0.3048
# Distances on a tape: below a million of any unit, with six decimals at most.
_MOST_LENGTH: Final = 10**6
_DECIMALS: Final = 6
_MOST_DIGITS: Final = 30


@attrs.frozen
class Timing:
    """How long the water is occupied, in seconds; what moving and crossing take is assumed.

    `exposure_seconds` is spent at each of the `points` of a vertical, `moving_seconds` once a
    vertical to step on, read the tape and the depth and set the rod, `crossing_seconds` once for
    both edges and the way.
    """

    exposure_seconds: float = 40.0
    points: int = 1
    moving_seconds: float = 20.0
    crossing_seconds: float = 60.0

    def __attrs_post_init__(self) -> None:
        seconds = (self.exposure_seconds, self.moving_seconds, self.crossing_seconds)
        if not all(math.isfinite(value) and 0.0 <= value <= 3600.0 for value in seconds):
            raise _refused("exposure, moving and crossing must each take 0 to 3600 seconds")
        if not 1 <= self.points <= 6:
            raise _refused(f"a vertical must have 1 to 6 points (got {self.points})")

    def seconds(self, verticals: int) -> float:
        """Return the seconds expected in the water for so many verticals."""
        each = self.exposure_seconds * self.points + self.moving_seconds
        return verticals * each + self.crossing_seconds


USUAL_TIMING: Final = Timing()


@attrs.frozen
class FlowProfile:
    """How an earlier gauging found the flow spread between its edges.

    `across` runs from 0 at the left edge to 1 at the right edge, strictly increasing;
    `flow_per_width` is depth times velocity there in m²/s, negative where water ran upstream.
    """

    across: tuple[float, ...]
    flow_per_width: tuple[float, ...]
    remarks: tuple[str, ...] = ()

    def at(self, across: float) -> float:
        """Return the flow per width at a place between the edges (0 to 1), in m²/s."""
        for (x0, x1), (q0, q1) in zip(
            pairwise(self.across), pairwise(self.flow_per_width), strict=True
        ):
            if across <= x1:
                return q0 + (q1 - q0) * (across - x0) / (x1 - x0)
        return self.flow_per_width[-1]

    def middles_of_equal_shares(self, n: int) -> tuple[float, ...]:
        """Return the n places, 0 to 1, that the rule `equal-flow` gives; see the module.

        Raises InputRefused when the earlier gauging found no flow at all.
        """
        amounts = [abs(flow) for flow in self.flow_per_width]
        half_mean = _summed_up(self.across, amounts)[-1] / 2.0
        if half_mean == 0.0:
            raise _refused("the earlier gauging found no flow, so there is nothing to share out")
        weights = [max(amount, half_mean) for amount in amounts]
        reached = _summed_up(self.across, weights)
        places = []
        i = 0
        for k in range(n):
            wanted = reached[-1] * (k + 0.5) / n
            while reached[i + 1] < wanted:
                i += 1
            length, w0 = self.across[i + 1] - self.across[i], weights[i]
            rise = (weights[i + 1] - w0) / length
            part = wanted - reached[i]
            places.append(self.across[i] + 2.0 * part / (w0 + math.sqrt(w0 * w0 + 2 * rise * part)))
        return tuple(places)


@attrs.frozen
class PlannedEdge:
    """An edge of water as said; its panel reaches half way to the nearest vertical."""

    bank: Literal["left", "right"]
    tape: Decimal
    panel_width: Decimal


@attrs.frozen
class PlannedVertical:
    """A vertical to be read; `share_expected` in percent if an earlier gauging tells."""

    tape: Decimal
    panel_width: Decimal
    share_expected: float | None = None


@attrs.frozen
class Plan:
    """Verticals from the left edge to the right edge; all lengths in `unit`.

    The panel widths of the edges and the verticals add up to the width between the edges exactly.
    `interval` is the even distance that was aimed at, to a hundredth of the tape's resolution;
    None where the rule has none. `remarks` say what could not be had and what was assumed.
    """

    rule: Rule
    unit: LengthUnit
    edges: tuple[PlannedEdge, PlannedEdge]
    stations: tuple[PlannedVertical, ...]
    interval: Decimal | None
    expected_seconds: float
    remarks: tuple[str, ...]

    @property
    def width(self) -> Decimal:
        """The distance between the edges of water."""
        return abs(self.edges[1].tape - self.edges[0].tape)


def points_for_depth(depth: Decimal, unit: LengthUnit) -> int:
    """Return how many points a vertical of this depth needs: 1, or 2 from 2.5 ft (0.76 m) on.

    InputRefused for a depth that is none. Source: US Army manual on coastal and hydraulic work,
    p. 2.60.
    """
    if not _is_readable(depth) or depth < 0:
        raise _refused(f"a depth must be a length of at least 0 (got {depth})")
    return 2 if float(depth) * metres_per(unit) >= _TWO_POINT_DEPTH_M - 1e-9 else 1


def flow_profile(gauging: Gauging, result: Result, channel: int | None = None) -> FlowProfile:
    """Take from an earlier gauging how the flow was spread between its edges.

    Args:
        gauging: The record; its edges tell on which bank the tape began.
        result: What was computed from it, by any method.
        channel: Index of the channel, which may be left out when there is only one.

    Raises:
        InputRefused: No such channel, or several and none chosen.
    """
    count = len(gauging.channels)
    if channel is None and count > 1:
        raise _refused(f"the earlier gauging has {count} channels; say which one, 1 to {count}")
    chosen = channel or 0
    if not 0 <= chosen < count:
        raise _refused(f"the earlier gauging has no channel {chosen + 1}; it has {count}")
    along = [vertical for vertical in result.verticals if vertical.channel == chosen]
    flows = [vertical.depth_m * vertical.velocity_ms for vertical in along]
    first, last = along[0], along[-1]
    across = [(vertical.tape - first.tape) / (last.tape - first.tape) for vertical in along]
    called = gauging.channels[chosen].verticals
    banks = [called[first.vertical].edge, called[last.vertical].edge]
    remarks = []
    if banks[0] == "right" or banks[1] == "left":
        flows.reverse()
        across = [1.0 - place for place in reversed(across)]
    elif banks == [None, None]:
        remarks.append(
            "The earlier gauging does not say which bank is which: its lowest tape position is "
            "taken as the left one."
        )
    if min(flows) < 0.0:
        remarks.append(
            "In the earlier gauging some water ran upstream; it counts by its amount, since it has "
            "to be measured as well."
        )
    return FlowProfile(tuple(across), tuple(flows), tuple(remarks))


def plan_verticals(
    left: Decimal,
    right: Decimal,
    *,
    unit: LengthUnit,
    resolution: Decimal,
    verticals: int = 25,
    rule: Rule = "equal",
    minimum_spacing: Decimal | None = None,
    earlier: FlowProfile | None = None,
    timing: Timing = USUAL_TIMING,
) -> Plan:
    """Lay out verticals between the edges of water by one of the rules of this module.

    Args:
        left: Tape position of the left edge, facing downstream; all lengths are in `unit`.
        right: Tape position of the right edge, smaller or larger than `left`.
        unit: The unit of every length here.
        resolution: The smallest graduation that is read.
        verticals: How many verticals are wanted, 1 to 500; a plan may have to do with fewer.
        rule: How they are spread.
        minimum_spacing: The least distance between neighbouring verticals; without it they may
            stand on every graduation.
        earlier: The spread of flow at an earlier visit: needed by `equal-flow`; with any rule it
            gives the expected shares.
        timing: How long a vertical takes.

    Raises:
        InputRefused: A number that makes no sense, edges without a graduation between them, or
            `equal-flow` without an earlier gauging.
    """
    tape = _tape(left, right, unit, resolution, minimum_spacing)
    if not 1 <= verticals <= MOST_VERTICALS:
        raise _refused(f"verticals must be 1 to {MOST_VERTICALS} in number (got {verticals})")
    if rule not in RULES:
        raise _refused(f"the rule must be one of {', '.join(RULES)} (got {rule})")
    layout = _LAYOUTS[rule](tape, verticals, earlier)
    positions = [tape.position(i) for i in _settled(layout.wanted, tape)]
    widths = _panel_widths([left, *positions, right])
    shares = _expected_shares([left, *positions, right], widths, earlier)
    stations = tuple(map(PlannedVertical, positions, widths[1:-1], shares[1:-1]))
    return Plan(
        rule=rule,
        unit=unit,
        edges=(PlannedEdge("left", left, widths[0]), PlannedEdge("right", right, widths[-1])),
        stations=stations,
        interval=tape.length(layout.interval) if layout.interval is not None else None,
        expected_seconds=timing.seconds(len(stations)),
        remarks=(
            *layout.remarks,
            *(earlier.remarks if earlier is not None else ()),
            *_spacing_remarks(stations, tape, minimum_spacing),
            *_share_remarks(stations, unit),
            f"Time: {timing.moving_seconds:g} s a vertical for moving and setting, and "
            f"{timing.crossing_seconds:g} s for edges and crossing, are assumed.",
        ),
    )


@attrs.frozen
class _Tape:
    """The tape between the edges, counted in graduations that grow from left to right."""

    start: Fraction
    end: Fraction
    step: int  # the fewest graduations between neighbouring verticals
    sign: int  # -1 when the tape's zero is on the right bank
    resolution: Decimal
    unit: LengthUnit
    limit: str  # what sets the step, in words

    @property
    def width(self) -> Fraction:
        return self.end - self.start

    @property
    def first(self) -> int:
        """The first graduation inside the left edge."""
        return math.floor(self.start) + 1

    @property
    def last(self) -> int:
        """The last graduation inside the right edge."""
        return math.ceil(self.end) - 1

    @property
    def room(self) -> int:
        """How many verticals at most keep the step."""
        return (self.last - self.first) // self.step + 1

    def position(self, graduation: int) -> Decimal:
        return self.sign * graduation * self.resolution

    def length(self, graduations: Fraction) -> Decimal:
        return round(graduations * 100) * self.resolution / 100

    def words(self, graduations: Fraction) -> str:
        return _words(self.length(graduations), self.unit)


def _tape(
    left: Decimal, right: Decimal, unit: LengthUnit, resolution: Decimal, spacing: Decimal | None
) -> _Tape:
    metres_per(unit)  # refuses a unit that it does not know
    lengths = {"left edge": left, "right edge": right, "tape's resolution": resolution}
    lengths |= {} if spacing is None else {"minimum spacing": spacing}
    faults = [
        Fault(f"the {name} must be a length below 1000000 with at most 6 decimals (got {value})")
        for name, value in lengths.items()
        if not _is_readable(value)
    ]
    if faults:
        raise InputRefused(faults)
    if resolution <= 0 or (spacing is not None and spacing <= 0):
        raise _refused("the tape's resolution and the minimum spacing must be above 0")
    sign = 1 if right > left else -1
    tape = _Tape(
        start=sign * Fraction(left) / Fraction(resolution),
        end=sign * Fraction(right) / Fraction(resolution),
        step=max(1, math.ceil(Fraction(spacing or 0) / Fraction(resolution))),
        sign=sign,
        resolution=resolution,
        unit=unit,
        limit=f"the minimum spacing {_words(spacing, unit)}"
        if spacing is not None and spacing > resolution
        else f"the tape, read to {_words(resolution, unit)},",
    )
    if tape.last < tape.first:
        raise _refused(
            f"there must be a graduation of the tape between the edges (got {_words(left, unit)} "
            f"and {_words(right, unit)} on a tape read to {_words(resolution, unit)})"
        )
    return tape


def _is_readable(length: Decimal) -> bool:
    exponent = length.as_tuple().exponent
    # A bound on the exponent first: 1e-999999999 as a fraction would fill the memory.
    if not isinstance(exponent, int) or abs(exponent) > _MOST_DIGITS or abs(length) >= _MOST_LENGTH:
        return False
    return (Fraction(length) * 10**_DECIMALS).denominator == 1


@attrs.frozen
class _Layout:
    wanted: Sequence[Fraction]  # positions in graduations, not yet on any
    interval: Fraction | None
    remarks: tuple[str, ...]


def _equal(tape: _Tape, n: int, _: FlowProfile | None) -> _Layout:
    fewer = _at_least_one(n, min(math.floor(tape.width / tape.step) - 1, tape.room))
    interval = tape.width / (fewer + 1)
    wanted = [tape.start + k * interval for k in range(1, fewer + 1)]
    return _Layout(wanted, interval, _fewer_remark(tape, n, fewer, tape.width / (n + 1)))


def _cell_centres(tape: _Tape, n: int, _: FlowProfile | None) -> _Layout:
    fewer = _at_least_one(n, min(math.floor(tape.width / tape.step), tape.room))
    cell = tape.width / fewer
    wanted = [tape.start + (k + Fraction(1, 2)) * cell for k in range(fewer)]
    return _Layout(wanted, cell, _fewer_remark(tape, n, fewer, tape.width / n))


def _skip_first_cell(tape: _Tape, n: int, _: FlowProfile | None) -> _Layout:
    interval = max(_nearest_outward(tape.width / n), tape.step)
    first = _nearest_outward(tape.start + Fraction(3 * interval, 2))
    wanted = [Fraction(i) for i in range(first, tape.last + 1, interval)]
    if not wanted:
        middle = (tape.start + tape.end) / 2
        narrow = (
            f"{tape.words(tape.width)} of water have no room for one and a half intervals of "
            f"{tape.words(Fraction(interval))}: a single vertical stands in the middle."
        )
        return _Layout([middle], None, (narrow,))
    unread = (
        f"Nothing is read in the first {tape.words(first - tape.start)} from the left edge: common "
        "practice where that water is too shallow for the meter."
    )
    count: tuple[str, ...] = ()
    if tape.width / n < tape.step:
        count = _fewer_remark(tape, n, len(wanted), tape.width / n)
    elif len(wanted) != n:
        count = (f"Whole intervals give {len(wanted)} verticals; {n} were asked for.",)
    return _Layout(wanted, Fraction(interval), (*count, unread))


def _equal_flow(tape: _Tape, n: int, earlier: FlowProfile | None) -> _Layout:
    if earlier is None:
        raise _refused("equal shares of flow need an earlier gauging of the site")
    fewer = _at_least_one(n, tape.room)
    places = earlier.middles_of_equal_shares(fewer)
    wanted = [tape.start + Fraction(place) * tape.width for place in places]
    return _Layout(wanted, None, _fewer_remark(tape, n, fewer, tape.width / n))


_LAYOUTS: Final[Mapping[Rule, Callable[[_Tape, int, FlowProfile | None], _Layout]]] = {
    "equal": _equal,
    "cell-centres": _cell_centres,
    "skip-first-cell": _skip_first_cell,
    "equal-flow": _equal_flow,
}


def _at_least_one(asked: int, allowed: int) -> int:
    return max(1, min(asked, allowed))


def _settled(wanted: Sequence[Fraction], tape: _Tape) -> list[int]:
    """The graduations nearest to what is wanted, inside the edges and a step or more apart.

    Taking k steps off the k-th position turns "a step apart" into "never falling"; neighbours that
    fall are pooled at their mean, which moves them least in the sense of least squares.
    """
    pools: list[tuple[Fraction, int]] = []
    for k, position in enumerate(wanted):
        total, count = position - k * tape.step, 1
        while pools and pools[-1][0] * count >= total * pools[-1][1]:
            total, count = total + pools[-1][0], count + pools[-1][1]
            pools.pop()
        pools.append((total, count))
    levels = [total / count for total, count in pools for _ in range(count)]
    highest = tape.last - (len(wanted) - 1) * tape.step
    return [
        min(max(_nearest(level), tape.first), highest) + k * tape.step
        for k, level in enumerate(levels)
    ]


def _nearest(value: Fraction) -> int:
    """The nearest whole number; of two equally near, the one closer to the left edge."""
    return math.ceil(value - Fraction(1, 2))


def _nearest_outward(value: Fraction) -> int:
    """The nearest whole number; of two equally near, the one further from the left edge."""
    return math.floor(value + Fraction(1, 2))


def _panel_widths(tape: Sequence[Decimal]) -> list[Decimal]:
    """Half the distance between both neighbours; at the ends, half the distance to the one."""
    around = [tape[0], *tape, tape[-1]]
    return [abs(after - before) / 2 for before, after in zip(around, around[2:], strict=False)]


def _expected_shares(
    tape: Sequence[Decimal], widths: Sequence[Decimal], earlier: FlowProfile | None
) -> list[float | None]:
    """What percentage each panel would carry if the flow were spread as it was then."""
    if earlier is None:
        return [None] * len(tape)
    across = [float((place - tape[0]) / (tape[-1] - tape[0])) for place in tape]
    flows = [earlier.at(x) * float(width) for x, width in zip(across, widths, strict=True)]
    total = math.fsum(flows)
    return [100.0 * flow / total if total > 0.0 else None for flow in flows]


def _summed_up(x: Sequence[float], y: Sequence[float]) -> list[float]:
    """The area under straight lines through the points, from the first point to each."""
    areas = [0.0]
    for (x0, x1), (y0, y1) in zip(pairwise(x), pairwise(y), strict=True):
        areas.append(areas[-1] + (x1 - x0) * (y0 + y1) / 2.0)
    return areas


def _fewer_remark(tape: _Tape, asked: int, given: int, needed: Fraction) -> tuple[str, ...]:
    if given >= asked:
        return ()
    rough = Decimal(f"{float(needed * Fraction(tape.resolution)):.2g}")
    return (
        f"For {asked} verticals in {tape.words(tape.width)} a vertical every "
        f"{_words(rough, tape.unit)} would be needed; {tape.limit} allows {given}.",
    )


def _spacing_remarks(
    stations: Sequence[PlannedVertical], tape: _Tape, spacing: Decimal | None
) -> tuple[str, ...]:
    gaps = [abs(b.tape - a.tape) for a, b in pairwise(stations)]
    if spacing is not None or not gaps:
        return ()
    closest = float(min(gaps)) * metres_per(tape.unit)
    if closest > _LARGE_METER_SPACING_M - 1e-9:
        return ()
    meters = "0.5 ft (0.15 m) for a large rotating meter"
    if closest < _SMALL_METER_SPACING_M - 1e-9:
        meters = f"0.3 ft (0.09 m) for a small rotating meter, {meters}"
    return (
        f"No minimum spacing is set and verticals come as close as "
        f"{_words(min(gaps), tape.unit)}; published minimum: {meters}.",
    )


def _share_remarks(stations: Sequence[PlannedVertical], unit: LengthUnit) -> tuple[str, ...]:
    if len(stations) < 10:
        return (
            "With fewer than 10 verticals at least one panel carries more than 10 % of the flow.",
        )
    largest = max(stations, key=lambda station: station.share_expected or 0.0)
    if largest.share_expected is None:
        return (
            "Equal distances are not equal shares: no panel should carry more than 10 % of the "
            "flow (better 5 %), so more verticals may be wanted where it is deep and fast.",
        )
    if largest.share_expected <= 10.0:
        return ()
    return (
        f"If the flow is spread as it was, the panel at {_words(largest.tape, unit)} carries "
        f"{largest.share_expected:.0f} %; no panel should carry more than 10 %.",
    )


def _words(length: Decimal, unit: LengthUnit) -> str:
    return f"{length.normalize():f} {unit}"


def _refused(message: str) -> InputRefused:
    return InputRefused([Fault(message)])
