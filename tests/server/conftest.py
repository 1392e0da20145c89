"""An archive of either kind as an office serves it, and a certificate to serve it by."""

from __future__ import annotations

import socket
import subprocess
from collections.abc import Iterator
from pathlib import Path

import pytest
from argon2 import PasswordHasher

from bankside.archive import accounts
from bankside.archive.archive import Archive, open_archive

from .asking import Served


@pytest.fixture(autouse=True)
def quick_hashes(monkeypatch: pytest.MonkeyPatch) -> None:
    """Hash passwords at small cost; the tests of the archive hash them at the one that is used."""
    monkeypatch.setattr(accounts, "_HASHER", PasswordHasher(time_cost=1, memory_cost=64))


@pytest.fixture
def here(archive: Archive) -> Served:
    """An archive that is served to this machine, where nobody signs in."""
    return Served.here(archive)


@pytest.fixture
def served(archive: Archive) -> Served:
    """An archive that is served to whoever shows a token."""
    return Served.to_others(archive)


@pytest.fixture
def archive_file(ready_file: Path, tmp_path: Path) -> Path:
    """The file of an archive in which there is nothing yet."""
    file = tmp_path / "season.db"
    file.write_bytes(ready_file.read_bytes())
    return file


@pytest.fixture
def file_served(archive_file: Path) -> Iterator[Served]:
    """An archive in a file, served to whoever shows a token: for what no database differs in."""
    with open_archive(archive_file) as archive:
        yield Served.to_others(archive)


@pytest.fixture
def file_here(archive_file: Path) -> Iterator[Served]:
    """An archive in a file, served to this machine."""
    with open_archive(archive_file) as archive:
        yield Served.here(archive)


@pytest.fixture
def pem(tmp_path: Path) -> tuple[Path, Path]:
    """A certificate and its key that nobody trusts."""
    certificate, key = tmp_path / "cert.pem", tmp_path / "key.pem"
    subprocess.run(
        [
            *("openssl", "req", "-x509", "-newkey", "ec", "-pkeyopt", "ec_paramgen_curve:P-256"),
            *("-nodes", "-subj", "/CN=bank.example.org", "-days", "2"),
            *("-keyout", str(key), "-out", str(certificate)),
        ],
        check=True,
        capture_output=True,
    )
    return certificate, key


@pytest.fixture(scope="module")
def free_port() -> int:
    """A port on which nobody listens."""
    with socket.create_server(("127.0.0.1", 0)) as other:
        return int(other.getsockname()[1])
