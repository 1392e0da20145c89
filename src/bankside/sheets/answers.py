"""What a person has answered about a sheet, so that nothing has to be guessed.

Every question the reader asks names the option that settles it. Answers can be kept in a small
TOML file and used again for the next file of the same shape.
"""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Mapping
from pathlib import Path

import attrs
import tomli_w

from bankside.gauging.faults import Fault, InputRefused

__all__ = ["CHOICES", "COLUMN_NAMES", "UNIT_NAMES", "Answers", "load_answers", "save_answers"]

CHOICES: dict[str, tuple[str, ...]] = {
    "decimal": ("point", "comma"),
    "date_order": ("day-first", "month-first"),
    "empty_velocity": ("sounding", "zero"),
    "same_tape": ("repeated",),
    "tape_restart": ("channels", "gaugings", "sort"),
    "empty_edge": ("sloping",),
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

UNIT_NAMES = ("tape", "depth", "velocity", "discharge")


@attrs.frozen
class Answers:
    """Answers to the questions a sheet can raise; all absent by default.

    columns: column name → head as it stands on the sheet, or the column's letter.
    units: "tape", "depth", "velocity", "discharge" → unit.
    rating: one or two parts of a meter rating as text, "slope,intercept[,up_to]".
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
    empty_velocity: str | None = None
    same_tape: str | None = None
    tape_restart: str | None = None
    empty_edge: str | None = None


def load_answers(path: Path) -> Answers:
    """Read answers from a TOML file.

    Raises InputRefused when the file is not TOML or holds a key or value that is no answer.
    """
    try:
        raw = tomllib.loads(path.read_text(encoding="utf-8"))
    except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError) as error:
        raise InputRefused(
            [Fault(f"could not be read as a TOML file of answers ({error})", file=path.name)]
        ) from error
    faults: list[Fault] = []
    known = {field.name for field in attrs.fields(Answers)}
    for key, value in raw.items():
        message = _fault_in(key, value, known)
        if message is not None:
            faults.append(Fault(message, file=path.name, path=key))
    if faults:
        raise InputRefused(faults)
    if "columns" in raw:
        raw["columns"] = {
            name: (heads,) if isinstance(heads, str) else tuple(heads)
            for name, heads in raw["columns"].items()
        }
    if "rating" in raw:
        raw["rating"] = tuple(raw["rating"])
    return Answers(**raw)


def save_answers(answers: Answers, path: Path) -> None:
    """Write the given answers to a TOML file that `load_answers` reads."""
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
    path.write_text(tomli_w.dumps(raw), encoding="utf-8")


def _fault_in(key: str, value: object, known: set[str]) -> str | None:
    """Return what is wrong with one key of an answer file, or None."""
    if key not in known:
        return f"is no answer; known are {', '.join(sorted(known))}"
    if key in CHOICES and value not in CHOICES[key]:
        return f"found {value!r}; one of {', '.join(CHOICES[key])} would be right"
    if key in ("columns", "units"):
        names = COLUMN_NAMES if key == "columns" else UNIT_NAMES
        return _fault_in_table(value, names, allow_lists=key == "columns")
    if key == "rating":
        good = isinstance(value, list) and all(isinstance(part, str) for part in value)
        return None if good else f'found {value!r}; a list of texts "slope,intercept" is right'
    return None if isinstance(value, str) else f"found {value!r}; a text would be right"


def _fault_in_table(value: object, names: tuple[str, ...], allow_lists: bool) -> str | None:
    if not isinstance(value, dict):
        return f"found {value!r}; a table of names would be right"
    is_text: Callable[[object], bool] = lambda item: isinstance(item, str)  # noqa: E731
    for name, item in value.items():
        if name not in names:
            return f"found the name {name!r}; one of {', '.join(names)} would be right"
        listed = allow_lists and isinstance(item, list) and all(map(is_text, item))
        if not is_text(item) and not listed:
            return f"found {item!r} for {name}; a text would be right"
    return None
