"""XML read with nothing but its own text: no entities, no other files, no network.

Writing refuses the signs that no XML holds, with the record that has them.
"""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

from lxml import etree

from bankside.gauging.faults import Fault, InputRefused

__all__ = ["line_of", "parsed_xml", "require_xml_text", "written_xml"]

MAX_BYTES = 64 * 1024 * 1024
# Each takes far more memory than its letters.
_MAX_TAGS = 5_000_000
# An error of the parser may repeat whatever stands there.
_REASON = 200

# XML 1.0, production [2]: every other character may stand in a document.
_NO_XML = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


def parsed_xml(path: Path) -> Any:
    """Return the root element of an XML file; InputRefused, with its line, where it is none."""
    try:
        with path.open("rb") as stream:
            content = stream.read(MAX_BYTES + 1)
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise _refused(f"could not be opened ({reason})") from None
    if len(content) > MAX_BYTES:
        limit = MAX_BYTES // (1024 * 1024)
        raise _refused(f"found more than {limit} MB; at most {limit} MB are read: split the file")
    if content.count(b"<") > _MAX_TAGS:
        raise _refused(
            f"found more than {_MAX_TAGS:,} tags; at most as many are read: split the file"
        )
    parser = etree.XMLParser(
        resolve_entities=False,
        no_network=True,
        load_dtd=False,
        huge_tree=False,
        remove_comments=True,
        remove_pis=True,
    )
    try:
        root = etree.fromstring(content, parser)
    except etree.XMLSyntaxError as error:
        reason = " ".join(str(error.msg).split())[:_REASON]
        raise _refused(f"found no XML that is whole ({reason})") from None
    if root.getroottree().docinfo.doctype:
        raise _refused("found a document type, which may pull in other files; XML without is right")
    return root


def line_of(element: Any) -> str:
    """Return where an element stands, as a fault has it."""
    return f"line {element.sourceline}"


def require_xml_text(text: str, place: str) -> str:
    """Return a text as it is; InputRefused where it has a sign that no XML can hold."""
    found = _NO_XML.search(text)
    if found is not None:
        message = f"found the sign U+{ord(found[0]):04X}, which no XML can hold; --to json holds it"
        raise InputRefused([Fault(message, path=place)])
    return text


def written_xml(root: Any) -> bytes:
    """Return a document as UTF-8, indented; equal trees give equal bytes."""
    etree.indent(root, "  ")
    content: bytes = etree.tostring(root, xml_declaration=True, encoding="UTF-8")
    return content + b"\n"


def _refused(message: str) -> InputRefused:
    return InputRefused([Fault(message)])
