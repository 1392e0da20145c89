"""Devices that push and pull in any order, lose answers and meet a server that starts anew."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import (
    RuleBasedStateMachine,
    initialize,
    precondition,
    rule,
    run_state_machine_as_test,
)
from sqlalchemy import select

from bankside.archive.archive import open_archive
from bankside.archive.backup import backup, restore
from bankside.archive.entries import entries_of_gauging
from bankside.archive.refresh import refresh
from bankside.archive.tables import entries
from bankside.archive.verify import verify
from bankside.gauging.journal.fold import fold
from bankside.gauging.journal.state import state_of

from .asking import Answered, Served
from .syncing import Ask, SyncingDevice

_DEVICES = ("a", "b", "c")
_GAUGINGS = ("g1", "g2")
_SAYINGS = ("remarks", "site/name", "units/length", "channels/1/verticals/v1/depth")

devices = st.sampled_from(_DEVICES)
sayings = st.tuples(
    devices,
    st.sampled_from(_GAUGINGS),
    st.sampled_from(_SAYINGS),
    st.sampled_from(("0.40", "0.50", "m", "ft", None)),
)
fates = st.sampled_from(("comes", "comes", "comes", "is lost on the way", "its answer is lost"))


class Places:
    """Where the archives of one test are; a backup is put back in a new one."""

    def __init__(self, new: Callable[[], str], folder: Path) -> None:
        self.new = new
        self._folder = folder
        self._backups = 0

    def new_backup(self) -> Path:
        """A file that is not there yet."""
        self._backups += 1
        return self._folder / f"backup-{self._backups}.db"


class Syncing(RuleBasedStateMachine):
    """Three devices and an office, told what to do by Hypothesis."""

    def __init__(self, places: Places) -> None:
        super().__init__()
        self._places = places
        self._place = places.new()
        self._archive = open_archive(self._place)
        self._backup: Path | None = None
        self._devices = {key: SyncingDevice(key) for key in _DEVICES}
        self._serve()

    def _serve(self) -> None:
        self._client = Served.here(self._archive).client()

    def _ask(self, fate: str, twice: bool = False) -> Ask:
        def ask(path: str, body: Any) -> Answered | None:
            if fate == "is lost on the way":
                return None
            if twice:
                self._client.post(path, body)
            answer = self._client.post(path, body)
            return answer if fate == "comes" else None

        return ask

    @initialize(said=st.lists(sayings, min_size=6, max_size=12))
    def begin(self, said: list[tuple[str, str, str, str | None]]) -> None:
        """Crews have been at work before anybody had a connection."""
        for one in said:
            self.say(one)

    @rule(said=sayings)
    def say(self, said: tuple[str, str, str, str | None]) -> None:
        """A crew says something, whether or not there is a connection."""
        key, gauging, what, value = said
        self._devices[key].say(gauging, what, value)

    @rule(key=devices, fate=fates, twice=st.booleans(), data=st.data())
    def push(self, key: str, fate: str, twice: bool, data: st.DataObject) -> None:
        """A device hands over some of what it has, in some order, perhaps delivered twice."""
        device = self._devices[key]
        if device.entries:
            some = st.lists(
                st.sampled_from(sorted(device.entries)), unique=True, min_size=1, max_size=8
            )
            device.push(self._ask(fate, twice), data.draw(some))

    @rule(key=devices, fate=fates, most=st.integers(1, 5))
    def pull(self, key: str, fate: str, most: int) -> None:
        """A device asks for some of what came from others."""
        self._devices[key].pull(self._ask(fate), most)

    @rule()
    def work_out(self) -> None:
        """The office works out what came, as it does beside its answers."""
        refresh(self._archive)

    @rule()
    def start_again(self) -> None:
        """The server is stopped and started."""
        self._archive.close()
        self._archive = open_archive(self._place)
        self._serve()

    @rule()
    def back_up(self) -> None:
        """The night's backup is made."""
        self._backup = self._places.new_backup()
        backup(self._archive, self._backup)

    @precondition(lambda self: self._backup is not None)
    @rule()
    def put_back(self) -> None:
        """The disk breaks, and the office goes on with the backup: what came since is gone."""
        assert self._backup is not None
        self._archive.close()
        self._place = self._places.new()
        self._archive = open_archive(self._place)
        restore(self._backup, self._archive)
        self._serve()

    def teardown(self) -> None:
        """Once everybody has a connection, all hold the same, and nothing that was said is lost."""
        said = {
            id_: entry for device in self._devices.values() for id_, entry in device.entries.items()
        }
        # Twice: what the last one hands over, the first one is to be given too.
        for device in (*self._devices.values(), *self._devices.values()):
            while device.pull(self._client.post):
                pass
            while device.unsent:
                device.push(self._client.post, device.unsent)
            while device.pull(self._client.post):
                pass
        for device in self._devices.values():
            assert device.entries == said and not device.unsent
        refresh(self._archive)
        with self._archive.reading() as connection:
            kept = connection.execute(select(entries.c.id)).scalars().all()
            assert sorted(kept) == sorted(said)
            for gauging in _GAUGINGS:
                there = entries_of_gauging(connection, gauging)
                mine = [entry for entry in said.values() if entry.gauging == gauging]
                assert fold(there) == fold(mine) and state_of(there) == state_of(mine)
        assert [one for one in verify(self._archive) if one.kind != "missing"] == []
        self._archive.close()


@pytest.mark.parametrize(("database", "interleavings"), [("sqlite", 200), ("postgresql", 10)])
def test_whatever_happens_on_the_way_all_hold_the_same_in_the_end(
    interleavings: int, make_ready_place: Callable[[], str], tmp_path: Path
) -> None:
    """Parts, repeats, lost answers, restarts and a backup that was put back: nothing is lost."""
    places = Places(make_ready_place, tmp_path)
    run_state_machine_as_test(
        lambda: Syncing(places),
        settings=settings(
            max_examples=interleavings,
            stateful_step_count=25,
            deadline=None,
            suppress_health_check=list(HealthCheck),
        ),
    )
