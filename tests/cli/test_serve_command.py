"""`bankside serve`: on this machine alone, and one sentence for whatever keeps it from starting."""

import socket
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from bankside.cli import main
from bankside.cli import serve as serve_module
from bankside.server.built_app import BuiltApp, built_app


@pytest.fixture(autouse=True)
def app(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> BuiltApp:
    """An app without files, so that no test waits for a build."""
    app = BuiltApp(tmp_path, "0.1.0+a", {})
    monkeypatch.setattr(serve_module, "built_app", lambda: app)
    return app


@pytest.fixture
def served(monkeypatch: pytest.MonkeyPatch) -> list[tuple[str, int]]:
    """The addresses at which the app would have been served; nothing listens."""
    places: list[tuple[str, int]] = []

    def note(_: BuiltApp, address: str, port: int, ready: Callable[[str], object]) -> None:
        places.append((address, port))
        ready(f"http://{address}:{port}/")

    monkeypatch.setattr(serve_module, "serve_app", note)
    return places


@pytest.fixture
def taken_port() -> Iterator[int]:
    """A port that another program listens on."""
    with socket.create_server(("127.0.0.1", 0)) as other:
        yield other.getsockname()[1]


@pytest.mark.parametrize("address", ["0.0.0.0", "192.168.1.5", "::", "bank.test", ""])
def test_no_other_address_is_served(
    address: str, served: list[tuple[str, int]], capsys: pytest.CaptureFixture[str]
) -> None:
    """Nobody else reaches the app, since there are no accounts; the sentence says what to do."""
    assert main(["serve", "--address", address]) == 2
    err = capsys.readouterr().err

    assert served == []
    assert err.startswith(f'Found the address "{address}"; only this machine\'s own, 127.0.0.1')
    assert "HTTPS" in err and "docs/deploy.md" in err
    assert err.count("\n") == 1


@pytest.mark.parametrize(
    ("arguments", "place"),
    [
        ([], ("127.0.0.1", 8000)),
        (["--port", "8123"], ("127.0.0.1", 8123)),
        (["--address", "localhost"], ("127.0.0.1", 8000)),
        (["--address", "127.0.0.2"], ("127.0.0.2", 8000)),
        (["--address", "::1"], ("::1", 8000)),
    ],
)
def test_this_machine_is_served(
    arguments: list[str],
    place: tuple[str, int],
    served: list[tuple[str, int]],
    capsys: pytest.CaptureFixture[str],
) -> None:
    """Every name of this machine alone will do; the page's address is said."""
    assert main(["serve", *arguments]) == 0

    assert served == [place]
    assert capsys.readouterr().out == (
        f"Bankside is at http://{place[0]}:{place[1]}/ on this machine; Ctrl+C stops it.\n"
    )


def test_the_browser_opens_when_asked(
    served: list[tuple[str, int]], monkeypatch: pytest.MonkeyPatch
) -> None:
    """`--open` shows the page at the address at which it is served."""
    opened: list[str] = []
    monkeypatch.setattr("webbrowser.open", opened.append)

    assert main(["serve", "--port", "8123", "--open"]) == 0
    assert opened == ["http://127.0.0.1:8123/"]


def test_with_an_archive_the_desk_is_what_opens(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Both addresses are said: of the app for the bank, and of the desk."""
    opened: list[str] = []
    monkeypatch.setattr("webbrowser.open", opened.append)
    monkeypatch.setattr(
        "bankside.cli.serve.serve_office",
        lambda app, archive, place, ready: ready("http://127.0.0.1:8123/"),
    )
    place = str(tmp_path / "season.db")
    assert main(["archive", "init", place]) == 0
    capsys.readouterr()

    assert main(["serve", "--archive", place, "--port", "8123", "--open"]) == 0
    assert opened == ["http://127.0.0.1:8123/#/desk"]
    assert capsys.readouterr().out == (
        "Bankside is at http://127.0.0.1:8123/ on this machine; the desk of the office is at "
        "http://127.0.0.1:8123/#/desk; Ctrl+C stops it.\n"
    )


def test_a_port_that_is_taken_is_named(taken_port: int, capsys: pytest.CaptureFixture[str]) -> None:
    """Where another program listens, one sentence says so, and what another port would mean."""
    assert main(["serve", "--port", str(taken_port)]) == 2
    err = capsys.readouterr().err

    assert err.startswith(f"Port {taken_port} at 127.0.0.1 cannot be had (Address already in use)")
    assert "--port" in err
    assert err.count("\n") == 1


@pytest.mark.parametrize("port", ["-1", "65536"])
def test_a_port_that_cannot_be_is_refused(port: str, capsys: pytest.CaptureFixture[str]) -> None:
    """Ports are numbers from 0 to 65535."""
    assert main(["serve", "--port", port]) == 2

    assert capsys.readouterr().err == (
        f"--port: found {port}; a number from 0 to 65535 would be right\n"
    )


def test_a_checkout_without_the_app_says_what_to_do(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Before `make build` nothing is served, and the command is named."""
    monkeypatch.setattr(serve_module, "built_app", lambda: built_app(tmp_path))

    assert main(["serve"]) == 2
    assert "`make build`" in capsys.readouterr().err
