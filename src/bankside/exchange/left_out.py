"""What of records a format leaves behind, told by what comes back from it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import attrs

from bankside.gauging.records import Gauging

__all__ = ["fields_lost"]


def fields_lost(before: Sequence[Gauging], after: Sequence[Gauging]) -> tuple[str, ...]:
    """Return the fields in which gaugings differ from what came back of them, each once.

    A field is named from the gauging on, such as "channels.verticals.remark".
    """
    lost: dict[str, None] = {}
    for one, other in zip(before, after, strict=True):
        lost |= dict.fromkeys(_differing(one, other, ""))
    return tuple(lost)


def _differing(one: object, other: object, path: str) -> Iterator[str]:
    if one == other:
        return
    kind: type = type(one)
    if attrs.has(kind) and kind is type(other):
        for field in attrs.fields(kind):
            inner = f"{path}.{field.name}" if path else field.name
            yield from _differing(getattr(one, field.name), getattr(other, field.name), inner)
    elif isinstance(one, tuple) and isinstance(other, tuple) and len(one) == len(other):
        for mine, theirs in zip(one, other, strict=True):
            yield from _differing(mine, theirs, path)
    else:
        yield path
