"""The tables of ISO 748 for the uncertainty of one part of a discharge each.

All figures are relative standard uncertainties in percent (one standard uncertainty), all from
memory: ISO 748:2007, annex E.  Between two rows they run straight (ours: the standard gives rows
only).  Before the first row its figure stays, and the truth may be more: whoever asks there must
say so.  Velocities are amounts in m/s and times are in seconds, as in the tables.
"""

__all__ = [
    "EXPOSURE_SECONDS",
    "EXPOSURE_VELOCITY",
    "METER_VELOCITY",
    "VERTICALS",
    "exposure_uncertainty",
    "meter_uncertainty_group",
    "meter_uncertainty_individual",
    "profile_uncertainty",
    "verticals_uncertainty",
]

# Number of verticals; the last figure holds beyond the last row too (from memory, high).
VERTICALS = (5.0, 10.0, 15.0, 20.0, 25.0, 30.0, 35.0, 40.0, 45.0)
_VERTICALS_PERCENT = (7.5, 4.5, 3.0, 2.5, 2.0, 1.5, 1.0, 1.0, 1.0, 1.0)

# Exposure (from memory, medium: some cells may be 1 off).  One row of figures for each time.
EXPOSURE_VELOCITY = (0.05, 0.10, 0.20, 0.30, 0.40, 0.50, 1.00)
EXPOSURE_SECONDS = (30.0, 60.0, 120.0, 180.0)
_UPPER = (
    (25.0, 14.0, 8.0, 5.0, 4.0, 4.0, 4.0, 4.0),
    (20.0, 11.0, 6.0, 4.0, 3.0, 3.0, 3.0, 3.0),
    (15.0, 8.0, 5.0, 3.0, 3.0, 3.0, 3.0, 3.0),
    (10.0, 7.0, 4.0, 3.0, 3.0, 2.0, 2.0, 2.0),
)
_LOWER = (
    (40.0, 17.0, 9.0, 5.0, 4.0, 4.0, 4.0, 4.0),
    (30.0, 14.0, 7.0, 4.0, 3.0, 3.0, 3.0, 3.0),
    (25.0, 10.0, 5.0, 3.0, 3.0, 3.0, 3.0, 3.0),
    (20.0, 8.0, 4.0, 3.0, 3.0, 2.0, 2.0, 2.0),
)
# The upper figures are for points at 0.2, 0.4 and 0.6 of the depth, the lower for 0.8 and 0.9.
_UPPER_DOWN_TO = 0.6
_LOWER_FROM = 0.8

# Meter (from memory, high).  The last figure of a group rating holds above 0.50 m/s only.
METER_VELOCITY = (0.03, 0.10, 0.15, 0.25, 0.50)
_INDIVIDUAL_PERCENT = (10.0, 2.5, 1.25, 1.0, 0.5, 0.5)
_GROUP_PERCENT = (10.0, 5.0, 2.5, 2.0, 1.5, 1.0)


def _figure(at: float, rows: tuple[float, ...], figures: tuple[float, ...]) -> float:
    """Figure at `at`, straight between rows; `figures` has one more, for all beyond the last."""
    if at <= rows[0]:
        return figures[0]
    for i in range(len(rows) - 1):
        if at <= rows[i + 1]:
            part = (at - rows[i]) / (rows[i + 1] - rows[i])
            return figures[i] + (figures[i + 1] - figures[i]) * part
    return figures[len(rows)]


def verticals_uncertainty(verticals: float) -> float:
    """Uncertainty from the limited number of verticals, in percent.

    7.5 for 5 verticals, down to 1.0 from 35 on.  For fewer than 5 it is the 7.5 of the first row,
    which is then too small.

    Raises ValueError for less than one vertical.

    Source: ISO 748:2007, annex E (from memory, high); straight lines between rows are ours.
    """
    if not verticals >= 1.0:
        raise ValueError("there must be at least one vertical")
    return _figure(verticals, VERTICALS, _VERTICALS_PERCENT)


