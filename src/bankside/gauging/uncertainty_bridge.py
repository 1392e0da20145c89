"""The uncertainty of a discharge by a process that is pinned at the readings, ours."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence

import attrs

from bankside.gauging.bridge import CHARACTERS, Bridge, Line, bridge_over
from bankside.gauging.budget import Budget, BudgetPart
from bankside.gauging.notes import Note, sentences
from bankside.gauging.records import Gauging
from bankside.gauging.result import VerticalResult
from bankside.gauging.uncertainty_flow import Assumed, Flow, width_part
from bankside.gauging.uncertainty_points import ReadPanel, read_panels
from bankside.gauging.units import metres_per
from bankside.kernel.bridge import mixture_half_width, shared_variance
from bankside.kernel.section import STANDARD_GRAVITY

__all__ = ["bridge_budget", "bridge_of"]

_METHOD = "Bridge between verticals (ours: docs/uncertainty.md)"

# All of these are assumed (docs/uncertainty.md says how they were chosen): standard deviations.
_DEPTH_READING_M = 0.006  # a depth as read and rounded, each for itself
_ROD_M = 0.006  # all depths together: a rod that sinks in or stands on stones
_PILE_UP = 0.2  # part of the velocity head that all depths may be too large by
_CALIBRATION = 0.01  # the meter's calibration, over the velocity
_ZERO_MS = 0.004  # the meter's zero
_PROFILE_COMMON = 0.015  # the vertical profile of the whole section, over the velocity
# Of one vertical read at one point, over its velocity: on smooth beds, and more with the root of
# roughness. ISO 748:2007, annex E has 7.5 % for one point and 3.5 % for two (from memory).
_PROFILE_SMOOTH, _PROFILE_ROUGH = 0.02, 0.10
_TWO_POINTS = 3.5 / 7.5
# Verticals nearer than this share the eddies that make a profile differ: in mean depths.
_PROFILE_LENGTH = 1.25
# A velocity that stands for one that was not read, at a wall: over itself.
_STANDS_IN = 0.2


@attrs.frozen
class _Station:
    """A station as it enters: what it carries on a width of 1 m, and how it was read."""

    tape_m: float
    depth_m: float
    velocity_ms: float
    panel_m: float
    read: ReadPanel | None
    measured: bool

    @property
    def unit_discharge(self) -> float:
        return self.depth_m * self.velocity_ms

    @property
    def reading_variance(self) -> float:
        """By exposure and depth, each station by itself, in m⁴/s²."""
        if self.depth_m == 0.0:
            return 0.0
        if not self.measured:
            return (_STANDS_IN * self.unit_discharge) ** 2
        exposure = 0.0
        if self.read is not None:
            exposure = self.read.exposure_percent / 100.0 / math.sqrt(self.read.points)
        by_depth = _DEPTH_READING_M * self.velocity_ms
        return (exposure * self.unit_discharge) ** 2 + by_depth * by_depth

    @property
    def profile_share(self) -> float:
        """How much of one point's departure from the mean of the vertical counts here."""
        if self.read is None or self.read.points < 2:
            return 1.0
        return _TWO_POINTS


def bridge_of(gauging: Gauging, flow: Flow, assumed: Assumed) -> Bridge | None:
    """Return what the readings tell of the water between them, None where nothing flows."""
    waters = _waters(gauging, flow, assumed)
    return _bridge(waters) if waters else None


def bridge_budget(gauging: Gauging, flow: Flow, assumed: Assumed) -> Budget | str:
    """Return the budget by what the readings tell of the water between them, or why there is none.

    Verticals whose velocity was not read tell nothing here: the water between their neighbours is
    one interval. One standard uncertainty is the root of the mean variance; the interval of 95 %
    holds so much of all that the readings leave possible, and is not twice the former.
    """
    waters = _waters(gauging, flow, assumed)
    if not waters:
        return "The bridge between verticals cannot be given: no vertical with flow was read."
    bridge = _bridge(waters)
    total = abs(flow.total)
    parts = [
        BudgetPart(
            "between verticals",
            100.0 * math.sqrt(bridge.variance) / total,
            f"what {flow.counts} verticals leave open; their readings make the bed "
            f"{_rough_word(bridge.roughness)} (roughness {bridge.roughness:.2g})",
        ),
        *_reading_parts(waters, total),
        _profile_part(waters, bridge, total),
        width_part(flow, assumed),
        *_common_parts(waters, total),
    ]
    others = [part for part in parts if part.name not in ("between verticals", "vertical profile")]
    fixed = math.fsum((part.percent / 100.0 * total) ** 2 for part in others)
    unit = _profile_variance(waters)
    deviations = [
        math.sqrt(between + fixed + _profile(one.roughness) ** 2 * unit)
        for one, between in zip(CHARACTERS, bridge.variances, strict=True)
    ]
    return Budget(
        key="bridge",
        method=_METHOD,
        parts=tuple(parts),
        standard_percent=math.sqrt(math.fsum(part.percent**2 for part in parts)),
        expanded_percent=100.0 / total * mixture_half_width(bridge.weights, deviations, 0.95),
        two_thirds_percent=100.0 / total * mixture_half_width(bridge.weights, deviations, 0.68),
        remarks=sentences([*flow.notes, *_notes(waters)], gauging.units),
    )


