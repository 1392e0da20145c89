"""What travels to a device that holds gaugings: asked in few statements, however many it holds."""

from __future__ import annotations

from typing import Any

from sqlalchemy import event

from bankside.archive.archive import Archive
from bankside.archive.travelling import arrivals_that_travel


def test_devices_that_hold_more_ask_the_same_statement(archive: Archive) -> None:
    """A connection keeps statements with all their parameters: one for each length fills it."""
    asked: set[str] = set()

    def note(_: Any, __: Any, statement: str, *___: Any) -> None:
        if "gauging IN" in statement:
            asked.add(statement)

    with archive.reading() as connection:
        event.listen(connection, "before_cursor_execute", note)
        for count in range(5, 9):
            found = arrivals_that_travel(connection, 0, [f"g{n}" for n in range(count)], 10)
            assert found.arrived == ()
    assert len(asked) == 1
