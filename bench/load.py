"""A server under load: 50 devices that push a day's gaugings at once, then a soak.

On SQLite and on PostgreSQL, one `bankside serve` each. Every device is paired and syncs as the app
does: entries, photos, then all that the others said; what fails is tried again after the app's
pauses. Afterwards every entry and photo that a device holds is compared with the archive's by its
SHA-256, and the archive is verified. Printed are requests, their slowest one in a hundred as a
multiple of the usual one, and what was tried again. In the soak some devices go on measuring; the
resident memory of the server is printed with its slope over the second half.

`PYTHONPATH=.:src python bench/load.py [SECONDS OF SOAK] [sqlite | postgresql]`
"""

from __future__ import annotations

import hashlib
import os
import statistics
import sys
import tempfile
import threading
import time
from collections.abc import Iterable, Sequence
from pathlib import Path
from random import Random

from load_devices import LoadDevice, Measured
from sqlalchemy import select
from tests.archive.cluster import Cluster
from tests.server.serving import Serving

from bankside.archive.archive import create_archive, open_archive
from bankside.archive.devices import make_code, pair
from bankside.archive.entries import content_of
from bankside.archive.refresh import refresh
from bankside.archive.tables import entries, file_contents, gaugings
from bankside.archive.verify import verify

DEVICES = 50
SOAKING = 10
"""Devices that go on measuring during the soak."""
SOAK_PAUSE_S = 5
SOAK_S = 300
SOAK_VERTICALS = (13, 37)
"""The fewest and the most: pushes of many lengths are as many statements of the database."""
SAMPLE_S = 2


def main() -> None:
    """Run burst and soak on each database, and print what came of it."""
    soak = float(sys.argv[1]) if len(sys.argv) > 1 else SOAK_S
    wanted = sys.argv[2:] or ["sqlite", "postgresql"]
    print(f"load of the machine at the beginning: {_load()}, {os.cpu_count()} cores")
    for database in wanted:
        with tempfile.TemporaryDirectory() as folder:
            if database == "sqlite":
                measure(database, str(Path(folder) / "season.db"), Path(folder), soak)
                continue
            cluster = Cluster(survives_power_cut=True)
            try:
                measure(database, cluster.url(cluster.new_database()), Path(folder), soak)
            finally:
                cluster.remove()


def measure(database: str, place: str, folder: Path, soak: float) -> None:
    """Serve a new archive at a place to all devices, and look what is there afterwards."""
    create_archive(place).close()
    devices = paired(place)
    app = folder / "app"
    app.mkdir()
    serving = Serving(place, app, "--port", "0")
    sent = digests(devices)
    photos = {sha256 for device in devices for sha256 in device.photos}
    print(f"\n{database}: {len(devices)} devices, {len(sent)} entries, {len(photos)} photos")
    try:
        measured, took = at_once(devices, serving.page)
        print(f"all at once took {took:.0f} s; load of the machine {_load()}")
        print_measured(measured)
        if soak:
            sent |= soaked(devices[:SOAKING], serving, soak)
    finally:
        code = serving.stop()
    print(f"the server ended with {code}; it said: {serving.said.partition(chr(10))[2]!r}")
    compare(place, sent, photos)


def paired(place: str) -> list[LoadDevice]:
    """Pair devices with an archive, each with a day's gaugings of its own."""
    devices = []
    with open_archive(place) as archive, archive.writing() as connection:
        for number in range(DEVICES):
            name = f"phone-{number}"
            code = make_code(connection, "bench", "crew")
            known = pair(connection, code.code, name, name)
            assert known is not None  # the code was made just now
            devices.append(LoadDevice(name, known[0], "2026-07-14"))
    return devices


def digests(devices: Iterable[LoadDevice]) -> dict[str, str]:
    """Return the SHA-256 of every entry that devices hold, by its id."""
    return {
        id_: hashlib.sha256(content_of(entry).encode()).hexdigest()
        for device in devices
        for id_, entry in device.entries.items()
    }


def at_once(devices: Sequence[LoadDevice], page: str) -> tuple[Measured, float]:
    """Let all devices sync at the same moment; return what they met, and the seconds it took."""
    measured = Measured()
    gate = threading.Barrier(len(devices) + 1)

    def run(device: LoadDevice) -> None:
        gate.wait()
        device.sync(page, measured)

    threads = [threading.Thread(target=run, args=(device,)) for device in devices]
    for thread in threads:
        thread.start()
    gate.wait()
    began = time.perf_counter()
    for thread in threads:
        thread.join()
    return measured, time.perf_counter() - began