def _bridge(waters: Sequence[Sequence[_Station]]) -> Bridge:
    return bridge_over(
        [
            Line(
                tuple(one.tape_m for one in water),
                tuple(one.unit_discharge for one in water),
                tuple(one.reading_variance for one in water),
            )
            for water in waters
        ]
    )


def _waters(gauging: Gauging, flow: Flow, assumed: Assumed) -> list[list[_Station]]:
    """Return the stations of each stretch of water that flows, those that were read."""
    read = {
        (one.panel.channel, one.panel.vertical): one
        for one in read_panels(gauging, flow.panels, assumed)[0]
    }
    metres = metres_per(gauging.units.length)
    waters = (list(_as_read(stretch.stations, read, metres)) for stretch in flow.stretches)
    return [water for water in waters if any(one.unit_discharge for one in water)]


def _as_read(
    stations: Sequence[VerticalResult],
    read: Mapping[tuple[int, int], ReadPanel],
    metres: float,
) -> Iterator[_Station]:
    last = len(stations) - 1
    kept = [
        station
        for i, station in enumerate(stations)
        if i in (0, last) or station.measured or station.depth_m == 0.0
    ]
    for i, station in enumerate(kept):
        low, high = kept[max(i - 1, 0)], kept[min(i + 1, len(kept) - 1)]
        yield _Station(
            tape_m=station.tape * metres,
            depth_m=station.depth_m,
            velocity_ms=station.velocity_ms,
            panel_m=abs(high.tape - low.tape) * metres / 2.0,
            read=read.get((station.channel, station.vertical)),
            measured=station.measured,
        )


def _reading_parts(waters: Sequence[Sequence[_Station]], total: float) -> Iterator[BudgetPart]:
    variance = math.fsum(
        (one.panel_m**2) * one.reading_variance for water in waters for one in water
    )
    yield BudgetPart(
        "readings",
        100.0 * math.sqrt(variance) / total,
        "exposure by ISO 748:2007, annex E (from memory), depths read to "
        f"{_DEPTH_READING_M * 1e3:g} mm (assumed), each vertical by itself",
    )


def _profile(roughness: float) -> float:
    return _PROFILE_SMOOTH + _PROFILE_ROUGH * math.sqrt(roughness)


def _profile_variance(waters: Sequence[Sequence[_Station]]) -> float:
    """Return the variance for profiles that depart by as much as the velocity, in m⁶/s²."""
    variance = 0.0
    for water in waters:
        area = math.fsum(one.panel_m * one.depth_m for one in water)
        width = math.fsum(one.panel_m for one in water)
        variance += shared_variance(
            [one.tape_m for one in water],
            [abs(one.panel_m * one.unit_discharge * one.profile_share) for one in water],
            _PROFILE_LENGTH * area / width,
        )
    return variance


def _profile_part(waters: Sequence[Sequence[_Station]], bridge: Bridge, total: float) -> BudgetPart:
    square = bridge.mean([_profile(one.roughness) ** 2 for one in CHARACTERS])
    return BudgetPart(
        "vertical profile",
        100.0 * math.sqrt(square * _profile_variance(waters)) / total,
        f"{100.0 * math.sqrt(square):.2g} % a vertical at one point, less than half at two (after "
        "ISO 748:2007, annex E, from memory); verticals nearer than the depth err together "
        "(assumed)",
    )


def _common_parts(waters: Sequence[Sequence[_Station]], total: float) -> Iterator[BudgetPart]:
    """Yield what is common to all verticals: no number of them makes it less."""
    all_ = [one for water in waters for one in water]
    by_depth = math.fsum(one.panel_m * abs(one.velocity_ms) for one in all_)
    by_velocity = math.fsum(one.panel_m * one.depth_m for one in all_)
    head = math.fsum(
        one.panel_m * abs(one.velocity_ms) ** 3 / (2.0 * STANDARD_GRAVITY) for one in all_
    )
    rod = math.hypot(_ROD_M * by_depth, _PILE_UP * head)
    yield BudgetPart(
        "rod",
        100.0 * rod / total,
        f"all depths {_ROD_M * 1e3:g} mm too large or small, as a rod sinks in or stands on "
        f"stones, and {_PILE_UP:g} of the velocity head (assumed)",
    )
    yield BudgetPart(
        "meter's zero",
        100.0 * _ZERO_MS * by_velocity / total,
        f"{_ZERO_MS * 1e3:g} mm/s at all verticals (assumed)",
    )
    yield BudgetPart(
        "systematic",
        100.0 * math.hypot(_CALIBRATION, _PROFILE_COMMON),
        f"{100 * _CALIBRATION:g} % for the meter's calibration and {100 * _PROFILE_COMMON:g} % for "
        "the vertical profile, the same at all verticals (assumed)",
    )


# Where roughness begins to show, and where it rules (ours): the fitted figures between those of
# smooth runs and of pocket water.
_SOME, _MUCH = 0.1, 0.4


def _rough_word(roughness: float) -> str:
    if roughness < _SOME:
        return "smooth"
    return "uneven" if roughness < _MUCH else "rough"


def _notes(waters: Sequence[Sequence[_Station]]) -> Iterator[Note]:
    yield Note(
        "The interval holds all that the readings leave possible, and how often it held the true "
        "discharge of simulated streams is in docs/uncertainty.md."
    )
    unread = sum(not one.measured and one.depth_m > 0.0 for water in waters for one in water)
    if unread:
        yield Note(
            "The velocity at an edge of water with depth was not read: it counts as uncertain by "
            f"{100 * _STANDS_IN:g} %."
        )
