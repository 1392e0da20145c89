"""What a plan has to say besides its positions: what was assumed, and what to look out for."""

import math
from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction
from itertools import pairwise
from typing import Final, Protocol

from bankside.gauging.flow_profile import FlowProfile
from bankside.gauging.plan_rules import MOST_VERTICALS, Rule
from bankside.gauging.plan_timing import Timing
from bankside.gauging.share_limits import SHARE_AIM, SHARE_LIMIT, above
from bankside.gauging.tape_marks import Tape, length_in_words, nearest
from bankside.gauging.units import LengthUnit, metres_per

__all__ = [
    "earlier_remarks",
    "even_steps_remarks",
    "share_remarks",
    "spacing_remarks",
    "timing_remark",
]

# HYDRO21676, p. 31: 0.3 ft for the small rotating meter, 0.5 ft for the large one. In metres they
# are taken as they are printed, so that 0.15 m is not said to be closer than "0.15 m".
_SMALL_METER_SPACING_M: Final = 0.09
_LARGE_METER_SPACING_M: Final = 0.15
_SMALL_METER_WORDS: Final = "0.3 ft (0.09 m) for a small rotating meter"
_LARGE_METER_WORDS: Final = "0.5 ft (0.15 m) for a large rotating meter"
# Ours, no source: an earlier width that differs by more than a fifth may be another section.
_OTHER_WIDTH: Final = 1.2
# Ours, no source: how far from the number asked for another number is still worth proposing.
_OTHER_NUMBER: Final = Fraction(1, 4)
# Ours, no source: with so few verticals, moving some closer leaves the others too much.
_FEW: Final = 15


def earlier_remarks(
    earlier: FlowProfile | None, rule: Rule, tape: Tape, stands: Sequence[Decimal]
) -> tuple[str, ...]:
    """Return what must be known about an earlier gauging before its spread is relied on.

    `stands` are the tape positions of the plan from the left edge to the right one.
    """
    if earlier is None:
        return ()
    remarks = []
    if not earlier.banks_known:
        remarks.append(
            "The earlier gauging does not say which bank is which: its lowest tape position is "
            "taken as the left one."
        )
    remarks.extend(_width_remarks(earlier, abs(stands[-1] - stands[0]), tape.unit))
    remarks.extend(_dry_remarks(earlier, tape, stands))
    if min(earlier.flow_per_width) < 0.0:
        remarks.append(_upstream_remark(earlier, rule))
    return tuple(remarks)


def _width_remarks(earlier: FlowProfile, width: Decimal, unit: LengthUnit) -> tuple[str, ...]:
    if earlier.width_m is None:
        return ()
    then = earlier.width_m / metres_per(unit)
    if 1 / _OTHER_WIDTH <= then / float(width) <= _OTHER_WIDTH:
        return ()
    return (
        f"The water was {then:.3g} {unit} wide at the earlier gauging and is "
        f"{length_in_words(width, unit)} wide now; its flow is stretched to that. Is it the same "
        "section, and the same unit?",
    )


def _dry_remarks(earlier: FlowProfile, tape: Tape, stands: Sequence[Decimal]) -> tuple[str, ...]:
    left, width = Fraction(stands[0]), Fraction(stands[-1] - stands[0])
    stretches = []
    inside = 0
    for ends in earlier.dry:
        marks = sorted(
            nearest((left + Fraction(x) * width) / Fraction(tape.resolution)) * tape.resolution
            for x in ends
        )
        inside += sum(marks[0] < position < marks[1] for position in stands[1:-1])
        stretches.append(" to ".join(length_in_words(mark, tape.unit) for mark in marks))
    if not stretches:
        return ()
    count = {0: "No vertical stands", 1: "1 vertical stands"}.get(
        inside, f"{inside} verticals stand"
    )
    return (
        f"At the earlier gauging the bed was dry from about {' and from '.join(stretches)} on "
        f"today's tape. {count} there: where it is dry again, read both edges of the dry bed with "
        "depth 0 instead.",
    )


