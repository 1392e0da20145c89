"""Tables inside WaterML: a data array of SWE Common, its fields with their units, and back.

A missing number is the NaN that the field declares as missing, a missing word is empty. A row is
what stands between blanks, a cell what stands between commas.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any, Literal

import attrs

from bankside.exchange.waterml_names import MISSING, child, name_of, tag
from bankside.exchange.xml_text import line_of
from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.fields import shown

__all__ = ["Array", "ArrayField", "Cell", "add_array", "array_of"]

Cell = float | int | bool | str | None
FieldKind = Literal["Quantity", "Count", "Boolean", "Text"]

_CELLS, _ROWS = ",", " "
_FLAGS = {"true": True, "1": True, "false": False, "0": False, "": None}


@attrs.frozen
class ArrayField:
    """One column: its name, its kind, and the code of its unit where it is a quantity."""

    name: str
    kind: FieldKind
    unit: str | None = None
    required: bool = False


@attrs.frozen
class Array:
    """An array that was read: its fields, and its rows by the names of the fields."""

    fields: tuple[ArrayField, ...]
    rows: tuple[dict[str, Cell], ...]

    def unit(self, name: str) -> str | None:
        """Return the code of the unit of a field, None where it has none or is not there."""
        return next((field.unit for field in self.fields if field.name == name), None)


def add_array(
    parent: Any, name: str, fields: Sequence[ArrayField], rows: Sequence[Sequence[Cell]]
) -> None:
    """Add an array of these rows; a text in it has neither a blank nor a comma."""
    array = child(parent, "swe:DataArray")
    count = child(child(array, "swe:elementCount"), "swe:Count")
    child(count, "swe:value", str(len(rows)))
    record = child(child(array, "swe:elementType", name=name), "swe:DataRecord")
    for field in fields:
        _add_field(record, field)
    encoding = child(array, "swe:encoding")
    child(encoding, "swe:TextEncoding", tokenSeparator=_CELLS, blockSeparator=_ROWS)
    lines = [
        _CELLS.join(_written(field, cell) for field, cell in zip(fields, row, strict=True))
        for row in rows
    ]
    child(array, "swe:values", _ROWS.join(lines))


def array_of(array: Any) -> Array:
    """Return the fields and the rows of an array; InputRefused with every cell that is none."""
    fields = tuple(_field(field) for field in array.iter(tag("swe:field")))
    encoding = array.find(f"{tag('swe:encoding')}/{tag('swe:TextEncoding')}")
    if encoding is None:
        raise _refused(array, "found no swe:TextEncoding; values as text would be right")
    cells, blocks = encoding.get("tokenSeparator"), encoding.get("blockSeparator")
    if not cells or not blocks:
        raise _refused(encoding, "found no separators; tokenSeparator and blockSeparator are right")
    values = array.find(tag("swe:values"))
    text = "" if values is None else (values.text or "").strip()
    lines = [line for line in _parted(text, blocks) if line.strip()]
    told = array.findtext(f"{tag('swe:elementCount')}/{tag('swe:Count')}/{tag('swe:value')}")
    if told is not None and told.strip() != str(len(lines)):
        raise _refused(array, f"found {len(lines)} rows where elementCount says {told.strip()}")
    faults: list[Fault] = []
    rows = [_row(fields, line.strip(), cells, n, values, faults) for n, line in enumerate(lines, 1)]
    if faults:
        raise InputRefused(faults)
    return Array(fields, tuple(rows))


def _parted(text: str, separator: str) -> list[str]:
    return text.split(separator) if separator.strip() else text.split()


def _add_field(record: Any, field: ArrayField) -> None:
    component = child(child(record, "swe:field", name=field.name), f"swe:{field.kind}")
    if field.kind != "Quantity":
        return
    if not field.required:
        nil = child(child(component, "swe:nilValues"), "swe:NilValues")
        child(nil, "swe:nilValue", "NaN", reason=MISSING)
    child(component, "swe:uom", code=field.unit or "1")


def _written(field: ArrayField, cell: Cell) -> str:
    if cell is None:
        return "NaN" if field.kind == "Quantity" else ""
    if isinstance(cell, bool):
        return "true" if cell else "false"
    return repr(cell) if isinstance(cell, float) else str(cell)


def _field(element: Any) -> ArrayField:
    name = element.get("name") or ""
    component = next(iter(element), None)
    kind = "" if component is None else name_of(component).removeprefix("swe:")
    unit = None if component is None else component.find(tag("swe:uom"))
    code = None if unit is None else unit.get("code")
    kinds: dict[str, FieldKind] = {
        "Quantity": "Quantity",
        "Count": "Count",
        "Boolean": "Boolean",
        "Category": "Text",
        "Text": "Text",
        "Time": "Text",
    }
    if kind not in kinds:
        right = ", ".join(f"swe:{k}" for k in kinds)
        raise _refused(element, f"found a field {shown(name)} that is none of {right}")
    nil = element.find(f".//{tag('swe:nilValue')}")
    return ArrayField(name, kinds[kind], code, required=nil is None)


def _row(
    fields: Sequence[ArrayField],
    line: str,
    separator: str,
    number: int,
    values: Any,
    faults: list[Fault],
) -> dict[str, Cell]:
    cells = line.split(separator)
    place = f"row {number} of the values ({line_of(values)})"
    if len(cells) != len(fields):
        message = f"found {len(cells)} cells for {len(fields)} fields; as many would be right"
        faults.append(Fault(message, path=place))
        return {}
    row: dict[str, Cell] = {}
    for field, cell in zip(fields, cells, strict=True):
        try:
            row[field.name] = _read(field, cell)
        except ValueError:
            wanted = {"Quantity": "a number", "Count": "a whole number", "Boolean": "true or false"}
            message = f"{field.name}: found {shown(cell)}; {wanted[field.kind]} would be right"
            faults.append(Fault(message, path=place))
    return row


def _read(field: ArrayField, cell: str) -> Cell:
    """Return a cell; ValueError where it is none of its kind, or missing where none may be."""
    if field.kind == "Text":
        return cell or None
    if field.kind == "Boolean":
        if cell not in _FLAGS:
            raise ValueError
        return _FLAGS[cell]
    if field.kind == "Count":
        return int(cell) if cell else None
    number = float(cell)
    if math.isnan(number) and not field.required:
        return None
    if not math.isfinite(number):
        raise ValueError
    return number


def _refused(element: Any, message: str) -> InputRefused:
    return InputRefused([Fault(message, path=f"{name_of(element)} ({line_of(element)})")])
