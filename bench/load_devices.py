"""Devices of a crew that come home with a day's gaugings, as the app syncs (docs/offline.md)."""

from __future__ import annotations

import hashlib
import http.client
import json
import threading
import time
from collections import Counter
from random import Random
from typing import Any

from bankside.gauging.journal.entry import Entry, to_members

VERTICALS = 25
GAUGINGS = 3
PHOTOS = 2
PHOTO_BYTES = 400_000
"""As a telephone makes one of a section when it is told to keep it small; assumed."""

# How the app sends and waits: web/sync/sending.ts, receiving.ts, request.ts and pauses.ts.
_MOST_ENTRIES = 500
_PATIENCE_S, _PER_BYTE_S = 30, 1 / 4000
_FIRST_PAUSE_S, _LONGEST_PAUSE_S = 5, 300
_V = "channels/1/verticals"


class Measured:
    """What many devices met: how long each kind of request took, and why any was tried again."""

    def __init__(self) -> None:
        self.seconds: dict[str, list[float]] = {}
        self.again: Counter[str] = Counter()
        self._lock = threading.Lock()

    def took(self, kind: str, seconds: float) -> None:
        """Note that a request of a kind was answered."""
        with self._lock:
            self.seconds.setdefault(kind, []).append(seconds)

    def failed(self, why: str) -> None:
        """Note that a request has to be tried again."""
        with self._lock:
            self.again[why] += 1


class _TryAgain(Exception):
    """What the app tries again: no answer came, or the server had a trouble of its own."""


