"""The discharge table as people read it, in the units in which the readings were called.

The same text comes out on a screen and in a file: nothing is cut short, colour says nothing that
words do not say as well, and every character is in Latin-1, so that an old code page will do.
"""

import math
from collections import Counter
from collections.abc import Iterable, Sequence
from typing import Final, Literal

import attrs
from rich import box
from rich.console import Console
from rich.segment import Segments
from rich.table import Table
from rich.text import Text

from bankside.gauging.records import Gauging
from bankside.gauging.result import ChannelResult, Panel, Result
from bankside.gauging.share_limits import SHARE_AIM, SHARE_LIMIT, above
from bankside.gauging.units import (
    LengthUnit,
    VelocityUnit,
    cubic_metres_per_second_per,
    metres_per,
    metres_per_second_per,
)

__all__ = [
    "PlainConsole",
    "gauging_title",
    "plain_table",
    "render_lines",
    "render_points",
    "render_result",
    "render_table",
    "safe_text",
]

# Wider than any table here, to ask a table what it needs.
_ANY_WIDTH: Final = 10_000

_METHOD_NAMES: Final = {"mid-section": "mid-section method", "mean-section": "mean-section method"}
_EDGE_RULE_NAMES: Final = {
    "half-width": "edges by the half-width rule",
    "triangular": "edges by the triangular rule",
}


@attrs.frozen
class _Called:
    """The units of a gauging as they are written over columns, and what they are in SI."""

    length: LengthUnit
    depth: LengthUnit
    velocity: VelocityUnit
    discharge: Literal["ft³/s", "m³/s"]
    area: Literal["ft²", "m²"]

    @property
    def cubic_metres_per_second(self) -> float:
        return cubic_metres_per_second_per("ft3/s" if self.discharge == "ft³/s" else "m3/s")

    @property
    def square_metres(self) -> float:
        side = metres_per("ft" if self.area == "ft²" else "m")
        return side * side


@attrs.frozen
class _Column:
    """A column of figures: its head, and the figures all with the same decimals."""

    head: str
    figures: Sequence[str]


def render_result(
    console: Console, gauging: Gauging, result: Result, filed_lines: Iterable[str] = ()
) -> None:
    """Print what a gauging comes to: its panels, its totals, and every assumption made.

    Args:
        console: Where to print; without colours and at 80 columns nothing is lost.
        gauging: The record, for its names and units.
        result: What was worked out from it.
        filed_lines: Sentences on how this compares with what the sheet itself carried.
    """
    called = _called(gauging)
    usual = _usual_origin(result.panels)
    render_lines(console, [gauging_title(gauging), ""])
    for index, channel in enumerate(result.channels):
        panels = [panel for panel in result.panels if panel.channel == index]
        if len(result.channels) > 1:
            render_lines(console, [_channel_title(gauging, index, channel, called)])
        render_table(console, _panel_table(panels, called, usual))
        render_lines(console, [""])
    render_lines(console, _legend(result.panels, usual))
    render_table(console, _totals(result, called))
    filed = list(filed_lines)
    render_lines(console, ["", *filed] if filed else [])
    if result.notes:
        render_lines(console, ["", "Notes"])
        render_points(console, result.notes)


def render_lines(console: Console, lines: Iterable[str]) -> None:
    """Print sentences as they are: no markup, no highlighting, wrapped between words."""
    for line in lines:
        console.print(safe_text(line))


def render_points(console: Console, sentences: Iterable[str]) -> None:
    """Print sentences as a list, wrapped lines under their own beginning."""
    points = Table.grid(padding=(0, 1, 0, 0))
    for sentence in sentences:
        points.add_row("-", safe_text(sentence))
    console.print(points)


class PlainConsole(Console):
    """A console that prints text as it is, and leaves a broken pipe to its caller."""

    def __init__(self) -> None:
        super().__init__(highlight=False)

    def on_broken_pipe(self) -> None:
        """Raise the error on: Rich itself would end the program with code 1."""
        raise


