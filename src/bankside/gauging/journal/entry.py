"""One entry of a journal: one thing that was said at the stream, appended and never changed.

Figures that people called stand in entries as texts, exactly as typed: "1.0" is not "1".
"""

import datetime
import difflib
from collections.abc import Iterator, Mapping, Sequence
from typing import Any, ClassVar

import attrs

from bankside.gauging.checked import Checked, Rule
from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.fields import Kind, about, kind_of, shown
from bankside.gauging.journal.kinds import Counted, Ids, Key, Moment, What, Words, moment_of
from bankside.gauging.journal.values import JsonValue, comparable

__all__ = ["Entry", "entries_from_json", "to_members"]


def _replaces_others(entry: "Entry") -> Iterator[Fault]:
    """An entry stands in the place of others, never in its own."""
    if entry.id in entry.replaces:
        yield Fault("replaces must hold ids of other entries (got its own)", path="replaces")


@attrs.frozen
class Entry(Checked):
    """One line of a journal; InputRefused with everything that is wrong with it.

    The order of entries is that of `order`; the clock of a device decides nothing.
    """

    rules: ClassVar[tuple[Rule, ...]] = (Rule(("id", "replaces"), _replaces_others),)

    id: str = attrs.field(metadata=about(Key(), "what tells this entry from every other"))
    gauging: str = attrs.field(metadata=about(Key(), "the id of the gauging that it belongs to"))
    device: str = attrs.field(metadata=about(Key(), "the id of the device that wrote it"))
    sequence: int = attrs.field(
        metadata=about(
            Counted(), "one more than the highest that the device knew of in this gauging"
        )
    )
    at: str = attrs.field(
        metadata=about(Moment(), "when it was written, by the clock of the device")
    )
    what: str = attrs.field(metadata=about(What(), "what it says something about"))
    value: Any = attrs.field(
        eq=comparable,
        metadata=about(
            JsonValue(), "what it says: figures as texts exactly as typed; null strikes out"
        ),
    )
    reason: str | None = attrs.field(
        default=None, metadata=about(Words(), "why what stood there was replaced")
    )
    by: str | None = attrs.field(default=None, metadata=about(Words(), "who said it"))
    replaces: tuple[str, ...] = attrs.field(
        default=(),
        metadata=about(Ids(), "the ids of the entries that stood there when it was written"),
    )

    @property
    def order(self) -> tuple[int, str, str]:
        """The place among all entries of the gauging, the same on every device."""
        return self.sequence, self.device, self.id

    @property
    def moment(self) -> datetime.datetime:
        """When it was written, by the clock of the device."""
        moment = moment_of(self.at)
        assert moment is not None  # the constructor refused anything else
        return moment


_NAMES = frozenset(field.name for field in attrs.fields(Entry))
_NEEDED = frozenset(f.name for f in attrs.fields(Entry) if f.default is attrs.NOTHING)


def entries_from_json(items: Sequence[object]) -> tuple[Entry, ...]:
    """Return the entries that JSON objects hold, in the order given.

    InputRefused with every fault of every entry, each with its place, such as `[3].what`.
    """
    entries: list[Entry] = []
    faults: list[Fault] = []
    for index, item in enumerate(items):
        try:
            entries.append(_entry(item))
        except InputRefused as refused:
            faults += [fault.inside(index) for fault in refused.faults]
    if faults:
        raise InputRefused(faults)
    return tuple(entries)


def to_members(entry: Entry) -> dict[str, Any]:
    """Return the members of the JSON object that holds an entry; what is absent has no key."""
    members: dict[str, Any] = {}
    for field in attrs.fields(Entry):
        found = getattr(entry, field.name)
        if field.default is attrs.NOTHING or found != field.default:
            members[field.name] = list(found) if isinstance(found, tuple) else found
    return members


def _entry(item: object) -> Entry:
    if not isinstance(item, Mapping):
        raise InputRefused([Fault(f"an entry must be a JSON object (got {shown(item)})")])
    if _is_whole(item):
        members = dict(item)
        if isinstance(members.get("replaces"), list):
            members["replaces"] = tuple(members["replaces"])
        try:
            return Entry(**members)
        except InputRefused:
            pass  # what is wrong is told below, as it was written
    faults = list(_key_faults(item))
    values: dict[str, Any] = {}
    for field in attrs.fields(Entry):
        if field.name not in item:
            if field.default is attrs.NOTHING:
                faults.append(Fault(f"{field.name} must be given", path=field.name))
            continue
        found = item[field.name]
        values[field.name] = tuple(found) if isinstance(found, list) else found
        faults += _value_faults(field.name, found, kind_of(field))
    if faults:
        raise InputRefused(faults)
    values["value"] = item["value"]
    return Entry(**values)


def _is_whole(item: Mapping[Any, Any]) -> bool:
    """Return whether all members are there, no others, and none null that may not be.

    Then the constructor is asked at once, as journals are read after every reading.
    """
    if getattr(item, "repeated", None) or not item.keys() <= _NAMES:
        return False
    return item.keys() >= _NEEDED and all(
        value is not None or name == "value" for name, value in item.items()
    )


def _value_faults(name: str, found: object, kind: Kind) -> Iterator[Fault]:
    if found is None and name != "value":
        yield Fault(f"{name} must be {kind.wants} (got null)", path=name)
    elif not kind.holds(tuple(found) if name == "replaces" and isinstance(found, list) else found):
        yield Fault(f"{name} must be {kind.wants} (got {shown(found)})", path=name)


def _key_faults(item: Mapping[str, object]) -> Iterator[Fault]:
    names = [field.name for field in attrs.fields(Entry)]
    repeated: frozenset[str] = getattr(item, "repeated", frozenset())
    for key in item:
        if key not in names:
            close = difflib.get_close_matches(str(key), names, n=1)
            hint = f'; did you mean "{close[0]}"?' if close else ""
            yield Fault(f"a key must be one that an entry has (got {shown(key)}){hint}")
        elif key in repeated:
            yield Fault(f"{key} must be written once (got it more than once)", path=key)
