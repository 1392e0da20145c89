"""What a document says, as plain texts: written once, set by every template.

A template lays out; it adds no words of its own and works nothing out.
"""

from __future__ import annotations

import datetime
from typing import Literal

import attrs

__all__ = [
    "Cell",
    "Column",
    "Fact",
    "FactGroup",
    "Headline",
    "Kind",
    "NoteContent",
    "Part",
    "Picture",
    "Table",
]

Kind = Literal["", "open", "strong", "struck", "fine"]


@attrs.frozen
class Cell:
    """A text in a table; lines of it are parted by newlines.

    `kind` is "open" for what was not recorded, "strong" for what must be seen first, "struck" for
    what no longer holds, "fine" for what may be read last. `lead` stands before it, in bold.
    """

    text: str
    kind: Kind = ""
    lead: str = ""


@attrs.frozen
class Column:
    """The head of a column, its unit, and how its cells stand.

    A column is as wide as its cells; those with a `weight` share what is left of the page by it.
    """

    head: str
    unit: str = ""
    align: Literal["left", "right"] = "left"
    weight: float = 0.0


@attrs.frozen
class Table:
    """A table with a name for those who cannot see it; each row has a cell for every column.

    A table that is `whole` is never split over pages.
    """

    name: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell, ...], ...]
    totals: tuple[tuple[Cell, ...], ...] = ()
    whole: bool = False


@attrs.frozen
class Fact:
    """A name and what is known under it; `open` where nothing was recorded."""

    name: str
    value: str
    open: bool = False


@attrs.frozen
class FactGroup:
    """Facts that belong together."""

    title: str
    facts: tuple[Fact, ...]


@attrs.frozen
class Headline:
    """The result, large: the discharge, how far it may be off, and a word for it.

    `warnings` say why it is not the last word, one sentence each, to be seen with the figure.
    """

    name: str
    discharge: str
    also: str
    uncertainty: str
    uncertainty_basis: str
    quality: Fact
    facts: tuple[Fact, ...]
    warnings: tuple[str, ...] = ()


@attrs.frozen
class Picture:
    """A picture by the key under which its drawing is kept, and what it shows, in words."""

    key: str
    description: str
    caption: str


@attrs.frozen
class Part:
    """A part of the document under a title: sentences, pictures, tables, points, in this order.

    `below` explains the signs of the tables and stands right under them. `fine` parts are set
    small: what has to be there and is read last. Of `narrow` parts two may stand side by side.
    """

    title: str
    pictures: tuple[Picture, ...] = ()
    sentences: tuple[str, ...] = ()
    tables: tuple[Table, ...] = ()
    below: tuple[str, ...] = ()
    points: tuple[str, ...] = ()
    fine: bool = False
    narrow: bool = False


@attrs.frozen
class NoteContent:
    """Everything that a measurement note says.

    `day` is the day of the measurement for the file's own record, None where it is unknown.
    `running` stands at the foot of every page. `signatures` are the lines to be signed.
    """

    title: str
    kind: str
    stream: str
    site: str
    date: Fact
    headline: Headline
    groups: tuple[FactGroup, ...]
    map: Picture | None
    parts: tuple[Part, ...]
    signatures_title: str
    signatures: tuple[str, ...]
    signature_fields: tuple[str, ...]
    running: str
    day: datetime.date | None = None
