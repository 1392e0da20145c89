"""The ways to cut a section into panels, each with the kernel's total for that cut."""

from collections.abc import Callable, Iterable
from typing import Literal

import attrs

from bankside.gauging.result import Panel
from bankside.gauging.station import Section
from bankside.kernel.discharge import (
    mean_section_discharge,
    mean_section_panel,
    mid_section_discharge,
    mid_section_discharge_triangular,
)
from bankside.kernel.section import panel_width, panel_width_triangular, trapezoid_area

__all__ = ["WAYS", "EdgeRule", "Method", "Way"]

Method = Literal["mid-section", "mean-section"]
EdgeRule = Literal["half-width", "triangular"]


def _mid_section_panels(
    channel: int, section: Section, width_of: Callable[[Section, int], float]
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


def _half_width_panels(channel: int, section: Section) -> Iterable[Panel]:
    return _mid_section_panels(channel, section, lambda s, i: panel_width(s.tape, i))


def _triangular_panels(channel: int, section: Section) -> Iterable[Panel]:
    return _mid_section_panels(
        channel, section, lambda s, i: panel_width_triangular(s.tape, s.depth, i)
    )


def _mean_section_panels(channel: int, section: Section) -> Iterable[Panel]:
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
class Way:
    """How a section is cut into panels, and the kernel's total for that cut."""

    panels: Callable[[int, Section], Iterable[Panel]]
    total: Callable[[list[float], list[float], list[float]], float]


WAYS: dict[tuple[Method, EdgeRule], Way] = {
    ("mid-section", "half-width"): Way(_half_width_panels, mid_section_discharge),
    ("mid-section", "triangular"): Way(_triangular_panels, mid_section_discharge_triangular),
    ("mean-section", "half-width"): Way(_mean_section_panels, mean_section_discharge),
}
