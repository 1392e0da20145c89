"""A gauging while the crew is still in the water: as far as its verticals were read."""

from collections.abc import Iterator, Sequence

import attrs

from bankside.gauging.journal.record import Recorded
from bankside.gauging.notes import tape_positions
from bankside.gauging.records import Channel, Gauging, Vertical

__all__ = ["SoFar", "is_over", "so_far"]


@attrs.frozen
class SoFar:
    """The record of a journal without the verticals at which nothing was read yet.

    `kept` are, for each channel, the indexes in the record of the verticals that are left;
    `left_out` says in a sentence where the others are.
    """

    gauging: Gauging | None
    kept: tuple[tuple[int, ...], ...]
    left_out: tuple[str, ...]


def is_over(recorded: Recorded) -> bool:
    """Return whether the gauging was closed, or its end written down, or all of it copied."""
    return recorded.closed or any(
        said.value is not None
        for what, said in recorded.said.items()
        if what == "ended" or what.startswith("copied/")
    )


def so_far(recorded: Recorded) -> SoFar:
    """Return the record as far as it was read.

    A tape position is called before the depth there. Until the gauging is over, a vertical of which
    no more was said is on its way and keeps no discharge back; afterwards it lacks its readings.
    """
    record = recorded.gauging
    if record is None:
        return SoFar(None, (), ())
    over = is_over(recorded)
    kept = tuple(tuple(_kept(channel, over)) for channel in record.channels)
    channels = tuple(
        attrs.evolve(channel, verticals=tuple(channel.verticals[i] for i in keep))
        for channel, keep in zip(record.channels, kept, strict=True)
    )
    left_out = tuple(_left_out(record, kept))
    return SoFar(attrs.evolve(record, channels=channels) if left_out else record, kept, left_out)


def _kept(channel: Channel, over: bool) -> Iterator[int]:
    return (i for i, vertical in enumerate(channel.verticals) if over or not _is_bare(vertical))


def _is_bare(vertical: Vertical) -> bool:
    """Return whether nothing but the tape position was said of a vertical."""
    return not (vertical.depth is not None or vertical.velocity or vertical.dry or vertical.edge)


def _left_out(record: Gauging, kept: Sequence[Sequence[int]]) -> Iterator[str]:
    for channel, keep in zip(record.channels, kept, strict=True):
        tapes = [v.tape for i, v in enumerate(channel.verticals) if i not in keep]
        if tapes:
            yield (
                f"Nothing was read yet at {tape_positions(tapes, record.units.length)}: left out "
                "of the figures."
            )
