"""What the server answers: the app's files, each as a browser needs it, and nothing else."""

import mimetypes
from pathlib import Path

import pytest

from bankside.server.built_app import BuiltApp

from .apps import ask, small_app


@pytest.fixture
def app(tmp_path: Path) -> BuiltApp:
    """An app with a file of every kind that browsers are strict about."""
    (tmp_path / "secret.txt").write_text("not for you", encoding="utf-8")
    return small_app(
        tmp_path / "static",
        "0.1.0+a",
        "assets/page-1.js",
        "engine/python.mjs",
        "engine/python.wasm",
        "licences.txt",
    )


@pytest.mark.parametrize(
    ("path", "media_type"),
    [
        ("/", "text/html; charset=utf-8"),
        ("/index.html", "text/html; charset=utf-8"),
        ("/sw.js", "text/javascript; charset=utf-8"),
        ("/files.json", "application/json"),
        ("/assets/page-1.js", "text/javascript; charset=utf-8"),
        ("/engine/python.mjs", "text/javascript; charset=utf-8"),
        ("/engine/python.wasm", "application/wasm"),
    ],
)
def test_a_file_has_its_type_whatever_the_machine_believes(
    app: BuiltApp, path: str, media_type: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A machine whose own table says otherwise, as some do of scripts, serves the right types."""
    monkeypatch.setattr(mimetypes, "guess_type", lambda *_, **__: ("text/odd", None))

    answer = ask(app, path)

    assert (answer.status, answer.headers["content-type"]) == (200, media_type)
    assert answer.headers["x-content-type-options"] == "nosniff"
    assert "script-src 'self' 'wasm-unsafe-eval';" in answer.headers["content-security-policy"]


@pytest.mark.parametrize("path", ["/", "/index.html", "/sw.js", "/files.json", "/licences.txt"])
def test_what_keeps_its_name_is_asked_for_again(app: BuiltApp, path: str) -> None:
    """An update is seen at once, since no browser takes these from its cache unasked."""
    assert ask(app, path).headers["cache-control"] == "no-cache"


@pytest.mark.parametrize("path", ["/assets/page-1.js", "/engine/python.wasm"])
def test_what_changes_its_name_with_its_content_is_kept(app: BuiltApp, path: str) -> None:
    """The large files are fetched once: their names stand for one content for ever."""
    assert ask(app, path).headers["cache-control"] == "public, max-age=31536000, immutable"


def test_an_unchanged_file_is_not_sent_again(app: BuiltApp) -> None:
    """A browser that has the page already is told so, with the same rule for keeping it."""
    first = ask(app, "/index.html")
    again = ask(app, "/index.html", if_none_match=first.headers["etag"])

    assert (again.status, again.body) == (304, b"")
    assert again.headers["cache-control"] == "no-cache"
    assert "content-type" not in again.headers


@pytest.mark.parametrize(
    "path",
    ["/nothing", "/assets", "/../secret.txt", "/assets/../../secret.txt", "//etc/passwd", "/\0"],
)
def test_nothing_else_is_served(app: BuiltApp, path: str) -> None:
    """Whatever is no file of the app gets one sentence, and nothing leaves the folder."""
    answer = ask(app, path)

    assert answer.status == 404
    assert answer.body.startswith(b"There is nothing at ")
    assert b"not for you" not in answer.body
    assert answer.headers["content-type"] == "text/plain; charset=utf-8"


def test_nothing_can_be_sent_to_it(app: BuiltApp) -> None:
    """The server takes no data: it says so, and what it does instead."""
    answer = ask(app, "/index.html", method="POST")

    assert answer.status == 405
    assert answer.body == b"POST is not possible here; GET and HEAD are.\n"
    assert answer.headers["allow"] == "GET, HEAD"
