"""The built app is found, or it is said how to build it."""

import json
from pathlib import Path

import pytest

from bankside.server.built_app import AppTrouble, built_app, read_app

from .apps import small_app


def test_a_checkout_without_the_app_says_how_to_build_it(tmp_path: Path) -> None:
    """Whoever forgot to build is told the command, in one sentence."""
    with pytest.raises(AppTrouble) as trouble:
        built_app(tmp_path / "static")

    assert str(trouble.value) == (
        "Found no built app in this checkout of Bankside; `make build` there builds it "
        "(an installed package carries it)."
    )


def test_the_list_is_read(tmp_path: Path) -> None:
    """Version and types are those of the list; the list and the service worker have theirs."""
    app = small_app(tmp_path, "0.1.0+a", "engine/python.wasm")

    assert app.version == "0.1.0+a"
    assert app.types == {
        "index.html": "text/html",
        "engine/python.wasm": "application/wasm",
        "sw.js": "text/javascript",
        "files.json": "application/json",
    }


@pytest.mark.parametrize(
    "change",
    [
        {"format": "other.files/1"},
        {"shell": [{"path": "../outside.js", "type": "text/javascript"}]},
        {"engine": [{"path": "/etc/passwd", "type": "text/plain"}]},
        {"shell": [{"path": 3}]},
        {"shell": None},
    ],
)
def test_a_list_that_is_none_of_ours_is_no_app(tmp_path: Path, change: dict[str, object]) -> None:
    """A foreign list, or one that names files outside its folder, is not taken for the app's."""
    small_app(tmp_path, "0.1.0+a")
    told = json.loads((tmp_path / "files.json").read_text(encoding="utf-8"))
    (tmp_path / "files.json").write_text(json.dumps(told | change), encoding="utf-8")

    assert read_app(tmp_path) is None


@pytest.mark.parametrize("text", ["", "[]", "{", "3"])
def test_a_broken_list_is_no_app(tmp_path: Path, text: str) -> None:
    """Whatever stands in the list, nothing but an answer comes of it."""
    (tmp_path / "files.json").write_text(text, encoding="utf-8")

    assert read_app(tmp_path) is None
