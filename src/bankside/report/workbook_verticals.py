"""The rows of verticals on the sheet "Panels": from a vertical's readings to its velocity."""

from __future__ import annotations

from collections.abc import Sequence

import attrs

from bankside.gauging.mean_velocity import mean_velocity
from bankside.gauging.records import Gauging, Vertical
from bankside.gauging.result import Result, VerticalResult
from bankside.gauging.units import metres_per, metres_per_second_per
from bankside.kernel.edge import wall_velocity
from bankside.kernel.vertical import normal_velocity
from bankside.report.workbook_cells import Cell, Formula, Table
from bankside.report.workbook_points import Points
from bankside.report.workbook_readings import Readings
from bankside.report.workbook_velocity import angle_factor, between, mean_of_points, wall_ratio

__all__ = ["Origins", "Verticals"]

Said = tuple[dict[str, Cell], str]
"""Cells by column key, and what they do in words."""


@attrs.frozen
class Origins:
    """What was read and worked out, and where on other sheets it stands."""

    gauging: Gauging
    result: Result
    readings: Readings
    points: Points


class Verticals:
    """The cells of the verticals of one channel, whose rows are known before they are written.

    `rows` are those rows, `tape` the references to the tapes in metres, `depth` the depths, m.
    """

    def __init__(self, table: Table, origins: Origins, channel: Sequence[VerticalResult]) -> None:
        self.channel = channel
        self.rows = tuple(range(table.next, table.next + len(channel)))
        self.tape = [table.at("tape", row) for row in self.rows]
        self.depth = [vertical.depth_m for vertical in channel]
        self._table = table
        self._origins = origins
        self._place = {vertical.tape: place for place, vertical in enumerate(channel)}

    def cells(self, place: int) -> Said:
        """Return the cells of a vertical up to its velocity, and how that comes about."""
        vertical = self.channel[place]
        velocity, said = self._velocity(place)
        return {
            "channel": Formula(self._reading("channel", place), vertical.channel + 1),
            "vertical": Formula(self._reading("vertical", place), vertical.vertical + 1),
            "called": Formula(self._reading("tape", place), vertical.tape),
            "tape": Formula(f"{self._reading('tape', place)}*metres_per_tape", self._metres(place)),
            "depth": Formula(f"{self._reading('depth', place)}*metres_per_depth", vertical.depth_m),
            "from": vertical.velocity_from,
            **velocity,
        }, said

    def _reading(self, key: str, place: int) -> str:
        vertical = self.channel[place]
        return self._origins.readings.ref(key, vertical.channel, vertical.vertical)

    def _called(self, place: int) -> Vertical:
        vertical = self.channel[place]
        return self._origins.gauging.channels[vertical.channel].verticals[vertical.vertical]

    def _metres(self, place: int) -> float:
        return self.channel[place].tape * metres_per(self._origins.gauging.units.length)

    def _velocity(self, place: int) -> Said:
        vertical = self.channel[place]
        if vertical.measured:
            return self._measured(place)
        if len(vertical.neighbours) == 1:
            return self._at_wall(place)
        if vertical.neighbours:
            return self._interpolated(place)
        return {"velocity": Formula("0", vertical.velocity_ms)}, "0, as there is no depth"

    def _measured(self, place: int) -> Said:
        vertical, called, row = self.channel[place], self._called(place), self.rows[place]
        gauging, at = self._origins.gauging, self._table.at
        rating = () if gauging.meter is None else gauging.meter.rating
        askew = attrs.evolve(called, angle=None, angle_coefficient=None)
        mean = mean_velocity(askew, rating, metres_per_second_per(gauging.units.velocity)).value_ms
        points = self._origins.points[vertical.channel, vertical.vertical]
        formula, words = mean_of_points(vertical.velocity_from, points)
        factor = _angle_factor(called)
        if factor != 1:
            words += ", square to the section"
        angle = angle_factor(self._reading("angle", place), self._reading("coefficient", place))
        velocity = f"{at('mean', row)}*{at('angle', row)}"
        return {
            "mean": Formula(formula, mean),
            "angle": Formula(angle, factor),
            "velocity": Formula(velocity, vertical.velocity_ms),
        }, words

    def _at_wall(self, place: int) -> Said:
        vertical, called, row = self.channel[place], self._called(place), self.rows[place]
        [tape] = vertical.neighbours
        neighbour, at = self._place[tape], self._table.at
        formula = f"{at('wall', row)}*{at('velocity', self.rows[neighbour])}"
        velocity = Formula(formula, vertical.velocity_ms)
        words = f"that of the neighbour at tape {tape:.10g} times the wall factor"
        if called.wall_factor is not None:
            factor = Formula(self._reading("wall", place), called.wall_factor)
            return {"wall": factor, "velocity": velocity}, f"{words} of the record"
        distance = abs(self._metres(neighbour) - self._metres(place))
        beside = f"ABS({self.tape[neighbour]}-{self.tape[place]})/{at('depth', row)}"
        factor = Formula(
            wall_ratio(at("beside", row)), wall_velocity(1.0, distance, vertical.depth_m)
        )
        return {
            "beside": Formula(beside, distance / vertical.depth_m),
            "wall": factor,
            "velocity": velocity,
        }, f"{words}, which is the table's for a smooth wall"

    def _interpolated(self, place: int) -> Said:
        vertical = self.channel[place]
        low, high = vertical.neighbours
        before, after = (
            (self.tape[other], self._table.at("velocity", self.rows[other]))
            for other in (self._place[low], self._place[high])
        )
        formula = between(self.tape[place], before, after)
        words = f"in proportion to the tape between those at {low:.10g} and {high:.10g}"
        return {"velocity": Formula(formula, vertical.velocity_ms)}, words


def _angle_factor(called: Vertical) -> float:
    if called.angle is not None:
        return normal_velocity(1.0, called.angle)
    return 1.0 if called.angle_coefficient is None else called.angle_coefficient
