"""Velocity at a steep bank, a wall or a pier, from the vertical next to it."""

import math

__all__ = [
    "WALL_DISTANCE",
    "WALL_RATIO",
    "edge_velocity_power_law",
    "wall_ratio",
    "wall_velocity",
]

# Mean velocity of a vertical near a smooth upright wall as a ratio of the one a depth away from
# it, by distance from the wall over depth.  USGS WSP 2175 vol. 1, about p. 82 (from memory).
WALL_DISTANCE = (0.0, 0.25, 0.50, 1.00)
WALL_RATIO = (0.65, 0.90, 0.95, 1.00)


def wall_ratio(distance_over_depth: float) -> float:
    """Ratio of the velocity at a distance from a smooth wall to the velocity one depth away.

    Linear between the points of the table and 1 from one depth on.

    Raises ValueError for a distance below 0.

    Source: USGS WSP 2175 vol. 1, about p. 82 (table from memory); straight lines between its
    points are common practice, no source.
    """
    if not distance_over_depth >= 0.0:
        raise ValueError("a distance from the wall is not below 0")
    for i in range(len(WALL_DISTANCE) - 1):
        if distance_over_depth < WALL_DISTANCE[i + 1]:
            step = WALL_DISTANCE[i + 1] - WALL_DISTANCE[i]
            rise = WALL_RATIO[i + 1] - WALL_RATIO[i]
            return WALL_RATIO[i] + rise * ((distance_over_depth - WALL_DISTANCE[i]) / step)
    return 1.0


def wall_velocity(neighbour_velocity: float, distance: float, depth: float) -> float:
    """Mean velocity at a smooth wall, from the vertical next to it.

    `distance` from the wall to that vertical and `depth` at the wall are in one length unit.  The
    table is used twice: from the neighbour out to one depth away, and from there to the wall.

    Raises ValueError unless the distance is 0 or more and the depth above 0.

    Source: USGS WSP 2175 vol. 1, about p. 82 (from memory).
    """
    if not depth > 0.0:
        raise ValueError("the depth at a wall must be above 0")
    return neighbour_velocity * (wall_ratio(0.0) / wall_ratio(distance / depth))


def edge_velocity_power_law(velocity: float, distance: float, x: float, exponent: float) -> float:
    """Mean velocity at `x` from the bank, from a vertical at `distance` from the bank.

    v_x = v (x / distance)^(1 / exponent), from 0 at the bank to `velocity` at that vertical.  The
    exponent runs from 4 at a rough bank to 10 at a smooth one, mostly 5 to 7.

    Raises ValueError unless 0 <= x <= distance, distance > 0 and exponent > 0.

    Source: ISO 748, velocity near the bank (from memory).
    """
    if not (distance > 0.0 and 0.0 <= x <= distance and exponent > 0.0):
        raise ValueError("x lies between bank and vertical; distance and exponent are above 0")
    return velocity * math.pow(x / distance, 1.0 / exponent)
