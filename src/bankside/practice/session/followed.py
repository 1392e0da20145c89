"""A session followed from its first act to its last: what each shows, and how things stand.

The same session gives the same figures in every process: whatever is random is drawn from the
stream, its seed, the section and the place of the act.
"""

from __future__ import annotations

import math
import random
from collections.abc import Callable, Mapping
from typing import Final

import attrs

from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.rod import ABOVE_BED
from bankside.gauging.units import metres_per_second_per
from bankside.practice.instruments import rounded
from bankside.practice.parameters import seeded
from bankside.practice.session.act import Act, Doing, Session
from bankside.practice.session.display import running_means, second_means
from bankside.practice.session.reach import Candidate, Reach, make_reach
from bankside.practice.session.shown import (
    Shown,
    ShownDepth,
    ShownEdge,
    ShownPoint,
    ShownStage,
)
from bankside.practice.session.water import Water

__all__ = ["Followed", "follow"]

# Seconds that acts take beside the exposure (assumed); clearing has the water settle again.
_COSTS: Final[Mapping[Doing, float]] = {
    **{"choose": 60.0, "clear": 600.0, "stretch": 120.0, "stage": 15.0},
    **{"edge": 20.0, "sound": 10.0, "hold": 15.0},
    "stay out": 0.0,
}
# What nobody does from the bank. A tape may be hung by somebody who walks around.
_IN_THE_WATER: Final[frozenset[Doing]] = frozenset({"clear", "sound", "hold"})
# What a reader who stands close upstream leaves of the velocity (assumed).
_IN_THE_LEE: Final = 0.85
# Less water covers no meter, in m (assumed).
_COVERED: Final = 0.03
_METER_SHOWS: Final = 0.001
_ROD_SWING: Final = 20
_HALF_SECOND: Final = 0.5
_ZERO_STAGE: Final = 0.5
_ANGLE_READ: Final = 5.0
_NEAREST: Final = 0.02
_READ: Final = (ShownDepth, ShownPoint)


@attrs.define(eq=False)
class Followed:
    """How a session stands: where, since when, and what every act has shown (None: nothing).

    `cleared_late` says whether stones were moved after something had been read.
    """

    session: Session
    reach: Reach
    section: Candidate | None = None
    cleared: bool = False
    cleared_late: bool = False
    skew: float | None = None
    seconds: float = 0.0
    shown: list[Shown | None] = attrs.field(factory=list)
    waters: list[Water | None] = attrs.field(factory=list)
    counted: list[float] = attrs.field(factory=list)

    @property
    def water(self) -> Water | None:
        """The water at the section as it is now, None before one was chosen."""
        if self.section is None:
            return None
        return self.section.cleared if self.cleared else self.section.water

    def gauge_at(self, seconds: float) -> float:
        """Return what the staff gauge shows at a second of the session, in m; before it below 0."""
        return rounded(_ZERO_STAGE + self.reach.sections[0].water.rise * seconds, _METER_SHOWS)

    @property
    def went_in(self) -> bool:
        """Whether anybody was in the water."""
        return any(act.do in _IN_THE_WATER for act in self.session.acts)

    @property
    def stayed_out(self) -> bool:
        """Whether the last word was to stay out, and nobody was in the water after it."""
        doing = [act.do for act in self.session.acts]
        if "stay out" not in doing:
            return False
        since = doing[len(doing) - doing[::-1].index("stay out") :]
        return not _IN_THE_WATER.intersection(since)

    @property
    def measured_from(self) -> float:
        """The second of the first reading, 0 where there is none."""
        return min(self.readings_at, default=0.0)

    @property
    def measured_to(self) -> float:
        """The second of the last reading, 0 where there is none."""
        return max(self.readings_at, default=0.0)

    @property
    def readings_at(self) -> list[float]:
        """The seconds at which a depth or a velocity was read, in order."""
        return [one.at for one in self.shown if isinstance(one, _READ)]


def follow(session: Session) -> Followed:
    """Return a session with everything that it shows.

    InputRefused where an act cannot be done, such as a reading before the tape hangs.
    """
    followed = Followed(session, make_reach(session.stream, session.seed))
    for place, act in enumerate(session.acts):
        try:
            followed.shown.append(_DOING[act.do](followed, act, place))
        except InputRefused as error:
            inside = [fault.inside(place).inside("acts") for fault in error.faults]
            raise InputRefused(inside) from None
        followed.waters.append(followed.water)
    return followed


def _choose(followed: Followed, act: Act, place: int) -> None:
    names = [one.name for one in followed.reach.sections]
    if act.section not in names:
        raise _refused(
            f'section must be one of {", ".join(names)} (got "{act.section}")', "section"
        )
    followed.section = followed.reach.section(act.section)
    followed.cleared, followed.skew = False, None
    followed.seconds += _COSTS[act.do]


def _clear(followed: Followed, act: Act, place: int) -> None:
    _required_water(followed)
    followed.cleared = True
    followed.cleared_late |= bool(followed.readings_at)
    followed.seconds += _COSTS[act.do]