def _upstream_remark(earlier: FlowProfile, rule: Rule) -> str:
    if max(earlier.flow_per_width) <= 0.0:
        return (
            "In the earlier gauging all water ran upstream: please check the signs of its "
            "velocities. Shares are those of its amount."
        )
    if rule == "equal-flow":
        return (
            "In the earlier gauging some water ran upstream; it counts by its amount, since it has "
            "to be measured as well."
        )
    return "In the earlier gauging some water ran upstream; a share below 0 is expected there."


def even_steps_remarks(
    rule: Rule, tape: Tape, stands: Sequence[Decimal], spacing: Decimal | None
) -> tuple[str, ...]:
    """Return a number of verticals near the planned one that needs no rounding, if there is one.

    Even steps are easier to call in the water, and need no rounding of the panels. Unless a
    minimum `spacing` is set, none is proposed below the smaller published one, and where the
    larger one is not kept fewer verticals only.
    """
    gaps = [abs(after - before) for before, after in pairwise(stands[1:-1])]
    if rule not in ("equal", "cell-centres") or not gaps or min(gaps) == max(gaps):
        return ()
    n = len(gaps) + 1
    fewer = more = math.floor(n * _OTHER_NUMBER)
    if spacing is None and _is_closer(min(gaps), _LARGE_METER_SPACING_M, tape.unit):
        more = 0
    for number in sorted(range(n - fewer, n + more + 1), key=lambda m: (abs(m - n), -m)):
        step = _even_step(rule, tape, number)
        if step is None:
            continue
        length = tape.length(step)
        if spacing is not None or not _is_closer(length, _SMALL_METER_SPACING_M, tape.unit):
            return (
                f"Rounded to the tape, verticals are {length_in_words(min(gaps), tape.unit)} to "
                f"{length_in_words(max(gaps), tape.unit)} apart; {number} verticals "
                f"would be {tape.words(step)} apart throughout.",
            )
    return ()


def _even_step(rule: Rule, tape: Tape, number: int) -> Fraction | None:
    """The distance between so many verticals if all of them stand on graduations as wanted."""
    if not 1 < number <= MOST_VERTICALS:
        return None
    step = tape.width / (number + 1 if rule == "equal" else number)
    first = tape.start + (step if rule == "equal" else step / 2)
    fits = step.denominator == 1 and first.denominator == 1 and step >= tape.step
    return step if fits else None


def spacing_remarks(
    positions: Sequence[Decimal], unit: LengthUnit, spacing: Decimal | None
) -> tuple[str, ...]:
    """Return the published minimum if none is set and the verticals come closer."""
    gaps = [abs(b - a) for a, b in pairwise(positions)]
    if spacing is not None or not gaps:
        return ()
    if not _is_closer(min(gaps), _LARGE_METER_SPACING_M, unit):
        return ()
    meters = _LARGE_METER_WORDS
    if _is_closer(min(gaps), _SMALL_METER_SPACING_M, unit):
        meters = f"{_SMALL_METER_WORDS}, {meters}"
    return (
        f"No minimum spacing is set and verticals come as close as "
        f"{length_in_words(min(gaps), unit)}; published minimum: {meters}, with fewer verticals "
        "where there is no room.",
    )


def _is_closer(gap: Decimal, metres: float, unit: LengthUnit) -> bool:
    return float(gap) * metres_per(unit) < metres - 1e-9


class SharedPanel(Protocol):
    """A panel of a plan: where it stands, how wide it is, and which percentage is expected."""

    @property
    def tape(self) -> Decimal: ...
    @property
    def panel_width(self) -> Decimal: ...
    @property
    def share_expected(self) -> float | None: ...


