"""What each part but that between verticals leaves open, as variances of the discharge.

Metres and m/s throughout: what is assumed (`between_assumed`) has units.  `panel_widths` are those
of the stations that were read, half the distance between both neighbours.

Source: ours (docs/uncertainty.md).
"""

import math

from bankside.kernel import between_assumed as assumed
from bankside.kernel.iso_tables import meter_uncertainty_group, meter_uncertainty_individual
from bankside.kernel.section import STANDARD_GRAVITY, Floats, _require_pairs

__all__ = [
    "common_profile_variance",
    "mean_unit_discharge",
    "meter_variance",
    "profile_deviation",
    "profile_length",
    "profile_share",
    "reading_variance_of",
    "readings_variance",
    "rod_variance",
    "widths_variance",
    "zero_variance",
]


def mean_unit_discharge(tape: Floats, unit_discharge: Floats) -> float:
    """Mean amount of unit discharge from the first station to the last.

    Raises ValueError for fewer than two stations, unequal lengths, or no width.
    """
    _require_pairs(tape, unit_discharge)
    width = tape[len(tape) - 1] - tape[0]
    if not width > 0.0:
        raise ValueError("a section is wider than 0")
    total = 0.0
    for i in range(len(tape) - 1):
        ends = abs(unit_discharge[i]) + abs(unit_discharge[i + 1])
        total += (tape[i + 1] - tape[i]) * ends / 2.0
    return total / width


def reading_variance_of(
    depth: float, velocity: float, points: float, exposure_percent: float, measured: bool
) -> float:
    """Variance of one unit discharge as read: by exposure and depth, each station by itself."""
    if depth == 0.0:
        return 0.0
    if not measured:
        off = assumed.STANDS_IN * (depth * velocity)
        return off * off
    by_exposure = exposure_percent / 100.0 / math.sqrt(max(points, 1.0)) * (depth * velocity)
    by_depth = assumed.DEPTH_READING_M * velocity
    return by_exposure * by_exposure + by_depth * by_depth


def profile_deviation(unevenness: float) -> float:
    """How far one point departs from the mean of its vertical, over the velocity."""
    return assumed.PROFILE_SMOOTH + assumed.PROFILE_UNEVEN * math.sqrt(unevenness)


def profile_share(points: float, by_surface: bool) -> float:
    """How much of the departure of a point at 0.6 from the mean of the vertical counts.

    `by_surface` says that the surface alone was read.
    """
    if by_surface:
        return assumed.AT_SURFACE
    return assumed.TWO_POINTS if points > 1.0 else 1.0


def profile_length(panel_widths: Floats, depth: Floats) -> float:
    """How near verticals share the eddies that make profiles differ: so many mean depths.

    Raises ValueError for fewer than two stations, unequal lengths, or no width.
    """
    _require_pairs(panel_widths, depth)
    area, width = 0.0, 0.0
    for i in range(len(panel_widths)):
        area += panel_widths[i] * depth[i]
        width += panel_widths[i]
    if not width > 0.0:
        raise ValueError("a section is wider than 0")
    return assumed.PROFILE_LENGTH * area / width


def readings_variance(panel_widths: Floats, reading_variance: Floats) -> float:
    """Variance by exposure and depth, each vertical by itself.

    Raises ValueError for fewer than two stations or unequal lengths.
    """
    _require_pairs(panel_widths, reading_variance)
    variance = 0.0
    for i in range(len(panel_widths)):
        variance += panel_widths[i] * panel_widths[i] * reading_variance[i]
    return variance


def widths_variance(panel_widths: Floats, unit_discharge: Floats, width_percent: float) -> float:
    """Variance by the widths of the panels, each by itself.

    Raises ValueError for fewer than two stations or unequal lengths.
    """
    _require_pairs(panel_widths, unit_discharge)
    variance = 0.0
    for i in range(len(panel_widths)):
        part = width_percent / 100.0 * panel_widths[i] * unit_discharge[i]
        variance += part * part
    return variance


def rod_variance(panel_widths: Floats, velocity: Floats) -> float:
    """Variance by the rod at all verticals: it sinks in, stands on stones, and water piles up.

    Raises ValueError for fewer than two stations or unequal lengths.
    """
    _require_pairs(panel_widths, velocity)
    by_depth, head = 0.0, 0.0
    for i in range(len(panel_widths)):
        speed = abs(velocity[i])
        by_depth += panel_widths[i] * speed
        head += panel_widths[i] * (speed * speed * speed) / (2.0 * STANDARD_GRAVITY)
    sunk, piled = assumed.ROD_M * by_depth, assumed.PILE_UP * head
    return sunk * sunk + piled * piled


def zero_variance(panel_widths: Floats, depth: Floats) -> float:
    """Variance by the meter's zero at all verticals.

    Raises ValueError for fewer than two stations or unequal lengths.
    """
    _require_pairs(panel_widths, depth)
    area = 0.0
    for i in range(len(panel_widths)):
        area += panel_widths[i] * depth[i]
    off = assumed.ZERO_MS * area
    return off * off


def meter_variance(
    panel_widths: Floats, unit_discharge: Floats, velocity: Floats, own_rating: bool
) -> float:
    """Variance by the meter's rating, after ISO 748's table for the velocity of each vertical.

    It is one meter, so it errs the same way at all velocities (ours): what it makes of the panels
    is added up, not its squares.  `own_rating` says that the meter was calibrated itself.

    Raises ValueError for fewer than two stations or unequal lengths.
    """
    _require_pairs(panel_widths, unit_discharge)
    _require_pairs(panel_widths, velocity)
    off = 0.0
    for i in range(len(panel_widths)):
        speed = abs(velocity[i])
        if own_rating:
            percent = meter_uncertainty_individual(speed)
        else:
            percent = meter_uncertainty_group(speed)
        off += panel_widths[i] * unit_discharge[i] * percent / 100.0
    return off * off


def common_profile_variance(
    panel_widths: Floats, unit_discharge: Floats, by_surface: Floats
) -> float:
    """Variance by the profile of the whole section, the same at all verticals.

    Those that were read at the surface alone, where `by_surface` is not 0, err by its coefficient
    instead, apart from the others.

    Raises ValueError for fewer than two stations or unequal lengths.
    """
    _require_pairs(panel_widths, unit_discharge)
    _require_pairs(panel_widths, by_surface)
    inside, surface = 0.0, 0.0
    for i in range(len(panel_widths)):
        if by_surface[i] != 0.0:
            surface += panel_widths[i] * unit_discharge[i]
        else:
            inside += panel_widths[i] * unit_discharge[i]
    inside *= assumed.PROFILE_COMMON
    surface *= assumed.SURFACE_COMMON
    return inside * inside + surface * surface