class LoadDevice:
    """A device that knows what it said, and what the server has said to hold of it."""

    def __init__(self, name: str, token: str, day: str) -> None:
        self.name = name
        self._token = token
        self._random = Random(name)
        self.entries: dict[str, Entry] = {}
        self.photos: dict[str, bytes] = {}
        self.held: set[str] = set()
        self.seen: set[str] = set()
        self._after = 0
        for number in range(GAUGINGS):
            self.measure(f"{name}-g{number}", day, photos=PHOTOS if number == 0 else 0)

    def measure(self, gauging: str, day: str, photos: int = 0, verticals: int = VERTICALS) -> None:
        """Say all of a gauging, in the order in which a crew does."""
        said = _said(self._random, day, verticals)
        for number in range(photos):
            content = self._random.randbytes(PHOTO_BYTES)
            sha256 = hashlib.sha256(content).hexdigest()
            self.photos[sha256] = content
            photo = {"purpose": "section", "sha256": sha256, "bytes": len(content)}
            said.insert(-1, (f"photos/p{number}", {**photo, "type": "image/jpeg"}))
        for sequence, (what, value) in enumerate(said, 1):
            minutes, seconds = divmod(sequence * 9, 60)
            entry = Entry(
                id=f"{gauging}-{sequence}",
                gauging=gauging,
                device=self.name,
                sequence=sequence,
                at=f"{day}T10:{minutes:02}:{seconds:02}-07:00",
                what=what,
                value=value,
            )
            self.entries[entry.id] = entry
        self.seen.add(gauging)

    def sync(self, page: str, measured: Measured, stop: threading.Event | None = None) -> None:
        """Send and receive all; after a failure wait as the app does, and begin again."""
        failures = 0
        while stop is None or not stop.is_set():
            try:
                self._send(page, measured)
                self._receive(page, measured)
                return
            except _TryAgain as trouble:
                measured.failed(str(trouble))
                most = min(_LONGEST_PAUSE_S, _FIRST_PAUSE_S * 2**failures)
                failures += 1
                time.sleep(most * (0.5 + self._random.random() / 2))

    def forget(self) -> None:
        """Remove from this device all that the server holds."""
        self.entries = {id_: one for id_, one in self.entries.items() if id_ not in self.held}
        self.held.clear()

    def _send(self, page: str, measured: Measured) -> None:
        unsent = [one for id_, one in self.entries.items() if id_ not in self.held]
        for start in range(0, len(unsent), _MOST_ENTRIES):
            part = unsent[start : start + _MOST_ENTRIES]
            body = {"entries": [to_members(entry) for entry in part]}
            answer = self._asked(page, measured, "push", "POST", "entries", body)
            if answer["differing"] or answer["refused"]:
                raise AssertionError(f"{self.name}: {answer}")
            self.held |= {*answer["added"], *answer["known"]}
        if self.photos:
            asked = {"files": list(self.photos)}
            answer = self._asked(page, measured, "missing", "POST", "files/missing", asked)
            for sha256 in answer["missing"]:
                content = self.photos[sha256]
                self._asked(page, measured, "photo", "PUT", f"files/{sha256}", content)

    def _receive(self, page: str, measured: Measured) -> None:
        more = True
        while more:
            asked = {"after": self._after, "held": sorted(self.seen), "most": _MOST_ENTRIES}
            answer = self._asked(page, measured, "pull", "POST", "pull", asked)
            for gauging in dict.fromkeys(entry["gauging"] for entry in answer["entries"]):
                if gauging not in self.seen:
                    path = f"gaugings/{gauging}/journal"
                    self._asked(page, measured, "journal", "GET", path)
                    self.seen.add(gauging)
            self._after, more = answer["after"], answer["more"]

    def _asked(
        self, page: str, measured: Measured, kind: str, method: str, path: str, body: Any = None
    ) -> Any:
        content = body if isinstance(body, bytes) else json.dumps(body).encode()
        type_ = "image/jpeg" if isinstance(body, bytes) else "application/json"
        headers = {"Authorization": f"Bearer {self._token}", "Content-Type": type_}
        host = page.removeprefix("http://").rstrip("/")
        patience = _PATIENCE_S + len(content) * _PER_BYTE_S
        connection = http.client.HTTPConnection(host, timeout=patience)
        began = time.perf_counter()
        try:
            sent = content if method != "GET" else None
            connection.request(method, f"/api/1/{path}", sent, headers)
            response = connection.getresponse()
            text = response.read()
        except (OSError, http.client.HTTPException) as error:
            raise _TryAgain(f"{kind}: {type(error).__name__}") from error
        finally:
            connection.close()
        measured.took(kind, time.perf_counter() - began)
        if response.status >= 500:
            raise _TryAgain(f"{kind}: {response.status} {json.loads(text)['error']['said']}")
        if response.status != 200:
            raise AssertionError(f"{self.name}: {kind} was answered by {response.status} {text!r}")
        return json.loads(text)


def _said(random: Random, day: str, verticals: int) -> list[tuple[str, Any]]:
    """Return what is said of a gauging: two readings at each vertical, one in ten corrected."""
    said: list[tuple[str, Any]] = [
        ("units/length", "m"),
        ("units/velocity", "m/s"),
        ("site/stream", random.choice(("Alder Fork", "Quill Brook", "Tansy Run"))),
        ("site/name", f"reach {random.randrange(20)}"),
        ("date", day),
        ("start_bank", "left"),
        ("crew/k1", {"name": "I. Marrow"}),
    ]
    for bank, tape in (("left", "1.0"), ("right", f"{2 + verticals * 0.4:.1f}")):
        edge = f"{_V}/{bank}"
        said += [(f"{edge}/tape", tape), (f"{edge}/edge", bank), (f"{edge}/depth", "0")]
    for number in range(1, verticals + 1):
        here = f"{_V}/v{number}"
        said += [
            (f"{here}/tape", f"{1 + number * 0.4:.1f}"),
            (f"{here}/depth", f"{random.uniform(0.8, 1.2):.2f}"),
        ]
        for key, fraction in (("r1", 0.2), ("r2", 0.8)):
            reading = {"value": f"{random.uniform(0.2, 0.9):.2f}", "fraction": fraction}
            said.append((f"{here}/readings/{key}", reading))
    said.append(("closed", {"by": "I. Marrow"}))
    return said
