"""A PostgreSQL cluster of the tests' own, in a folder that goes with it."""

from __future__ import annotations

import os
import shutil
import subprocess
import tempfile
from itertools import count
from pathlib import Path

import psycopg

_FOLDERS = Path("/usr/lib/postgresql")
_MISSING = (
    "PostgreSQL is missing: `initdb` and `pg_ctl` are neither on the path nor under "
    "/usr/lib/postgresql; on Debian: sudo apt-get install postgresql (or: make test)."
)
_OPTIONS = {
    # No port: only who may enter the folder comes in.
    "listen_addresses": "''",
    # What a test writes need not survive a power cut, only the end of a process.
    "fsync": "off",
    "full_page_writes": "off",
    "max_connections": "60",
    "log_min_messages": "fatal",
}
_DURABLE = {"fsync": "on", "full_page_writes": "on"}


class NoPostgreSQL(Exception):
    """There is no PostgreSQL on this machine, or it does not start; the sentence says why."""


class Cluster:
    """A running cluster that listens on a socket in its own folder.

    survives_power_cut: whether it waits for the disk at each commit, as an office's does.
    """

    def __init__(self, *, survives_power_cut: bool = False) -> None:
        self._programs = _programs()
        self._options = {**_OPTIONS, **(_DURABLE if survives_power_cut else {})}
        # A path of a socket must be short, so that the folder does not lie under pytest's.
        self.folder = Path(tempfile.mkdtemp(prefix="bankside-pg-"))
        self._numbers = count(1)
        try:
            if os.getuid() == 0:
                shutil.chown(self.folder, "postgres", "postgres")
            data = str(self.folder / "data")
            self._run("initdb", "-D", data, "-U", "postgres", "-A", "trust", "-E", "UTF8", "-N")
            self.start()
        except BaseException:
            shutil.rmtree(self.folder)
            raise

    def start(self) -> None:
        """Start the cluster, and wait until it answers."""
        options = " ".join(f"-c {name}={value}" for name, value in self._options.items())
        options += f" -c unix_socket_directories={self.folder}"
        log = str(self.folder / "log")
        self._pg_ctl("start", "-w", "-l", log, "-o", options)

    def stop(self) -> None:
        """Stop the cluster; whoever is connected is cut off."""
        self._pg_ctl("stop", "-w", "-m", "immediate")

    def restart(self) -> None:
        """Stop the cluster as a crash does, with whoever writes cut off, and start it again."""
        self.stop()
        self.start()

    def remove(self) -> None:
        """Stop the cluster, and leave nothing of it."""
        try:
            self.stop()
        finally:
            shutil.rmtree(self.folder)

    def new_database(self, copied_from: str = "template0") -> str:
        """Make a database, empty if it is copied from nothing of ours; return its name."""
        name = f"bankside_{next(self._numbers)}"
        self._say(f"CREATE DATABASE {name} TEMPLATE {copied_from}")
        return name

    def url(self, name: str) -> str:
        """Return the URL of a database."""
        return f"postgresql://postgres@/{name}?host={self.folder}"

    def drop(self, name: str) -> None:
        """Remove a database, whoever is still connected to it."""
        self._say(f"DROP DATABASE {name} WITH (FORCE)")

    def _say(self, statement: str) -> None:
        with psycopg.connect(self.url("postgres"), autocommit=True) as connection:
            connection.execute(statement.encode())

    def _pg_ctl(self, *arguments: str) -> None:
        self._run("pg_ctl", "-D", str(self.folder / "data"), *arguments)

    def _run(self, program: str, *arguments: str) -> None:
        command = [str(self._programs / program), *arguments]
        if os.getuid() == 0:
            # PostgreSQL refuses to run as root.
            command = [
                "setpriv",
                "--reuid=postgres",
                "--regid=postgres",
                "--clear-groups",
                *command,
            ]
        run = subprocess.run(
            command,
            cwd=self.folder,
            env={**os.environ, "LC_ALL": "C.UTF-8", "TZ": "UTC"},
            stdin=subprocess.DEVNULL,
            # The server goes on with what it inherits: a pipe would never end.
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            check=False,
        )
        if run.returncode != 0:
            log = self.folder / "log"
            said = log.read_text(encoding="utf-8") if log.exists() else ""
            raise NoPostgreSQL(f"PostgreSQL: {program} failed ({run.returncode}). {said}")


def _programs() -> Path:
    """Return the folder of PostgreSQL's programs, of the newest version on this machine."""
    on_path = shutil.which("initdb")
    if on_path is not None and shutil.which("pg_ctl") is not None:
        return Path(on_path).parent
    found = [folder for folder in _FOLDERS.glob("*/bin") if (folder / "initdb").exists()]
    if not found:
        raise NoPostgreSQL(_MISSING)
    return max(found, key=lambda folder: float(folder.parent.name))
