"""What a connection of SQLite goes on holding in memory after it was asked."""

from __future__ import annotations

from pathlib import Path

import pytest
from sqlalchemy import text
from sqlalchemy.exc import OperationalError

from bankside.archive.archive import open_archive
from bankside.archive.files import files_there


def test_few_statements_are_kept(ready_file: Path, tmp_path: Path) -> None:
    """Devices send and ask for as many things as they have: each number is another statement."""
    file = tmp_path / "season.db"
    file.write_bytes(ready_file.read_bytes())
    with open_archive(file) as archive, archive.reading() as connection:
        for count in range(1, 41):
            files_there(connection, [f"{n:064}" for n in range(count)])
        try:
            kept = connection.execute(text("SELECT count(*) FROM sqlite_stmt")).scalar_one()
        except OperationalError:
            pytest.skip("this SQLite was built without telling its statements")

    assert 1 < kept <= 16
