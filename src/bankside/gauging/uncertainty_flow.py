"""What every method of uncertainty goes by: panels, their sum, and the stretches of water."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

import attrs

from bankside.gauging.budget import BudgetPart
from bankside.gauging.compute import compute
from bankside.gauging.notes import Note
from bankside.gauging.records import Gauging
from bankside.gauging.result import Panel, Result, VerticalResult
from bankside.gauging.units import metres_per
from bankside.kernel.section import stretch_end
from bankside.kernel.totals import amount_of, has_shares
from bankside.kernel.uncertainty import panels_uncertainty

__all__ = ["Assumed", "Flow", "Stretch", "flow_of", "verticals_part", "width_part"]


@attrs.frozen
class Assumed:
    """What the methods need and no sheet says; each budget names the figures that it took.

    `width_percent`, `depth_percent` and `systematic_percent` are relative standard uncertainties.
    ISO 748:2007 gives 0.15 to 0.5 % for widths up to 100 m, 0.5 to 1.5 % for depths by rod of 0.4
    to 6 m, and 1 % for what is common to all panels (all from memory, medium); of the ranges the
    wide end is taken (ours). `exposure_seconds` stands for an exposure time that is not written
    (40 s or more is what procedures ask: MDPI Water 2018, 10, 1010).
    """

    width_percent: float = 0.5
    depth_percent: float = 1.5
    systematic_percent: float = 1.0
    exposure_seconds: float = 40.0


@attrs.frozen
class Stretch:
    """The water from bank to bank, or to an end of the channel: those two stations and all between.

    `tape_m` has the tape positions of the stations in metres. `amount` is what its panels carry,
    whichever way it runs.
    """

    stations: tuple[VerticalResult, ...]
    tape_m: tuple[float, ...]
    amount: float

    @property
    def read(self) -> int:
        """How many of its verticals have water and a velocity that was read there."""
        return sum(station.measured and station.depth_m > 0 for station in self.stations)


@attrs.frozen
class Flow:
    """The panels of a gauging by mid-section, their sum, and its stretches of water."""

    panels: tuple[Panel, ...]
    total: float
    amount: float
    stretches: tuple[Stretch, ...]
    notes: tuple[Note, ...]

    @property
    def has_percents(self) -> bool:
        """Whether anything can be said as a percent of the discharge."""
        return has_shares(self.total, self.amount)

    @property
    def counts(self) -> str:
        """How many verticals were read in each stretch, in words: "12 and 8"."""
        return " and ".join(str(stretch.read) for stretch in self.stretches)


def flow_of(gauging: Gauging, result: Result) -> Flow:
    """Return what the methods go by, from a gauging and its result."""
    notes: list[Note] = []
    panels = result.panels
    if result.method != "mid-section":
        panels = compute(gauging).panels
        notes.append(
            Note(
                "The methods are made for mid-section panels: the percents are worked out from "
                "those, whatever the method of the discharge."
            )
        )
    total = _total(panels)
    back = [panel for panel in panels if panel.discharge_m3s * total < 0]
    notes += [
        Note(
            "Water runs back at {at}: all percents are of what is left, the uncertainty of the "
            "number of verticals is taken on all that runs either way.",
            panel.tape,
        )
        for panel in back
    ]
    return Flow(
        panels=panels,
        total=total,
        amount=_amount(panels),
        stretches=tuple(_stretches(gauging, result, panels)),
        notes=tuple(notes),
    )


def _stretches(gauging: Gauging, result: Result, panels: Sequence[Panel]) -> Iterator[Stretch]:
    metres = metres_per(gauging.units.length)
    of_vertical = {(panel.channel, panel.vertical): panel for panel in panels}
    for index in range(len(gauging.channels)):
        channel = [station for station in result.verticals if station.channel == index]
        depth = [station.depth_m for station in channel]
        for first, last in _ends(depth):
            stations = tuple(channel[first : last + 1])
            if all(station.depth_m == 0 for station in stations):
                continue
            yield Stretch(
                stations=stations,
                tape_m=tuple(station.tape * metres for station in stations),
                amount=_amount([of_vertical[index, station.vertical] for station in stations]),
            )


def _ends(depth: Sequence[float]) -> Iterator[tuple[int, int]]:
    """Yield the first and the last station of each stretch, the dry ones among them."""
    first = 0
    while first < len(depth) - 1:
        last = stretch_end(list(depth), first)
        yield first, last
        first = last


# Not sum(): as in `compute`, its rounding changed in Python 3.12.
def _total(panels: Sequence[Panel]) -> float:
    total = 0.0
    for panel in panels:
        total += panel.discharge_m3s
    return total


def _amount(panels: Sequence[Panel]) -> float:
    return amount_of([panel.discharge_m3s for panel in panels])


def verticals_part(flow: Flow, percent_of: Callable[[float], float], basis: str) -> BudgetPart:
    """Return what the numbers of verticals make of the discharge, `percent_of` each of them.

    Every stretch of water has its own number, and its own error, independent of the others (ours).
    """
    percent = panels_uncertainty(
        [stretch.amount for stretch in flow.stretches],
        [percent_of(float(stretch.read)) for stretch in flow.stretches],
        flow.total,
    )
    return BudgetPart("verticals", percent, f"{flow.counts} verticals read in the water: {basis}")


def width_part(flow: Flow, assumed: Assumed) -> BudgetPart:
    """Return what the widths of the panels make of the discharge, each for itself."""
    percent = panels_uncertainty(
        [panel.discharge_m3s for panel in flow.panels],
        [assumed.width_percent] * len(flow.panels),
        flow.total,
    )
    return BudgetPart(
        "width",
        percent,
        f"{assumed.width_percent:g} % a panel is taken; ISO 748:2007 has 0.15 to 0.5 % (from "
        "memory, medium)",
    )