def profile_uncertainty(points: float) -> float:
    """Uncertainty of a vertical's mean velocity from the number of its points, in percent.

    7.5 for one point, 3.5 for two, 2.5 for five.  A number between two rows has the figure of the
    fewer points, so that nothing is made better than it is (ours).

    Raises ValueError for less than one point.

    Source: ISO 748:2007, annex E (from memory, high).
    """
    if not points >= 1.0:
        raise ValueError("there must be at least one point")
    if points >= 5.0:
        return 2.5
    return 3.5 if points >= 2.0 else 7.5


def _exposure_percent(
    velocity_ms: float, exposure_seconds: float, table: tuple[tuple[float, ...], ...]
) -> float:
    """Figure of an exposure table, straight in velocity and then in time."""
    last = len(EXPOSURE_SECONDS) - 1
    if exposure_seconds <= EXPOSURE_SECONDS[0]:
        return _figure(velocity_ms, EXPOSURE_VELOCITY, table[0])
    for i in range(last):
        if exposure_seconds <= EXPOSURE_SECONDS[i + 1]:
            step = EXPOSURE_SECONDS[i + 1] - EXPOSURE_SECONDS[i]
            part = (exposure_seconds - EXPOSURE_SECONDS[i]) / step
            shorter = _figure(velocity_ms, EXPOSURE_VELOCITY, table[i])
            longer = _figure(velocity_ms, EXPOSURE_VELOCITY, table[i + 1])
            return shorter + (longer - shorter) * part
    return _figure(velocity_ms, EXPOSURE_VELOCITY, table[last])


def exposure_uncertainty(
    velocity_ms: float, exposure_seconds: float, point_fraction: float
) -> float:
    """Uncertainty of a point's velocity from the limited exposure time, in percent.

    `point_fraction` is where the point was, as a fraction of the depth below the surface: one
    table holds down to 0.6, another from 0.8 on, and between the two the figure runs straight
    (ours).  Slower than 0.05 m/s or shorter than 30 s it is the figure of the first row, which is
    then too small; longer than 3 minutes that of the last.

    Raises ValueError for a velocity below 0, a time not above 0, or a fraction outside 0 to 1.

    Source: ISO 748:2007, annex E (from memory, medium); straight lines between rows are ours.
    """
    if not (velocity_ms >= 0.0 and exposure_seconds > 0.0):
        raise ValueError("a velocity is given by its amount, and an exposure time is above 0")
    if not 0.0 <= point_fraction <= 1.0:
        raise ValueError("a fraction of the depth lies between 0 and 1")
    upper = _exposure_percent(velocity_ms, exposure_seconds, _UPPER)
    if point_fraction <= _UPPER_DOWN_TO:
        return upper
    lower = _exposure_percent(velocity_ms, exposure_seconds, _LOWER)
    if point_fraction >= _LOWER_FROM:
        return lower
    part = (point_fraction - _UPPER_DOWN_TO) / (_LOWER_FROM - _UPPER_DOWN_TO)
    return upper + (lower - upper) * part


def meter_uncertainty_individual(velocity_ms: float) -> float:
    """Uncertainty from the rating of a meter that was calibrated itself, in percent.

    10 at 0.03 m/s, down to 0.5 from 0.50 m/s on.  Slower than 0.03 m/s it is the 10 of the first
    row, which is then too small.

    Raises ValueError for a velocity below 0.

    Source: ISO 748:2007, annex E (from memory, high); straight lines between rows are ours.
    """
    if not velocity_ms >= 0.0:
        raise ValueError("a velocity is given by its amount")
    return _figure(velocity_ms, METER_VELOCITY, _INDIVIDUAL_PERCENT)


def meter_uncertainty_group(velocity_ms: float) -> float:
    """Uncertainty from a rating that holds for all meters of a kind, in percent.

    10 at 0.03 m/s, down to 1.5 at 0.50 m/s and 1.0 above it.  Slower than 0.03 m/s it is the 10
    of the first row, which is then too small.

    Raises ValueError for a velocity below 0.

    Source: ISO 748:2007, annex E (from memory, high); straight lines between rows are ours.
    """
    if not velocity_ms >= 0.0:
        raise ValueError("a velocity is given by its amount")
    return _figure(velocity_ms, METER_VELOCITY, _GROUP_PERCENT)