def _stretch(followed: Followed, act: Act, place: int) -> None:
    _required_water(followed)
    followed.skew = act.skew
    followed.seconds += _COSTS[act.do]


def _stage(followed: Followed, act: Act, place: int) -> ShownStage:
    _required_water(followed)
    followed.seconds += _COSTS[act.do]
    return ShownStage(followed.seconds, followed.gauge_at(followed.seconds))


def _stay_out(followed: Followed, act: Act, place: int) -> None:
    """Nothing shows: what was decided is said in the debrief."""


def _edge(followed: Followed, act: Act, place: int) -> ShownEdge:
    water, _ = _required_tape(followed)
    followed.seconds += _COSTS[act.do]
    stream, stretches = water.stream, water.stream.wet_stretches
    left = act.side == "left"
    y = stretches[0][0] if left else stretches[-1][1]
    at_bank = y == (stream.left if left else stream.right)
    bank = (stream.left_bank if left else stream.right_bank) if at_bank else "sloping"
    depth = 0.0 if bank == "sloping" else water.depth_at(y, followed.seconds)
    assert act.side is not None
    tape = rounded(_tape_of(followed, y), _NEAREST)
    return ShownEdge(followed.seconds, act.side, tape, rounded(depth, _NEAREST / 2), bank, y)


def _sound(followed: Followed, act: Act, place: int) -> ShownDepth:
    assert act.tape is not None
    water, y = _placed(followed, act.tape)
    followed.seconds += _COSTS[act.do]
    depth, rng = water.depth_at(y, followed.seconds), _rng(followed, place)
    reach = min(water.ripple_at(y), 0.5 * depth)
    slow, fast = 6.0 * rng.random(), 6.0 * rng.random()
    swing = tuple(
        round(depth + 0.5 * reach * (math.sin(0.9 * t + slow) + math.sin(2.3 * t + fast)), 4)
        for t in (_HALF_SECOND * i for i in range(_ROD_SWING))
    )
    return ShownDepth(followed.seconds, act.tape, depth, depth - reach, depth + reach, swing, y)


def _hold(followed: Followed, act: Act, place: int) -> ShownPoint:
    assert act.tape is not None and act.fraction is not None and act.seconds is not None
    water, y = _placed(followed, act.tape)
    followed.seconds += _COSTS[act.do]
    at, seconds = followed.seconds, int(act.seconds)
    followed.seconds += seconds
    depth = water.depth_at(y, at)
    held = act.fraction if act.setting is None else _held(act.setting, depth)
    meant, true = (water.speed_at(y, part, at) if depth else 0.0 for part in (act.fraction, held))
    swings = second_means(_rng(followed, place), water.stream.fluctuations(y), seconds)
    deviation = sum(swings) / seconds
    gain = math.cos(math.radians(act.facing)) / metres_per_second_per(act.unit)
    gain *= _IN_THE_LEE if act.stance == "close upstream" else 1.0
    if act.restarted:
        followed.counted.clear()
    before = len(followed.counted)
    followed.counted += [(true + swing) * gain for swing in swings]
    means = running_means(followed.counted)[before:]
    display = tuple(rounded(mean, _METER_SHOWS) for mean in means) if depth >= _COVERED else ()
    angle = water.stream.angle_at(y)
    skew = followed.skew or 0.0
    return ShownPoint(
        *(at, act.tape, act.fraction, held, seconds, display),
        *(display[-1] if display else None, gain, meant, true, deviation),
        *(angle, rounded(angle + skew, _ANGLE_READ), y),
    )


def _held(setting: float, depth: float) -> float:
    """Return where in the depth a top-setting rod holds the meter."""
    above = float(ABOVE_BED) * setting
    return min(1.0, max(0.0, 1.0 - above / depth)) if depth > 0.0 else 0.0


def _placed(followed: Followed, tape: float) -> tuple[Water, float]:
    """Return the water and the true place of a tape mark."""
    water, skew = _required_tape(followed)
    left = water.stream.left
    return water, left + (tape - left) * math.cos(math.radians(skew))


def _tape_of(followed: Followed, y: float) -> float:
    water, skew = _required_tape(followed)
    left = water.stream.left
    return left + (y - left) / math.cos(math.radians(skew))


def _required_water(followed: Followed) -> Water:
    if followed.water is None:
        raise _refused("a section must be chosen before anything is done at it", "do")
    return followed.water


def _required_tape(followed: Followed) -> tuple[Water, float]:
    water = _required_water(followed)
    if followed.skew is None:
        raise _refused("the tape must be stretched before anything is read at it", "do")
    return water, followed.skew


def _refused(message: str, path: str) -> InputRefused:
    return InputRefused([Fault(message, path=path)])


def _rng(followed: Followed, place: int) -> random.Random:
    section = followed.section.name if followed.section else ""
    session = followed.session
    return seeded("session", session.stream, session.seed, section, place)


_DOING: Final[Mapping[Doing, Callable[[Followed, Act, int], Shown | None]]] = {
    "choose": _choose,
    "clear": _clear,
    "stretch": _stretch,
    "stage": _stage,
    "edge": _edge,
    "sound": _sound,
    "hold": _hold,
    "stay out": _stay_out,
}
