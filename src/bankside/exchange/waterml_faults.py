"""What is wrong with a WaterML document though its schema may let it pass.

The schema of Observations and Measurements takes anything for a result and asks little of dates,
units and ids, so that a document can be valid and say nothing.
"""

from __future__ import annotations

import datetime
import difflib
import math
import re
from collections.abc import Iterator
from typing import Any

from bankside.exchange.ucum import UCUM
from bankside.exchange.waterml_names import name_of, tag, texts_in
from bankside.exchange.xml_text import line_of
from bankside.gauging.faults import Fault
from bankside.gauging.fields import shown

__all__ = ["observations_in", "waterml_faults"]

_NEEDS_ID = {
    tag(name)
    for name in (
        *("om:OM_Observation", "wmlrgs:Collection", "wmlrgs:GaugingProcess", "wmlrgs:PropertyPair"),
        *("wmlrgs:StreamGaugingMetadata", "wmlrgs:ObservationConditions", "wml2:MonitoringPoint"),
        *("gml:TimePeriod", "gml:TimeInstant", "gml:Point"),
    )
}
_TIMES = {tag(f"gml:{name}") for name in ("timePosition", "beginPosition", "endPosition")}
_FLOW_UNITS = {UCUM[unit] for unit in ("m3/s", "ft3/s", "L/s")} | {"[cft_i]/s", "l/s"}
_LENGTH_UNITS = {UCUM[unit] for unit in ("ft", "in", "m", "cm", "mm")}
_OTHER_UNITS = {"%", "1", "s", "/s", "deg", "m2", "[ft_i]2", "min", "h", "Cel"}
_KNOWN_UNITS = {*UCUM.values(), *_FLOW_UNITS, *_OTHER_UNITS}
_DAY = re.compile(r"\d{4}-\d{2}-\d{2}", re.ASCII)
_MOMENT = re.compile(r"\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2}(\.\d+)?(Z|[+-]\d{2}:\d{2})?", re.ASCII)


def observations_in(root: Any) -> list[Any]:
    """Return the gauging observations of a document, in their order, sections not among them."""
    if root.tag == tag("om:OM_Observation"):
        return [root]
    path = "/".join(map(tag, ("wmlrgs:gaugingMember", "om:OM_Observation")))
    return list(root.findall(path))


def waterml_faults(root: Any) -> tuple[Fault, ...]:
    """Return what is wrong with a document beyond its schema, each with its element and line."""
    found = [*_of_ids(root), *_of_times(root), *_of_units(root), *_of_numbers(root)]
    for observation in observations_in(root):
        found += _of_result(observation)
    return tuple(found)


def _of_ids(root: Any) -> Iterator[Fault]:
    seen: dict[str, Any] = {}
    for element in root.iter():
        id_ = element.get(tag("gml:id"))
        if id_ is None and element.tag in _NEEDS_ID:
            yield _fault(element, "found no gml:id; one that no other element has would be right")
        elif id_ is not None and seen.setdefault(id_, element) is not element:
            message = f"found the gml:id {shown(id_)} again, as in {line_of(seen[id_])}"
            yield _fault(element, f"{message}; one of its own would be right")


def _of_times(root: Any) -> Iterator[Fault]:
    for element in root.iter(*_TIMES):
        text = (element.text or "").strip()
        if element.get("indeterminatePosition") is None and not _is_time(text):
            message = f"found {shown(text)}; a day or a moment such as 2026-07-14T10:05:00-07:00"
            yield _fault(element, f"{message} would be right")


def _is_time(text: str) -> bool:
    try:
        if _DAY.fullmatch(text):
            return bool(datetime.date.fromisoformat(text))
        return bool(_MOMENT.fullmatch(text) and datetime.datetime.fromisoformat(text))
    except ValueError:
        return False


def _of_units(root: Any) -> Iterator[Fault]:
    for element in root.iter(tag("swe:uom")):
        code = element.get("code")
        if code is None and element.get(tag("xlink:href")) is None:
            yield _fault(element, "found no unit; a code of UCUM such as m3/s would be right")
        elif code is not None and code not in _KNOWN_UNITS:
            close = difflib.get_close_matches(code, sorted(_KNOWN_UNITS), n=1, cutoff=0.4)
            hint = f", such as {close[0]}" if close else ""
            yield _fault(
                element, f"found the unit {shown(code)}; a code of UCUM{hint} would be right"
            )


def _of_numbers(root: Any) -> Iterator[Fault]:
    """Yield values of quantities that are no finite numbers; a value may say that it is missing."""
    for element in root.iter(tag("swe:value")):
        if element.getparent().tag != tag("swe:Quantity"):
            continue
        text = (element.text or "").strip()
        missing = texts_in(element.getparent(), "swe:nilValues/swe:NilValues/swe:nilValue")
        try:
            number = float(text)
        except ValueError:
            number = math.nan
        if not math.isfinite(number) and text not in [nil.strip() for nil in missing]:
            yield _fault(element, f"found {shown(text)}; a number would be right")


def _of_result(observation: Any) -> Iterator[Fault]:
    result = observation.find(tag("om:result"))
    if result is None:
        yield _fault(observation, "found no om:result; one with wmlrgs:Gauging would be right")
        return
    right = "wmlrgs:Gauging with inputValue and outputValue would be right"
    if len(result) != 1:
        told = (result.text or "").strip()
        yield _fault(result, f"found {shown(told) if told else 'nothing'}; {right}")
        return
    (gauging,) = result
    if gauging.tag != tag("wmlrgs:Gauging"):
        yield _fault(gauging, f"found {_shown_name(gauging)}; {right}")
        return
    wanted = [tag("wmlrgs:inputValue"), tag("wmlrgs:outputValue")]
    if [value.tag for value in gauging] != wanted:
        names = ", ".join(map(_shown_name, gauging)) or "nothing"
        yield _fault(gauging, f"found {names}; inputValue and outputValue would be right")
        return
    for value, units, what in zip(
        gauging, (_LENGTH_UNITS, _FLOW_UNITS), ("stage", "discharge"), strict=True
    ):
        yield from _of_value(value, units, what)


def _of_value(value: Any, units: set[str], what: str) -> Iterator[Fault]:
    refers = value.get(tag("xlink:href")) is not None or value.get("nilReason") is not None
    quantity = value.find(tag("swe:Quantity"))
    if quantity is None:
        if not refers:
            told = (value.text or "").strip() or "nothing"
            yield _fault(value, f"found {shown(told)}; a swe:Quantity would be right")
        return
    unit = quantity.find(tag("swe:uom"))
    code = None if unit is None else unit.get("code")
    if code is not None and code in _KNOWN_UNITS and code not in units:
        right = ", ".join(sorted(units))
        yield _fault(
            unit, f"found {shown(code)}, which is no unit of {what}; one of {right} is right"
        )
    if not texts_in(quantity, "swe:value"):
        yield _fault(quantity, "found no swe:value; a number would be right")


def _shown_name(element: Any) -> str:
    name = name_of(element)
    return name if ":" in name else f"{name} of another namespace"


def _fault(element: Any, message: str) -> Fault:
    return Fault(message, path=f"{name_of(element)} ({line_of(element)})")
