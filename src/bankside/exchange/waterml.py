"""Gaugings as WaterML 2.0 part 2: observations with stage, discharge, section and verticals.

Source: OGC 15-018r2. The standard has no element for verticals: they stand in a data array that
the observation has as a parameter, as called; what is worked out is in SI. Equal input gives equal
bytes: no clock goes into them.
"""

from __future__ import annotations

import datetime
import math
from collections.abc import Sequence
from typing import Any

from lxml import etree

from bankside.exchange.data import ReadData, SurveyData
from bankside.exchange.left_out import fields_lost
from bankside.exchange.ucum import ucum_of
from bankside.exchange.waterml_names import (
    MISSING,
    NAMESPACES,
    child,
    named_value,
    reference,
    tag,
)
from bankside.exchange.waterml_read import WRITTEN_BY, gaugings_of_waterml
from bankside.exchange.waterml_site import add_site
from bankside.exchange.waterml_tables import add_section, add_tables
from bankside.exchange.xml_text import require_xml_text, written_xml
from bankside.gauging.mean_stage import mean_stage
from bankside.gauging.records import Gauging
from bankside.gauging.result import Result
from bankside.survey.visits import Visit

__all__ = ["waterml", "waterml_left_out"]

_PAIR = "stage-and-discharge"
_MANUAL = "http://www.opengis.net/def/waterml/2.0/processType/ManualMethod"


def waterml(data: SurveyData) -> bytes:
    """Return a collection of gauging observations and, for each, its section.

    InputRefused where a text has a sign that no XML can hold.
    """
    root = etree.Element(tag("wmlrgs:Collection"), nsmap=dict(NAMESPACES))
    root.set(tag("gml:id"), "gaugings")
    # A document that says when it was made is never made twice.
    written = child(root, "wml2:metadata", nilReason="other:reproducible")
    written.set(tag("xlink:title"), WRITTEN_BY)
    pair = child(child(root, "wmlrgs:propertyPairMember"), "wmlrgs:PropertyPair", gml_id=_PAIR)
    reference(pair, "wmlrgs:inputProperty", "stage")
    reference(pair, "wmlrgs:outputProperty", "discharge")
    visits: Sequence[Visit | None] = data.visits or [None] * len(data.gaugings)
    for number, (gauging, visit) in enumerate(zip(data.gaugings, visits, strict=True), 1):
        member = child(root, "wmlrgs:gaugingMember")
        _add_gauging(member, f"g{number}", gauging, visit)
    for number, gauging in enumerate(data.gaugings, 1):
        for place, _ in enumerate(gauging.channels):
            member = child(root, "wmlrgs:sectionMember")
            _add_section(member, f"g{number}", gauging, place)
    return written_xml(root)


def waterml_left_out(data: SurveyData, content: bytes) -> tuple[str, ...]:
    """Return what a document does not hold of the survey that it was made of, in sentences.

    It is read back, so that what is said is what is missing.
    """
    back = gaugings_of_waterml(etree.fromstring(content)) if data.gaugings else ReadData(data)
    lost = fields_lost(data.gaugings, back.data.gaugings)
    found = [f"WaterML does not hold of the gaugings: {', '.join(lost)}."] if lost else []
    if data.survey is not None:
        found.append("WaterML holds the sites of gaugings alone: no stream, no balance.")
    return tuple(found)


def _add_gauging(member: Any, id_: str, gauging: Gauging, visit: Visit | None) -> None:
    observation = child(member, "om:OM_Observation", gml_id=id_)
    if gauging.remarks is not None:
        child(observation, "gml:description", gauging.remarks)
    if gauging.id is not None:
        child(observation, "gml:identifier", gauging.id, codeSpace="urn:bankside:gauging")
    _add_times(observation, id_, gauging)
    _add_process(observation, id_, gauging, None if visit is None else visit.result)
    add_tables(observation, gauging)
    _add_conditions(observation, id_, gauging)
    _add_width_and_area(observation, id_, None if visit is None else visit.result)
    reference(observation, "om:observedProperty", "stage and discharge", f"#{_PAIR}")
    add_site(child(observation, "om:featureOfInterest"), id_, gauging.site)
    result = child(child(observation, "om:result"), "wmlrgs:Gauging")
    _add_stage(result, gauging, visit)
    _add_discharge(result, visit)


def _add_section(member: Any, id_: str, gauging: Gauging, channel: int) -> None:
    own = f"{id_}-section-{channel + 1}"
    observation = child(member, "om:OM_Observation", gml_id=own)
    child(observation, "gml:description", "Depth of the water along the tape, downwards.")
    _add_times(observation, own, gauging)
    reference(observation, "om:procedure", "wading with tape and rod")
    reference(observation, "om:observedProperty", "cross-section")
    reference(observation, "om:featureOfInterest", "the section", f"#{id_}-site")
    add_section(child(observation, "om:result"), gauging, channel)