def soaked(devices: Sequence[LoadDevice], serving: Serving, seconds: float) -> dict[str, str]:
    """Let devices measure and sync for so long; return the digests of all that they said."""
    sent: dict[str, str] = {}
    measured, stop = Measured(), threading.Event()
    lock = threading.Lock()

    def run(device: LoadDevice) -> None:
        number, random = 0, Random(device.name)
        while not stop.wait(SOAK_PAUSE_S):
            number += 1
            device.forget()
            verticals = random.randint(*SOAK_VERTICALS)
            device.measure(f"{device.name}-soak{number}", "2026-07-15", verticals=verticals)
            with lock:
                sent.update(digests([device]))
            device.sync(serving.page, measured)

    threads = [threading.Thread(target=run, args=(device,)) for device in devices]
    for thread in threads:
        thread.start()
    samples = memory_over(serving.pid, seconds)
    stop.set()
    for thread in threads:
        thread.join()
    print(f"soak of {seconds:.0f} s, {len(sent)} entries; load of the machine {_load()}")
    print_measured(measured)
    late = samples[len(samples) // 2 :]
    slope = statistics.linear_regression(*zip(*late, strict=True)).slope
    first, last = samples[0][1], samples[-1][1]
    print(
        f"resident memory {first:.0f} MB at the beginning, {last:.0f} MB in the end; slope over "
        f"the second half {slope * 60:+.2f} MB a minute, {len(late)} samples"
    )
    minutes = {int(at // 60): memory for at, memory in samples}
    print("at the end of each minute:", *(f"{memory:.0f}" for memory in minutes.values()))
    return sent


def memory_over(pid: int, seconds: float) -> list[tuple[float, float]]:
    """Return moments in s, and the resident memory of a process then in MB."""
    began = time.perf_counter()
    samples = []
    while (at := time.perf_counter() - began) < seconds:
        pages = int(Path(f"/proc/{pid}/statm").read_text().split()[1])
        samples.append((at, pages * os.sysconf("SC_PAGE_SIZE") / 1e6))
        time.sleep(SAMPLE_S)
    return samples


def print_measured(measured: Measured) -> None:
    """Print how many requests of each kind there were, and how slow the slowest are."""
    for kind, seconds in measured.seconds.items():
        cuts = statistics.quantiles(seconds, n=100, method="inclusive")
        print(
            f"  {kind:8}{len(seconds):>7} requests; p50 {cuts[49]:.3f} s, p99/p50 "
            f"{cuts[98] / cuts[49]:.1f}, longest/p50 {max(seconds) / cuts[49]:.1f}"
        )
    print(f"  tried again: {dict(measured.again) or 'none'}")


def compare(place: str, sent: dict[str, str], photos: set[str]) -> None:
    """Hold every entry and photo of the devices against the archive; exit where one differs."""
    with open_archive(place) as archive:
        with archive.reading() as connection:
            rows = connection.execute(select(entries.c.id, entries.c.content))
            kept = {id_: hashlib.sha256(text.encode()).hexdigest() for id_, text in rows}
            files = connection.execute(select(file_contents.c.sha256, file_contents.c.content))
            there = {sha256 for sha256, content in files if _is(sha256, content)}
        waited = refresh(archive)
        with archive.reading() as connection:
            figures = connection.execute(select(gaugings.c.discharge_m3s)).scalars().all()
        wrong = [f"{one.what}: {one.words}" for one in verify(archive)]
    lost = sent.keys() - kept.keys()
    other = [id_ for id_ in sent.keys() & kept.keys() if sent[id_] != kept[id_]]
    print(
        f"entries lost {len(lost)}, others than were sent {len(other)}, too many "
        f"{len(kept.keys() - sent.keys())}; photos lost {len(photos - there)}; gaugings that "
        f"waited to be worked out {waited}; verify names {len(wrong)}; of {len(figures)} gaugings "
        f"{len([one for one in figures if one is None])} have no discharge"
    )
    if lost or other or kept.keys() != sent.keys() or photos != there or wrong:
        sys.exit(f"something was lost or changed: {[*lost, *other, *wrong][:10]}")


def _is(sha256: str, content: bytes) -> bool:
    return hashlib.sha256(bytes(content)).hexdigest() == sha256


def _load() -> str:
    return " ".join(f"{one:.1f}" for one in os.getloadavg())


if __name__ == "__main__":
    main()
