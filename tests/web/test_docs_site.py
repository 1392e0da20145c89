"""The documents as a site in a browser, opened as files, without a server and without a network."""

from pathlib import Path

import pytest
from playwright.sync_api import expect
from tests.docs.site import build_site

from .browsing import picture
from .conftest import ContextMaker


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The site, built anew."""
    folder = tmp_path_factory.mktemp("docs") / "site"
    build_site(folder)
    return folder


@pytest.mark.parametrize("device", ["phone", "desktop"])
def test_the_site_is_read_and_searched_as_files(
    site: Path, new_context: ContextMaker, device: str
) -> None:
    """From a folder on a stick, every page asks for files alone, and the search finds a page."""
    context = new_context(device)
    asked: list[str] = []
    context.on("request", lambda request: asked.append(request.url))
    context.set_offline(True)
    page = context.new_page()

    page.goto((site / "index.html").as_uri())
    expect(page.get_by_text("Wading can kill").first).to_be_visible()
    page.get_by_role("article").get_by_role("link", name="Tutorial", exact=True).click()
    expect(page.get_by_role("heading", name="Tutorial: a first gauging")).to_be_visible()
    picture(page, f"docs-{device}")

    page.locator("#__search").evaluate("box => box.click()")
    page.get_by_role("textbox", name="Search").press_sequentially("cell-centres")
    found = page.locator(".md-search-result__item", has_text="Commands and options")
    expect(found).to_be_visible()
    picture(page, f"docs-search-{device}")
    assert [url for url in asked if not url.startswith(("file:", "data:", "blob:"))] == []
