"""Documents as a reader's program sees them: the text, the structure and the pages of a PDF."""

import subprocess
from html.parser import HTMLParser
from pathlib import Path


def _run(*command: str) -> str:
    run = subprocess.run(command, capture_output=True, text=True, check=True, timeout=60)
    return run.stdout


def pdf_text(pdf: bytes, folder: Path) -> str:
    """The words of a PDF in reading order, spaces and line breaks as single spaces."""
    path = folder / "document.pdf"
    path.write_bytes(pdf)
    return " ".join(_run("pdftotext", "-enc", "UTF-8", str(path), "-").split())


def pdf_facts(pdf: bytes, folder: Path) -> dict[str, str]:
    """What the file says of itself: Title, Tagged, Pages, Page size, CreationDate."""
    path = folder / "document.pdf"
    path.write_bytes(pdf)
    lines = _run("pdfinfo", "-isodates", str(path)).splitlines()
    return {name: value.strip() for name, _, value in (line.partition(":") for line in lines)}


def pdf_structure(pdf: bytes, folder: Path) -> str:
    """The tree of tags as poppler prints it."""
    path = folder / "document.pdf"
    path.write_bytes(pdf)
    return _run("pdfinfo", "-struct-text", str(path))


def pdf_tags(pdf: bytes, folder: Path) -> list[str]:
    """The tags of a PDF in reading order, without their texts: quick for long documents too."""
    path = folder / "document.pdf"
    path.write_bytes(pdf)
    return [line.split()[0] for line in _run("pdfinfo", "-struct", str(path)).splitlines() if line]


class Page(HTMLParser):
    """An HTML page read strictly: every element closed in order, its texts and attributes kept."""

    VOID = frozenset({"meta", "br", "img", "link", "input", "hr"})

    def __init__(self, text: str) -> None:
        super().__init__(convert_charrefs=True)
        self.open: list[str] = []
        self.elements: list[tuple[str, dict[str, str | None]]] = []
        self.texts: list[str] = []
        self.feed(text)
        self.close()
        assert self.open == []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Keep an element, open unless it has no content."""
        self.elements.append((tag, dict(attrs)))
        if tag not in self.VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Keep an element that closes itself, as in SVG."""
        self.elements.append((tag, dict(attrs)))

    def handle_endtag(self, tag: str) -> None:
        """Close the element that was opened last, and no other."""
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        """Keep the texts that are shown."""
        if {"style", "metadata"}.isdisjoint(self.open):
            self.texts.append(data)

    @property
    def text(self) -> str:
        """All texts, spaces and line breaks as single spaces."""
        return " ".join("".join(self.texts).split())

    def count(self, tag: str) -> int:
        """How many elements there are of a kind."""
        return sum(1 for name, _ in self.elements if name == tag)
