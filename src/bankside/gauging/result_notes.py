"""What is to be known about a result as a whole, and about the section that it rests on."""

from collections.abc import Iterator, Sequence
from itertools import combinations, pairwise

from bankside.gauging.meter_rating import lines_apart
from bankside.gauging.notes import Note
from bankside.gauging.records import Gauging
from bankside.gauging.result import Panel
from bankside.gauging.station import Section
from bankside.gauging.units import LengthUnit, metres_per
from bankside.kernel.section import is_bank

__all__ = ["cancelling_note", "channel_notes", "rating_notes", "triangular_notes"]

# By what two figures that are the same on paper may differ.
_ROUNDING = 1e-9


def rating_notes(gauging: Gauging) -> Iterator[Note]:
    """Yield that the lines of a rating do not meet where they change, if counts were read."""
    readings = (r for c in gauging.channels for v in c.verticals for r in v.velocity)
    if gauging.meter is None or all(reading.counts is None for reading in readings):
        return
    gap = lines_apart(gauging.meter.rating)
    if gap is not None:
        change_at, low, high = gap
        yield Note(
            f"The two lines of the rating do not meet: at {change_at:g} rev/s, "
            f"where they change, the first gives {low:.4g} {{velocity}} and the second "
            f"{high:.4g} {{velocity}}."
        )


def channel_notes(sections: Sequence[Section]) -> Iterator[Note]:
    """Yield where there is dry ground inside a channel, and where channels lie over one another."""
    waters = [_waters(section) for section in sections]
    gaps = [(a[1], b[0]) for one in waters for a, b in pairwise(one)]
    if gaps:
        listed = " and ".join(f"from {start:.10g} to {end:.10g} {{length}}" for start, end in gaps)
        yield Note(f"The ground {listed} is dry, with water on both sides: an island or a bar.")
    over = [
        (a, b, max(one[0], other[0]), min(one[1], other[1]))
        for a, b in combinations(range(len(waters)), 2)
        for one in waters[a]
        for other in waters[b]
        if max(one[0], other[0]) < min(one[1], other[1])
    ]
    if over:
        named = sorted({channel + 1 for a, b, _, _ in over for channel in (a, b)})
        listed = f"{', '.join(map(str, named[:-1]))} and {named[-1]}"
        yield Note(
            f"Channels {listed} have water at the same tape positions, first from {over[0][2]:.10g}"
            f" to {over[0][3]:.10g} {{length}}: it is counted twice there, unless each channel has "
            "a tape of its own."
        )


def _waters(section: Section) -> list[tuple[float, float]]:
    """Return the stretches of the tape, as called, over which there is water."""
    waters: list[tuple[float, float]] = []
    for i in range(len(section.depth) - 1):
        if section.depth[i] > 0 or section.depth[i + 1] > 0:
            start, end = (station.vertical.tape for station in section.stations[i : i + 2])
            if waters and waters[-1][1] == start:
                start = waters.pop()[0]
            waters.append((start, end))
    return waters


def triangular_notes(
    sections: Sequence[Section],
    panels: Sequence[Panel],
    areas: tuple[float, float],
    unit: LengthUnit,
) -> Iterator[Note]:
    """Yield what the triangular rule does to panels beside a bank, and to the mean velocity.

    `areas` are that of the panels and that of the section, m².
    """
    for channel, section in enumerate(sections):
        own = [panel for panel in panels if panel.channel == channel]
        for i, panel in enumerate(own):
            yield from _wide_panel_note(section, i, panel, unit)
    of_panels, of_section = areas
    if of_panels > of_section * (1 + _ROUNDING) and of_section > 0:
        yield Note(
            f"The triangular rule's panels have {100 * (of_panels / of_section - 1):.2g} % more "
            "area than the section between its verticals: the mean velocity is the discharge over "
            "the area of the panels, not over the area given."
        )


def _wide_panel_note(section: Section, i: int, panel: Panel, unit: LengthUnit) -> Iterator[Note]:
    there = _water_beside_a_bank(section, i)
    if there is not None and panel.width_m > there * (1 + _ROUNDING):
        width, room = (metres / metres_per(unit) for metres in (panel.width_m, there))
        yield Note(
            f"By the triangular rule the panel at {{at}} is {width:.4g} {{length}} wide, more than "
            f"the {room:.4g} {{length}} of water that it can stand for, as the bank is less than "
            "half as far from it as the next vertical. The half-width rule fits better.",
            panel.tape,
        )


def _water_beside_a_bank(section: Section, i: int) -> float | None:
    """Return the metres of water that a panel beside a bank can stand for, None elsewhere.

    They run from the bank half way to the next vertical, or to the bank on the other side.
    """
    if i in (0, len(section.stations) - 1) or not section.depth[i] > 0:
        return None
    before, after = section.tape[i] - section.tape[i - 1], section.tape[i + 1] - section.tape[i]
    banks = is_bank(section.depth, i - 1), is_bank(section.depth, i + 1)
    if not any(banks):
        return None
    return (before if banks[0] else before / 2) + (after if banks[1] else after / 2)


def cancelling_note() -> Note:
    """Return that a total of nearly nothing has no shares."""
    return Note(
        "The panels cancel: as much water runs upstream as downstream, to a thousandth, so no "
        "panel has a share of the discharge that could be told."
    )
