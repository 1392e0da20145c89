"""The documents as the tests read them: blocks between fences, headings, links."""

import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

from attrs import frozen

ROOT = Path(__file__).parents[2]
DOCS = ROOT / "docs"
PAGES = [
    ROOT / "README.md",
    ROOT / "CONTRIBUTING.md",
    ROOT / "CHANGELOG.md",
    ROOT / "SECURITY.md",
    *sorted(DOCS.rglob("*.md")),
]

_FENCED = re.compile(r"^( *)```(\w*)\n(.*?)^ *```$", re.DOTALL | re.MULTILINE)


@frozen
class Block:
    """What stands between two fences, and in which language."""

    language: str
    lines: tuple[str, ...]


def name(page: Path) -> str:
    """Return what a page is called in the list of tests."""
    return str(page.relative_to(ROOT))


def text_of(page: Path) -> str:
    """Return the text of a page."""
    return page.read_text(encoding="utf-8")


def blocks(page: Path) -> list[Block]:
    """Return the blocks between fences; a line that ends with a backslash goes on in the next."""
    return [
        Block(language, tuple(re.sub(r"\\\n\s*", " ", body).splitlines()))
        for _, language, body in _FENCED.findall(text_of(page))
    ]


def prose(page: Path) -> str:
    """Return the text of a page without what stands between fences."""
    return _FENCED.sub("", text_of(page))


def command_lines(page: Path) -> Iterator[str]:
    """Give every line between fences that calls `bankside`, without what comes before its name."""
    for block in blocks(page):
        for line in block.lines:
            called = re.match(r"\s*(?:\$ |ExecStart=)?(?:\S*/)?bankside (.*)", line)
            if called and block.language != "python":
                yield called[1]


@cache
def anchors(page: Path) -> set[str]:
    """Return the anchors of a page's headings, as pages of a repository make them."""
    found: set[str] = set()
    for heading in re.findall(r"^#{1,6} (.*)$", prose(page), re.MULTILINE):
        words = re.sub(r"\[([^\]]*)\]\([^)]*\)", r"\1", heading).strip().lower()
        slug = base = re.sub(r"[^\w\- ]", "", words).replace(" ", "-")
        number = 0
        while slug in found:
            number += 1
            slug = f"{base}-{number}"
        found.add(slug)
    return found


def links(page: Path) -> list[str]:
    """Return what the links and pictures of a page lead to, but for addresses elsewhere."""
    text = re.sub(r"`[^`]*`", "", prose(page))
    found = re.findall(r"\]\(([^)\s]+)\)", text) + re.findall(r'src="([^"]+)"', text)
    return [link for link in found if not re.match(r"[a-z]+:", link)]
