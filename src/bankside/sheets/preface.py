"""What stands around a table: site, date, crew, meter, stage, units, remarks.

Understood are lines `# key: value`, `key: value`, and rows of a key cell followed by its value
cell. The keys are listed in `keys.py` and in `docs/formats.md`. A line that is not understood is
kept word for word among the gauging's remarks.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence

import attrs

from bankside.sheets.dates import day_and_words, is_written_date
from bankside.sheets.files.grid import CellValue, Grid
from bankside.sheets.head_meaning import parse_unit
from bankside.sheets.keys import KEYS
from bankside.sheets.values import as_label, is_empty

__all__ = ["KEYS", "Preface", "join_prefaces", "key_text", "read_preface"]

_SEPARATOR_LINE = re.compile(r"sep=.?", re.IGNORECASE)
"""The first line by which a spreadsheet program says what separates the fields."""

_WITH_UNITS = ("rating", "total", "stage", "zero_before", "zero_after", "slowest", "shallowest")
"""Keys behind which, or behind whose figure, a unit may be written."""

_KEY = {written: key for key, ways in KEYS.items() for written in ways}


@attrs.frozen
class Preface:
    """Keys and values found around a table, and every other line of it as text.

    pairs: key (of KEYS) → values with the numbers of the rows on which they stand, in order;
    texts: the lines that are no pair, with the numbers of their rows.
    """

    pairs: tuple[tuple[str, CellValue, int], ...] = ()
    texts: tuple[tuple[str, int], ...] = ()

    def values(self, key: str) -> tuple[CellValue, ...]:
        """Return all values given for a key."""
        return tuple(value for name, value, _ in self.pairs if name == key and not is_empty(value))

    def first(self, key: str) -> CellValue:
        """Return the first value given for a key, None when there is none."""
        return next(iter(self.values(key)), None)

    def row_of(self, key: str) -> int | None:
        """Return the number of the row that first gives a value for a key."""
        return next(
            (n for name, value, n in self.pairs if name == key and not is_empty(value)), None
        )

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
        number = grid.row_numbers[row]
        segments = _segments(grid, cells)
        pairs.extend((key, value, number) for key, value in _pairs_in(grid, segments))
        if any(segment.name for segment in segments):
            texts.extend((text, number) for text in _texts_in(segments))
        else:
            texts.append((" ".join(as_label(value) or str(value) for value in cells), number))
    return Preface(tuple(pairs), tuple(texts))


def join_prefaces(prefaces: Iterable[Preface]) -> Preface:
    """Return one preface that holds what several tell."""
    listed = list(prefaces)
    return Preface(
        tuple(pair for p in listed for pair in p.pairs),
        tuple(text for p in listed for text in p.texts),
    )


@attrs.define
class _Segment:
    """A key in a row, known by `name` or not, with the cells up to the next key."""

    name: str | None
    key: str
    values: list[CellValue]


def _segments(grid: Grid, cells: Sequence[CellValue]) -> list[_Segment]:
    """Cut a row at its keys: known ones, and unknown ones that end in a colon."""
    if isinstance(cells[0], str) and cells[0].startswith("#"):
        cells = [_glue(grid).join(as_label(value) or "" for value in cells).lstrip("# ")]
    if len(cells) == 1 and isinstance(cells[0], str) and is_written_date(cells[0]):
        return [_Segment("date", "", [cells[0]])]
    found: list[_Segment] = []
    for cell in cells:
        key, colon, inline = _at_sign(cell) if isinstance(cell, str) else ("", "", "")
        name = _known(key)
        rest = inline.strip()
        known = name is not None and (bool(colon) or not found or len(found[-1].values) == 1)
        unknown = bool(colon) and not rest and any(letter.isalpha() for letter in key)
        if known or unknown:
            found.append(_Segment(name, key.strip(), [rest] if rest else []))
        elif found:
            found[-1].values.append(cell)
        else:
            found.append(_Segment(None, "", [cell]))
    return found


def _at_sign(text: str) -> tuple[str, str, str]:
    """Cut a text at its colon; at an equals sign where a known key stands before it ("Q=3.6")."""
    key, sign, rest = text.partition("=")
    if sign and ":" not in key and _known(key) is not None:
        return key, sign, rest
    return text.partition(":")


def _glue(grid: Grid) -> str:
    return f"{(grid.separator or ',').strip()} "


def _pairs_in(grid: Grid, segments: Sequence[_Segment]) -> Iterator[tuple[str, CellValue]]:
    """Yield the (key, value) pairs of a row; a key without a value (an empty form) yields None.

    A unit written behind the key or the figure, of a total or a level, is yielded as well.
    """
    for segment in segments:
        name, values = segment.name, segment.values
        if name is None:
            continue
        beside_unit = len(values) == 2 and parse_unit(as_label(values[1]) or "") is not None
        glue = " " if beside_unit else _glue(grid)
        whole = glue.join(as_label(value) or "" for value in values)
        day, behind = _day_and_words(segment)
        if behind:
            yield name, day
            continue
        yield name, values[0] if len(values) == 1 else whole or None
        unit = _unit_beside(segment.key, whole) if name in _WITH_UNITS else None
        if unit is not None:
            yield f"{name}_unit", unit


def _texts_in(segments: Sequence[_Segment]) -> Iterator[str]:
    """Yield what stands under keys that are not known, or behind a date, word for word."""
    for segment in segments:
        _, behind = _day_and_words(segment)
        if behind:
            yield f"behind the date: {behind}"
        words = " ".join(as_label(value) or str(value) for value in segment.values)
        if segment.name is None and words:
            yield f"{segment.key}: {words}" if segment.key else words


def _day_and_words(segment: _Segment) -> tuple[str, str]:
    """Return the day that a text under the key of a date begins with, and the words behind it."""
    if segment.name != "date" or not segment.values or not isinstance(segment.values[0], str):
        return "", ""
    return day_and_words(" ".join(as_label(value) or str(value) for value in segment.values))


def _unit_beside(key: str, value: str) -> str | None:
    """Return the unit in brackets behind a key ("Total (m3/s)") or behind a figure, or None."""
    bracketed = re.search(r"[(\[]([^()\[\]]*)[)\]]", key)
    for text in ([bracketed[1]] if bracketed else []) + [value.partition(" ")[2]]:
        unit = parse_unit(text)
        if unit is not None:
            return unit.name
    return None


def key_text(text: str) -> str:
    """Return a key as it is compared: lower case, without brackets, signs, and dots ("G.H.")."""
    plain = re.sub(r"[(\[][^()\[\]]*[)\]]", " ", text.strip("#: "))
    plain = re.sub(r"\b([^\W\d_])\.\s?(?=[^\W\d_](?:\b|_))", r"\1", plain)
    return " ".join(re.sub(r"[_.:\-]", " ", plain).split()).casefold()


def _singular(key: str) -> str:
    """Return a key with the plural "s" taken off its words; a unit ("meters") as it is."""
    if parse_unit(key) is not None:
        return key
    return " ".join(
        word[:-1] if len(word) > 3 and word.endswith("s") else word for word in key.split()
    )


def _known(text: str) -> str | None:
    """Return what a key tells, however its capitals, dots and plurals are written; else None."""
    key = key_text(text)
    return _KEY.get(key) or _ONE_MEANING.get(_singular(key))


def _of_one_meaning() -> dict[str, str]:
    """Return key by singular form, where all ways to write it that have this form mean the same."""
    meanings: dict[str, set[str]] = {}
    for written, name in _KEY.items():
        meanings.setdefault(_singular(written), set()).add(name)
    return {form: name for form, (name, *others) in meanings.items() if not others}


_ONE_MEANING = _of_one_meaning()
