"""The section whose budgets docs/method.md works out by hand, and short ways to write others."""

import datetime

from bankside.gauging.budget import Budget
from bankside.gauging.compute import compute
from bankside.gauging.records import Channel, Gauging, Meter, PointReading, Units, Vertical
from bankside.gauging.uncertainty import uncertainty_budgets

SI = Units("m", "m/s")


def read(tape: float, depth: float, velocity: float, seconds: float | None = 60.0) -> Vertical:
    """A vertical read at 0.6 of the depth."""
    return Vertical(tape, depth, (PointReading(velocity, 0.6, seconds),))


def two_points(tape: float, depth: float, v02: float, v08: float) -> Vertical:
    """A vertical read at 0.2 and 0.8 of the depth for a minute each."""
    return Vertical(tape, depth, (PointReading(v02, 0.2, 60.0), PointReading(v08, 0.8, 60.0)))


def between_banks(*verticals: Vertical, left: float = 0.0, right: float) -> Channel:
    """A channel with sloping banks at both ends."""
    return Channel(
        (Vertical(left, 0.0, edge="left"), *verticals, Vertical(right, 0.0, edge="right"))
    )


SIX = between_banks(
    read(1.0, 0.40, 0.20),
    read(2.0, 0.60, 0.40),
    two_points(3.0, 0.90, 0.60, 0.40),
    read(5.0, 0.80, 0.50, 45.0),
    read(6.0, 0.50, 0.30),
    read(7.0, 0.40, 0.20),
    right=8.0,
)
WORKED = Gauging(SI, (SIX,))


def even(count: int, left: float = 0.0, depth: float = 0.5, velocity: float = 0.6) -> Channel:
    """A channel of so many verticals a metre apart, all alike."""
    verticals = [read(left + i, depth, velocity) for i in range(1, count + 1)]
    return between_banks(*verticals, left=left, right=left + count + 1)


def budgets(gauging: Gauging) -> dict[str, Budget]:
    """The budgets of a gauging by mid-section, by their keys."""
    return {budget.key: budget for budget in uncertainty_budgets(gauging, compute(gauging))}


def percents(budget: Budget) -> dict[str, float]:
    """The parts of a budget in percent, by their names."""
    return {part.name: part.percent for part in budget.parts}


CALIBRATED = Meter(kind="propeller", calibrated=datetime.date(2026, 3, 2))
