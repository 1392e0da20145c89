"""JSON as it was spelled: what could not be taken in is kept with every key and every digit."""

from __future__ import annotations

import json
from collections.abc import Sequence

import attrs

__all__ = ["spelled_items"]


@attrs.frozen
class _Spelled:
    """A part of a JSON text, as it was spelled but for the space in it."""

    text: str


def spelled_items(text: str, member: str) -> list[str]:
    """Return the items of a list that is a member of a JSON object, each as it was spelled.

    Keys that are there twice stay so, numbers keep their digits. The text must be such an object.
    """
    items: list[str] = []

    def take(pairs: Sequence[tuple[str, object]]) -> _Spelled:
        for key, value in pairs:
            if key == member and isinstance(value, list):
                items[:] = [_spell(item) for item in value]
        return _Spelled(
            "{" + ",".join(f"{json.dumps(key)}:{_spell(value)}" for key, value in pairs) + "}"
        )

    # The outermost object is read last, so that its member is the one that stays.
    json.loads(
        text,
        object_pairs_hook=take,
        parse_int=_Spelled,
        parse_float=_Spelled,
        parse_constant=_Spelled,
    )
    return items


def _spell(value: object) -> str:
    if isinstance(value, _Spelled):
        return value.text
    if isinstance(value, list):
        return "[" + ",".join(map(_spell, value)) + "]"
    return json.dumps(value)
