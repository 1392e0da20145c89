"""The steps by which an archive's tables came to be; a step that was released never changes."""

from __future__ import annotations

from pathlib import Path

from alembic import command
from alembic.config import Config
from alembic.runtime.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import Connection, Engine, func, inspect, select

from bankside.archive.trouble import ArchiveTrouble

__all__ = ["HEAD", "set_up", "version_of"]


# Any number that other programs are not likely to lock by in the same database.
_LOCK = 7_401_952


def _config() -> Config:
    config = Config()
    config.set_main_option("script_location", str(Path(__file__).parent).replace("%", "%%"))
    return config


_SCRIPTS = ScriptDirectory.from_config(_config())
HEAD = str(_SCRIPTS.get_current_head())
"""The version of the tables that this version of Bankside writes."""


def version_of(connection: Connection) -> str | None:
    """Return the version of the tables in a database, None where it is no archive.

    Raises ArchiveTrouble for one that a newer version of Bankside made.
    """
    if "counters" not in inspect(connection).get_table_names():
        return None
    found = MigrationContext.configure(connection).get_current_revision()
    if found is not None and found not in {script.revision for script in _SCRIPTS.walk_revisions()}:
        raise ArchiveTrouble(
            f"The archive was written by a newer version of Bankside (its tables are of version "
            f"{found}, this one writes {HEAD}); the newer version is needed."
        )
    return found


def set_up(engine: Engine) -> None:
    """Bring the tables of a database to this version, all steps or none, by one at a time."""
    options: dict[str, object] = {"writes": True}
    if engine.dialect.name == "postgresql":
        # Whoever waited for the lock sees what the one before has done.
        options["isolation_level"] = "READ COMMITTED"
    with engine.execution_options(**options).begin() as connection:
        if engine.dialect.name == "postgresql":
            connection.execute(select(func.pg_advisory_xact_lock(_LOCK)))
        config = _config()
        config.attributes["connection"] = connection
        command.upgrade(config, "head")
