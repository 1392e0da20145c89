"""What every test shares: how Hypothesis looks for counter-examples, and archives."""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from hypothesis import Phase, settings

from bankside.archive.archive import Archive, create_archive, open_archive

from .archive.cluster import Cluster, NoPostgreSQL

# A slow machine is no failure, so no example has a time limit; the CI run is repeatable.
settings.register_profile("local", deadline=None)
settings.register_profile("ci", deadline=None, derandomize=True)
# A mutant (`make mutation`) is met by the same few examples each time; that it fails is enough.
settings.register_profile(
    "mutation",
    deadline=None,
    derandomize=True,
    database=None,
    max_examples=5,
    phases=(Phase.explicit, Phase.generate),
)
settings.load_profile("ci" if os.environ.get("CI") else "local")


@pytest.fixture(scope="session")
def cluster() -> Iterator[Cluster]:
    """A PostgreSQL cluster for the whole run; without PostgreSQL the test fails, and says so."""
    try:
        cluster = Cluster()
    except NoPostgreSQL as missing:
        pytest.fail(str(missing))
    yield cluster
    cluster.remove()


@pytest.fixture(scope="session")
def ready_database(cluster: Cluster) -> str:
    """A database with the tables of an archive, to be copied."""
    name = cluster.new_database()
    create_archive(cluster.url(name)).close()
    return name


@pytest.fixture(scope="session")
def ready_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """An archive in a file with nothing in it, to be copied."""
    file = tmp_path_factory.mktemp("ready") / "ready.db"
    create_archive(file).close()
    return file


@pytest.fixture(params=["sqlite", "postgresql"])
def database(request: pytest.FixtureRequest) -> str:
    """Where a test's archives are: each test that asks runs once with either database."""
    return str(request.param)


@pytest.fixture
def make_place(
    database: str, request: pytest.FixtureRequest, tmp_path: Path
) -> Iterator[Callable[[], str]]:
    """A function that returns a place where an archive can be made, another one at each call."""
    made: list[str] = []
    if database == "sqlite":

        def file() -> str:
            made.append(str(tmp_path / f"archive-{len(made) + 1}.db"))
            return made[-1]

        yield file
        return
    cluster: Cluster = request.getfixturevalue("cluster")

    def empty() -> str:
        made.append(cluster.new_database())
        return cluster.url(made[-1])

    yield empty
    for name in made:
        cluster.drop(name)


@pytest.fixture
def make_ready_place(
    database: str, request: pytest.FixtureRequest, tmp_path: Path
) -> Iterator[Callable[[], str]]:
    """A function that returns the place of a new archive in which there is nothing yet."""
    made: list[str] = []
    if database == "sqlite":
        ready_file: Path = request.getfixturevalue("ready_file")

        def copied_file() -> str:
            made.append(str(tmp_path / f"made-{len(made) + 1}.db"))
            shutil.copyfile(ready_file, made[-1])
            return made[-1]

        yield copied_file
        return
    cluster: Cluster = request.getfixturevalue("cluster")
    ready_database: str = request.getfixturevalue("ready_database")

    def copied_database() -> str:
        made.append(cluster.new_database(copied_from=ready_database))
        return cluster.url(made[-1])

    yield copied_database
    for name in made:
        cluster.drop(name)


@pytest.fixture
def make_archive(make_ready_place: Callable[[], str]) -> Iterator[Callable[[], Archive]]:
    """A function that returns a new archive in which there is nothing yet."""
    made: list[Archive] = []

    def make() -> Archive:
        made.append(open_archive(make_ready_place()))
        return made[-1]

    yield make
    for archive in made:
        archive.close()


@pytest.fixture
def archive(make_archive: Callable[[], Archive]) -> Archive:
    """An archive in which there is nothing yet, in SQLite and in PostgreSQL."""
    return make_archive()
