"""Where a server may listen, and what it needs before it does."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from bankside.archive.accounts import add_account
from bankside.archive.archive import Archive
from bankside.archive.settings import served_at
from bankside.server import listen
from bankside.server.built_app import AppTrouble, BuiltApp
from bankside.server.listen import serve_office
from bankside.server.place import Place, office_place

URL = "https://bank.example.org"


def test_this_machine_needs_nothing() -> None:
    """At a loopback address nobody else can ask, so nothing has to be set up."""
    for address in ("127.0.0.1", "localhost", "::1", "127.0.0.2"):
        assert not office_place(address, 8000).to_others


def test_a_proxy_on_this_machine_speaks_for_others() -> None:
    """Behind a proxy the loopback address is reached by everybody, so that everybody signs in."""
    place = office_place("127.0.0.1", 8000, URL, behind_proxy=True)

    assert place.to_others and place.page == f"{URL}/"


def test_others_are_served_with_encryption_only(pem: tuple[Path, Path], tmp_path: Path) -> None:
    """Without it readings and passwords would travel for everybody to read; each lack is named."""
    assert office_place("0.0.0.0", 8443, URL, *pem).to_others
    (tmp_path / "broken.pem").write_text("nothing", encoding="utf-8")
    for arguments, said in (
        (("0.0.0.0", 8443, URL), "everybody could read what travels"),
        (("0.0.0.0", 8443, None, *pem), "--url with its address"),
        (("0.0.0.0", 8443, URL, *pem, True), "one of them is right"),
        (("127.0.0.1", 8443, None, None, pem[1]), "Found --key alone"),
        (("0.0.0.0", 8443, URL, pem[0], tmp_path / "broken.pem"), "cannot be used"),
        (("0.0.0.0", 8443, URL, tmp_path / "gone.pem"), "No such file"),
        (("bank.test", 8443, URL, *pem), "numbers such as 127.0.0.1"),
        (("0.0.0.0", 8443, "bank.example.org", *pem), "https://bank.example.org/ would be right"),
        (("0.0.0.0", 8443, f"{URL}/bank", *pem), "without a path"),
    ):
        with pytest.raises(AppTrouble, match=said):
            office_place(*arguments)  # type: ignore[arg-type]


def test_others_are_served_only_where_somebody_has_an_account(
    archive: Archive, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Without an account everybody would be let in, so that the server does not start."""
    listened: list[Place] = []

    def note(place: Place, application: object, ready: Callable[[str], object]) -> None:
        listened.append(place)

    monkeypatch.setattr(listen, "_serve", note)
    app = BuiltApp(tmp_path, "0.1.0+a", {})
    place = office_place("127.0.0.1", 8000, URL, behind_proxy=True)

    with pytest.raises(AppTrouble, match="There is no account"):
        serve_office(app, archive, place, print)
    with archive.writing() as connection:
        add_account(connection, "Ada Brook", "lead", "a long walk upstream")
    serve_office(app, archive, place, print)
    assert listened == [place]
    with archive.reading() as connection:
        assert served_at(connection) == f"{URL}/"
