"""Records from the objects of a JSON document and back, by one cattrs converter.

The hooks refuse nothing by themselves: a value that is not of the kind of its field is passed on,
so that the field says what must hold, in the words that the constructor uses too. A record with
faults is passed on as a draft, so that rules between records can be asked as well.
"""

import datetime
import difflib
import re
from collections import Counter
from collections.abc import Callable, Iterable, Mapping
from typing import Any, Literal, Self, TypeVar, get_args, get_origin

import attrs
import cattrs

from bankside.gauging.checked import Checked, fault_of_field, faults_of_rules
from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.fields import Number, kind_of, shown
from bankside.gauging.records import Gauging, PointReading

__all__ = ["JsonObject", "structured", "unstructured"]

R = TypeVar("R", bound=Checked)

# The keys that are written first, for people who read the text; the others follow as declared.
_FIRST: Mapping[type, tuple[str, ...]] = {
    Gauging: ("id", "site", "date", "started", "ended", "units", "meter", "crew", "stage"),
    PointReading: ("fraction",),
}

_DATE = re.compile(r"\d{4}-\d{2}-\d{2}", re.ASCII)
_DATE_TIME = re.compile(
    r"\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2}(\.\d{1,6})?(Z|[+-]\d{2}:\d{2})", re.ASCII
)


class JsonObject(dict[str, object]):
    """The members of a JSON object, and the keys that were written more than once."""

    repeated: frozenset[str] = frozenset()

    @classmethod
    def of_pairs(cls, pairs: Iterable[tuple[str, object]]) -> Self:
        """Return the object that a JSON text spells as these pairs, in this order."""
        pairs = list(pairs)
        members = cls(pairs)
        if len(members) < len(pairs):
            counts = Counter(key for key, _ in pairs)
            members.repeated = frozenset(key for key, count in counts.items() if count > 1)
        return members


class _Broken(Exception):
    """What is wrong with a part of a document, and as much of its record as is sound.

    `draft` is None where a field of the record itself is not sound; a tuple holds None in the
    place of such a record.
    """

    def __init__(self, faults: Iterable[Fault], draft: object) -> None:
        super().__init__()
        self.faults = tuple(faults)
        self.draft = draft


def structured(members: JsonObject, record: type[R]) -> R:
    """Return the record that a JSON object holds; InputRefused with every fault in it."""
    try:
        return _CONVERTER.structure(members, record)
    except _Broken as broken:
        raise InputRefused(broken.faults) from None


def unstructured(record: Checked) -> dict[str, Any]:
    """Return the members of the JSON object that holds a record."""
    members: dict[str, Any] = _CONVERTER.unstructure(record)
    return members


def _record_hook(record: type[Checked]) -> Callable[[object, object], object]:
    def structure(value: object, _: object) -> object:
        if not isinstance(value, JsonObject):
            return value
        values, faults, unsound = _fields(value, record)
        if not faults:
            try:
                return record(**values)
            except InputRefused as refused:
                raise _Broken(refused.faults, _draft(record, values)) from None
        draft = _draft(record, values)
        faults += faults_of_rules(draft, unsound)
        raise _Broken(faults, None if unsound else draft)

    return structure


def _fields(
    members: JsonObject, record: type[Checked]
) -> tuple[dict[str, object], list[Fault], set[str]]:
    """Return the values of the fields, what is wrong, and the names of the fields not sound."""
    values: dict[str, object] = {}
    faults = list(_key_faults(members, record))
    unsound = set()
    for field in attrs.fields(record):
        try:
            values[field.name] = _value(members, field)
        except _Broken as broken:
            faults += broken.faults
            values[field.name] = broken.draft
            if broken.draft is None:
                unsound.add(field.name)
    return values, faults, unsound


def _value(members: JsonObject, field: "attrs.Attribute[Any]") -> object:
    """Return the value of one field; _Broken if there is none, or it is not of its kind."""
    if field.name not in members:
        if field.default is attrs.NOTHING:
            raise _Broken([Fault(f"{field.name} must be given", path=field.name)], None)
        return field.default
    found = members[field.name]
    if found is None:
        wants = kind_of(field).wants
        message = f"{field.name} must be {wants}, or be left out (got null)"
        raise _Broken([Fault(message, path=field.name)], None)
    declared: Any = field.type
    try:
        value: object = _CONVERTER.structure(found, declared)
    except _Broken as broken:
        raise _Broken([f.inside(field.name) for f in broken.faults], broken.draft) from None
    fault = fault_of_field(field, value)
    if fault is not None:
        raise _Broken([fault], None)
    return value


