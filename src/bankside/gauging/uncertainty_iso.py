"""The uncertainty of a discharge by ISO 748: tables for each part, put together panel by panel."""

from __future__ import annotations

from collections.abc import Iterator

from bankside.gauging.budget import Budget, BudgetPart
from bankside.gauging.notes import Note, sentences
from bankside.gauging.records import Gauging
from bankside.gauging.uncertainty_flow import Assumed, Flow, verticals_part, width_part
from bankside.gauging.uncertainty_points import ReadPanel, rating_words, read_panels, table_notes
from bankside.kernel.iso_tables import VERTICALS, verticals_uncertainty
from bankside.kernel.uncertainty import panels_uncertainty, velocity_area_uncertainty

__all__ = ["iso_budget"]

_ANNEX = "ISO 748:2007, annex E (from memory"
# Below this the range for depths by rod says nothing (from memory, medium).
_SHALLOWEST = 0.4


def iso_budget(gauging: Gauging, flow: Flow, assumed: Assumed) -> Budget:
    """Return the budget by ISO 748:2007, 9.3 (from memory): tables for all parts.

    Every stretch of water between banks has its own number of verticals, and what is uncertain in
    one is independent of the others (ours).
    """
    panels, notes = read_panels(gauging, flow.panels, assumed)
    verticals = verticals_part(flow, verticals_uncertainty, f"{_ANNEX}, high)")
    count = len(panels)
    standard = velocity_area_uncertainty(
        [read.panel.discharge_m3s for read in panels],
        [float(read.points) for read in panels],
        [assumed.width_percent] * count,
        [assumed.depth_percent] * count,
        [read.profile_percent for read in panels],
        [read.meter_percent for read in panels],
        [read.exposure_percent for read in panels],
        verticals.percent,
        assumed.systematic_percent,
    )
    notes += [
        *table_notes(gauging, panels),
        *flow.notes,
        *_stretch_notes(flow),
        *_depth_notes(panels),
        Note(
            "The table for the number of verticals does not know this bed: in a first experiment "
            "with simulated sections it was far too small on very rough ones."
        ),
    ]
    return Budget(
        key="iso-748",
        method="ISO 748:2007, 9.3 (formula and tables from memory)",
        parts=(verticals, *_parts(gauging, flow, panels, assumed)),
        standard_percent=standard,
        remarks=sentences(notes, gauging.units),
    )


def _parts(
    gauging: Gauging, flow: Flow, panels: tuple[ReadPanel, ...], assumed: Assumed
) -> Iterator[BudgetPart]:
    discharges = [read.panel.discharge_m3s for read in panels]

    def of_panels(percent: list[float]) -> float:
        return panels_uncertainty(discharges, percent, flow.total)

    yield BudgetPart(
        "depth",
        of_panels([assumed.depth_percent] * len(panels)),
        f"{assumed.depth_percent:g} % a vertical is taken; ISO 748:2007 has 0.5 to 1.5 % (from "
        "memory, medium)",
    )
    yield width_part(flow, assumed)
    yield BudgetPart(
        "meter",
        of_panels([read.meter_percent / read.points**0.5 for read in panels]),
        f"{rating_words(gauging)}: {_ANNEX}, high)",
    )
    yield BudgetPart(
        "exposure",
        of_panels([read.exposure_percent / read.points**0.5 for read in panels]),
        f"by velocity, time and depth of each point: {_ANNEX}, medium)",
    )
    yield BudgetPart(
        "vertical profile",
        of_panels([read.profile_percent for read in panels]),
        f"by the number of points in each vertical: {_ANNEX}, high)",
    )
    yield BudgetPart(
        "systematic",
        assumed.systematic_percent,
        f"{assumed.systematic_percent:g} % is taken; ISO 748:2007 has 1 % from 0.5 % each of "
        "meter, width and depth (from memory, medium)",
    )


def _stretch_notes(flow: Flow) -> Iterator[Note]:
    if len(flow.stretches) > 1:
        yield Note(
            "Channels and waters parted by dry ground have each their own number of verticals and "
            "count as independent (ours, no source)."
        )
    short = [s for s in flow.stretches if s.read < VERTICALS[0]]
    if short:
        yield Note(
            f"The table for the number of verticals begins at {VERTICALS[0]:g} and "
            f"{' and '.join(str(stretch.read) for stretch in short)} were read: its first figure "
            "is used, a lower bound."
        )


def _depth_notes(panels: tuple[ReadPanel, ...]) -> Iterator[Note]:
    shallow = [read for read in panels if read.panel.depth_m < _SHALLOWEST]
    if shallow:
        yield Note(
            f"{len(shallow)} of {len(panels)} verticals are shallower than {_SHALLOWEST:g} m, "
            "where the range for depths ends: the part for depth is probably too small."
        )
