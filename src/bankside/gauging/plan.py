"""Where to stand: verticals laid out between two edges of water before the crew steps in.

A rule of `plan_rules` says where verticals are wanted. They are then brought to the nearest
graduations of the tape that keep the minimum spacing, each moving as little as the others allow.
The tape's zero may hang on either bank, and the crew may start from either bank. Panels follow the
half-width rule, edges included: USBR Water Measurement Manual, 3rd ed., ch. 10 sec. 15.
"""

import math
from collections.abc import Sequence
from decimal import Decimal

import attrs

from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.flow_profile import FlowProfile
from bankside.gauging.plan_remarks import (
    earlier_remarks,
    even_steps_remarks,
    share_remarks,
    spacing_remarks,
    timing_remark,
)
from bankside.gauging.plan_rules import MOST_VERTICALS, Rule, begins_at_the_start, lay_out
from bankside.gauging.plan_timing import USUAL_TIMING, Timing
from bankside.gauging.records import Edge
from bankside.gauging.tape_marks import on_graduations, tape_between
from bankside.gauging.units import LengthUnit

__all__ = ["Plan", "PlannedEdge", "PlannedVertical", "plan_verticals"]


@attrs.frozen
class PlannedEdge:
    """An edge of water as said; its panel reaches half way to the nearest vertical.

    `share_expected` in percent if an earlier gauging tells; above 0 only at a steep edge.
    """

    bank: Edge
    tape: Decimal
    panel_width: Decimal
    share_expected: float | None = None


@attrs.frozen
class PlannedVertical:
    """A vertical to be read; `share_expected` in percent if an earlier gauging tells."""

    tape: Decimal
    panel_width: Decimal
    share_expected: float | None = None


@attrs.frozen
class Plan:
    """Verticals from one edge of water to the other, as the crew meets them; lengths in `unit`.

    `edges` and `verticals` begin at the bank from which the crew starts. The panel widths of the
    edges and the verticals add up to the width between the edges exactly. `interval` is the even
    distance that was aimed at, to a hundredth of the tape's resolution; None where the rule has
    none. `remarks` say what could not be had and what was assumed.
    """

    rule: Rule
    unit: LengthUnit
    edges: tuple[PlannedEdge, PlannedEdge]
    verticals: tuple[PlannedVertical, ...]
    interval: Decimal | None
    expected_seconds: float
    remarks: tuple[str, ...]

    @property
    def width(self) -> Decimal:
        """The distance between the edges of water."""
        return abs(self.edges[1].tape - self.edges[0].tape)


def plan_verticals(
    left: Decimal,
    right: Decimal,
    *,
    unit: LengthUnit,
    resolution: Decimal,
    verticals: int = 25,
    rule: Rule = "equal",
    start: Edge = "left",
    minimum_spacing: Decimal | None = None,
    earlier: FlowProfile | None = None,
    timing: Timing = USUAL_TIMING,
) -> Plan:
    """Lay out verticals between the edges of water by one of the rules of `plan_rules`.

    Args:
        left: Tape position of the left edge, facing downstream; all lengths are in `unit`.
        right: Tape position of the right edge, smaller or larger than `left`.
        unit: The unit of every length here.
        resolution: The smallest graduation that is read.
        verticals: How many verticals are wanted, 1 to 500; a plan may have to do with fewer.
        rule: How they are spread.
        start: The bank from which the crew starts: the plan is listed from there, and
            `skip-first-cell` leaves out the cell there. No other rule moves a vertical for it.
        minimum_spacing: The least distance between neighbouring verticals; without it they may
            stand on every graduation.
        earlier: The spread of flow at an earlier visit: needed by `equal-flow`; with any rule it
            gives the expected shares.
        timing: How long a vertical takes.

    Raises:
        InputRefused: A number that makes no sense, edges without a graduation between them, or
            `equal-flow` without an earlier gauging.
    """
    if not 1 <= verticals <= MOST_VERTICALS:
        raise _refused(f"verticals must be 1 to {MOST_VERTICALS} in number (got {verticals})")
    if start not in ("left", "right"):
        raise _refused(f"the start must be left or right (got {start})")
    backwards = start == "right" and begins_at_the_start(rule)
    edges: list[tuple[Edge, Decimal]] = [("left", left), ("right", right)]
    (from_edge, first), (to_edge, last) = reversed(edges) if backwards else edges
    tape = tape_between(
        (first, last),
        names=(f"{from_edge} edge", f"{to_edge} edge"),
        unit=unit,
        resolution=resolution,
        minimum_spacing=minimum_spacing,
    )
    layout = lay_out(rule, tape, verticals, from_edge=from_edge, earlier=earlier)
    positions = [tape.position(i) for i in on_graduations(layout.wanted, tape)]
    if backwards:
        positions.reverse()
    stands = [left, *positions, right]
    ends, placed = _with_panels(stands, earlier)
    remarks = (
        *layout.remarks,
        *even_steps_remarks(rule, tape, stands, minimum_spacing),
        *earlier_remarks(earlier, rule, tape, stands),
        *spacing_remarks(positions, unit, minimum_spacing),
        *share_remarks(rule, tape, ends, placed, minimum_spacing),
        timing_remark(timing),
    )
    if start == "right":
        ends, placed = ends[::-1], placed[::-1]
    return Plan(
        rule=rule,
        unit=unit,
        edges=ends,
        verticals=placed,
        interval=tape.length(layout.interval) if layout.interval is not None else None,
        expected_seconds=timing.seconds(len(placed)),
        remarks=remarks,
    )


def _with_panels(
    stands: Sequence[Decimal], earlier: FlowProfile | None
) -> tuple[tuple[PlannedEdge, PlannedEdge], tuple[PlannedVertical, ...]]:
    """Return edges and verticals, from the left edge to the right one, with their panels."""
    widths = _panel_widths(stands)
    shares = _expected_shares(stands, widths, earlier)
    return (
        (
            PlannedEdge("left", stands[0], widths[0], shares[0]),
            PlannedEdge("right", stands[-1], widths[-1], shares[-1]),
        ),
        tuple(map(PlannedVertical, stands[1:-1], widths[1:-1], shares[1:-1])),
    )


def _panel_widths(tape: Sequence[Decimal]) -> list[Decimal]:
    """Half the distance between both neighbours; at the ends, half the distance to the one."""
    around = [tape[0], *tape, tape[-1]]
    return [abs(after - before) / 2 for before, after in zip(around, around[2:], strict=False)]


def _expected_shares(
    tape: Sequence[Decimal], widths: Sequence[Decimal], earlier: FlowProfile | None
) -> list[float | None]:
    """What percentage each panel would carry if the flow were spread as it was then.

    Negative where the water runs against the whole; None for all where nothing is left of it.
    """
    if earlier is None:
        return [None] * len(tape)
    across = [float((place - tape[0]) / (tape[-1] - tape[0])) for place in tape]
    flows = [earlier.at(x) * float(width) for x, width in zip(across, widths, strict=True)]
    total = math.fsum(flows)
    # Flows that cancel out to a thousandth of their amount have no share that could be told.
    if abs(total) <= 1e-3 * math.fsum(abs(flow) for flow in flows):
        return [None] * len(tape)
    return [100.0 * flow / total for flow in flows]


def _refused(message: str) -> InputRefused:
    return InputRefused([Fault(message)])
