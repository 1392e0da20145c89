"""HTML in one file: pictures and style inside, nothing fetched, everything people wrote escaped.

A page carries a policy by which a browser runs nothing, fetches nothing, and takes no style but
the page's own, known by its hash: what somebody typed could do nothing even if it were markup.
"""

from __future__ import annotations

import base64
import hashlib
import re
from collections.abc import Mapping
from importlib import resources
from typing import Any

from bankside.note.signs import in_every_document, with_signs
from bankside.report.typst_document import Paper

__all__ = ["html_page", "page_policy"]

_TEMPLATES = resources.files(__package__) / "templates"
_IDENTIFIER = re.compile(r'(\bid="|href="#|url\(#)')
_STYLE = re.compile(r' style="([^"]*)"')
# What pictures say of all their lines: round where they bend, cut off where they end.
_OF_ALL = re.compile(
    r'<style type="text/css">\*{stroke-linejoin: round; stroke-linecap: butt}</style>'
)
_ON_ALL = '<svg stroke-linejoin="round" stroke-linecap="butt"'


def page_policy(paper: Paper) -> str:
    """Return the content security policy of every page of ours that is laid out for a paper."""
    digest = hashlib.sha256(_style(paper).encode("utf-8")).digest()
    own = base64.b64encode(digest).decode("ascii")
    return f"default-src 'none'; style-src 'sha256-{own}'; base-uri 'none'; form-action 'none'"


def _style(paper: Paper) -> str:
    text = (_TEMPLATES / "page.css").read_text(encoding="utf-8")
    return text.replace("PAPER", paper)


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
        content=with_signs(content, in_every_document),
        pictures=drawings,
        style=_style(paper),
        policy=page_policy(paper),
    )
    return f"{page}\n"


def _inside_a_page(svg: str, prefix: str) -> str:
    """Return the SVG element alone, its identifiers different from those of other pictures.

    How it looks stands in attributes: the policy of a page lets no other style in.
    """
    element = svg[svg.index("<svg") :]
    element, count = _OF_ALL.subn("", element, count=1)
    if count:
        element = element.replace("<svg", _ON_ALL, 1)
    return _IDENTIFIER.sub(rf"\g<1>{prefix}", _STYLE.sub(_as_attributes, element))


def _as_attributes(style: re.Match[str]) -> str:
    """Return what an element's style says as attributes, of which each may stand once."""
    parts = (part.partition(":") for part in style[1].split(";") if part.strip())
    said = {name.strip(): value.strip() for name, _, value in parts}
    return "".join(f' {name}="{value}"' for name, value in said.items())
