"""Invented sections: a smooth channel, a rough bed, a current that eddies; no reading error."""

from __future__ import annotations

import math
from random import Random

from bankside.gauging.records import Channel, Gauging, PointReading, Units, Vertical

VERTICALS = 22


def simulated(count: int, seed: int) -> list[tuple[str, Gauging]]:
    """Return that many sections with names, in ft and m by turns."""
    random = Random(seed)
    return [(f"simulated {k}", _section(random, feet=k % 2 == 0)) for k in range(count)]


def _section(random: Random, feet: bool) -> Gauging:
    per = 3.2808 if feet else 1.0
    spacing = round(random.uniform(0.2, 0.6) * per, 1)
    start = round(random.uniform(0, 5), 1)
    deepest, fastest = random.uniform(0.2, 0.7) * per, random.uniform(0.2, 0.8) * per
    rough_bed, rough_flow = random.uniform(0.05, 0.15), random.uniform(0.1, 0.25)
    lean = random.uniform(-0.4, 0.4)
    verticals = []
    for k in range(VERTICALS + 2):
        across = 2 * k / (VERTICALS + 1) - 1
        tape = round(start + k * spacing, 2)
        if k in (0, VERTICALS + 1):
            verticals.append(Vertical(tape, 0, edge="left" if k == 0 else "right"))
            continue
        form = (1 - across * across) * (1 + lean * across) / (1 + abs(lean))
        depth = round(max(0.02, deepest * form * math.exp(random.gauss(0, rough_bed))), 2)
        speed = fastest * max(form, 0.05) ** 0.6 * math.exp(random.gauss(0, rough_flow))
        verticals.append(Vertical(tape, depth, (PointReading(round(speed, 2), 0.6),)))
    units = Units("ft", "ft/s") if feet else Units("m", "m/s")
    return Gauging(units, (Channel(tuple(verticals)),))
