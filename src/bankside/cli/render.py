"""The discharge table as people read it, in the units in which the readings were called.

The same text comes out on a screen and in a file: nothing is cut short, colour says nothing that
words do not say as well, and every character is in Latin-1, so that an old code page will do.
"""

from collections.abc import Iterable, Sequence
from typing import Final

import attrs
from rich import box
from rich.console import Console
from rich.segment import Segments
from rich.table import Table
from rich.text import Text

from bankside.gauging.records import Gauging
from bankside.gauging.result import ChannelResult, Panel, Result
from bankside.note.called_figures import (
    CalledUnits,
    as_called,
    called_units,
    discharge_words,
    gauging_title,
    method_words,
    share_legend,
    share_mark,
    usual_origin,
    velocity_decimals,
    wanted_decimals,
    with_decimals,
    with_four_figures,
)

__all__ = [
    "PlainConsole",
    "plain_table",
    "render_lines",
    "render_points",
    "render_result",
    "render_table",
    "safe_text",
]

# Wider than any table here, to ask a table what it needs.
_ANY_WIDTH: Final = 10_000


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
    called = called_units(gauging)
    usual = usual_origin(result.panels)
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


def _channel_title(
    gauging: Gauging, index: int, channel: ChannelResult, called: CalledUnits
) -> str:
    name = gauging.channels[index].name
    discharge = with_four_figures(channel.discharge_m3s / called.cubic_metres_per_second)
    title = f"Channel {index + 1}" if name is None else f"Channel {index + 1}, {name}"
    return f"{title}: {discharge} {called.discharge}"


def _panel_table(panels: Sequence[Panel], called: CalledUnits, usual: str) -> Table:
    table = plain_table()
    columns = _columns(panels, called)
    for column in columns:
        table.add_column(column.head, justify="right", no_wrap=True)
    origins = ["" if p.velocity_from == usual else p.velocity_from for p in panels]
    longest_word = max((len(word) for origin in origins for word in origin.split()), default=0)
    table.add_column("share\n(%)", no_wrap=True)
    table.add_column("velocity\nfrom", min_width=longest_word)
    shares = _aligned(with_decimals([panel.share for panel in panels], 1))
    figures = [column.figures for column in columns]
    for panel, origin, share, *row in zip(panels, origins, shares, *figures, strict=True):
        mark = share_mark(panel.share)
        marked = Text(f"{share} {mark}", style="bold" if mark == "**" else "")
        table.add_row(*row, marked, safe_text(origin))
    return table


def _columns(panels: Sequence[Panel], called: CalledUnits) -> list[_Column]:
    discharges = [panel.discharge_m3s / called.cubic_metres_per_second for panel in panels]
    areas = [panel.area_m2 / called.square_metres for panel in panels]
    depths = [panel.depth_m / called.depth_metres for panel in panels]
    velocities = [panel.velocity_ms / called.metres_per_second for panel in panels]
    columns = [_Column(f"tape\n({called.length})", as_called([p.tape for p in panels]))]
    ends = [panel.tape_to for panel in panels if panel.tape_to is not None]
    if ends:
        columns.append(_Column(f"to\n({called.length})", as_called(ends)))
    return [
        *columns,
        _Column(f"depth\n({called.depth})", as_called(depths)),
        _Column(
            f"velocity\n({called.velocity})", with_decimals(velocities, velocity_decimals(called))
        ),
        _Column(
            f"width\n({called.length})", as_called([p.width_m / called.metres for p in panels])
        ),
        _Column(f"area\n({called.area})", with_decimals(areas, wanted_decimals(areas))),
        _Column(
            f"discharge\n({called.discharge})",
            with_decimals(discharges, wanted_decimals(discharges)),
        ),
    ]


def _totals(result: Result, called: CalledUnits) -> Table:
    table = Table.grid(padding=(0, 2))
    table.add_column(no_wrap=True)
    table.add_column(overflow="fold")
    discharge = "  =  ".join(discharge_words(result.discharge_m3s, called))
    table.add_row("Discharge", Text(discharge, style="bold"))
    table.add_row(
        "Area", f"{with_four_figures(result.area_m2 / called.square_metres)} {called.area}"
    )
    table.add_row("Width", f"{as_called([result.width_m / called.metres])[0]} {called.length}")
    if result.mean_depth_m is not None:
        mean_depth = result.mean_depth_m / called.depth_metres
        table.add_row("Mean depth", f"{with_four_figures(mean_depth)} {called.depth}")
    if result.mean_velocity_ms is not None:
        mean_velocity = result.mean_velocity_ms / called.metres_per_second
        table.add_row("Mean velocity", f"{with_four_figures(mean_velocity)} {called.velocity}")
    perimeter = result.wetted_perimeter_m / called.metres
    table.add_row("Wetted perimeter", f"{with_four_figures(perimeter)} {called.length}")
    table.add_row("Method", method_words(result))
    return table


def _legend(panels: Sequence[Panel], usual: str) -> list[str]:
    lines = share_legend(panels)
    if usual not in ("", "measured"):
        lines.append(f"Where nothing stands under velocity from: {usual}")
    return [*lines, ""] if lines else []


def _aligned(figures: Sequence[str]) -> list[str]:
    """Figures padded to one width, for a column whose cells go on with a mark."""
    longest = max((len(figure) for figure in figures), default=0)
    return [figure.rjust(longest) for figure in figures]
