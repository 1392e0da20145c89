"""The smooth shape of a cross section: depth as a part of the deepest, from bank to bank.

A place `s` lies across the wetted width, 0 at the bank nearer to the thalweg and 1 at the other.
"""

import math
import random
from collections.abc import Mapping, Sequence

from bankside.practice.parameters import normal
from bankside.practice.section_type import Form

__all__ = ["bowl", "shelf_and_trough", "smooth_depths", "trapezoid"]


def bowl(s: float, thalweg: float, peakedness: float) -> float:
    """Return the depth of a rounded section: s^a (1 - s)^b, 1 at the thalweg.

    a = `thalweg` × `peakedness` and b = (1 - `thalweg`) × `peakedness`. A thalweg at 0.5 with a
    peakedness of 2 is the parabola; less is flatter in the middle and steeper at the banks.
    """
    if s <= 0.0 or s >= 1.0:
        return 0.0
    near: float = (s / thalweg) ** (thalweg * peakedness)
    far: float = ((1.0 - s) / (1.0 - thalweg)) ** ((1.0 - thalweg) * peakedness)
    return near * far


def trapezoid(s: float, slope: float) -> float:
    """Return the depth of a flat bed between two straight slopes, each this part of the width."""
    return max(0.0, min(1.0, s / slope, (1.0 - s) / slope))


def shelf_and_trough(s: float, trough: float, shelf_depth: float) -> float:
    """Return the depth of a trough at the near bank beside a wide shallow shelf.

    `trough` is the part of the width that the trough takes, `shelf_depth` the depth of the shelf
    where it meets the trough; it runs out to 0 at the far bank.
    """
    outward = max(0.0, (1.0 - s) / (1.0 - trough))
    shelf = shelf_depth * min(1.0, s / (0.5 * trough), math.sqrt(outward))
    deep = bowl(s / trough, 0.45, 1.6) if s < trough else 0.0
    return max(0.0, shelf, deep)


def smooth_depths(
    form: Form, drawn: Mapping[str, float], count: int, rng: random.Random, upright: float
) -> list[float]:
    """Return the smooth depths of a section at `count` places from bank to bank, in m.

    `drawn` are its parameters; a bank shallower than `upright` of the deepest place is a sloping
    one. Only a braid takes numbers from `rng`, to part its width.
    """
    places = [i / (count - 1) for i in range(count)]
    if form == "braid":
        parts = _braid(drawn, places, rng)
    elif form == "trapezoid":
        parts = [trapezoid(s, drawn["slope"]) for s in places]
    elif form == "shelf":
        parts = [shelf_and_trough(s, drawn["trough"], drawn["shelf"]) for s in places]
    else:
        parts = [bowl(s, drawn["thalweg"], drawn["peakedness"]) for s in places]
    near, far = (b if b >= upright else 0.0 for b in (drawn["near_bank"], drawn["far_bank"]))
    return [
        drawn["depth"] * _above(near if s < drawn["thalweg"] else far, part)
        for s, part in zip(places, parts, strict=True)
    ]


def _above(bank: float, part: float) -> float:
    """Return a depth that is `bank` at the bank, where the shape has 0, and 1 where it has 1."""
    return bank + (1.0 - bank) * part


def _braid(drawn: Mapping[str, float], places: Sequence[float], rng: random.Random) -> list[float]:
    """Return the depths of channels of unlike width, the widest the deepest, between dry bars."""
    number = int(drawn["channels"])
    weights = [math.exp(0.6 * normal(rng)) for _ in range(number)]
    thalwegs = [0.25 + 0.5 * rng.random() for _ in range(number)]
    whole, widest = math.fsum(weights), max(weights)
    bar = drawn["bars"] / (number - 1)
    parts = [0.0] * len(places)
    start = 0.0
    for weight, thalweg in zip(weights, thalwegs, strict=True):
        width = weight / whole * (1.0 - drawn["bars"])
        deepest = math.sqrt(weight / widest)
        first, last = (math.ceil(end * (len(places) - 1)) for end in (start, start + width))
        for i in range(first, min(last, len(places))):
            x = (places[i] - start) / width
            parts[i] = deepest * bowl(x, thalweg, drawn["peakedness"])
        start += width + bar
    return parts
