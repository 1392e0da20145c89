"""The uncertainty of a discharge from the scatter of its own depths and velocities."""

from __future__ import annotations

from collections.abc import Callable

from bankside.gauging.budget import Budget, BudgetPart
from bankside.gauging.notes import Note, sentences
from bankside.gauging.records import Gauging
from bankside.gauging.result import VerticalResult
from bankside.gauging.uncertainty_flow import Assumed, Flow, Stretch, width_part
from bankside.gauging.units import metres_per, metres_per_second_per
from bankside.kernel.scatter import (
    FEWEST_RESIDUALS,
    WITHOUT_RESIDUAL,
    interpolated_variance,
    interpolated_variance_uncertainty,
)
from bankside.kernel.uncertainty import panels_uncertainty

__all__ = ["scatter_budget"]


def scatter_budget(gauging: Gauging, flow: Flow, assumed: Assumed) -> Budget | str:
    """Return the budget by interpolated variance (from memory), or why there is none.

    Residuals of all stretches of water are taken together, each weighing the same (ours). Verticals
    without water between the ends of a stretch have none, and those whose velocity was not read
    have none of velocity.
    """
    depths = _variance(flow, _wet, lambda station: station.depth_m)
    velocities = _variance(flow, _measured, lambda station: station.velocity_ms)
    fewest = min(depths[1], velocities[1])
    if fewest < FEWEST_RESIDUALS:
        return (
            f"The interpolated variance cannot be given: it takes {FEWEST_RESIDUALS} verticals "
            "with two neighbours on either side, such as 6 verticals read between two edges of "
            f"water (found {fewest})."
        )
    panels = flow.panels
    standard = interpolated_variance_uncertainty(
        [panel.width_m for panel in panels],
        [panel.depth_m for panel in panels],
        [panel.velocity_ms for panel in panels],
        depths[0],
        velocities[0],
        assumed.width_percent,
        assumed.systematic_percent,
    )
    return Budget(
        key="interpolated-variance",
        method="Interpolated variance: Cohn, Kiang and Mason 2013 (formulas from memory)",
        parts=_parts(gauging, flow, depths, velocities, assumed),
        standard_percent=standard,
        remarks=sentences([*flow.notes, *_notes(flow, fewest)], gauging.units),
    )


def _parts(
    gauging: Gauging,
    flow: Flow,
    depths: tuple[float, int],
    velocities: tuple[float, int],
    assumed: Assumed,
) -> tuple[BudgetPart, ...]:
    panels, units = flow.panels, gauging.units
    depth_unit = units.depth or units.length
    depth, velocity = depths[0] ** 0.5, velocities[0] ** 0.5
    return (
        BudgetPart(
            "scatter of depth",
            _of_scatter([p.width_m * p.velocity_ms for p in panels], depth, flow.total),
            f"{depth / metres_per(depth_unit):.3g} {depth_unit} from {depths[1]} residuals (method "
            "from memory, medium)",
        ),
        BudgetPart(
            "scatter of velocity",
            _of_scatter([p.width_m * p.depth_m for p in panels], velocity, flow.total),
            f"{velocity / metres_per_second_per(units.velocity):.3g} {units.velocity} from "
            f"{velocities[1]} residuals (method from memory, medium)",
        ),
        width_part(flow, assumed),
        BudgetPart(
            "systematic",
            assumed.systematic_percent,
            f"{assumed.systematic_percent:g} % is taken, as is usual with this method (from "
            "memory, medium)",
        ),
    )


def _of_scatter(sensitivity: list[float], scatter: float, total: float) -> float:
    """Return the percent of the discharge that one scatter at all panels makes of it.

    `sensitivity` is how much the discharge changes for one unit more at each panel.
    """
    return panels_uncertainty(sensitivity, [100.0 * scatter] * len(sensitivity), total)


def _wet(station: VerticalResult) -> bool:
    return station.depth_m > 0


def _measured(station: VerticalResult) -> bool:
    return station.depth_m > 0 and station.measured


def _variance(
    flow: Flow,
    counts: Callable[[VerticalResult], bool],
    value: Callable[[VerticalResult], float],
) -> tuple[float, int]:
    """Return the variance over all stretches, and from how many residuals it comes."""
    total, residuals = 0.0, 0
    for stretch in flow.stretches:
        tape, values = _line(stretch, counts, value)
        here = len(tape) - WITHOUT_RESIDUAL
        if here > 0:
            total += interpolated_variance(tape, values) * here
            residuals += here
    return (total / residuals if residuals else 0.0), residuals


def _line(
    stretch: Stretch,
    counts: Callable[[VerticalResult], bool],
    value: Callable[[VerticalResult], float],
) -> tuple[list[float], list[float]]:
    """Return tape and value of the two ends of a stretch and the verticals that count between."""
    stations = stretch.stations
    kept = [i for i in range(len(stations)) if i in (0, len(stations) - 1) or counts(stations[i])]
    return [stretch.tape_m[i] for i in kept], [value(stations[i]) for i in kept]


def _notes(flow: Flow, residuals: int) -> list[Note]:
    unread = [
        station
        for stretch in flow.stretches
        for station in stretch.stations
        if station.depth_m > 0 and not station.measured
    ]
    return [
        Note(
            f"A scatter from {residuals} residuals is itself uncertain by about "
            f"{100 / (2 * residuals) ** 0.5:.0f} % of its figure."
        ),
        *(
            Note(
                "No velocity was read at {at}: its panel counts as one that was read.",
                station.tape,
            )
            for station in unread
        ),
        Note(
            "Whatever bends between verticals counts as chance: in a first experiment with "
            "simulated sections the figure was about twice too large on smooth beds."
        ),
        Note("The vertical profile is not in this figure: one point in a vertical may be biased."),
    ]
