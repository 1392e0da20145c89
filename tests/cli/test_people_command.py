"""`bankside people` and `bankside devices`: who may, said on the command line."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from bankside.archive.accounts import who_signs_in
from bankside.archive.archive import create_archive, open_archive
from bankside.archive.devices import pair
from bankside.archive.settings import set_served_at
from bankside.cli import main

PASSWORD = "a long walk upstream"


@pytest.fixture
def place(tmp_path: Path) -> str:
    """An archive in which there is nothing yet."""
    create_archive(tmp_path / "season.db").close()
    return str(tmp_path / "season.db")


@pytest.fixture
def password_file(tmp_path: Path) -> str:
    """A file with a password in its first line."""
    file = tmp_path / "password"
    file.write_text(f"{PASSWORD}\n", encoding="utf-8")
    return str(file)


def test_people_are_added_listed_and_removed(
    place: str, password_file: str, capsys: pytest.CaptureFixture[str]
) -> None:
    """Whoever looks after an archive lets people in and out of it."""
    add = ["people", "add", place, "Ada Brook", "--role", "lead", "--password-file", password_file]

    assert main(add) == 0
    assert capsys.readouterr().out == "Ada Brook may sign in as lead.\n"
    with open_archive(place) as archive, archive.reading() as connection:
        assert who_signs_in(connection, "Ada Brook", PASSWORD) is not None
    assert main(["people", "list", place]) == 0
    assert re.search(r"Ada Brook +lead", capsys.readouterr().out)
    assert main(add) == 2
    assert "There is an account Ada Brook already" in capsys.readouterr().err
    assert main(["people", "remove", place, "Ada Brook"]) == 0
    assert main(["people", "remove", place, "Ada Brook"]) == 2
    assert "There is no account Ada Brook" in capsys.readouterr().err


def test_a_password_is_typed_twice_or_read_from_a_file(
    place: str,
    password_file: str,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    """No password stands on the command line, where others see it; what is typed is typed twice."""
    add = ["people", "add", place, "Ben Ford", "--role", "crew"]
    typed = iter([PASSWORD, PASSWORD[:-1], PASSWORD + "!", PASSWORD + "!"])
    monkeypatch.setattr("getpass.getpass", lambda prompt: next(typed))

    assert main(add) == 2
    assert "there is no terminal" in capsys.readouterr().err
    monkeypatch.setattr("sys.stdin.isatty", lambda: True)
    assert main(add) == 2
    assert "the two passwords differ" in capsys.readouterr().err
    assert main(add) == 0
    assert main(["people", "password", place, "Ben Ford", "--password-file", password_file]) == 0
    assert main(["people", "password", place, "Ben Ford", "--password-file", str(tmp_path)]) == 2
    assert "cannot be read" in capsys.readouterr().err
    with open_archive(place) as archive, archive.reading() as connection:
        assert who_signs_in(connection, "Ben Ford", PASSWORD) is not None


def test_a_code_is_printed_with_a_link_and_pairs_a_device(
    place: str, capsys: pytest.CaptureFixture[str]
) -> None:
    """The code, the time until it is void, the link and its picture; then the device is listed."""
    assert main(["devices", "code", place]) == 0
    assert "with --url a link is printed too" in capsys.readouterr().out
    with open_archive(place) as archive, archive.writing() as connection:
        set_served_at(connection, "https://bank.example.org/")

    assert main(["devices", "code", place, "--name", "Truck tablet"]) == 0
    out = capsys.readouterr().out
    code = re.match(r"([2-9A-Z]{4}) ([2-9A-Z]{4})\n", out)
    assert code is not None
    assert f"https://bank.example.org/#/pair/{code[1]}{code[2]}\n" in out and "▄" in out
    with open_archive(place) as archive, archive.writing() as connection:
        paired = pair(connection, code[1] + code[2], "dev-1", "a phone")
    assert paired is not None
    assert main(["devices", "list", place]) == 0
    assert re.search(rf"{paired[1].id} +Truck tablet +crew .* paired", capsys.readouterr().out)
    assert main(["devices", "revoke", place, paired[1].id]) == 0
    assert main(["devices", "list", place]) == 0
    assert "revoked" in capsys.readouterr().out
    assert main(["devices", "revoke", place, "nothing"]) == 2


def test_a_link_that_is_none_is_refused(place: str, capsys: pytest.CaptureFixture[str]) -> None:
    """A phone keeps the app by its address: one without encryption would not do."""
    assert main(["devices", "code", place, "--url", "http://bank.example.org"]) == 2
    assert "https://bank.example.org/ would be right" in capsys.readouterr().err
