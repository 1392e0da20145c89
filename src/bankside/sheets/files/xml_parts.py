"""The XML parts of a workbook, parsed without document types and so without entities."""

from __future__ import annotations

from collections.abc import Mapping
from xml.parsers import expat

from bankside.sheets.files.workbook_faults import Damaged

__all__ = ["local_name", "parse_part"]


def parse_part(part: bytes, handlers: Mapping[str, object], name: str) -> None:
    """Run an XML part through handlers; refuse document types, and so every entity of its own.

    `handlers` are functions under the names that the expat parser has for them. Raises Damaged,
    and ExpatError for what is no XML.
    """

    def refuse_document_type(*_: object) -> None:
        raise Damaged(f"{name} declares a document type, which no workbook does")

    parser = expat.ParserCreate(namespace_separator=" ")
    parser.buffer_text = True
    parser.StartDoctypeDeclHandler = refuse_document_type
    for handler, function in handlers.items():
        setattr(parser, handler, function)
    parser.Parse(part, True)


def local_name(name: str) -> str:
    """Return an XML name without its namespace."""
    return name.rpartition(" ")[2]
