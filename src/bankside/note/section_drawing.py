"""What a picture of the section shows, channel by channel, in the units called."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import pairwise
from typing import Final

import attrs

from bankside.gauging.checks.doubt import unmeasured_ends
from bankside.gauging.records import Channel, Gauging, Vertical
from bankside.gauging.result import Panel, Result, VerticalResult
from bankside.gauging.share_limits import USUAL_LIMITS, ShareLimits
from bankside.note.called_figures import CalledUnits, called_units

__all__ = [
    "DrawnChannel",
    "DrawnPanel",
    "DrawnVertical",
    "SectionDrawing",
    "channel_title",
    "section_drawing",
    "section_rows",
    "tape_words",
]


_ACROSS: Mapping[str | None, str | None] = {"left": "right", "right": "left", None: None}
"""The bank on the other side."""

_IN_A_ROW: Final = 3
"""So many channels stand side by side; more begin a new row."""


@attrs.frozen
class DrawnVertical:
    """A vertical: tape, depth and mean velocity in units called.

    `fractions` are where in the depth a velocity was read; `measured` says whether the mean
    velocity comes from them.
    """

    tape: float
    depth: float
    velocity: float
    measured: bool
    fractions: tuple[float, ...]


@attrs.frozen
class DrawnPanel:
    """A panel: from which tape position to which, and its share of the discharge in percent."""

    start: float
    end: float
    share: float | None


@attrs.frozen
class DrawnChannel:
    """One channel: its verticals and panels along the tape.

    `first_bank` is the bank at the lowest tape position, "left" or "right" as seen facing
    downstream, None where the record names neither. `unmeasured` says of the lowest and of the
    highest tape position whether there is water and no edge of it was written.
    """

    title: str
    verticals: tuple[DrawnVertical, ...]
    panels: tuple[DrawnPanel, ...]
    first_bank: str | None
    unmeasured: tuple[bool, bool] = (False, False)

    @property
    def banks(self) -> tuple[str | None, str | None]:
        """The banks at the lowest and at the highest tape position."""
        return self.first_bank, _ACROSS[self.first_bank]

    @property
    def mirrored(self) -> bool:
        """Whether the tape runs from right to left for somebody who faces downstream."""
        return self.first_bank == "right"

    @property
    def width(self) -> float:
        """The length of tape from the first vertical to the last."""
        return self.verticals[-1].tape - self.verticals[0].tape


@attrs.frozen
class SectionDrawing:
    """The channels of a section from the left of the picture to its right."""

    channels: tuple[DrawnChannel, ...]
    units: CalledUnits
    limits: ShareLimits


def section_drawing(
    gauging: Gauging, result: Result, limits: ShareLimits = USUAL_LIMITS
) -> SectionDrawing:
    """Return what is to be drawn; `result` must be that of the gauging."""
    units = called_units(gauging)
    channels = [_channel(gauging, result, index, units) for index in range(len(gauging.channels))]
    return SectionDrawing(tuple(_as_seen(channels)), units, limits)


def section_rows(drawing: SectionDrawing) -> tuple[tuple[DrawnChannel, ...], ...]:
    """Return the channels in rows of a few; each row makes a picture that fits on a page."""
    channels = drawing.channels
    return tuple(
        channels[start : start + _IN_A_ROW] for start in range(0, len(channels), _IN_A_ROW)
    )


def tape_words(row: Sequence[DrawnChannel], unit: str) -> str:
    """Return what stands under a row of channels: the tape's unit, and from where it is seen."""
    if all(channel.first_bank is not None for channel in row):
        return f"tape ({unit}), seen facing downstream"
    return f"tape ({unit}); which bank is which was not recorded"


def channel_title(gauging: Gauging, index: int) -> str:
    """Return the number and the name of a channel; nothing where there is only one, nameless."""
    name = gauging.channels[index].name
    if len(gauging.channels) == 1:
        return " ".join((name or "").split())
    return (
        f"Channel {index + 1}" if name is None else f"Channel {index + 1}, {' '.join(name.split())}"
    )


def _channel(gauging: Gauging, result: Result, index: int, units: CalledUnits) -> DrawnChannel:
    channel = gauging.channels[index]
    own = [vertical for vertical in result.verticals if vertical.channel == index]
    panels = [panel for panel in result.panels if panel.channel == index]
    return DrawnChannel(
        title=channel_title(gauging, index),
        verticals=tuple(_vertical(v, channel.verticals[v.vertical], units) for v in own),
        panels=tuple(_panels(panels, own)),
        first_bank=_first_bank(channel),
        unmeasured=unmeasured_ends(channel, own),
    )


def _vertical(worked_out: VerticalResult, read: Vertical, units: CalledUnits) -> DrawnVertical:
    fractions = {reading.fraction for reading in read.velocity if reading.fraction is not None}
    return DrawnVertical(
        tape=worked_out.tape,
        depth=worked_out.depth_m / units.depth_metres,
        velocity=worked_out.velocity_ms / units.metres_per_second,
        measured=worked_out.measured,
        fractions=tuple(sorted(fractions)),
    )


def _panels(panels: Sequence[Panel], verticals: Sequence[VerticalResult]) -> list[DrawnPanel]:
    """Return from where to where each panel reaches on the tape.

    A panel around a vertical ends half way to a neighbour that has a panel too, and at one that has
    none of any width (a bank by the triangular rule).
    """
    by_vertical = {panel.vertical: panel for panel in panels if panel.width_m > 0}
    order = [vertical.vertical for vertical in verticals]
    tapes = {vertical.vertical: vertical.tape for vertical in verticals}
    bounds = {
        (a, b): (tapes[a] + tapes[b]) / 2
        if a in by_vertical and b in by_vertical
        else tapes[b if a in by_vertical else a]
        for a, b in pairwise(order)
    }
    drawn = []
    for place, vertical in enumerate(order):
        panel = by_vertical.get(vertical)
        if panel is None:
            continue
        if panel.tape_to is not None:
            drawn.append(DrawnPanel(panel.tape, panel.tape_to, panel.share))
            continue
        start = bounds[order[place - 1], vertical] if place else panel.tape
        end = bounds[vertical, order[place + 1]] if place + 1 < len(order) else panel.tape
        drawn.append(DrawnPanel(start, end, panel.share))
    return drawn


def _first_bank(channel: Channel) -> str | None:
    """Return the bank at the lowest tape position, told by either edge of water."""
    order = sorted(channel.verticals, key=lambda vertical: vertical.tape)
    if order[0].edge is not None:
        return order[0].edge
    return _ACROSS[order[-1].edge]


def _as_seen(channels: Sequence[DrawnChannel]) -> list[DrawnChannel]:
    """Return channels of one tape from the left bank on; others in the order of the record."""
    along = sorted(channels, key=lambda channel: channel.verticals[0].tape)
    apart = all(a.verticals[-1].tape <= b.verticals[0].tape for a, b in pairwise(along))
    if not apart or len({channel.mirrored for channel in channels}) > 1:
        return list(channels)
    return along[::-1] if channels[0].mirrored else along
