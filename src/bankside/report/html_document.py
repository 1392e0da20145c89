"""HTML in one file: pictures and style inside, nothing fetched, everything people wrote escaped."""

from __future__ import annotations

import re
from collections.abc import Mapping
from importlib import resources
from typing import Any

from bankside.note.signs import in_every_document, with_signs
from bankside.report.typst_document import Paper

__all__ = ["html_page"]

_TEMPLATES = resources.files(__package__) / "templates"
_IDENTIFIER = re.compile(r'(\bid="|href="#|url\(#)')


def html_page(
    template: str, content: Mapping[str, Any], pictures: Mapping[str, str], *, paper: Paper
) -> str:
    """Return a document as one HTML page.

    template: the name of a template of ours; content: plain dicts, lists and texts for it;
    pictures: SVG by key, set into the page; paper: what it is laid out for when printed.
    """
    from jinja2 import Environment, FunctionLoader, StrictUndefined  # only when a page is made

    environment = Environment(
        loader=FunctionLoader(lambda name: (_TEMPLATES / name).read_text(encoding="utf-8")),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
    )
    drawings = {
        key: _inside_a_page(svg, f"p{number}-")
        for number, (key, svg) in enumerate(pictures.items())
    }
    page = environment.get_template(f"{template}.html").render(
        content=with_signs(content, in_every_document), pictures=drawings, paper=paper
    )
    return f"{page}\n"


def _inside_a_page(svg: str, prefix: str) -> str:
    """Return the SVG element alone, its identifiers different from those of other pictures."""
    element = svg[svg.index("<svg") :]
    return _IDENTIFIER.sub(rf"\g<1>{prefix}", element)
