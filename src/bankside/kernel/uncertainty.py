"""The uncertainty of a discharge from the uncertainties of what it is made of.

All uncertainties are relative standard uncertainties in percent, one standard uncertainty each.
The sequences have one value for every panel.  Any one unit of discharge serves.
"""

import math

from bankside.kernel.section import Floats

__all__ = [
    "EACH_SYSTEMATIC",
    "HORIZONTAL_ANGLE",
    "components_uncertainty",
    "panels_uncertainty",
    "root_sum_of_squares",
    "velocity_area_uncertainty",
    "velocity_area_uncertainty_equal_panels",
    "verticals_component",
]

# Sauer and Meyer 1992 (from memory, medium), in percent.
EACH_SYSTEMATIC = 0.5
HORIZONTAL_ANGLE = 1.0


def root_sum_of_squares(percent: Floats) -> float:
    """What independent uncertainties come to: the square root of the sum of their squares."""
    total = 0.0
    for i in range(len(percent)):
        total += percent[i] * percent[i]
    return math.sqrt(total)


def panels_uncertainty(panel_discharge: Floats, percent: Floats, total: float) -> float:
    """What independent uncertainties of the panels make of the total, in percent of it.

    The square root of the sum of (q u)^2, over the amount of `total`.

    Raises ValueError for unequal lengths or a total of 0.

    Source: ISO 748:2007, 9.3 (from memory, high).
    """
    if len(percent) != len(panel_discharge):
        raise ValueError("there is one value for every panel")
    if total == 0.0:
        raise ValueError("nothing is a percent of a discharge of 0")
    squares = 0.0
    for i in range(len(panel_discharge)):
        part = panel_discharge[i] / total * percent[i]
        squares += part * part
    return math.sqrt(squares)


def velocity_area_uncertainty(
    panel_discharge: Floats,
    points: Floats,
    width_percent: Floats,
    depth_percent: Floats,
    profile_percent: Floats,
    meter_percent: Floats,
    exposure_percent: Floats,
    verticals_percent: float,
    systematic_percent: float,
) -> float:
    """Standard uncertainty of a discharge by ISO 748, in percent.

    u(Q)^2 = u_s^2 + u_m^2 + sum of q^2 (u_b^2 + u_d^2 + u_p^2 + (u_c^2 + u_e^2) / n), over
    (sum of q)^2, where n is the number of points in the vertical.

    Raises ValueError for unequal lengths, less than one point, or panels that add up to 0.

    Source: ISO 748:2007, 9.3 (from memory, high).
    """
    count = len(panel_discharge)
    if len(points) != count or len(width_percent) != count or len(depth_percent) != count:
        raise ValueError("there is one value for every panel")
    if len(profile_percent) != count or len(meter_percent) != count:
        raise ValueError("there is one value for every panel")
    if len(exposure_percent) != count:
        raise ValueError("there is one value for every panel")
    total = 0.0
    for i in range(count):
        total += panel_discharge[i]
    if total == 0.0:
        raise ValueError("nothing is a percent of a discharge of 0")
    squares = systematic_percent * systematic_percent + verticals_percent * verticals_percent
    for i in range(count):
        if not points[i] >= 1.0:
            raise ValueError("there must be at least one point")
        share = panel_discharge[i] / total
        of_points = meter_percent[i] * meter_percent[i] + exposure_percent[i] * exposure_percent[i]
        of_panel = width_percent[i] * width_percent[i] + depth_percent[i] * depth_percent[i]
        of_panel += profile_percent[i] * profile_percent[i] + of_points / points[i]
        squares += share * share * of_panel
    return math.sqrt(squares)


def velocity_area_uncertainty_equal_panels(
    verticals: float,
    points: float,
    width_percent: float,
    depth_percent: float,
    profile_percent: float,
    meter_percent: float,
    exposure_percent: float,
    verticals_percent: float,
    systematic_percent: float,
) -> float:
    """Standard uncertainty of a discharge by the short form of ISO 748, in percent.

    u(Q)^2 = u_s^2 + u_m^2 + (u_b^2 + u_d^2 + u_p^2 + (u_c^2 + u_e^2) / n) / m, for m panels that
    carry equal discharges, with n points in each vertical.

    Raises ValueError for less than one vertical or less than one point.

    Source: ISO 748:2007, 9.3 (from memory, high).
    """
    if not (verticals >= 1.0 and points >= 1.0):
        raise ValueError("there must be at least one vertical and one point")
    of_points = meter_percent * meter_percent + exposure_percent * exposure_percent
    of_panel = width_percent * width_percent + depth_percent * depth_percent
    of_panel += profile_percent * profile_percent + of_points / points
    common = systematic_percent * systematic_percent + verticals_percent * verticals_percent
    return math.sqrt(common + of_panel / verticals)


def verticals_component(verticals: float) -> float:
    """Uncertainty from the limited number of verticals by Sauer and Meyer: 32 N^-0.88 percent.

    Raises ValueError for less than one vertical.

    Source: Sauer and Meyer 1992, USGS Open-File Report 92-144 (from memory, high).
    """
    if not verticals >= 1.0:
        raise ValueError("there must be at least one vertical")
    return 32.0 * math.pow(verticals, -0.88)


def components_uncertainty(verticals_percent: float) -> float:
    """Standard uncertainty of a discharge by Sauer and Meyer, in percent: a lower bound.

    The number of verticals, the angle of the flow, and what is systematic in width, depth and
    velocity; the other terms of the method are left out for want of a source.

    Source: Sauer and Meyer 1992, USGS Open-File Report 92-144 (from memory, medium).
    """
    systematic = root_sum_of_squares((EACH_SYSTEMATIC, EACH_SYSTEMATIC, EACH_SYSTEMATIC))
    return root_sum_of_squares((verticals_percent, HORIZONTAL_ANGLE, systematic))
