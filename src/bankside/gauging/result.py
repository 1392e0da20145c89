"""What is worked out from a gauging, in SI, and how: never mixed with what was read."""

import attrs

__all__ = ["ChannelResult", "Panel", "Result", "VerticalResult"]


@attrs.frozen
class Panel:
    """The part of the section that one vertical stands for, or that lies between two.

    `channel` and `vertical` are indexes into the record; between two verticals, `vertical` is the
    one at the lower tape. `tape` and `tape_to` are as called, `tape_to` only where the panel lies
    between two verticals (mean-section). `depth_m` and `velocity_ms` are those of the vertical, or
    the means of the two. `share` is the percent of the total discharge, negative where the water
    runs the other way, None when the panels cancel to a thousandth or less. `velocity_from` says
    in words how the velocity came about.
    """

    channel: int
    vertical: int
    tape: float
    tape_to: float | None
    width_m: float
    depth_m: float
    velocity_ms: float
    area_m2: float
    discharge_m3s: float
    share: float | None
    velocity_from: str


@attrs.frozen
class VerticalResult:
    """One vertical as it entered the computation, whatever the panels.

    `channel` and `vertical` are indexes into the record, `tape` is as called. `measured` says
    whether the velocity comes from readings made there; where it does not, `velocity_from` says
    what stands in, and `neighbours` are the tapes, as called, of the verticals whose velocities it
    was taken from: one for a wall; for a sounding the one before and the one after.
    """

    channel: int
    vertical: int
    tape: float
    depth_m: float
    velocity_ms: float
    velocity_from: str
    measured: bool
    neighbours: tuple[float, ...] = ()


@attrs.frozen
class ChannelResult:
    """What one channel carries; the area is that of the section under straight bed lines."""

    discharge_m3s: float
    area_m2: float
    width_m: float
    wetted_perimeter_m: float


@attrs.frozen
class Result:
    """The discharge of a gauging and everything it rests on.

    Totals are over all channels. `mean_velocity_ms`, `mean_depth_m` and `hydraulic_radius_m` are
    None where there is no water to take them over; by the triangular edge rule the mean velocity is
    over the area of its panels, which is more than `area_m2`. `edge_rule` is None for the
    mean-section method, which needs none. `method_version` changes whenever equal records give
    other figures. `verticals` are by channel and tape, whatever the panels. `notes` are plain
    sentences, one for every assumption made.
    """

    method: str
    edge_rule: str | None
    method_version: str
    discharge_m3s: float
    area_m2: float
    width_m: float
    mean_depth_m: float | None
    mean_velocity_ms: float | None
    wetted_perimeter_m: float
    hydraulic_radius_m: float | None
    panels: tuple[Panel, ...]
    channels: tuple[ChannelResult, ...]
    verticals: tuple[VerticalResult, ...]
    notes: tuple[str, ...]
