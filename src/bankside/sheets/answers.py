"""What a person has answered about a sheet, so that nothing has to be guessed.

Every question the reader asks names the option that settles it. Answers can be kept in a small
TOML file and used again for the next file of the same shape.
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any, get_args

import attrs
import tomli_w

from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.units import DischargeUnit, LengthUnit, VelocityUnit
from bankside.sheets.head_meaning import parse_unit
from bankside.sheets.offsets import WANTED_OFFSET, parse_offset

__all__ = [
    "CHOICES",
    "COLUMN_NAMES",
    "UNIT_CHOICES",
    "Answers",
    "answers_of",
    "load_answers",
    "save_answers",
    "unit_faults",
    "unit_name",
]

CHOICES: dict[str, tuple[str, ...]] = {
    "decimal": ("point", "comma"),
    "date_order": ("day-first", "month-first"),
    "century": ("1900", "2000"),
    "empty_velocity": ("sounding", "zero"),
    "same_tape": ("repeated",),
    "tape_restart": ("channels", "gaugings", "sort"),
    "empty_edge": ("sloping",),
    "first_bank": ("left", "right"),
}
"""Question → the answers that settle it."""

COLUMN_NAMES = (
    "tape",
    "depth",
    "velocity",
    "velocity@0",
    "velocity@0.2",
    "velocity@0.4",
    "velocity@0.5",
    "velocity@0.6",
    "velocity@0.8",
    "velocity@1",
    "fraction",
    "counts",
    "seconds",
    "rod_setting",
    "angle",
    "angle_coefficient",
    "width",
    "area",
    "discharge",
    "total",
    "site",
    "stream",
    "date",
    "clock",
    "channel",
    "edge",
    "wall_factor",
    "length_unit",
    "depth_unit",
    "velocity_unit",
    "discharge_unit",
    "remark",
    "latitude",
    "longitude",
    "ignore",
)
"""Names that a column can be given by an answer; `velocity@0.2` is the velocity at 0.2 of the
depth below the surface."""

UNIT_CHOICES: dict[str, tuple[str, ...]] = {
    "tape": get_args(LengthUnit),
    "depth": get_args(LengthUnit),
    "velocity": get_args(VelocityUnit),
    "discharge": get_args(DischargeUnit),
}
"""What has a unit → the units it can have."""


@attrs.frozen
class Answers:
    """Answers to the questions a sheet can raise; all absent by default.

    columns: column name → head as it stands on the sheet, or the column's letter.
    units: "tape", "depth", "velocity", "discharge" → unit.
    rating: one or two parts of a meter rating as text, "slope,intercept[,up_to]".
    time_zone: the offset from UTC of a sheet that states none, such as "-07:00".
    The other fields are described by CHOICES.
    """

    columns: Mapping[str, tuple[str, ...]] = attrs.field(factory=dict)
    units: Mapping[str, str] = attrs.field(factory=dict)
    rating: tuple[str, ...] = ()
    separator: str | None = None
    encoding: str | None = None
    sheet: str | None = None
    decimal: str | None = None
    date_order: str | None = None
    century: str | None = None
    empty_velocity: str | None = None
    same_tape: str | None = None
    tape_restart: str | None = None
    empty_edge: str | None = None
    first_bank: str | None = None
    time_zone: str | None = None


def load_answers(path: Path) -> Answers:
    """Read answers from a TOML file.

    Raises InputRefused when the file is not TOML or holds a key or value that is no answer.
    """
    if not path.is_file():
        what = "something that is no file" if path.exists() else "no such file"
        raise InputRefused([Fault(f"found {what}; a file of answers would be right", path.name)])
    try:
        raw = tomllib.loads(path.read_text(encoding="utf-8"))
    except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError) as error:
        raise InputRefused(
            [Fault(f"could not be read as a TOML file of answers ({error})", file=path.name)]
        ) from error
    return answers_of(raw, path.name)


def answers_of(said: Mapping[str, Any], file: str | None = None) -> Answers:
    """Return answers from the keys and values of a file of answers, or of a page's.

    file: goes into every fault. Raises InputRefused for a key or value that is no answer.
    """
    raw = dict(said)
    faults = [
        Fault(message, file=file, path=key)
        for key, value in raw.items()
        for message in _faults_in(key, value)
    ]
    if faults:
        raise InputRefused(faults)
    if "columns" in raw:
        raw["columns"] = {
            name: (heads,) if isinstance(heads, str) else tuple(heads)
            for name, heads in raw["columns"].items()
        }
    if "units" in raw:
        raw["units"] = {name: unit_name(unit) for name, unit in raw["units"].items()}
    if "rating" in raw:
        raw["rating"] = tuple(raw["rating"])
    return Answers(**raw)


def unit_name(written: str) -> str:
    """Return the name of a unit however it is written ("fps" → "ft/s"); other texts as they are."""
    unit = parse_unit(written)
    return written if unit is None else unit.name


def unit_faults(units: Mapping[str, str]) -> Iterator[tuple[str, str]]:
    """Yield the name and a sentence for every unit that is no unit of its kind."""
    for name, unit in units.items():
        if name not in UNIT_CHOICES:
            right = ", ".join(UNIT_CHOICES)
            yield name, f"found the name {name!r}; one of {right} would be right"
        elif unit_name(unit) not in UNIT_CHOICES[name]:
            right = ", ".join(UNIT_CHOICES[name])
            yield name, f"found the unit {unit!r} for {name}; one of {right} would be right"


def save_answers(answers: Answers, path: Path) -> None:
    """Write the given answers to a TOML file that `load_answers` reads.

    Raises InputRefused when it cannot be written, or when other answers are kept there already.
    """
    if path.is_file() and load_answers(path) != answers:
        message = "holds other answers already; another name would be right, or remove it first"
        raise InputRefused([Fault(message, file=str(path))])
    raw: dict[str, object] = {
        name: value for name, value in attrs.asdict(answers).items() if value not in (None, {}, ())
    }
    if "columns" in raw:
        raw["columns"] = {
            name: heads[0] if len(heads) == 1 else list(heads)
            for name, heads in answers.columns.items()
        }
    if "rating" in raw:
        raw["rating"] = list(answers.rating)
    try:
        path.write_text(tomli_w.dumps(raw), encoding="utf-8")
    except OSError as error:
        raise InputRefused(
            [
                Fault(
                    f"cannot be written ({error.strerror or error}); the answers are not kept",
                    file=str(path),
                )
            ]
        ) from error


def _faults_in(key: str, value: object) -> Iterator[str]:
    """Yield what is wrong with one key of an answer file."""
    known = sorted(field.name for field in attrs.fields(Answers))
    if key not in known:
        yield f"is no answer; known are {', '.join(known)}"
    elif key in CHOICES:
        if value not in CHOICES[key]:
            yield f"found {value!r}; one of {', '.join(CHOICES[key])} would be right"
    elif key == "rating":
        if not _is_texts(value):
            yield f'found {value!r}; a list of texts "slope,intercept" would be right'
    elif key in ("columns", "units"):
        if not isinstance(value, dict):
            yield f"found {value!r}; a table of names would be right"
        else:
            yield from _faults_in_columns(value) if key == "columns" else _faults_in_units(value)
    elif not isinstance(value, str):
        yield f"found {value!r}; a text would be right"
    elif key == "time_zone" and parse_offset(value) is None:
        yield f"found {value!r}; {WANTED_OFFSET}"


def _faults_in_columns(table: Mapping[str, object]) -> Iterator[str]:
    for name, heads in table.items():
        if name not in COLUMN_NAMES:
            yield f"found the name {name!r}; one of {', '.join(COLUMN_NAMES)} would be right"
        elif not isinstance(heads, str) and not _is_texts(heads):
            yield f"found {heads!r} for {name}; a head, or a list of heads, would be right"


def _faults_in_units(table: Mapping[str, object]) -> Iterator[str]:
    for name, unit in table.items():
        if not isinstance(unit, str):
            yield f"found {unit!r} for {name}; a text would be right"
        else:
            yield from (message for _, message in unit_faults({name: unit}))


def _is_texts(value: object) -> bool:
    return isinstance(value, list) and bool(value) and all(isinstance(v, str) for v in value)
