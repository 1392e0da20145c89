"""The parts of a document on a screen: the same words and tables, without pictures."""

from __future__ import annotations

from typing import Final

from rich.console import Console

from bankside.cli.render import plain_table, render_lines, render_points, render_table, safe_text
from bankside.note.content import FactGroup, Part, Table

__all__ = ["print_facts", "print_part", "print_table"]

_NARROWEST_NAME: Final = 16


def print_facts(console: Console, groups: tuple[FactGroup, ...]) -> None:
    """Print facts, one a line."""
    for group in groups:
        render_lines(console, [f"{one.name}: {one.value}" for one in group.facts])


def print_part(console: Console, part: Part) -> None:
    """Print a part of a document with its tables; what its pictures show stands in these."""
    render_lines(console, ["", part.title, *part.sentences])
    for table in part.tables:
        print_table(console, table)
    render_lines(console, part.below)
    render_points(console, part.points)


def print_table(console: Console, table: Table) -> None:
    """Print a table of a document; long texts fold where there is little room, no figure is cut."""
    shown = plain_table()
    for place, column in enumerate(table.columns):
        texts = [column.head, column.unit, *(row[place].text for row in table.rows)]
        narrowest = max(len(line) for text in texts for line in text.split("\n"))
        folds = place == 0 or column.weight
        head = f"{column.head}\n{column.unit}" if column.unit else column.head
        shown.add_column(
            head,
            justify=column.align,
            overflow="fold",
            min_width=min(narrowest, _NARROWEST_NAME) if folds else narrowest,
        )
    for row in (*table.rows, *table.totals):
        shown.add_row(*(safe_text(cell.text) for cell in row))
    render_table(console, shown)
