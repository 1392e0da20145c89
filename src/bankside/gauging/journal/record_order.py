"""The order of verticals in a record: as it is listed, or as called, with edges at the ends."""

from collections.abc import Sequence

import attrs

from bankside.gauging.journal.fold import Said
from bankside.gauging.records import Vertical

__all__ = ["VerticalHeard", "in_listed_order", "in_record_order"]


@attrs.frozen
class VerticalHeard:
    """A vertical of the record, and what it was made of.

    `tape` is what was said of its tape position, `readings` are the keys of its readings in the
    order of the record, `inserted` says whether it was put between others on purpose.
    """

    key: str
    vertical: Vertical
    tape: Said
    readings: tuple[str, ...]
    inserted: bool


def in_record_order(
    verticals: Sequence[VerticalHeard], start_bank: str | None
) -> list[VerticalHeard]:
    """Return verticals in the order of the record.

    Those called one after another stand in the order in which their tape positions were first
    called, between the edges, that of the start bank first. Where no start bank was said, the edge
    called before every other vertical is the first. Each one that was inserted then goes to where
    the tape runs through it.
    """
    called = sorted(verticals, key=lambda one: one.tape.history[0].order)
    edges = [one for one in called if one.vertical.edge is not None]
    between = [one for one in called if one.vertical.edge is None and not one.inserted]
    first = start_bank
    if first is None and edges and called[0] is edges[0]:
        first = edges[0].vertical.edge
    ordered = [
        *(one for one in edges if one.vertical.edge == first),
        *between,
        *(one for one in edges if one.vertical.edge != first),
    ]
    starts = sum(one.vertical.edge == first for one in edges)
    ends = len(edges) - starts
    for one in called:
        if one.inserted and one.vertical.edge is None:
            place = _place(one.vertical.tape, ordered, starts, len(ordered) - ends)
            ordered.insert(place, one)
    return ordered


def in_listed_order(
    verticals: Sequence[VerticalHeard], listed: Sequence[str]
) -> list[VerticalHeard]:
    """Return verticals in the order of a list of their keys.

    Each one that is not in the list goes to where the tape runs through it: between the edges of
    water, where these stand at the ends.
    """
    by_key = {one.key: one for one in verticals}
    ordered = [by_key[key] for key in dict.fromkeys(listed) if key in by_key]
    in_list = {one.key for one in ordered}
    for one in sorted(verticals, key=lambda one: one.tape.history[0].order):
        if one.key not in in_list:
            starts = bool(ordered) and ordered[0].vertical.edge is not None
            ends = len(ordered) > 1 and ordered[-1].vertical.edge is not None
            place = _place(one.vertical.tape, ordered, int(starts), len(ordered) - ends)
            ordered.insert(place, one)
    return ordered


def _place(tape: float, ordered: Sequence[VerticalHeard], first: int, last: int) -> int:
    """Return where a tape position goes, between two places: where fewest stand on its wrong side.

    Of places that are alike in that, it goes to where its neighbours are closest.
    """
    tapes = [one.vertical.tape for one in ordered]
    sign = -1 if len(tapes) > 1 and tapes[-1] < tapes[0] else 1

    def misfit(place: int) -> tuple[int, float, int]:
        before = sum(sign * other > sign * tape for other in tapes[:place])
        after = sum(sign * other < sign * tape for other in tapes[place:])
        around = [abs(other - tape) for other in tapes[max(0, place - 1) : place + 1]]
        return before + after, sum(around), place

    return min(range(first, last + 1), key=misfit)