def share_remarks(
    rule: Rule,
    tape: Tape,
    edges: Sequence[SharedPanel],
    verticals: Sequence[SharedPanel],
    spacing: Decimal | None,
) -> tuple[str, ...]:
    """Return what is to be said about the shares of the panels, largest and smallest.

    `spacing` is the minimum spacing if one is set.
    """
    if all(panel.share_expected is None for panel in verticals):
        return _unknown_shares_remarks(rule, len(verticals))
    over = [panel for panel in (*edges[:1], *verticals, *edges[1:]) if _is_over(panel)]
    remarks = _uneven_remarks(verticals, edges) if rule == "equal-flow" else ()
    if not over:
        return remarks
    if not any(panel in edges or _has_room(panel, tape, spacing) for panel in over):
        ending = f"but {_limit(tape, spacing)} leaves no room for verticals closer there."
    elif rule == "equal-flow" or len(verticals) < _FEW or 2 * len(over) >= len(verticals):
        ending = "so more verticals are wanted."
    else:
        ending = "so verticals are wanted closer there."
    return (f"{_over_remark(over, tape.unit)}, {ending}", *remarks)


def _is_over(panel: SharedPanel) -> bool:
    """Whether a panel carries more than the limit, in the figures in which shares are printed."""
    return above(_amount(panel), SHARE_LIMIT)


def _amount(panel: SharedPanel) -> float:
    return abs(panel.share_expected or 0.0)


def _has_room(panel: SharedPanel, tape: Tape, spacing: Decimal | None) -> bool:
    """Whether a neighbour of a vertical could come nearer by one graduation."""
    nearer = panel.panel_width - tape.resolution / 2
    if spacing is None and _is_closer(nearer, _SMALL_METER_SPACING_M, tape.unit):
        return False
    return nearer >= tape.step * tape.resolution


def _limit(tape: Tape, spacing: Decimal | None) -> str:
    closest = tape.step * tape.resolution
    if spacing is None and _is_closer(closest, _SMALL_METER_SPACING_M, tape.unit):
        return f"the published minimum of {_SMALL_METER_WORDS}"
    return tape.limit


def _over_remark(over: Sequence[SharedPanel], unit: LengthUnit) -> str:
    most = max(over, key=_amount)
    one = f"the panel at {length_in_words(most.tape, unit)} carries {most.share_expected:.1f} %"
    if len(over) == 1:
        return (
            f"If the flow is spread as it was, {one}; no panel should carry more than "
            f"{SHARE_LIMIT} %"
        )
    places = ", ".join(f"{panel.tape.normalize():f}" for panel in over)
    return (
        f"If the flow is spread as it was, {len(over)} panels carry more than {SHARE_LIMIT} %, "
        f"at {places} {unit}; {one}, the most; no panel should"
    )


def _uneven_remarks(
    verticals: Sequence[SharedPanel], edges: Sequence[SharedPanel]
) -> tuple[str, ...]:
    """Return why shares that should be equal are not: slow water keeps verticals (`plan_rules`)."""
    least = min(verticals, key=_amount)
    panels = (*edges, *verticals)
    mean = math.fsum(map(_amount, panels)) / float(sum(panel.panel_width for panel in panels))
    if len(verticals) == 1 or _amount(least) >= mean / 2 * float(least.panel_width):
        return ()
    return (
        "Shares are not all equal: water that carried less than half of the mean per width counts "
        "as half of it, so that slow water near the banks and dead water keep some verticals. The "
        f"smallest share is {least.share_expected:z.1f} %.",
    )


def _unknown_shares_remarks(rule: Rule, verticals: int) -> tuple[str, ...]:
    if verticals < 10:
        return (
            "With fewer than 10 verticals, and depth 0 at both edges, at least one panel carries "
            f"more than {SHARE_LIMIT} % of the flow; no panel should.",
        )
    if rule == "equal-flow":
        return ()
    return (
        f"Equal distances are not equal shares: no panel should carry more than {SHARE_LIMIT} % "
        f"of the flow (better {SHARE_AIM} %), so more verticals may be wanted where it is deep "
        "and fast.",
    )


def timing_remark(timing: Timing) -> str:
    """Return what is assumed about the time that nobody spends reading the meter."""
    return (
        f"Time: {timing.moving_seconds:g} s a vertical for moving and setting, and "
        f"{timing.crossing_seconds:g} s for edges and crossing, are assumed."
    )
