"""How the velocity of each panel was read, in the figures of ISO 748's tables."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

import attrs

from bankside.gauging.notes import Note
from bankside.gauging.point_velocity import point_velocities, repeats_by_point
from bankside.gauging.records import Gauging, Vertical
from bankside.gauging.result import Panel
from bankside.gauging.uncertainty_flow import Assumed
from bankside.gauging.units import metres_per_second_per
from bankside.kernel.iso_tables import (
    EXPOSURE_SECONDS,
    EXPOSURE_VELOCITY,
    METER_VELOCITY,
    exposure_uncertainty,
    meter_uncertainty_group,
    meter_uncertainty_individual,
    profile_uncertainty,
)
from bankside.kernel.uncertainty import root_sum_of_squares

__all__ = ["ReadPanel", "has_own_rating", "rating_words", "read_panels", "table_notes"]

# The points for which the table of the vertical profile is made (from memory).
_TABLED = ((0.6,), (0.2, 0.8), (0.0, 0.2, 0.6, 0.8, 1.0))
# Where a mean of the vertical is thought to be read.
_ONE_POINT = 0.6


@attrs.frozen
class ReadPanel:
    """A panel and how sure its velocity is: number of points, and percents from the tables.

    With several points, `meter_percent` and `exposure_percent` are the root of the mean of their
    squares, so that they may be divided by the root of `points` as for equal ones. `at_surface`
    says whether the surface alone was read, `floated` whether that was by a float: no exposure time
    is written then, as there is none (ours: a record does not say what was read there).
    """

    panel: Panel
    points: int
    profile_percent: float
    meter_percent: float
    exposure_percent: float
    at_surface: bool = False
    floated: bool = False


@attrs.frozen
class _Point:
    """One point of a vertical: velocity by its amount in m/s, exposure in all, fraction."""

    velocity_ms: float
    seconds: float
    fraction: float


def has_own_rating(gauging: Gauging) -> bool:
    """Whether the meter goes by a calibration of its own, made before and not overdue on the day.

    Without a day of the gauging, or one by which the meter is due, neither is taken as amiss.
    """
    return _no_rating(gauging) is None


def rating_words(gauging: Gauging) -> str:
    """Return by which rating the meter counts, and why."""
    why = _no_rating(gauging)
    if why is None:
        return "own rating, as a day of calibration is written"
    return f"group rating, as {why}"


def _no_rating(gauging: Gauging) -> str | None:
    """Return why the meter has no rating of its own, None where it has."""
    meter = gauging.meter
    if meter is None or meter.calibrated is None:
        return "no day of calibration is written"
    day = gauging.date or (None if gauging.started is None else gauging.started.date())
    if day is not None and meter.calibrated > day:
        return "it was calibrated after the gauging, and nothing is known of how it stood"
    if day is not None and meter.calibration_due is not None and day > meter.calibration_due:
        return "its calibration was overdue: so much at the least"
    return None


def read_panels(
    gauging: Gauging, panels: Iterable[Panel], assumed: Assumed
) -> tuple[tuple[ReadPanel, ...], list[Note]]:
    """Return the panels that have water, and what every method assumes about their readings."""
    notes: list[Note] = []
    wet = [panel for panel in panels if panel.area_m2 > 0]
    read = tuple(_read_panels(gauging, wet, assumed, notes))
    return read, _in_short(notes, len(wet))


def table_notes(gauging: Gauging, read: Sequence[ReadPanel]) -> list[Note]:
    """Return where the tables know less than the panels: no velocity, or points of no table."""
    notes: list[Note] = []
    for one in read:
        panel = one.panel
        vertical = gauging.channels[panel.channel].verticals[panel.vertical]
        if vertical.velocity:
            notes += _untabled_points(vertical)
        else:
            share = 0.0 if panel.share is None else abs(panel.share)
            notes.append(
                Note(
                    "No velocity was read at {at}: the panel counts as one read at one point, and "
                    "how wrong the velocity in its place may be is in no part.",
                    panel.tape,
                    f"{share:.2g} % of the discharge",
                )
            )
    return _in_short(notes, len(read))


def _in_short(notes: Iterable[Note], count: int) -> list[Note]:
    """Return the notes, those that concern all of `count` verticals without their tapes."""
    by_sentence: dict[str, list[Note]] = {}
    for note in notes:
        by_sentence.setdefault(note.sentence, []).append(note)
    for sentence, here in by_sentence.items():
        if len(here) == count > 1 and all(note.detail is None for note in here):
            by_sentence[sentence] = [Note(sentence.replace("{at}", "every vertical"))]
    return [note for here in by_sentence.values() for note in here]


def _read_panels(
    gauging: Gauging, panels: Iterable[Panel], assumed: Assumed, notes: list[Note]
) -> Iterator[ReadPanel]:
    for panel in panels:
        vertical = gauging.channels[panel.channel].verticals[panel.vertical]
        if vertical.velocity:
            points = list(_points(gauging, vertical, assumed, notes))
        else:
            points = [_Point(abs(panel.velocity_ms), assumed.exposure_seconds, _ONE_POINT)]
        notes += _beyond_tables(points, panel.tape)
        yield _read_panel(panel, vertical, points, own_rating=has_own_rating(gauging))


def _read_panel(
    panel: Panel, vertical: Vertical, points: list[_Point], *, own_rating: bool
) -> ReadPanel:
    of_meter = meter_uncertainty_individual if own_rating else meter_uncertainty_group
    root = len(points) ** 0.5
    at_surface = [point.fraction for point in points] == [0.0]
    return ReadPanel(
        panel=panel,
        points=len(points),
        profile_percent=profile_uncertainty(len(points)),
        meter_percent=root_sum_of_squares([of_meter(p.velocity_ms) for p in points]) / root,
        exposure_percent=root_sum_of_squares(
            [exposure_uncertainty(p.velocity_ms, p.seconds, p.fraction) for p in points]
        )
        / root,
        at_surface=at_surface,
        floated=at_surface and all(reading.seconds is None for reading in vertical.velocity),
    )


def _points(
    gauging: Gauging, vertical: Vertical, assumed: Assumed, notes: list[Note]
) -> Iterator[_Point]:
    """Yield the points of a vertical; readings repeated at one of them add up their times."""
    rating = () if gauging.meter is None else gauging.meter.rating
    per = metres_per_second_per(gauging.units.velocity)
    seconds: dict[float | None, float] = {}
    for reading in vertical.velocity:
        # One reading has one fraction, and this names it as the mean of all of them does.
        (at,) = point_velocities((reading,), rating, [])
        taken = assumed.exposure_seconds if reading.seconds is None else reading.seconds
        seconds[at] = seconds.get(at, 0.0) + taken
    if any(reading.seconds is None for reading in vertical.velocity):
        notes.append(
            Note(
                f"The exposure time at {{at}} is missing: {assumed.exposure_seconds:g} s are taken "
                "for a reading.",
                vertical.tape,
            )
        )
    if all(at is None for at in seconds):
        notes.append(
            Note(
                "The velocity at {at} is written without its points: it is taken as read at one, "
                "at 0.6 of the depth, which has the widest figure.",
                vertical.tape,
            )
        )
    for at, value in point_velocities(vertical.velocity, rating, []).items():
        yield _Point(abs(value * per), seconds[at], _ONE_POINT if at is None else at)


def _untabled_points(vertical: Vertical) -> Iterator[Note]:
    given = sorted(at for at in repeats_by_point(vertical.velocity) if at is not None)
    if given and tuple(given) not in _TABLED:
        yield Note(
            "The table of the vertical profile is made for 0.6, for 0.2 and 0.8, and for five "
            "points: that at {at} has the figure of the next fewer points, probably too small if "
            "it is one.",
            vertical.tape,
            ", ".join(f"{at:g}" for at in given),
        )


def _beyond_tables(points: Iterable[_Point], tape: float) -> Iterator[Note]:
    """Yield where a table ends above what was read, so that its figure is a lower bound."""
    slowest = min(point.velocity_ms for point in points)
    shortest = min(point.seconds for point in points)
    for table, first in (("exposure", EXPOSURE_VELOCITY[0]), ("meter", METER_VELOCITY[0])):
        if slowest < first:
            yield Note(
                f"The {table} table begins at {first:g} m/s and the water at {{at}} was slower: "
                "its first figure is used, a lower bound.",
                tape,
            )
    if shortest < EXPOSURE_SECONDS[0]:
        yield Note(
            f"The exposure table begins at {EXPOSURE_SECONDS[0]:g} s and {{at}} had less: its "
            "first figure is used, a lower bound.",
            tape,
        )
