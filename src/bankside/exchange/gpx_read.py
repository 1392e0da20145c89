"""The way points of a receiver, out of a GPX file.

Source: GPX 1.1 Schema Documentation, topografix.com/GPX/1/1, and 1/0 (from memory).
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import attrs
from lxml import etree

from bankside.exchange.gpx import CREATOR, GAUGING, NAMESPACE
from bankside.exchange.named_points import NamedPoint
from bankside.exchange.xml_text import line_of, parsed_xml
from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.fields import shown
from bankside.gauging.records import Position

__all__ = ["read_gpx"]

_EDITIONS = (NAMESPACE, "http://www.topografix.com/GPX/1/0")
_DEGREES = re.compile(r"[+-]?\d+(\.\d+)?", re.ASCII)
# What else a way point says, and how a remark has it.
_SAID = (("ele", "elevation {} m"), ("time", "{}"), ("cmt", "{}"), ("desc", "{}"))


def read_gpx(path: Path, name: str | None = None) -> tuple[tuple[NamedPoint, ...], tuple[str, ...]]:
    """Return the way points of a GPX file, and what of it was not read, in sentences.

    Elevation, time and description are kept as remarks. `name`, the file as people know it, goes
    into every fault. InputRefused with every fault, each with the way point and its line.
    """
    try:
        return _read(parsed_xml(path))
    except InputRefused as error:
        known = name or path.name
        raise InputRefused(attrs.evolve(fault, file=known) for fault in error.faults) from None


def _read(root: Any) -> tuple[tuple[NamedPoint, ...], tuple[str, ...]]:
    kind = etree.QName(root)
    if kind.localname != "gpx" or kind.namespace not in _EDITIONS:
        raise InputRefused([Fault("found XML that is no GPX 1.1 or 1.0; GPX would be right")])
    space = f"{{{kind.namespace}}}"
    elements = list(enumerate(root.findall(f"{space}wpt"), 1))
    ours = [e for _, e in elements if root.get("creator") == CREATOR and _is_gauging(e, space)]
    points: list[NamedPoint] = []
    faults: list[Fault] = []
    notes: list[str] = []
    for number, element in elements:
        if element in ours:
            continue
        place = f"way point {number} ({line_of(element)})"
        label = _text(element, space, "name")
        if not label:
            notes.append(f"The {place} has no name, and was not used.")
            continue
        try:
            position = _position(element, label)
        except InputRefused as refused:
            faults += [attrs.evolve(fault, path=place) for fault in refused.faults]
            continue
        points.append(NamedPoint(label, position, _remark(element, space), place))
    if faults:
        raise InputRefused(faults)
    return tuple(points), (*notes, *_others(root, space, len(ours)))


def _others(root: Any, space: str, gaugings: int) -> Iterator[str]:
    if gaugings:
        yield f"{gaugings} gaugings in it were not read: they hold no readings."
    for name, words in (("rte", "routes"), ("trk", "tracks")):
        count = len(root.findall(f"{space}{name}"))
        if count:
            yield f"{count} {words} in it were not read: way points alone are."


def _is_gauging(element: Any, space: str) -> bool:
    return _text(element, space, "type") == GAUGING


def _text(element: Any, space: str, name: str) -> str:
    return " ".join((element.findtext(f"{space}{name}") or "").split())


def _position(element: Any, label: str) -> Position:
    figures = []
    for key in ("lon", "lat"):
        text = (element.get(key) or "").strip()
        if not _DEGREES.fullmatch(text):
            found = shown(text) if text else "nothing"
            message = f"{key}: found {found}; degrees such as 45.6012 would be right"
            raise InputRefused([Fault(message)])
        figures.append(float(text))
    return Position(figures[0], figures[1], label=label)


def _remark(element: Any, space: str) -> str:
    told = ((words, _text(element, space, name)) for name, words in _SAID)
    return ", ".join(dict.fromkeys(words.format(text) for words, text in told if text))