def plain_table() -> Table:
    """Return an empty table with a rule under its heads, two columns apart."""
    return Table(box=box.SIMPLE_HEAD, show_edge=False, pad_edge=False, padding=(0, 1, 0, 0))


def render_table(console: Console, table: Table) -> None:
    """Print a table whole: where the console is too narrow its lines run on, none is cut."""
    needed = console.measure(table, options=console.options.update(width=_ANY_WIDTH)).minimum
    # print() takes no width above the console's own, so the table is rendered beforehand.
    whole = console.options.update(width=max(console.width, needed))
    console.print(Segments(console.render(table, whole)), crop=False, end="")


def safe_text(text: str) -> Text:
    """Return text from a record for printing, without characters that could steer a terminal."""
    return Text("".join(sign if sign.isprintable() else " " for sign in text))


def _called(gauging: Gauging) -> _Called:
    units = gauging.units
    english = units.length in ("ft", "in")
    return _Called(
        length=units.length,
        depth=units.depth or units.length,
        velocity=units.velocity,
        discharge="ft³/s" if english else "m³/s",
        area="ft²" if english else "m²",
    )


def gauging_title(gauging: Gauging) -> str:
    """Return stream, site and date of a gauging, as far as they are known."""
    day = gauging.date or (gauging.started.date() if gauging.started is not None else None)
    parts = (gauging.site.stream, gauging.site.name, day.isoformat() if day is not None else None)
    return ", ".join(part for part in parts if part) or "Gauging without a name"


def _channel_title(gauging: Gauging, index: int, channel: ChannelResult, called: _Called) -> str:
    name = gauging.channels[index].name
    discharge = _to_figures(channel.discharge_m3s / called.cubic_metres_per_second)
    title = f"Channel {index + 1}" if name is None else f"Channel {index + 1}, {name}"
    return f"{title}: {discharge} {called.discharge}"


def _panel_table(panels: Sequence[Panel], called: _Called, usual: str) -> Table:
    table = plain_table()
    columns = _columns(panels, called)
    for column in columns:
        table.add_column(column.head, justify="right", no_wrap=True)
    origins = ["" if p.velocity_from == usual else p.velocity_from for p in panels]
    longest_word = max((len(word) for origin in origins for word in origin.split()), default=0)
    table.add_column("share\n(%)", no_wrap=True)
    table.add_column("velocity\nfrom", min_width=longest_word)
    shares = _aligned(_decimals([panel.share for panel in panels], 1))
    figures = [column.figures for column in columns]
    for panel, origin, share, *row in zip(panels, origins, shares, *figures, strict=True):
        mark = _mark(panel.share)
        marked = Text(f"{share} {mark}", style="bold" if mark == "**" else "")
        table.add_row(*row, marked, safe_text(origin))
    return table


def _columns(panels: Sequence[Panel], called: _Called) -> list[_Column]:
    length = metres_per(called.length)
    velocity_decimals = 1 if called.velocity == "cm/s" else 3
    discharges = [panel.discharge_m3s / called.cubic_metres_per_second for panel in panels]
    areas = [panel.area_m2 / called.square_metres for panel in panels]
    depths = [panel.depth_m / metres_per(called.depth) for panel in panels]
    velocities = [panel.velocity_ms / metres_per_second_per(called.velocity) for panel in panels]
    columns = [_Column(f"tape\n({called.length})", _as_called([p.tape for p in panels]))]
    ends = [panel.tape_to for panel in panels if panel.tape_to is not None]
    if ends:
        columns.append(_Column(f"to\n({called.length})", _as_called(ends)))
    return [
        *columns,
        _Column(f"depth\n({called.depth})", _as_called(depths)),
        _Column(f"velocity\n({called.velocity})", _decimals(velocities, velocity_decimals)),
        _Column(f"width\n({called.length})", _as_called([p.width_m / length for p in panels])),
        _Column(f"area\n({called.area})", _decimals(areas, _wanted_decimals(areas))),
        _Column(
            f"discharge\n({called.discharge})", _decimals(discharges, _wanted_decimals(discharges))
        ),
    ]


