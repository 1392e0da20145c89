"""The water from bank to bank as the model between verticals sees it."""

from __future__ import annotations

from bisect import bisect_right
from functools import cached_property

import attrs

from bankside.kernel.between import local_scale
from bankside.kernel.between_parts import mean_unit_discharge

__all__ = ["Line"]


@attrs.frozen
class Line:
    """The stations of one water from bank to bank, as the model sees them.

    `tape_m` in m, strictly increasing; `unit_discharge` depth times mean velocity in m²/s;
    `reading_variance` the variance of each by itself, in m⁴/s². Edges of water are among them.
    `scale_from` is the line that was read, where this one stands for what might be.
    """

    tape_m: tuple[float, ...]
    unit_discharge: tuple[float, ...]
    reading_variance: tuple[float, ...]
    scale_from: Line | None = None

    @cached_property
    def width_m(self) -> float:
        """From the first station to the last."""
        return self.tape_m[-1] - self.tape_m[0]

    @cached_property
    def mean(self) -> float:
        """The mean amount of unit discharge, in m²/s."""
        return mean_unit_discharge(self.tape_m, self.unit_discharge)

    @cached_property
    def scale(self) -> tuple[float, ...]:
        """How large unevenness is at each station, for an unevenness of 1.

        Stations that nobody has read tell nothing of it: theirs lies between those of `scale_from`.
        """
        if self.scale_from is not None:
            return tuple(map(self.scale_from.scale_at, self.tape_m))
        return tuple(
            local_scale(self.tape_m, self.unit_discharge, i) for i in range(len(self.tape_m))
        )

    def scale_at(self, tape_m: float) -> float:
        """Return the scale at a place, straight between those of its neighbours."""
        tape, scale = self.tape_m, self.scale
        after = min(max(bisect_right(tape, tape_m), 1), len(tape) - 1)
        part = (tape_m - tape[after - 1]) / (tape[after] - tape[after - 1])
        return scale[after - 1] + (scale[after] - scale[after - 1]) * part
