"""Times of day made moments, by the day and the offset from UTC that belong to them.

Nothing is guessed: without its day or its offset a time of day stays a remark, and so does one
that may belong to the day after.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, datetime, time, timedelta, timezone

import attrs

from bankside.sheets.channels import RowsOfChannel
from bankside.sheets.sheet_row import SheetRow

__all__ = ["Clock", "next_day", "with_moments"]

_HALF_A_DAY = timedelta(hours=12)


@attrs.frozen
class Clock:
    """The day of a gauging and the offset of its clock from UTC, each None if not told."""

    day: date | None = None
    offset: timezone | None = None

    def moment(self, told: time | datetime) -> datetime | None:
        """Return the moment of a time of day, or of a day and time; None where a part is wanting.

        What carries its own day, or its own offset, keeps it.
        """
        if isinstance(told, datetime):
            if told.tzinfo is None and self.offset is not None:
                return told.replace(tzinfo=self.offset)
            return told if told.tzinfo is not None else None
        offset = told.tzinfo or self.offset
        if self.day is None or offset is None:
            return None
        return datetime.combine(self.day, told, offset)

    def wanting(self, told: time | datetime) -> str:
        """Return what a time that is no moment lacks, and what would be right, in words."""
        no_day = not isinstance(told, datetime) and self.day is None
        no_offset = told.tzinfo is None and self.offset is None
        if no_day and no_offset:
            return (
                "stands on the sheet without its day and an offset from UTC; lines "
                '"Date: 2026-07-14" and "Time zone: -07:00" would be right'
            )
        if no_day:
            return 'stands on the sheet without its day; a line "Date: 2026-07-14" would be right'
        return (
            "stands on the sheet without an offset from UTC; a line "
            '"Time zone: -07:00" or --time-zone -07:00 would be right'
        )


def next_day(moment: datetime) -> str:
    """Return how a moment would be written if it lies on the day after."""
    return (moment + timedelta(days=1)).isoformat()


def with_moments(
    channels: Sequence[RowsOfChannel], clock: Clock, started: datetime | None
) -> tuple[tuple[RowsOfChannel, ...], tuple[str, ...]]:
    """Return the rows of a gauging with moments for their times of day, and notes on the others.

    A time of day before the start, or any of times more than half a day apart, may belong to the
    day after: it stays what it is.
    """
    rows = [row for channel in channels for vertical in channel.verticals for row in vertical]
    moments = {id(row): m for row in rows if row.at and (m := clock.moment(row.at)) is not None}
    bare = [row for row in rows if id(row) in moments and not isinstance(row.at, datetime)]
    found = [moments[id(row)] for row in bare]
    spread = bool(found) and max(found) - min(found) > _HALF_A_DAY
    doubtful = [
        row for row in bare if spread or (started is not None and moments[id(row)] < started)
    ]
    for row in doubtful:
        del moments[id(row)]
    placed = tuple(
        attrs.evolve(
            channel,
            verticals=tuple(
                tuple(attrs.evolve(row, at=moments.get(id(row), row.at)) for row in vertical)
                for vertical in channel.verticals
            ),
        )
        for channel in channels
    )
    unplaced = [row for row in rows if row.at is not None and clock.moment(row.at) is None]
    return placed, tuple(_notes(clock, unplaced, doubtful))


def _notes(clock: Clock, unplaced: list[SheetRow], doubtful: list[SheetRow]) -> Iterator[str]:
    """Yield what keeps times of verticals from being moments, each reason once."""
    reasons: dict[str, SheetRow] = {}
    for row in unplaced:
        assert row.at is not None
        reasons.setdefault(clock.wanting(row.at), row)
    for reason, row in reasons.items():
        yield f"The time of the vertical on row {row.number} {reason}; it is kept as a remark."
    if doubtful:
        yield (
            f"The time of the vertical on row {doubtful[0].number} may belong to the day after "
            "(it is before the start, or times lie more than half a day apart): it is kept as a "
            "remark; a moment with its day and offset would be right."
        )
