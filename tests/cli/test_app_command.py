"""`bankside app`: what it says when the app is written, brought up to date or withdrawn."""

from pathlib import Path

import pytest

from bankside.cli import app_files, main
from bankside.server.built_app import LIST, WORKER, BuiltApp

LISTED = '{"format": "bankside.files/1", "version": "%s", "shell": [], "engine": []}'


@pytest.fixture(autouse=True)
def app(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Path:
    """The folder of an app of two files, version 1, so that no test waits for a build."""
    folder = tmp_path / "static"
    folder.mkdir()
    version(folder, "1")
    (folder / WORKER).write_text("// works", encoding="utf-8")
    types = {LIST: "application/json", WORKER: "text/javascript", "index.html": "text/html"}
    (folder / "index.html").write_text("<!doctype html>", encoding="utf-8")

    def built() -> BuiltApp:
        return BuiltApp(folder, (folder / "version").read_text(encoding="utf-8"), types)

    monkeypatch.setattr(app_files, "built_app", built)
    return folder


def version(folder: Path, name: str) -> None:
    """Make the app in the folder another version."""
    (folder / LIST).write_text(LISTED % name, encoding="utf-8")
    (folder / "version").write_text(name, encoding="utf-8")


def test_it_says_what_was_written_and_what_comes_next(
    app: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Whoever writes the files learns the version, and what the host has to do."""
    host = tmp_path / "host"
    assert main(["app", str(host)]) == 0
    first, then = capsys.readouterr().out.splitlines()

    assert first == f"{host}: the app, version 1."
    assert "HTTPS" in then and "application/wasm" in then and "docs/deploy.md" in then

    version(app, "2")
    assert main(["app", str(host)]) == 0
    assert capsys.readouterr().out.startswith(
        f"{host}: the app, version 2 in the place of 1; files of 1 stay"
    )


def test_it_says_what_withdrawing_means(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Whoever withdraws the app learns that measurements stay where they are."""
    host = tmp_path / "host"
    main(["app", str(host)])
    capsys.readouterr()

    assert main(["app", "--withdraw", str(host)]) == 0
    said = capsys.readouterr().out
    assert said.startswith(f"{host}: the app, version 1, is withdrawn")
    assert "What was measured stays on the devices" in said


def test_another_folder_is_refused_in_one_sentence(
    app: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A folder with other files is named, with what would be right."""
    assert main(["app", str(tmp_path)]) == 2
    err = capsys.readouterr().err

    assert err.startswith(f"{tmp_path} is there already and holds no earlier app")
    assert err.count("\n") == 1
