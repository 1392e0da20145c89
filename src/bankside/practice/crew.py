"""The habits of a crew and its instruments: how far what is called out is from what is true."""

import random
from typing import Any

import attrs

from bankside.gauging.units import LengthUnit, VelocityUnit
from bankside.practice.parameters import Range, of, seeded

__all__ = ["CAREFUL", "PERFECT", "Crew", "draw_crew"]

_CALIBRATION = "ISO 748:2007 Annex E, meters rated in a group, above 0.5 m/s (from memory)"
_EXPOSURE = "40 to 70 s in common protocols, 20 in some (from memory)"
_MISTAKES = "up to the 5.1 % on paper of another kind of field survey, Tate & Smallwood 2021"
_TWO_POINTS = "0.5 m in New Zealand in the 1970s to 2.5 ft in US practice"


def _habit(default: float, drawn: Range, about: str) -> Any:
    return attrs.field(default=default, metadata={"range": drawn, "about": about})


@attrs.frozen(kw_only=True)
class Crew:
    """How a crew reads tape, rod and meter, and how long it takes; one value for every habit.

    Where a habit is a deviation, that is the standard deviation of a normal error.
    """

    length_unit: LengthUnit = "m"
    velocity_unit: VelocityUnit = "m/s"
    integrating: bool = False
    """Whether the meter is drawn through the whole depth and gives the mean of the vertical."""
    settled: bool = False
    """Whether its figure no longer moves, as if it had been held for all time."""

    tape_resolution: float = _habit(
        0.05, of(0.01, 0.05, "units.length"), "tape positions are multiples of it"
    )
    tape_stretch: float = _habit(
        0.002, of(0.0, 0.005), "deviation of the tape's length / length, one draw a gauging"
    )
    placing: float = _habit(
        0.01, of(0.003, 0.03, "m"), "deviation of where the rod stands from the tape mark"
    )
    edge_finding: float = _habit(0.03, of(0.01, 0.1, "m"), "deviation of an edge of water as found")
    gap_seen: float = _habit(
        0.3, of(0.1, 0.6, "m"), "dry gaps as wide as this are seen, and their edges noted"
    )
    rod_resolution: float = _habit(
        0.01, of(0.005, 0.02, "units.length"), "depths are multiples of it"
    )
    rod_reading: float = _habit(0.005, of(0.002, 0.015, "m"), "deviation of a depth as read")
    rod_tilt: float = _habit(3.0, of(0.0, 8.0, "°"), "deviation of the rod from upright")
    rod_lean: float = _habit(
        0.3, of(0.0, 1.0), "part of the bed's softness by which the rod sinks in at most"
    )
    pile_up: float = _habit(
        0.2, of(0.0, 0.6), "part of the velocity head, v²/2g, that is read as depth"
    )
    calibration: float = _habit(
        0.01,
        of(0.005, 0.02, source=_CALIBRATION),
        "deviation of the meter's calibration, one draw a gauging",
    )
    zero: float = _habit(
        0.003, of(0.0, 0.008, "m/s"), "deviation of the meter's zero, one draw a gauging"
    )
    meter_noise: float = _habit(0.005, of(0.001, 0.01, "m/s"), "deviation of one reading")
    velocity_resolution: float = _habit(
        0.01, of(0.001, 0.01, "units.velocity"), "velocities are multiples of it"
    )
    setting: float = _habit(
        0.02, of(0.0, 0.05), "deviation of the meter's height / depth of the water"
    )
    exposure: float = _habit(40.0, of(20.0, 70.0, "s", _EXPOSURE), "how long a point is measured")
    two_points_from: float = _habit(
        0.75, of(0.5, 0.76, "m", _TWO_POINTS), "depth from which 0.2 and 0.8 are read, not 0.6"
    )
    shallowest: float = _habit(
        0.05, of(0.03, 0.09, "m"), "depth from which the meter is used; a float where shallower"
    )
    float_error: float = _habit(
        0.15, of(0.1, 0.25), "deviation of a surface velocity by float / velocity"
    )
    angle_overlooked: float = _habit(
        0.0, of(0.0, 0.6), "chance that a crew looks at no angle of the flow in a gauging"
    )
    angle_least: float = _habit(8.0, of(4.0, 15.0, "°"), "an angle as read below this is not noted")
    angle_reading: float = _habit(3.0, of(2.0, 8.0, "°"), "deviation of an angle as read")
    angle_resolution: float = _habit(5.0, of(1.0, 5.0, "°"), "angles are multiples of it")
    moving: float = _habit(20.0, of(10.0, 30.0, "s"), "time to go to a vertical and set the meter")
    sounding: float = _habit(5.0, of(3.0, 10.0, "s"), "time to go and read a depth alone")
    floating: float = _habit(15.0, of(10.0, 25.0, "s"), "time to time a float")
    mistakes: float = _habit(
        0.0, of(0.0, 0.05, source=_MISTAKES), "chance that a vertical is called or written wrongly"
    )

    def fractions(self, depth_m: float) -> tuple[float | None, ...]:
        """Return where in a depth the crew reads; 0.0 is a float, None the whole depth."""
        if depth_m < self.shallowest:
            return (0.0,)
        if self.integrating:
            return (None,)
        return (0.2, 0.8) if depth_m >= self.two_points_from else (0.6,)


CAREFUL = Crew()
"""A careful crew, in metres: every habit at its default."""

PERFECT = Crew(
    integrating=True,
    settled=True,
    tape_resolution=0.0,
    tape_stretch=0.0,
    placing=0.0,
    edge_finding=0.0,
    rod_resolution=0.0,
    rod_reading=0.0,
    rod_tilt=0.0,
    rod_lean=0.0,
    pile_up=0.0,
    calibration=0.0,
    zero=0.0,
    meter_noise=0.0,
    velocity_resolution=0.0,
    setting=0.0,
    shallowest=0.0,
    angle_least=0.0,
    angle_reading=0.0,
    angle_resolution=0.0,
)
"""A crew without any error, whose meter gives the mean of the vertical over all time."""


def draw_crew(seed: int, in_feet: bool = False) -> Crew:
    """Return a crew whose habits are drawn from their ranges; as a crew in feet if asked to."""
    rng: random.Random = seeded("crew", seed)
    drawn: dict[str, Any] = {
        field.name: field.metadata["range"].draw(rng)
        for field in attrs.fields(Crew)
        if "range" in field.metadata
    }
    if in_feet:
        drawn |= {"length_unit": "ft", "velocity_unit": "ft/s"}
    return Crew(**drawn)
