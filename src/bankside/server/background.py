"""The one thread in which what changed is worked out, so that no answer waits for it."""

from __future__ import annotations

import logging
import threading

from bankside.archive.archive import Archive
from bankside.archive.devices import saw
from bankside.archive.refresh import refresh
from bankside.archive.trouble import ArchiveTrouble

__all__ = ["Background"]

_LOG = logging.getLogger("bankside.server")
_SECONDS_TO_TRY_AGAIN = 30


class _Leaving(Exception):
    """The server stops; what is left is worked out when it starts again."""


class Background:
    """Works out, from its start on, every gauging whose entries changed, whenever it is woken.

    What goes wrong in it is logged and tried again: the entries themselves were kept before.
    """

    def __init__(self, archive: Archive, again_after: float = _SECONDS_TO_TRY_AGAIN) -> None:
        self._archive = archive
        self._again_after = again_after
        self._woken = threading.Event()
        self._leaving = threading.Event()
        self._seen: set[str] = set()
        self._seen_lock = threading.Lock()
        self._thread = threading.Thread(target=self._run, name="bankside-background", daemon=True)

    def start(self) -> None:
        """Begin with what was left when the server stopped."""
        self._woken.set()
        self._thread.start()

    def wake(self) -> None:
        """Say that something changed."""
        self._woken.set()

    def saw(self, device: str) -> None:
        """Say that a device was heard of, to be noted when there is time."""
        with self._seen_lock:
            self._seen.add(device)
        self._woken.set()

    def stop(self) -> None:
        """Stop after the gaugings that are being worked out."""
        self._leaving.set()
        self._woken.set()
        if self._thread.is_alive():
            self._thread.join()

    def _run(self) -> None:
        while not self._leaving.is_set():
            self._woken.wait()
            self._woken.clear()
            try:
                self._note_seen()
                refresh(self._archive, self._go_on)
            except _Leaving:
                return
            except ArchiveTrouble as trouble:
                _LOG.warning("%s", trouble)
                self._try_again_later()
            except Exception:  # the thread must outlive whatever one gauging does
                _LOG.exception("A gauging could not be worked out; this is a fault in Bankside.")
                self._try_again_later()

    def _go_on(self, done: int) -> None:
        del done
        if self._leaving.is_set():
            raise _Leaving

    def _note_seen(self) -> None:
        with self._seen_lock:
            seen, self._seen = self._seen, set()
        if seen:
            with self._archive.writing() as connection:
                for device in seen:
                    saw(connection, device)

    def _try_again_later(self) -> None:
        if not self._leaving.wait(self._again_after):
            self._woken.set()
