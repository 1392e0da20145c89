"""What every answer lets a browser do: run and show what is ours, and nothing that was typed."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from bankside.archive.files import keep_file, sha256_of
from bankside.archive.register import put_survey
from bankside.server.api.routes import ROUTES
from bankside.server.app import office_application, web_application
from bankside.server.headers import CONTENT_SECURITY_POLICY
from bankside.survey.records import Survey, SurveySite

from ..hostile import MARKUP
from .apps import small_app
from .asking import Answered, Client, Served
from .test_who_may_ask import plainest

_ROOT = Path(__file__).parents[2]
_HOST = "127.0.0.1:8000"
# What somebody could use to put markup of their own into a page, past everything else.
_RAW = re.compile(
    r"\{@html|innerHTML|outerHTML|insertAdjacentHTML|document\.write|\beval\(|bindPopup|setContent"
)
_OURS = ("page", "desk", "sync", "journal", "practice", "worker", "sw")


def _answers(file_here: Served, folder: Path) -> Iterator[tuple[str, Answered]]:
    """Yield what is answered on every route, on the app's files and beside them."""
    folder.mkdir()
    app = small_app(folder, "a", "assets/page.js", "engine/engine.wasm")
    client = Client(office_application(app, file_here.office), host=_HOST, prefix="")
    api = Client(office_application(app, file_here.office), host=_HOST, prefix="/api/1")
    alone = Client(web_application(app), host=_HOST)
    for path in ("", "index.html", "sw.js", "assets/page.js", "files.json", "nothing", "../x"):
        yield path, client.get(path)
        yield path, alone.get(path)
    yield "about", alone.get("api/1/about")
    for route in ROUTES:
        yield route.path, plainest(api, route)
    with file_here.archive.writing() as connection:
        site = SurveySite(id="ar1", stream="Alder River", name=MARKUP[1])
        put_survey(connection, Survey(id="s26", name=MARKUP[0], sites=(site,)), by="I. Marrow")
        for kind, content in (("image/png", b"\x89PNG"), ("text/html", b"<script>"), ("x", b"x")):
            keep_file(connection, kind, content, "I. Marrow")
            yield kind, api.get(f"files/{sha256_of(content)}")
    for path in ("surveys/s26", "surveys/s26/map", "surveys/s26/report.html", "search?text=<b>"):
        answer = api.get(path)
        assert answer.status == 200
        yield path, answer
    foreign = Client(office_application(app, file_here.office), host="elsewhere.example.net")
    yield "another host", foreign.get("")


def test_no_answer_lets_anything_be_run_or_styled_that_is_written_in_a_page(
    file_here: Served, tmp_path: Path
) -> None:
    """Each has a policy without `unsafe-inline`, is of the type it says, and is framed by none."""
    seen = 0
    for path, answer in _answers(file_here, tmp_path / "app"):
        policy = answer.headers["content-security-policy"]
        directives = dict(part.strip().partition(" ")[::2] for part in policy.split(";"))
        assert "unsafe-inline" not in policy and "'unsafe-eval'" not in policy, path
        assert directives["default-src"] in ("'self'", "'none'"), path
        assert directives["frame-ancestors"] == "'none'", path
        assert "*" not in policy and "http" not in policy, path
        assert answer.headers["x-content-type-options"] == "nosniff", path
        assert answer.headers["referrer-policy"] == "no-referrer", path
        seen += 1
    assert seen > len(ROUTES) + 20


def test_a_file_that_is_no_picture_is_handed_over_to_be_saved(
    file_here: Served,
) -> None:
    """A page that somebody sent as a photo does not open as one, and could do nothing if it did."""
    client = file_here.client()
    for kind in ("text/html", "image/svg+xml", "application/xhtml+xml", "text/html\r\nx: y"):
        content = f"<script>alert({kind!r})</script>".encode()
        path = f"files/{sha256_of(content)}"
        assert client.ask("PUT", path, content, content_type=kind).status == 200
        headers = client.get(path).headers
        assert headers["content-disposition"].startswith("attachment")
        assert "sandbox" in headers["content-security-policy"]


def test_the_page_itself_carries_the_policy_of_its_answers() -> None:
    """On a host that sets no headers, the page says the same of itself."""
    page = (_ROOT / "web" / "index.html").read_text(encoding="utf-8")
    (policy,) = re.findall(r'http-equiv="Content-Security-Policy"\s+content="([^"]+)"', page)
    assert policy == CONTENT_SECURITY_POLICY


@pytest.mark.parametrize("folder", _OURS)
def test_no_screen_takes_a_text_for_markup(folder: str) -> None:
    """What was typed reaches a screen as text alone: none of our sources has another way."""
    files = [f for f in (_ROOT / "web" / folder).rglob("*") if f.suffix in (".svelte", ".ts")]
    assert files
    raw = [str(f) for f in files if _RAW.search(f.read_text(encoding="utf-8"))]
    assert raw == []


def test_a_name_of_any_signs_is_answered_by_the_archive(file_here: Served, tmp_path: Path) -> None:
    """A line break in the address leads to nobody of that name, not past all the routes."""
    app = office_application(small_app(tmp_path, "a"), file_here.office)
    answer = Client(app, host=_HOST, prefix="/api/1").ask("DELETE", "people/Ada\nBrook\n")

    assert answer.status == 409 and "There is no account" in answer.said