def _key_faults(members: JsonObject, record: type[Checked]) -> Iterable[Fault]:
    names = [field.name for field in attrs.fields(record)]
    for key in members:
        path = key if key.isidentifier() else None
        if key not in names:
            close = difflib.get_close_matches(key, names, n=1)
            hint = f'; did you mean "{close[0]}"?' if close else ""
            message = f"a key must be one that a {record.__name__} record has (got {shown(key)})"
            yield Fault(message + hint, path=path)
        elif key in members.repeated:
            yield Fault(f"{key} must be written once (got it more than once)", path=path)


def _draft(record: type[Checked], values: Mapping[str, object]) -> Checked:
    """Return an instance that nobody has checked, for the rules to look at."""
    draft = record.__new__(record)
    for name, value in values.items():
        object.__setattr__(draft, name, value)
    return draft


def _tuple_hook(tuple_type: Any) -> Callable[[object, object], object]:
    record = get_args(tuple_type)[0]

    def structure(value: object, _: object) -> object:
        if not isinstance(value, list):
            return value
        items: list[object] = []
        faults: list[Fault] = []
        for index, element in enumerate(value):
            try:
                items.append(_element(element, record))
            except _Broken as broken:
                items.append(broken.draft)
                faults += [fault.inside(index) for fault in broken.faults]
        if faults:
            raise _Broken(faults, tuple(items))
        return tuple(items)

    return structure


def _element(element: object, record: type[Checked] | type[str]) -> object:
    item: object = _CONVERTER.structure(element, record)
    # Texts are asked by the kind of their field, which says what must hold of all of them.
    if record is not str and not isinstance(item, record):
        message = f"an element must be a {record.__name__} record (got {shown(element)})"
        raise _Broken([Fault(message)], None)
    return item


def _as_is(value: object, _: object) -> object:
    return value


def _float(value: object, _: object) -> object:
    return float(value) if isinstance(value, int) and not isinstance(value, bool) else value


def _date(value: object, _: object) -> object:
    if isinstance(value, str) and _DATE.fullmatch(value):
        return _or_as_is(datetime.date.fromisoformat, value)
    return value


def _date_time(value: object, _: object) -> object:
    if isinstance(value, str) and _DATE_TIME.fullmatch(value):
        return _or_as_is(datetime.datetime.fromisoformat, value)
    return value


def _or_as_is(parse: Callable[[str], object], text: str) -> object:
    """Return what a text spells, or the text where it spells no day or hour that there is."""
    try:
        return parse(text)
    except ValueError:
        return text


def _members_hook(record: type[Checked]) -> Callable[[Checked], dict[str, object]]:
    first = _FIRST.get(record, ())
    fields = sorted(attrs.fields(record), key=lambda field: _rank(first, field.name))

    def unstructure(value: Checked) -> dict[str, object]:
        return {
            field.name: _member(field, getattr(value, field.name))
            for field in fields
            if getattr(value, field.name) != field.default
        }

    return unstructure


def _rank(first: tuple[str, ...], name: str) -> int:
    return first.index(name) if name in first else len(first)


def _member(field: "attrs.Attribute[Any]", value: Any) -> object:
    # A whole number and the float that equals it make equal records, so they make equal texts.
    if isinstance(kind_of(field), Number):
        return float(value)
    return _CONVERTER.unstructure(value)


def _is_record(candidate: Any) -> bool:
    return isinstance(candidate, type) and issubclass(candidate, Checked)


def _is_tuple(candidate: Any) -> bool:
    return get_origin(candidate) is tuple


def _is_literal(candidate: Any) -> bool:
    return get_origin(candidate) is Literal


def _is_any(candidate: Any) -> bool:
    return candidate is Any


def _converter() -> cattrs.Converter:
    converter = cattrs.Converter(detailed_validation=False)
    for plain in (bool, int, str):
        converter.register_structure_hook(plain, _as_is)
    converter.register_structure_hook(float, _float)
    converter.register_structure_hook(datetime.date, _date)
    converter.register_structure_hook(datetime.datetime, _date_time)
    converter.register_structure_hook_func(_is_literal, _as_is)
    # What is of any type is asked by the kind of its field alone.
    converter.register_structure_hook_func(_is_any, _as_is)
    converter.register_structure_hook_factory(_is_record, _record_hook)
    converter.register_structure_hook_factory(_is_tuple, _tuple_hook)
    converter.register_unstructure_hook(datetime.date, datetime.date.isoformat)
    converter.register_unstructure_hook(datetime.datetime, datetime.datetime.isoformat)
    converter.register_unstructure_hook_factory(_is_record, _members_hook)
    return converter


_CONVERTER = _converter()
