"""The uncertainty of a discharge by a process that is pinned at the readings, ours."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence

from bankside.gauging.between_remarks import between_remarks
from bankside.gauging.between_section import BetweenSection, section_over
from bankside.gauging.between_station import Station
from bankside.gauging.budget import Budget, BudgetPart
from bankside.gauging.notes import sentences
from bankside.gauging.records import Gauging
from bankside.gauging.result import VerticalResult
from bankside.gauging.uncertainty_flow import Assumed, Flow
from bankside.gauging.uncertainty_points import ReadPanel, has_own_rating, read_panels
from bankside.gauging.units import metres_per
from bankside.kernel import between_assumed
from bankside.kernel.uncertainty import root_sum_of_squares

__all__ = ["between_budget", "section_as_read"]

_METHOD = "Between verticals, by what the readings tell (ours)"


def section_as_read(gauging: Gauging, flow: Flow, assumed: Assumed) -> BetweenSection | None:
    """Return the section with what its readings tell of it, None where nothing flows."""
    waters = _waters(gauging, flow, assumed)
    if not waters:
        return None
    return section_over(
        waters, flow.total, assumed.width_percent, own_rating=has_own_rating(gauging)
    )


def between_budget(gauging: Gauging, flow: Flow, assumed: Assumed) -> Budget | str:
    """Return the budget by what the readings tell of the water between them, or why there is none.

    Verticals whose velocity was not read tell nothing here: the water between their neighbours is
    one interval. One standard uncertainty is the root of the mean variance; the interval of 95 %
    holds so much of all that the readings leave possible, and is not twice the former.
    """
    section = section_as_read(gauging, flow, assumed)
    _, assumptions = read_panels(gauging, flow.panels, assumed)
    if section is None:
        return "What lies between verticals cannot be told: no vertical with flow was read."
    parts = tuple(_parts(section, flow))
    remarks = [*flow.notes, *between_remarks(section, flow, gauging.units), *assumptions]
    return Budget(
        key="between-verticals",
        method=_METHOD,
        parts=parts,
        standard_percent=root_sum_of_squares([part.percent for part in parts]),
        expanded_percent=section.half_width(0.95),
        two_thirds_percent=section.half_width(0.68),
        remarks=sentences(remarks, gauging.units),
    )


def _waters(gauging: Gauging, flow: Flow, assumed: Assumed) -> list[tuple[int, list[Station]]]:
    """Return the stations of each stretch of water that flows, those that were read."""
    read = {
        (one.panel.channel, one.panel.vertical): one
        for one in read_panels(gauging, flow.panels, assumed)[0]
    }
    metres = metres_per(gauging.units.length)
    waters = (
        (stretch.stations[0].channel, list(_as_read(stretch.stations, read, metres)))
        for stretch in flow.stretches
    )
    return [one for one in waters if any(station.unit_discharge for station in one[1])]


def _as_read(
    stations: Sequence[VerticalResult],
    read: Mapping[tuple[int, int], ReadPanel],
    metres: float,
) -> Iterator[Station]:
    last = len(stations) - 1
    for i, station in enumerate(stations):
        if i in (0, last) or station.measured or station.depth_m == 0.0:
            panel = read.get((station.channel, station.vertical))
            yield Station(
                vertical=station.vertical,
                tape_m=station.tape * metres,
                depth_m=station.depth_m,
                velocity_ms=station.velocity_ms,
                points=0 if panel is None else panel.points,
                exposure_percent=0.0 if panel is None else _exposure_percent(panel),
                measured=station.measured,
                at_surface=panel is not None and panel.at_surface,
            )


def _exposure_percent(panel: ReadPanel) -> float:
    return 100.0 * between_assumed.FLOAT if panel.floated else panel.exposure_percent


def _parts(section: BetweenSection, flow: Flow) -> Iterator[BudgetPart]:
    between, left = section.between, section.variances
    yield BudgetPart(
        "between verticals",
        section.percent(between.variance),
        f"what {flow.counts} verticals leave open; their readings make the bed "
        f"{_rough_word(between.unevenness)} (unevenness {between.unevenness:.2g})",
    )
    yield BudgetPart(
        "readings",
        section.percent(left.readings),
        "exposure by ISO 748:2007, annex E (from memory), depths read to "
        f"{between_assumed.DEPTH_READING_M * 1e3:g} mm (assumed), each vertical by itself",
    )
    square = section.profile_square
    yield BudgetPart(
        "vertical profile",
        section.percent(square * left.profile),
        f"{100.0 * math.sqrt(square):.2g} % a vertical at one point, less than half at two (after "
        "ISO 748:2007, annex E, from memory); verticals nearer than the depth err together "
        "(assumed)",
    )
    yield BudgetPart(
        "width",
        section.percent(left.width),
        f"{section.width_percent:g} % a panel is taken; ISO 748:2007 has 0.15 to 0.5 % (from "
        "memory, medium)",
    )
    yield BudgetPart(
        "rod",
        section.percent(left.rod),
        f"all depths {between_assumed.ROD_M * 1e3:g} mm too large or small, as a rod sinks in or "
        f"stands on stones, and {between_assumed.PILE_UP:g} of the velocity head (assumed)",
    )
    yield BudgetPart(
        "meter's zero",
        section.percent(left.zero),
        f"{between_assumed.ZERO_MS * 1e3:g} mm/s at all verticals (assumed)",
    )
    yield BudgetPart(
        "meter",
        section.percent(left.meter),
        f"{'own' if section.own_rating else 'group'} rating, by the velocity of each vertical: ISO "
        "748:2007, annex E (from memory, high); the same way at all verticals (ours)",
    )
    yield BudgetPart(
        "systematic",
        section.percent(left.systematic),
        f"{100 * between_assumed.PROFILE_COMMON:g} % for the vertical profile, the same at all "
        f"verticals{_by_surface(section)} (assumed)",
    )


def _by_surface(section: BetweenSection) -> str:
    if not any(one.by_surface for water in section.waters for one in water):
        return ""
    return f", {100 * between_assumed.SURFACE_COMMON:g} % where the surface alone was read"


# Where unevenness begins to show, and where it rules (ours): the fitted figures between those of
# smooth runs and of pocket water.
_SOME, _MUCH = 0.1, 0.4


def _rough_word(unevenness: float) -> str:
    if unevenness < _SOME:
        return "smooth"
    return "uneven" if unevenness < _MUCH else "rough"