def _totals(result: Result, called: _Called) -> Table:
    table = Table.grid(padding=(0, 2))
    table.add_column(no_wrap=True)
    table.add_column(overflow="fold")
    length = metres_per(called.length)
    discharge = result.discharge_m3s / called.cubic_metres_per_second
    both = f"{_to_figures(discharge)} {called.discharge}"
    if called.discharge != "m³/s":
        both += f"  =  {_to_figures(result.discharge_m3s)} m³/s"
    table.add_row("Discharge", Text(both, style="bold"))
    table.add_row("Area", f"{_to_figures(result.area_m2 / called.square_metres)} {called.area}")
    table.add_row("Width", f"{_as_called([result.width_m / length])[0]} {called.length}")
    if result.mean_depth_m is not None:
        mean_depth = result.mean_depth_m / metres_per(called.depth)
        table.add_row("Mean depth", f"{_to_figures(mean_depth)} {called.depth}")
    if result.mean_velocity_ms is not None:
        mean_velocity = result.mean_velocity_ms / metres_per_second_per(called.velocity)
        table.add_row("Mean velocity", f"{_to_figures(mean_velocity)} {called.velocity}")
    perimeter = result.wetted_perimeter_m / length
    table.add_row("Wetted perimeter", f"{_to_figures(perimeter)} {called.length}")
    table.add_row("Method", _method(result))
    return table


def _method(result: Result) -> str:
    words = [_METHOD_NAMES.get(result.method, result.method)]
    if result.edge_rule is not None:
        words.append(_EDGE_RULE_NAMES.get(result.edge_rule, result.edge_rule))
    return ", ".join(words)


def _legend(panels: Sequence[Panel], usual: str) -> list[str]:
    marks = {_mark(panel.share) for panel in panels}
    lines = []
    if "**" in marks:
        lines.append(f"** above {SHARE_LIMIT} % of the discharge, the limit for one panel")
    if "*" in marks:
        lines.append(f"*  above {SHARE_AIM} % of the discharge, the aim for one panel")
    if usual not in ("", "measured"):
        lines.append(f"Where nothing stands under velocity from: {usual}")
    return [*lines, ""] if lines else []


def _mark(share: float | None) -> str:
    if share is None or not above(share, SHARE_AIM):
        return ""
    return "**" if above(share, SHARE_LIMIT) else "*"


def _usual_origin(panels: Sequence[Panel]) -> str:
    """What most velocities come from: said once below the table instead of in every row."""
    origins = Counter(panel.velocity_from for panel in panels)
    if "measured" in origins:
        return "measured"
    origin, count = max(origins.items(), key=lambda pair: pair[1], default=("", 0))
    return origin if 2 * count > len(panels) else ""


def _as_called(values: Sequence[float]) -> list[str]:
    """Figures with as many decimals as the longest of them needs, at most three.

    Values that have been to metres and back are a few 1e-16 off; nine decimals take that away.
    """
    needed = max((_decimals_needed(value) for value in values), default=0)
    return _decimals(values, min(needed, 3))


def _decimals_needed(value: float) -> int:
    return len(f"{round(value, 9):.9f}".rstrip("0").partition(".")[2])


def _wanted_decimals(values: Sequence[float]) -> int:
    """Decimals that give the largest value four figures: one at least, six at most."""
    largest = max((abs(value) for value in values), default=0.0)
    if largest == 0.0:
        return 3
    return min(max(3 - math.floor(math.log10(largest)), 1), 6)


def _decimals(values: Sequence[float | None], decimals: int) -> list[str]:
    return ["" if value is None else f"{value:z.{decimals}f}" for value in values]


def _to_figures(value: float) -> str:
    """A total to four figures, written out without an exponent."""
    if value == 0.0:
        return "0"
    decimals = 3 - math.floor(math.log10(abs(value)))
    return f"{round(value, decimals):.{max(decimals, 0)}f}"


def _aligned(figures: Sequence[str]) -> list[str]:
    """Figures padded to one width, for a column whose cells go on with a mark."""
    longest = max((len(figure) for figure in figures), default=0)
    return [figure.rjust(longest) for figure in figures]
