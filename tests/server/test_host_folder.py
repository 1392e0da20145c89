"""The folder of a web host: brought up to date without leaving any device in the lurch."""

from collections.abc import Mapping
from pathlib import Path

import pytest

from bankside.server import host_folder
from bankside.server.built_app import AppTrouble
from bankside.server.host_folder import Written, withdraw_app, write_app

from .apps import small_app

# Four versions after one another; each has a page of its own and shares the engine with the next.
FILES = {
    "1": ("assets/page-1.js", "engine/e1/python.wasm"),
    "2": ("assets/page-2.js", "engine/e1/python.wasm"),
    "3": ("assets/page-3.js", "engine/e2/python.wasm"),
    "4": ("assets/page-4.js", "engine/e2/python.wasm"),
}


def contents(folder: Path) -> Mapping[str, str]:
    """The text of every file below a folder, by its path."""
    return {
        path.relative_to(folder).as_posix(): path.read_text(encoding="utf-8")
        for path in folder.rglob("*")
        if path.is_file()
    }


def update(tmp_path: Path, *versions: str) -> Written:
    """Write versions to the host one after another; what was done at the last."""
    done = [
        write_app(small_app(tmp_path / version, version, *FILES[version]), tmp_path / "host")
        for version in versions
    ]
    return done[-1]


def test_a_new_folder_gets_the_whole_app(tmp_path: Path) -> None:
    """Every file arrives, folders on the way are made, and nothing half written is left."""
    app = small_app(tmp_path / "1", "1", *FILES["1"])

    assert write_app(app, tmp_path / "deep" / "host") == Written("1", None, 0)
    assert contents(tmp_path / "deep" / "host") == contents(tmp_path / "1")


def test_an_empty_folder_will_do(tmp_path: Path) -> None:
    """A folder that somebody made for the app is taken."""
    (tmp_path / "host").mkdir()

    assert update(tmp_path, "1").version == "1"


def test_an_update_keeps_the_files_of_the_version_before(tmp_path: Path) -> None:
    """A device with the former page open finds its files; older ones go."""
    assert update(tmp_path, "1", "2") == Written("2", "1", 0)
    there = contents(tmp_path / "host")
    assert there["index.html"] == "index.html of 2"
    assert there["assets/page-1.js"] == "assets/page-1.js of 1"

    assert update(tmp_path, "3") == Written("3", "2", 1)
    there = contents(tmp_path / "host")
    assert "assets/page-1.js" not in there
    assert {"assets/page-2.js", "assets/page-3.js"} <= set(there)
    assert {"engine/e1/python.wasm", "engine/e2/python.wasm"} <= set(there)

    assert update(tmp_path, "4") == Written("4", "3", 2)
    assert not (tmp_path / "host" / "engine" / "e1").exists()


def test_writing_a_version_again_changes_nothing(tmp_path: Path) -> None:
    """The same version twice counts as one: what the version before needs stays."""
    update(tmp_path, "1", "2")
    before = contents(tmp_path / "host")

    assert update(tmp_path, "2", "2") == Written("2", None, 0)
    assert contents(tmp_path / "host") == before


def test_files_of_others_are_never_touched(tmp_path: Path) -> None:
    """What somebody put beside the app, even among its files, outlives every update."""
    update(tmp_path, "1")
    for name in ("robots.txt", "assets/page-0.js", "engine/e1/notes.txt"):
        (tmp_path / "host" / name).write_text("mine", encoding="utf-8")
    update(tmp_path, "2", "3", "4")

    there = contents(tmp_path / "host")
    assert {name for name, text in there.items() if text == "mine"} == {
        "robots.txt",
        "assets/page-0.js",
        "engine/e1/notes.txt",
    }


def test_the_page_and_the_worker_come_after_what_they_ask_for(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """While an update is being copied, nobody is told of a file that is not there yet."""
    app = small_app(tmp_path / "1", "1", *FILES["1"])
    order: list[str] = []
    place = host_folder._place

    def note(source: Path, target: Path) -> None:
        order.append(target.relative_to(tmp_path / "host").as_posix())
        place(source, target)

    monkeypatch.setattr(host_folder, "_place", note)
    write_app(app, tmp_path / "host")

    assert order[-3:] == ["index.html", "files.json", "sw.js"]
    assert sorted(order) == sorted(app.types)


def test_an_update_that_broke_off_is_finished_by_the_next(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A full disk in the middle leaves the former version whole, and a second try mends all."""
    update(tmp_path, "1", "2")
    place = host_folder._place

    def full(source: Path, target: Path) -> None:
        if target.name == "index.html":
            raise OSError(28, "No space left on device", str(target))
        place(source, target)

    with monkeypatch.context() as patched:
        patched.setattr(host_folder, "_place", full)
        with pytest.raises(AppTrouble, match=r"cannot be written \(No space left on device\)"):
            update(tmp_path, "3")
    there = contents(tmp_path / "host")
    assert there["index.html"] == "index.html of 2"
    assert {"assets/page-2.js", "engine/e1/python.wasm"} <= set(there)

    assert update(tmp_path, "3").former == "2"
    assert contents(tmp_path / "host")["sw.js"] == "sw.js of 3"
    assert "assets/page-2.js" in contents(tmp_path / "host")


def test_a_folder_with_other_things_is_refused(tmp_path: Path) -> None:
    """A folder that is somebody else's keeps all it holds, and gets nothing."""
    (tmp_path / "host").mkdir()
    (tmp_path / "host" / "index.html").write_text("mine", encoding="utf-8")

    with pytest.raises(AppTrouble) as trouble:
        update(tmp_path, "1")
    assert str(trouble.value) == (
        f"{tmp_path / 'host'} is there already and holds no earlier app; a new or empty folder "
        "would be right, or one that `bankside app` has written."
    )
    assert contents(tmp_path / "host") == {"index.html": "mine"}


def test_a_file_in_the_place_of_the_folder_is_refused(tmp_path: Path) -> None:
    """A file of that name stays as it is."""
    (tmp_path / "host").write_text("mine", encoding="utf-8")

    with pytest.raises(AppTrouble, match="holds no earlier app"):
        update(tmp_path, "1")


def test_the_app_is_withdrawn_and_written_again(tmp_path: Path) -> None:
    """Withdrawing changes the service worker alone; writing the same version takes it back."""
    update(tmp_path, "1")
    before = contents(tmp_path / "host")

    assert withdraw_app(tmp_path / "host") == "1"
    withdrawn = contents(tmp_path / "host")
    assert "unregister()" in withdrawn["sw.js"]
    assert dict(withdrawn, **{"sw.js": before["sw.js"]}) == before

    update(tmp_path, "1")
    assert contents(tmp_path / "host") == before


def test_only_an_app_can_be_withdrawn(tmp_path: Path) -> None:
    """A mistyped folder gets no service worker."""
    with pytest.raises(AppTrouble, match="holds no app that could be withdrawn"):
        withdraw_app(tmp_path)
    assert contents(tmp_path) == {}
