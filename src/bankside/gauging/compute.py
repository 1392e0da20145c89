"""From a gauging to its discharge: the record's stations through the kernel to a result.

Readings are converted to metres and m/s once, on the way in; nothing is converted on the way out.
"""

import math
from collections.abc import Iterable, Sequence
from typing import get_args

import attrs

from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.notes import Note, sentences
from bankside.gauging.panels import WAYS, EdgeRule, Method
from bankside.gauging.records import Gauging
from bankside.gauging.result import ChannelResult, Panel, Result, VerticalResult
from bankside.gauging.result_notes import (
    cancelling_note,
    channel_notes,
    rating_notes,
    triangular_notes,
)
from bankside.gauging.station import Section, Station
from bankside.gauging.stations import stations_of
from bankside.kernel.section import (
    hydraulic_radius,
    mean_depth,
    section_area,
    water_width,
    wetted_perimeter,
)
from bankside.kernel.totals import amount_of, has_shares, share_of, without_rounding

__all__ = ["METHOD_VERSION", "EdgeRule", "Method", "compute"]

METHOD_VERSION = "1"


def compute(
    gauging: Gauging, method: Method = "mid-section", edge_rule: EdgeRule = "half-width"
) -> Result:
    """Return the discharge of a gauging by panels, with every assumption that was made.

    With "mid-section" a panel reaches half way to the neighbours of its vertical (USBR Water
    Measurement Manual, 3rd ed., ch. 10 sec. 15); with "mean-section" it lies between two verticals
    (Shaw, Hydrology in Practice, sec. 7). `edge_rule` concerns the mid-section method only:
    "half-width" gives an edge of water half the distance to its neighbour (manual of the
    hydrometric survey of British Columbia, 1998, D.3.2), "triangular" gives the vertical beside an
    edge of depth 0 the textbook's (W1 + W2/2)² / (2 W1) (Subramanya, Engineering Hydrology, ch. 4,
    from memory). Channels are worked out each by itself and added. A total of 1e-12 of the amounts
    it is made of or less is 0; one of a thousandth of them or less has no shares.

    InputRefused, with every fault that can be told, if the gauging is not complete enough.
    """
    _require_method(method, edge_rule)
    way = WAYS[method, edge_rule]
    sections, notes = _sections(gauging)
    panels = [
        panel for index, section in enumerate(sections) for panel in way.panels(index, section)
    ]
    channels = [
        ChannelResult(
            discharge_m3s=without_rounding(
                way.total(section.tape, section.depth, section.velocity),
                _amount(panel for panel in panels if panel.channel == index),
            ),
            area_m2=section_area(section.tape, section.depth),
            width_m=water_width(section.tape, section.depth),
            wetted_perimeter_m=wetted_perimeter(section.tape, section.depth),
        )
        for index, section in enumerate(sections)
    ]
    amount = _amount(panels)
    total = without_rounding(_total(channel.discharge_m3s for channel in channels), amount)
    area = _total(channel.area_m2 for channel in channels)
    width = _total(channel.width_m for channel in channels)
    perimeter = _total(channel.wetted_perimeter_m for channel in channels)
    panel_area = _total(panel.area_m2 for panel in panels)
    _require_finite((total, amount, area, panel_area, width, perimeter))
    triangular = edge_rule == "triangular"
    if triangular:
        notes += triangular_notes(sections, panels, (panel_area, area), gauging.units.length)
    if amount > 0 and not has_shares(total, amount):
        notes.append(cancelling_note())
    return Result(
        method=method,
        edge_rule=edge_rule if method == "mid-section" else None,
        method_version=METHOD_VERSION,
        discharge_m3s=total,
        area_m2=area,
        width_m=width,
        mean_depth_m=mean_depth(area, width) if width > 0 else None,
        mean_velocity_ms=_mean_velocity(total, panel_area if triangular else area),
        wetted_perimeter_m=perimeter,
        hydraulic_radius_m=hydraulic_radius(area, perimeter) if perimeter > 0 else None,
        panels=tuple(_with_share(panel, total, amount) for panel in panels),
        channels=tuple(channels),
        verticals=tuple(
            _vertical(index, station)
            for index, section in enumerate(sections)
            for station in section.stations
        ),
        notes=sentences(notes, gauging.units),
    )


def _require_method(method: str, edge_rule: str) -> None:
    faults = []
    for name, value, known in (
        ("method", method, get_args(Method)),
        ("edge_rule", edge_rule, get_args(EdgeRule)),
    ):
        if value not in known:
            words = " or ".join(f'"{word}"' for word in known)
            faults.append(Fault(f'{name} must be {words} (got "{value}")'))
    if method == "mean-section" and edge_rule == "triangular":
        faults.append(Fault('edge_rule "triangular" must go with the method "mid-section"'))
    if faults:
        raise InputRefused(faults)


def _sections(gauging: Gauging) -> tuple[list[Section], list[Note]]:
    """Return the sections of all channels; InputRefused with the faults of all of them."""
    if not gauging.channels:
        raise InputRefused(
            [Fault("channels must be at least one to compute a discharge", path="channels")]
        )
    sections: list[Section] = []
    notes: list[Note] = []
    faults: list[Fault] = []
    for index, channel in enumerate(gauging.channels):
        try:
            stations, made = stations_of(gauging, channel)
        except InputRefused as refused:
            faults += [fault.inside(index).inside("channels") for fault in refused.faults]
            continue
        notes += made
        sections.append(Section.of(stations))
    if faults:
        raise InputRefused(faults)
    notes += [*rating_notes(gauging), *channel_notes(sections)]
    return sections, notes


def _vertical(channel: int, station: Station) -> VerticalResult:
    return VerticalResult(
        channel=channel,
        vertical=station.index,
        tape=station.vertical.tape,
        depth_m=station.depth_m,
        velocity_ms=station.velocity_ms,
        velocity_from=station.velocity_from,
        measured=station.measured,
        neighbours=station.neighbours,
    )


def _total(parts: Iterable[float]) -> float:
    # Not sum(): its rounding changed in Python 3.12, and a total must not depend on that.
    total = 0.0
    for part in parts:
        total += part
    return total


def _amount(panels: Iterable[Panel]) -> float:
    """Return how much water the panels carry, whichever way it runs."""
    return amount_of([panel.discharge_m3s for panel in panels])


def _mean_velocity(discharge: float, area: float) -> float | None:
    return discharge / area if area > 0 else None


def _with_share(panel: Panel, total: float, amount: float) -> Panel:
    if not has_shares(total, amount):
        return panel
    return attrs.evolve(panel, share=share_of(panel.discharge_m3s, total))


def _require_finite(totals: Sequence[float]) -> None:
    if not all(math.isfinite(total) for total in totals):
        raise InputRefused(
            [Fault("readings must be small enough to be multiplied and added", path="channels")]
        )
