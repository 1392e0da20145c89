"""How the mean velocity of the verticals runs across the section."""

import random
from collections.abc import Mapping, Sequence

from bankside.kernel.edge import WALL_RATIO, wall_ratio
from bankside.practice.roughness import correlated

__all__ = ["mean_velocities", "velocity_length"]


def velocity_length(drawn: Mapping[str, float]) -> float:
    """Return the correlation length of velocities along the tape, in m."""
    return drawn["velocity_length"] + drawn["velocity_length_depths"] * drawn["depth"]


def mean_velocities(
    rng: random.Random,
    drawn: Mapping[str, float],
    depths: Sequence[float],
    step: float,
    mirrored: bool,
) -> list[float]:
    """Return the mean velocity of the vertical at each node, square to the tape, in m/s.

    A power of the depth, more or less towards the thalweg's bank, slower beside steep banks, has
    the drawn mean over the section; correlated fluctuations and an eddy at a bank come on top.
    """
    smooth = _smooth(drawn, depths, mirrored)
    _slow_at_walls(drawn, depths, step, smooth)
    area = flow = 0.0
    for depth, velocity in zip(depths, smooth, strict=True):
        area += depth
        flow += depth * velocity
    scale = drawn["velocity"] * area / flow
    noise = correlated(rng, len(depths), step, drawn["velocity_roughness"], velocity_length(drawn))
    velocities = [
        scale * velocity * max(0.0, 1.0 + each)
        for velocity, each in zip(smooth, noise, strict=True)
    ]
    _turn_back(drawn, velocities, at_left=rng.random() < 0.5)
    return velocities


def _smooth(drawn: Mapping[str, float], depths: Sequence[float], mirrored: bool) -> list[float]:
    last = len(depths) - 1
    power, deepest = drawn["depth_power"], drawn["depth"]
    tilt = -drawn["tilt"] if mirrored else drawn["tilt"]
    return [
        (depth / deepest) ** power * (1.0 + tilt * (1.0 - 2.0 * i / last))
        for i, depth in enumerate(depths)
    ]


def _slow_at_walls(
    drawn: Mapping[str, float], depths: Sequence[float], step: float, velocities: list[float]
) -> None:
    """Slow the water within a depth of a steep bank, by the course of the table for walls."""
    loss = (1.0 - drawn["wall"]) / (1.0 - WALL_RATIO[0])
    for at_wall in (0, -1):
        depth = depths[at_wall]
        reach = min(len(depths), int(depth / step) + 1) if depth > 0.0 else 0
        for i in range(reach):
            node = i if at_wall == 0 else len(depths) - 1 - i
            velocities[node] *= 1.0 - loss * (1.0 - wall_ratio(i * step / depth))


def _turn_back(drawn: Mapping[str, float], velocities: list[float], at_left: bool) -> None:
    """Let the water beside one bank run back, where an eddy was drawn."""
    nodes = int(drawn["eddy_width"] * (len(velocities) - 1))
    for i in range(max(0, nodes)):
        node = i if at_left else len(velocities) - 1 - i
        x = i / nodes
        forward = x * x * (3.0 - 2.0 * x)
        velocities[node] = (
            forward * velocities[node] - (1.0 - forward) * drawn["eddy_speed"] * drawn["velocity"]
        )
