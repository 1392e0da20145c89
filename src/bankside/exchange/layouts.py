"""Which tables a survey is exchanged in, and how its records become their rows.

A record that a gauging or a survey holds once adds its columns to the table of its owner; records
that it holds many of have a table of their own, with the keys of their owner and their place in
its order, counted from 0. What a record gains, its table gains.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import attrs

from bankside.exchange.field_units import AS_CALLED, FIXED
from bankside.exchange.forms import Column, ColumnKind, Reference, TableForm
from bankside.gauging.checked import Checked
from bankside.gauging.fields import (
    Choice,
    Day,
    Flag,
    Index,
    Instant,
    Kind,
    Many,
    Number,
    One,
    Texts,
    kind_of,
    meaning_of,
)
from bankside.gauging.records import (
    Answer,
    Channel,
    Correction,
    CrewMember,
    FiledPanel,
    Gauging,
    MeterCheck,
    PointReading,
    Position,
    RatingPart,
    StageReading,
    Vertical,
)
from bankside.survey.records import Balance, Stream, Survey, SurveySite

__all__ = ["FORMS", "GAUGINGS", "SURVEYS", "Layout", "layouts_in"]


@attrs.frozen
class Layout:
    """How records become rows of a table.

    `at` leads from the record of the owner to the tuple that holds these. `index` is the column of
    their place in it, empty where there is one record at most. `key` is the column that tells them
    apart, where that is not their place; tables of what they hold call it `below`. `counted`: the
    places mean something, so that none may be missing. `also` are further rows that a row names.
    """

    table: str
    record: type[Checked]
    at: tuple[str, ...] = ()
    index: str = "number"
    key: str = ""
    below: str = ""
    counted: bool = True
    also: tuple[Reference, ...] = ()
    holds: tuple[Layout, ...] = ()

    @property
    def own_key(self) -> str:
        """The column that tells the rows of one owner apart."""
        return self.key or self.index

    @property
    def key_below(self) -> str:
        """What the tables of what a row holds call that column."""
        return self.below or self.own_key


_READINGS = Layout("readings", PointReading, ("velocity",), "reading")
_VERTICALS = Layout("verticals", Vertical, ("verticals",), "vertical", holds=(_READINGS,))
_OF_A_VERTICAL = ("gauging", "channel", "vertical")

GAUGINGS = Layout(
    "gaugings",
    Gauging,
    key="gauging",
    counted=False,
    holds=(
        Layout("crew", CrewMember, ("crew",), "member"),
        Layout("stage", StageReading, ("stage",), "reading"),
        Layout("meter_ratings", RatingPart, ("meter", "rating"), "part"),
        Layout("meter_checks", MeterCheck, ("meter", "checks"), "proof"),
        Layout("channels", Channel, ("channels",), "channel", holds=(_VERTICALS,)),
        Layout(
            "filed_panels",
            FiledPanel,
            ("filed", "panels"),
            "panel",
            also=(Reference(_OF_A_VERTICAL, "verticals", _OF_A_VERTICAL),),
        ),
        Layout("corrections", Correction, ("corrections",), "correction"),
        Layout("answers", Answer, ("answers",), "answer"),
    ),
)

_POINTS = Layout("stream_points", Position, ("line",), "point")

SURVEYS = Layout(
    "surveys",
    Survey,
    index="",
    key="id",
    holds=(
        Layout(
            "streams",
            Stream,
            ("streams",),
            key="name",
            below="stream",
            counted=False,
            also=(Reference(("joins",), "streams", ("name",)),),
            holds=(_POINTS,),
        ),
        Layout(
            "sites",
            SurveySite,
            ("sites",),
            key="id",
            below="site",
            counted=False,
            also=(Reference(("stream",), "streams", ("name",)),),
        ),
        Layout("balances", Balance, ("balances",), counted=False),
    ),
)


def layouts_in(
    layout: Layout, owners: tuple[Layout, ...] = ()
) -> Iterator[tuple[Layout, tuple[Layout, ...]]]:
    """Yield a layout and all that it holds, each with the owners that its rows name."""
    yield layout, owners
    # Where there is one owner at most, what it holds needs no column that says whose it is.
    inner = (*owners, layout) if layout.index else owners
    for held in layout.holds:
        yield from layouts_in(held, inner)


def _form(layout: Layout, owners: tuple[Layout, ...]) -> TableForm:
    own = tuple(_record_columns(layout, layout.record))
    before = [_owner_column(owner) for owner in owners]
    if layout.own_key not in [layout.index, *(column.name for column in own)]:
        before.append(
            Column(layout.own_key, "text", "what tells it from all others", required=True)
        )
    if layout.index:
        meaning = "its place in their order, counted from 0"
        before.append(Column(layout.index, "integer", meaning, required=True))
    keys = tuple(owner.key_below for owner in owners)
    references = []
    if owners:
        to = (*(owner.key_below for owner in owners[:-1]), owners[-1].own_key)
        references.append(Reference(keys, owners[-1].table, to))
    return TableForm(
        layout.table,
        (layout.record.__doc__ or "").strip().splitlines()[0],
        (*before, *own),
        (*keys, layout.own_key),
        (*references, *layout.also),
    )


def _owner_column(owner: Layout) -> Column:
    kind: ColumnKind = "integer" if owner.own_key == owner.index else "text"
    meaning = f"to which row of {owner.table} it belongs"
    return Column(owner.key_below, kind, meaning, required=True)


def _record_columns(
    layout: Layout, record: type[Checked], path: tuple[str, ...] = (), must: bool = True
) -> Iterator[Column]:
    for field in attrs.fields(record):
        kind = kind_of(field)
        at = (*path, field.name)
        required = must and field.default is attrs.NOTHING
        if isinstance(kind, One):
            yield from _presence(field, kind.record, at)
            yield from _record_columns(layout, kind.record, at, required)
        elif not isinstance(kind, Many):
            yield from _columns(record, field, at, required)
        elif at not in [held.at for held in layout.holds]:
            raise TypeError(f"{layout.table} needs a table for {'.'.join(at)}")


def _presence(
    field: attrs.Attribute[Any], record: type[Checked], at: tuple[str, ...]
) -> Iterator[Column]:
    """Yield a column that tells an empty record from none, where a record may be empty."""
    if field.default is None and all(
        inner.default is not attrs.NOTHING for inner in attrs.fields(record)
    ):
        meaning = f"whether there is a record of {meaning_of(field)}"
        yield Column("_".join(at), "boolean", meaning, at, presence=True)


def _columns(
    record: type[Checked], field: attrs.Attribute[Any], at: tuple[str, ...], required: bool
) -> Iterator[Column]:
    kind, name, meaning = kind_of(field), "_".join(at), meaning_of(field)
    yield Column(
        name,
        _column_kind(kind),
        meaning,
        at,
        required,
        unit=FIXED.get((record, field.name)),
        quantity=AS_CALLED.get((record, field.name)),
        bounds=kind if isinstance(kind, Number) else None,
        words=kind.words if isinstance(kind, Choice) else (),
    )
    if isinstance(kind, Instant):
        yield Column(f"{name}_utc", "utc", f"{meaning}, by the clock of UTC", at)


def _column_kind(kind: Kind) -> ColumnKind:
    kinds: dict[type, ColumnKind] = {
        Number: "number",
        Index: "integer",
        Flag: "boolean",
        Day: "date",
        Instant: "moment",
        Texts: "texts",
    }
    return kinds.get(type(kind), "text")


FORMS = {
    layout.table: _form(layout, owners)
    for root in (SURVEYS, GAUGINGS)
    for layout, owners in layouts_in(root)
}
"""The form of every table that is read back, by its name, owners first."""