def _add_times(observation: Any, id_: str, gauging: Gauging) -> None:
    """Add when it was observed: from start to end, as far as they are known, else the day."""
    begin = gauging.started or gauging.date
    when = child(observation, "om:phenomenonTime")
    if gauging.ended is None:
        _add_instant(when, f"{id_}-time", begin)
    else:
        period = child(when, "gml:TimePeriod", gml_id=f"{id_}-time")
        if begin is None:
            child(period, "gml:beginPosition", indeterminatePosition="unknown")
        else:
            child(period, "gml:beginPosition", begin.isoformat())
        child(period, "gml:endPosition", gauging.ended.isoformat())
    _add_instant(child(observation, "om:resultTime"), f"{id_}-end", gauging.ended or begin)


def _add_instant(parent: Any, id_: str, known: datetime.date | None) -> None:
    if known is None:
        parent.set("nilReason", "missing")
        return
    child(child(parent, "gml:TimeInstant", gml_id=id_), "gml:timePosition", known.isoformat())


def _add_process(observation: Any, id_: str, gauging: Gauging, result: Result | None) -> None:
    process = child(
        child(observation, "om:procedure"), "wmlrgs:GaugingProcess", gml_id=f"{id_}-process"
    )
    meter = gauging.meter
    reference(process, "wml2:processType", "by hand", _MANUAL)
    for name, value in (("meter", meter and meter.kind), ("serial", meter and meter.serial)):
        if value:
            named_value(process, "wml2:parameter", name).text = require_xml_text(value, name)
    if gauging.stage:
        reference(process, "wmlrgs:inputPropertyMethod", "mean gauge height")
    edges = "" if result is None or result.edge_rule is None else f", {result.edge_rule} edges"
    method = "" if result is None else f", {result.method}{edges}"
    reference(process, "wmlrgs:outputPropertyMethod", f"velocity-area by wading{method}")


def _add_conditions(observation: Any, id_: str, gauging: Gauging) -> None:
    """Add the first and the last stage that were read, where there are two."""
    if len(gauging.stage) < 2:
        return
    found = named_value(observation, "om:parameter", "observation conditions")
    conditions = child(found, "wmlrgs:ObservationConditions", gml_id=f"{id_}-conditions")
    ends = (("Start", gauging.stage[0]), ("End", gauging.stage[-1]))
    for name, stage in ends:
        value = child(conditions, f"wmlrgs:inputValue{name}OfObservation")
        _add_quantity(value, ucum_of(gauging.units.length), stage.value)


def _add_width_and_area(observation: Any, id_: str, result: Result | None) -> None:
    if result is None:
        return
    found = named_value(observation, "om:parameter", "stream gauging metadata")
    metadata = child(found, "wmlrgs:StreamGaugingMetadata", gml_id=f"{id_}-section")
    for name, unit, value in (
        ("crossSectionWidth", "m", result.width_m),
        ("crossSectionArea", "m2", result.area_m2),
        ("wettedPerimeter", "m", result.wetted_perimeter_m),
    ):
        _add_quantity(child(metadata, f"wmlrgs:{name}"), unit, value)


def _add_stage(result: Any, gauging: Gauging, visit: Visit | None) -> None:
    stage = mean_stage(gauging, None if visit is None else visit.result)
    if stage is None:
        reference(result, "wmlrgs:inputValue", "no stage was read", MISSING)
        return
    if not math.isfinite(stage.value):
        why = "the stages are too large for a mean"
        reference(result, "wmlrgs:inputValue", why, MISSING)
        return
    _add_quantity(child(result, "wmlrgs:inputValue"), ucum_of(stage.unit), stage.value)


def _add_discharge(result: Any, visit: Visit | None) -> None:
    if visit is None or visit.result is None:
        why = "it was not worked out" if visit is None else visit.refused
        reference(result, "wmlrgs:outputValue", why, MISSING)
        return
    budget = visit.told_budget
    _add_quantity(
        child(result, "wmlrgs:outputValue"),
        "m3/s",
        visit.result.discharge_m3s,
        None if budget is None else budget.expanded_percent,
    )


def _add_quantity(parent: Any, unit: str, value: float, percent: float | None = None) -> None:
    quantity = child(parent, "swe:Quantity")
    if percent is not None:
        quality = child(child(quantity, "swe:quality"), "swe:Quantity")
        child(quality, "swe:label", "half the interval that holds it about 19 times in 20")
        child(quality, "swe:uom", code="%")
        child(quality, "swe:value", repr(float(percent)))
    child(quantity, "swe:uom", code=unit)
    child(quantity, "swe:value", repr(float(value)))
