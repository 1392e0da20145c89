"""What stands around a table: site, date, crew, meter, stage, units, remarks.

Understood are lines `# key: value`, `key: value`, and rows of a key cell followed by its value
cell. The keys are listed below and in `docs/formats.md`. A line that is not understood is kept
word for word among the gauging's remarks.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence

import attrs

from bankside.sheets.files.grid import CellValue, Grid
from bankside.sheets.values import as_label, is_empty
from bankside.sheets.words import parse_unit

__all__ = ["KEYS", "Preface", "join_prefaces", "read_preface"]

KEYS: dict[str, tuple[str, ...]] = {
    "site": ("site", "site name", "site id", "location", "section"),
    "stream": ("stream", "river", "creek", "brook", "stream name"),
    "date": ("date", "date of measurement"),
    "channel": ("channel",),
    "started": ("started", "start", "start time", "time start", "begin"),
    "ended": ("ended", "end", "end time", "time end", "finish"),
    "crew": ("crew", "party"),
    "operator": ("operator", "rod", "observer"),
    "recorder": ("recorder", "notes by"),
    "leader": ("leader", "crew leader"),
    "meter": ("meter", "current meter", "meter kind", "meter type"),
    "serial": ("meter serial", "serial", "serial number", "meter number", "meter no"),
    "rating": ("meter rating", "rating", "rating equation"),
    "stage": (
        "stage",
        "gauge height",
        "gage height",
        "staff gauge",
        "stage start",
        "stage end",
        "start stage",
        "end stage",
        "stage before",
        "stage after",
    ),
    "units": ("units", "unit"),
    "length_unit": ("length unit", "tape unit"),
    "depth_unit": ("depth unit",),
    "velocity_unit": ("velocity unit",),
    "latitude": ("latitude", "lat"),
    "longitude": ("longitude", "lon", "long"),
    "accuracy": ("accuracy", "accuracy m", "position accuracy"),
    "label": ("label", "point", "waypoint", "gps point"),
    "rule_set": ("rule set", "protocol"),
    "total": (
        "total discharge",
        "discharge",
        "total q",
        "total flow",
        "total",
        "q",
        "sum",
    ),
    "remarks": ("remarks", "remark", "notes", "comments"),
}
"""What a line around a table can tell → the keys under which people write it."""

_SEPARATOR_LINE = re.compile(r"sep=.?", re.IGNORECASE)
"""The first line by which a spreadsheet program says what separates the fields."""

_KEY = {written: key for key, ways in KEYS.items() for written in ways}


@attrs.frozen
class Preface:
    """Keys and values found around a table, and every other line of it as text.

    pairs: key (of KEYS) → values with the row indexes at which they stand, in order; texts: the
    lines that are no pair, with their row indexes.
    """

    pairs: tuple[tuple[str, CellValue, int], ...] = ()
    texts: tuple[tuple[str, int], ...] = ()

    def values(self, key: str) -> tuple[CellValue, ...]:
        """Return all values given for a key."""
        return tuple(value for name, value, _ in self.pairs if name == key and not is_empty(value))

    def first(self, key: str) -> CellValue:
        """Return the first value given for a key, None when there is none."""
        return next(iter(self.values(key)), None)

    def units(self, role: str) -> set[str]:
        """Return the units that lines give the "tape", "depth" or "velocity"."""
        kind = "velocity" if role == "velocity" else "length"
        own = {"tape": "length_unit", "depth": "depth_unit"}.get(role, "velocity_unit")
        lines = [*self.values(own), *self.values("units")]
        if role == "depth" and not self.values("depth_unit"):
            lines += self.values("length_unit")
        if role == "velocity":
            lines += self.values("rating_unit")
        named = self.values("depth_unit") if role == "depth" else ()
        found = set()
        for line in named or lines:
            text = as_label(line) or ""
            whole = parse_unit(text)
            for part in [text] if whole else re.split(r"[,;]| and ", text):
                unit = parse_unit(part)
                if unit is not None and unit.kind == kind:
                    found.add(unit.name)
        return found


def read_preface(grid: Grid, rows: Iterable[int]) -> Preface:
    """Return what the given rows of a grid tell."""
    pairs: list[tuple[str, CellValue, int]] = []
    texts: list[tuple[str, int]] = []
    for row in rows:
        cells = [value for value in grid.rows[row] if value is not None]
        if not cells or _SEPARATOR_LINE.fullmatch(str(cells[0])):
            continue
        found = list(_pairs_in(grid, cells))
        pairs.extend((key, value, row) for key, value in found)
        if not found:
            texts.append((" ".join(as_label(value) or str(value) for value in cells), row))
    return Preface(tuple(pairs), tuple(texts))


def join_prefaces(prefaces: Iterable[Preface]) -> Preface:
    """Return one preface that holds what several tell."""
    listed = list(prefaces)
    return Preface(
        tuple(pair for p in listed for pair in p.pairs),
        tuple(text for p in listed for text in p.texts),
    )


def _pairs_in(grid: Grid, cells: Sequence[CellValue]) -> Iterator[tuple[str, CellValue]]:
    """Yield the (key, value) pairs in one row; none when the row is not made of them.

    A value reaches up to the next key; a key without a value (an empty form) yields None. The
    unit of a rating or a total, written behind the key or the figure, is yielded as well.
    """
    glue = f"{(grid.separator or ',').strip()} "
    if isinstance(cells[0], str) and cells[0].startswith("#"):
        cells = [glue.join(as_label(value) or "" for value in cells).lstrip("# ")]
    found: list[tuple[str, str, list[CellValue]]] = []
    for cell in cells:
        key, colon, inline = str(cell).partition(":") if isinstance(cell, str) else ("", "", "")
        name = _KEY.get(_key_text(key)) if colon or not found or len(found[-1][2]) == 1 else None
        if name is not None:
            found.append((name, key, [inline.strip()] if inline.strip() else []))
        elif found:
            found[-1][2].append(cell)
        else:
            return
    for name, key, values in found:
        beside_unit = len(values) == 2 and parse_unit(as_label(values[1]) or "") is not None
        whole = (" " if beside_unit else glue).join(as_label(value) or "" for value in values)
        yield name, values[0] if len(values) == 1 else whole or None
        unit = _unit_beside(key, whole) if name in ("rating", "total") else None
        if unit is not None:
            yield f"{name}_unit", unit


def _unit_beside(key: str, value: str) -> str | None:
    """Return the unit in brackets behind a key ("Total (m3/s)") or behind a figure, or None."""
    bracketed = re.search(r"[(\[](.*?)[)\]]", key)
    for text in ([bracketed[1]] if bracketed else []) + [value.partition(" ")[2]]:
        unit = parse_unit(text)
        if unit is not None:
            return unit.name
    return None


def _key_text(text: str) -> str:
    plain = re.sub(r"[(\[].*?[)\]]", " ", text.strip("# "))
    return " ".join(re.sub(r"[_.\-]", " ", plain).split()).casefold()
