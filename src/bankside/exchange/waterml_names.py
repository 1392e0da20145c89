"""The names of WaterML 2.0 part 2 and of the standards below it, and elements made of them.

Source: OGC 15-018r2 (WaterML 2.0 part 2), OGC 10-025r1 (Observations and Measurements), OGC
08-094r1 (SWE Common 2.0), OGC 07-036 (GML 3.2.1).
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from lxml import etree

from bankside.exchange.xml_text import require_xml_text

__all__ = [
    "MISSING",
    "NAMESPACES",
    "child",
    "name_of",
    "named_value",
    "reference",
    "tag",
    "texts_in",
]

NAMESPACES: Mapping[str, str] = {
    "wmlrgs": "http://www.opengis.net/waterml/part2/1.0",
    "wml2": "http://www.opengis.net/waterml/2.0",
    "om": "http://www.opengis.net/om/2.0",
    "sams": "http://www.opengis.net/samplingSpatial/2.0",
    "sam": "http://www.opengis.net/sampling/2.0",
    "swe": "http://www.opengis.net/swe/2.0",
    "gml": "http://www.opengis.net/gml/3.2",
    "xlink": "http://www.w3.org/1999/xlink",
}

MISSING = "http://www.opengis.net/def/nil/OGC/0/missing"
"""What a value that is not there refers to."""


def tag(name: str) -> str:
    """Return a name such as om:result as a tree has it; without a prefix it stays as it is."""
    prefix, colon, local = name.rpartition(":")
    return f"{{{NAMESPACES[prefix]}}}{local}" if colon else local


def name_of(element: Any) -> str:
    """Return what an element is called, with the usual prefix where its namespace has one."""
    found = etree.QName(element)
    prefix = next((p for p, space in NAMESPACES.items() if space == found.namespace), None)
    return f"{prefix}:{found.localname}" if prefix is not None else str(found.localname)


def child(parent: Any, name: str, text: str | None = None, /, **attributes: str) -> Any:
    """Add an element; an attribute is named with `_` for the colon, such as gml_id.

    InputRefused where a text has a sign that no XML can hold.
    """
    element = etree.SubElement(parent, tag(name))
    for key, value in attributes.items():
        element.set(tag(key.replace("_", ":", 1)), require_xml_text(value, name))
    if text is not None:
        element.text = require_xml_text(text, name)
    return element


def reference(parent: Any, name: str, title: str, href: str | None = None) -> Any:
    """Add an element that refers to something by its title, and by an address where it has one."""
    element = child(parent, name)
    if href is not None:
        element.set(tag("xlink:href"), href)
    element.set(tag("xlink:title"), require_xml_text(title, name))
    return element


def named_value(parent: Any, member: str, name: str) -> Any:
    """Add a named value, such as a parameter of an observation; return where its value goes."""
    named = child(child(parent, member), "om:NamedValue")
    reference(named, "om:name", name, f"urn:bankside:{name.replace(' ', '-')}")
    return child(named, "om:value")


def texts_in(parent: Any, path: str) -> list[str]:
    """Return the texts of the elements at a path such as gml:name."""
    found = parent.findall("/".join(tag(step) for step in path.split("/")))
    return [element.text or "" for element in found]
