"""From a gauging to its discharge: the record's stations through the kernel to a result.

Readings are converted to metres and m/s once, on the way in; nothing is converted on the way out.
"""

import math
from collections.abc import Callable, Iterable, Sequence
from typing import Literal, get_args

import attrs

from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.notes import Note, sentences
from bankside.gauging.records import Gauging
from bankside.gauging.result import ChannelResult, Panel, Result, VerticalResult
from bankside.gauging.stations import Station, stations_of
from bankside.kernel.discharge import (
    mean_section_discharge,
    mean_section_panel,
    mid_section_discharge,
    mid_section_discharge_triangular,
)
from bankside.kernel.section import (
    hydraulic_radius,
    mean_depth,
    panel_width,
    panel_width_triangular,
    section_area,
    trapezoid_area,
    water_width,
    wetted_perimeter,
)

__all__ = ["METHOD_VERSION", "EdgeRule", "Method", "compute"]

Method = Literal["mid-section", "mean-section"]
EdgeRule = Literal["half-width", "triangular"]

METHOD_VERSION = "1"


@attrs.frozen
class _Section:
    """The stations of a channel as the sequences that the kernel takes."""

    stations: tuple[Station, ...]
    tape: list[float]
    depth: list[float]
    velocity: list[float]


def _mid_section_panels(
    channel: int, section: _Section, width_of: Callable[[_Section, int], float]
) -> Iterable[Panel]:
    for i, station in enumerate(section.stations):
        width = width_of(section, i)
        area = width * station.depth_m
        yield Panel(
            channel=channel,
            vertical=station.index,
            tape=station.vertical.tape,
            tape_to=None,
            width_m=width,
            depth_m=station.depth_m,
            velocity_ms=station.velocity_ms,
            area_m2=area,
            discharge_m3s=area * station.velocity_ms,
            share=None,
            velocity_from=station.velocity_from,
        )


def _half_width_panels(channel: int, section: _Section) -> Iterable[Panel]:
    return _mid_section_panels(channel, section, lambda s, i: panel_width(s.tape, i))


def _triangular_panels(channel: int, section: _Section) -> Iterable[Panel]:
    return _mid_section_panels(
        channel, section, lambda s, i: panel_width_triangular(s.tape, s.depth, i)
    )


def _mean_section_panels(channel: int, section: _Section) -> Iterable[Panel]:
    for i in range(len(section.stations) - 1):
        station, after = section.stations[i], section.stations[i + 1]
        both = dict.fromkeys((station.velocity_from, after.velocity_from))
        yield Panel(
            channel=channel,
            vertical=station.index,
            tape=station.vertical.tape,
            tape_to=after.vertical.tape,
            width_m=after.tape_m - station.tape_m,
            depth_m=(station.depth_m + after.depth_m) / 2,
            velocity_ms=(station.velocity_ms + after.velocity_ms) / 2,
            area_m2=trapezoid_area(section.tape, section.depth, i),
            discharge_m3s=mean_section_panel(section.tape, section.depth, section.velocity, i),
            share=None,
            velocity_from=" and ".join(both),
        )


@attrs.frozen
class _Way:
    """How a section is cut into panels, and the kernel's total for that cut."""

    panels: Callable[[int, _Section], Iterable[Panel]]
    total: Callable[[list[float], list[float], list[float]], float]


_WAYS = {
    ("mid-section", "half-width"): _Way(_half_width_panels, mid_section_discharge),
    ("mid-section", "triangular"): _Way(_triangular_panels, mid_section_discharge_triangular),
    ("mean-section", "half-width"): _Way(_mean_section_panels, mean_section_discharge),
}


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
    from memory). Channels are worked out each by itself and added.

    InputRefused, with every fault that can be told, if the gauging is not complete enough.
    """
    _require_method(method, edge_rule)
    way = _WAYS[method, edge_rule]
    sections, notes = _sections(gauging)
    panels = [
        panel for index, section in enumerate(sections) for panel in way.panels(index, section)
    ]
    channels = [
        ChannelResult(
            discharge_m3s=way.total(section.tape, section.depth, section.velocity),
            area_m2=section_area(section.tape, section.depth),
            width_m=water_width(section.tape, section.depth),
            wetted_perimeter_m=wetted_perimeter(section.tape, section.depth),
        )
        for section in sections
    ]
    total = _total(channel.discharge_m3s for channel in channels)
    area = _total(channel.area_m2 for channel in channels)
    width = _total(channel.width_m for channel in channels)
    perimeter = _total(channel.wetted_perimeter_m for channel in channels)
    _require_finite((total, area, width, perimeter))
    return Result(
        method=method,
        edge_rule=edge_rule if method == "mid-section" else None,
        method_version=METHOD_VERSION,
        discharge_m3s=total,
        area_m2=area,
        width_m=width,
        mean_depth_m=mean_depth(area, width) if width > 0 else None,
        mean_velocity_ms=total / area if area > 0 else None,
        wetted_perimeter_m=perimeter,
        hydraulic_radius_m=hydraulic_radius(area, perimeter) if perimeter > 0 else None,
        panels=tuple(_with_share(panel, total) for panel in panels),
        channels=tuple(channels),
        verticals=tuple(
            _vertical(index, station)
            for index, section in enumerate(sections)
            for station in section.stations
        ),
        notes=sentences(notes, gauging.units.length),
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


def _sections(gauging: Gauging) -> tuple[list[_Section], list[Note]]:
    """Return the sections of all channels; InputRefused with the faults of all of them."""
    if not gauging.channels:
        raise InputRefused(
            [Fault("channels must be at least one to compute a discharge", path="channels")]
        )
    sections: list[_Section] = []
    notes: list[Note] = []
    faults: list[Fault] = []
    for index, channel in enumerate(gauging.channels):
        try:
            stations, made = stations_of(gauging, channel)
        except InputRefused as refused:
            faults += [fault.inside(index).inside("channels") for fault in refused.faults]
            continue
        notes += made
        sections.append(
            _Section(
                stations,
                [station.tape_m for station in stations],
                [station.depth_m for station in stations],
                [station.velocity_ms for station in stations],
            )
        )
    if faults:
        raise InputRefused(faults)
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
    )


def _total(parts: Iterable[float]) -> float:
    # Not sum(): its rounding changed in Python 3.12, and a total must not depend on that.
    total = 0.0
    for part in parts:
        total += part
    return total


def _with_share(panel: Panel, total: float) -> Panel:
    if total == 0:
        return panel
    share = panel.discharge_m3s / total * 100
    # Parts that cancel out to next to nothing have no share of it that could be told.
    return attrs.evolve(panel, share=share) if math.isfinite(share) else panel


def _require_finite(totals: Sequence[float]) -> None:
    if not all(math.isfinite(total) for total in totals):
        raise InputRefused(
            [Fault("readings must be small enough to be multiplied and added", path="channels")]
        )
