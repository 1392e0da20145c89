"""The documents as a site: whole, and without anything from elsewhere."""

from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import unquote, urlsplit

import pytest
from tests.docs.pages import DOCS
from tests.docs.site import build_site

_FETCHED = {"script": "src", "img": "src", "iframe": "src", "source": "src", "link": "href"}
_NEVER = {"canonical", "prev", "next", "alternate"}
"""What a `link` only names."""


class Page(HTMLParser):
    """What a page fetches, where its links lead, and the anchors that it has."""

    def __init__(self, file: Path) -> None:
        super().__init__()
        self.fetched: list[str] = []
        self.links: list[str] = []
        self.anchors: set[str] = set()
        self.feed(file.read_text(encoding="utf-8"))

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Note one element."""
        has = {key: value or "" for key, value in attrs}
        if "id" in has:
            self.anchors.add(has["id"])
        if tag == "a" and "href" in has:
            self.links.append(has["href"])
        elif tag in _FETCHED and _FETCHED[tag] in has and has.get("rel") not in _NEVER:
            self.fetched.append(has[_FETCHED[tag]])


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The site, built anew."""
    folder = tmp_path_factory.mktemp("docs") / "site"
    build_site(folder)
    return folder


@pytest.fixture(scope="module")
def pages(site: Path) -> dict[Path, Page]:
    """Every page of the site."""
    return {file: Page(file) for file in sorted(site.rglob("*.html"))}


def test_every_document_is_a_page(site: Path) -> None:
    """Nothing that was written is missing from the site, and no program lies in it."""
    sources = [page.relative_to(DOCS).with_suffix(".html") for page in DOCS.rglob("*.md")]
    sources += [Path("index.html"), Path("contributing.html"), Path("changelog.html")]

    assert [page for page in sources if not (site / page).exists()] == []
    assert list(site.rglob("*.py")) == []


def test_nothing_comes_from_elsewhere(site: Path, pages: dict[Path, Page]) -> None:
    """No script, letter, style or picture is asked of the network; each is there as a file."""
    for file, page in pages.items():
        for address in page.fetched:
            parts = urlsplit(address)
            assert not parts.scheme and not parts.netloc, f"{file}: {address}"
            if file.name != "404.html":  # its addresses are those of the root of a host
                assert (file.parent / unquote(parts.path)).exists(), f"{file}: {address}"
    for style in site.rglob("*.css"):
        text = style.read_text(encoding="utf-8")
        assert "url(http" not in text and "url(//" not in text and "@import" not in text


def test_every_link_of_the_site_leads_to_a_page_of_it(pages: dict[Path, Page]) -> None:
    """Who follows a link within the site arrives, at the heading that it names."""
    astray = []
    for file, page in pages.items():
        if file.name == "404.html":
            continue
        for link in page.links:
            parts = urlsplit(link)
            if parts.scheme:
                continue
            target = (file.parent / unquote(parts.path)).resolve() if parts.path else file
            there = pages.get(target)
            lost = parts.fragment and there and unquote(parts.fragment) not in there.anchors
            if not target.exists() or lost:
                astray.append(f"{file.name}: {link}")

    assert astray == []
