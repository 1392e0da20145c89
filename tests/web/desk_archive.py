"""An office for the tests of its desk: the invented survey of the demonstration, served."""

from __future__ import annotations

import json
import shutil
import urllib.request
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from bankside.archive.archive import create_archive, open_archive
from bankside.archive.entries import entries_of_gauging
from bankside.archive.refresh import refresh
from bankside.archive.taking import take_file
from bankside.gauging.journal.entry import Entry

from .app_server import AppServer

DEMO = Path(__file__).parents[2] / "demo"
SURVEY = "marrowmere-2026"
_KINDS = frozenset({".csv", ".json", ".xlsx"})


def fill(place: Path) -> None:
    """Make an archive with the survey of the demonstration, its sheets and its journals."""
    folders = [DEMO / "survey" / name for name in ("north", "south", "west")]
    sheets = [one for folder in folders for one in sorted(folder.iterdir())]
    with create_archive(place) as archive:
        for path in (DEMO / "survey" / "survey.json", *sheets):
            if path.suffix in _KINDS:
                taken = take_file(archive, path)
                assert not taken.faults, [str(fault) for fault in taken.faults]
        refresh(archive)


class DeskOffice:
    """The server of an office on this machine, with an archive of its own."""

    def __init__(self, filled: Path, folder: Path) -> None:
        self._place = folder / "season.db"
        shutil.copy(filled, self._place)
        self.server = AppServer(self._place)

    @property
    def address(self) -> str:
        """Where the page is, with a slash at its end."""
        return self.server.address

    def ask(self, path: str, said: dict[str, Any] | None = None) -> Any:
        """Ask the server as a page does that is open elsewhere, and return its answer."""
        body = None if said is None else json.dumps(said).encode()
        headers = {"Content-Type": "application/json"} if body else {}
        request = urllib.request.Request(f"{self.address}api/1/{path}", body, headers)
        with urllib.request.urlopen(request, timeout=60) as response:
            return json.loads(response.read())

    def row(self, site: str, day: str) -> dict[str, Any]:
        """The row of the gauging at a site on a day."""
        rows = self.ask(f"surveys/{SURVEY}")["rows"]
        found: dict[str, Any] = next(r for r in rows if r["site"] == site and r["day"] == day)
        return found

    def entries(self, gauging: str) -> tuple[Entry, ...]:
        """The entries of a gauging as the archive has them."""
        with open_archive(self._place) as archive, archive.reading() as connection:
            return tuple(entries_of_gauging(connection, gauging))

    def say(self, gauging: str, what: str, value: object, reason: str) -> None:
        """Say something of a gauging from another device, knowing all that was said before."""
        entries = self.entries(gauging)
        replaced = {id_ for entry in entries for id_ in entry.replaces}
        before = [e.id for e in entries if e.what == what and e.id not in replaced]
        said: dict[str, Any] = {
            "id": f"elsewhere-{len(entries)}",
            "gauging": gauging,
            "device": "elsewhere",
            "sequence": max(entry.sequence for entry in entries) + 1,
            "at": "2026-08-03T09:00:00Z",
            "what": what,
            "value": value,
            "reason": reason,
            "by": "R. Voss",
        }
        self._push([said | ({"replaces": before} if before else {})])

    def _push(self, entries: Sequence[dict[str, Any]]) -> None:
        answer = self.ask("entries", {"entries": list(entries)})
        assert len(answer["added"]) == len(entries), answer
