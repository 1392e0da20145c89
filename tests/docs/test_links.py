"""Every link of the documents leads somewhere."""

import re
from pathlib import Path

import pytest
from tests.docs.pages import PAGES, ROOT, anchors, blocks, links, name, prose, text_of


@pytest.mark.parametrize("page", PAGES, ids=name)
def test_links_lead_somewhere(page: Path) -> None:
    """Every link has a file at its end, and the heading that it names."""
    astray = []
    for link in links(page):
        place, _, anchor = link.partition("#")
        target = (page.parent / place).resolve() if place else page
        if not target.exists() or (anchor and anchor not in anchors(target)):
            astray.append(link)

    assert astray == []


@pytest.mark.parametrize("page", PAGES, ids=name)
def test_files_that_are_named_are_there(page: Path) -> None:
    """A file of the project that a document names is there."""
    paths = re.findall(r"`((?:src|tests|docs|demo|bench)/[\w./-]+)`", text_of(page))

    assert [path for path in paths if not (ROOT / path).exists()] == []


@pytest.mark.parametrize("page", PAGES, ids=name)
def test_what_is_made_can_be_made(page: Path) -> None:
    """`make` knows every target that a document tells people to make."""
    known = re.findall(r"^([a-z]+):", text_of(ROOT / "Makefile"), re.MULTILINE)
    said = re.findall(r"`make ([a-z]+)", prose(page))
    lines = [line for block in blocks(page) for line in block.lines]
    said += [made[1] for line in lines if (made := re.match(r"make ([a-z]+)", line))]

    assert [target for target in said if target not in known] == []
