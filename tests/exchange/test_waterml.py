"""WaterML 2.0 part 2: valid by its schema and beyond it, and the readings come back."""

import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import attrs
import pytest
from hypothesis import given, settings
from lxml import etree

from bankside.exchange.data import SurveyData
from bankside.exchange.left_out import fields_lost
from bankside.exchange.waterml import waterml, waterml_left_out
from bankside.exchange.waterml_faults import waterml_faults
from bankside.exchange.waterml_read import WRITTEN_BY, gaugings_of_waterml, read_waterml
from bankside.gauging.compute import compute
from bankside.gauging.faults import InputRefused
from bankside.gauging.records import Channel, Gauging, StageReading

from .building import BASIN, FIRST, SECOND, SURVEY, demo_gaugings, with_visits
from .strategies import full_gaugings

SCHEMAS = Path(__file__).parents[2] / "../shared/schemas/waterml2_part2"
ROOT_SCHEMA = SCHEMAS / "schemas.opengis.net/waterml/part2/1.0/waterml2-part2.xsd"
EXAMPLE = SCHEMAS / "example_gauging_with_verticals.xml"
NO_XML = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")

SPACES = {
    "om": "http://www.opengis.net/om/2.0",
    "swe": "http://www.opengis.net/swe/2.0",
    "wmlrgs": "http://www.opengis.net/waterml/part2/1.0",
    "gml": "http://www.opengis.net/gml/3.2",
}

beside = pytest.mark.skipif(
    not ROOT_SCHEMA.exists(), reason="the schemas of the OGC are not beside this repository"
)


class _Offline(etree.Resolver):
    """Every schema from the folder beside the repository, none from the network."""

    def resolve(self, url: str, pubid: Any, context: Any) -> Any:
        for scheme in ("http://", "https://"):
            if url.startswith(scheme):
                return self.resolve_filename(str(SCHEMAS / url.removeprefix(scheme)), context)
        return None


@pytest.fixture(scope="module")
def schema() -> Any:
    """The schema that the OGC publishes."""
    parser = etree.XMLParser(no_network=True, resolve_entities=False)
    parser.resolvers.add(_Offline())
    return etree.XMLSchema(etree.parse(ROOT_SCHEMA, parser))


def _errors(schema: Any, content: bytes) -> list[str]:
    root = etree.fromstring(content)
    schema.validate(root)
    return [f"line {error.line}: {error.message}" for error in schema.error_log]


def _without_what_xml_cannot_hold(value: Any) -> Any:
    """A record whose texts have no sign that no XML holds."""
    if isinstance(value, str):
        return NO_XML.sub("?", value)
    if isinstance(value, tuple):
        return tuple(map(_without_what_xml_cannot_hold, value))
    if attrs.has(type(value)):
        fields = {f.name: getattr(value, f.name) for f in attrs.fields(type(value))}
        return type(value)(**{k: _without_what_xml_cannot_hold(v) for k, v in fields.items()})
    return value


def _readings(gauging: Gauging) -> list[Any]:
    """All that was called at the verticals, channels without any left out."""
    return [
        [attrs.evolve(vertical, remark=None) for vertical in channel.verticals]
        for channel in gauging.channels
        if channel.verticals
    ]


@beside
@pytest.mark.parametrize(
    "data",
    [BASIN, SurveyData(None, (FIRST, SECOND)), with_visits(SurveyData(None, demo_gaugings()))],
    ids=["basin", "nothing worked out", "demo"],
)
def test_documents_are_valid(data: SurveyData, schema: Any) -> None:
    """The schema of the OGC takes what is written, and the checks beyond it find nothing."""
    content = waterml(data)

    assert _errors(schema, content) == []
    assert waterml_faults(etree.fromstring(content)) == ()


@beside
def test_any_gauging_makes_a_valid_document(schema: Any) -> None:
    """Whatever a record holds or lacks, the document is valid, and its readings come back."""

    @settings(max_examples=60)
    @given(full_gaugings())
    def is_valid(drawn: Gauging) -> None:
        gauging = _without_what_xml_cannot_hold(drawn)
        content = waterml(SurveyData(None, (gauging,)))
        assert _errors(schema, content) == []
        (back,) = gaugings_of_waterml(etree.fromstring(content)).data.gaugings
        assert _readings(back) == _readings(gauging)
        assert (back.stage, back.started, back.ended) == (
            *(gauging.stage, gauging.started, gauging.ended),
        )
        assert back.units.velocity == gauging.units.velocity

    is_valid()


@pytest.mark.parametrize("gauging", [*BASIN.gaugings, *demo_gaugings()])
def test_the_discharge_comes_back(gauging: Gauging) -> None:
    """What was written as readings gives the very same figure again."""
    content = waterml(SurveyData(None, (gauging,)))
    (back,) = gaugings_of_waterml(etree.fromstring(content)).data.gaugings

    assert compute(back).discharge_m3s == compute(gauging).discharge_m3s


def test_a_zero_is_a_figure() -> None:
    """A field whose only figure is 0 is kept: an angle of 0° was looked at, no angle was not."""
    (channel,) = SECOND.channels
    (first, second, *others) = channel.verticals
    section = Channel((first, attrs.evolve(second, angle=0.0), *others))
    gauging = attrs.evolve(SECOND, channels=(section,))

    (back,) = gaugings_of_waterml(
        etree.fromstring(waterml(SurveyData(None, (gauging,))))
    ).data.gaugings
    assert [vertical.angle for vertical in back.channels[0].verticals] == [None, 0.0, None, None]


@beside
def test_stages_beyond_any_mean_are_told(schema: Any) -> None:
    """Where the mean is no number, the value refers to what is missing, and stays valid."""
    huge = attrs.evolve(FIRST, stage=(StageReading(1.7e308), StageReading(1.7e308)))
    content = waterml(SurveyData(None, (huge,)))

    assert _errors(schema, content) == []
    assert b"the stages are too large for a mean" in content


def test_results_are_where_the_standard_has_them() -> None:
    """Stage and discharge, with their units by UCUM, and width and area of the section."""
    root = etree.fromstring(waterml(BASIN))

    def figures(path: str) -> list[tuple[str, str]]:
        return [
            (found.find("swe:uom", SPACES).get("code"), found.findtext("swe:value", None, SPACES))
            for found in root.iterfind(f".//{path}/swe:Quantity", SPACES)
        ]

    first, second = (visit.result for visit in BASIN.visits)
    assert first is not None and second is not None
    assert figures("wmlrgs:outputValue") == [
        ("m3/s", repr(first.discharge_m3s)),
        ("m3/s", repr(second.discharge_m3s)),
    ]
    # Of the first two stages were read, of the second none: it refers to what is missing.
    ((unit, stage),) = figures("wmlrgs:inputValue")
    assert unit == "[ft_i]" and 1.41 <= float(stage) <= 1.42
    assert figures("wmlrgs:crossSectionWidth")[1] == ("m", repr(second.width_m))
    uoms = {found.get("code") for found in root.iterfind(".//swe:field//swe:uom", SPACES)}
    assert {"[ft_i]", "[ft_i]/s", "m", "cm", "m/s", "s", "deg"} <= uoms
    assert len(root.findall("wmlrgs:sectionMember", SPACES)) == 3


def test_equal_surveys_are_equal_bytes() -> None:
    """No clock goes into a document."""
    assert waterml(BASIN) == waterml(BASIN)


def test_what_is_left_out_is_what_does_not_come_back() -> None:
    """The sentence names each field that is lost, and none that is not."""
    (line, sites) = waterml_left_out(BASIN, waterml(BASIN))

    for name in ("crew", "corrections", "answers", "channels.verticals.remark", "filed.panels"):
        assert name in line
    for name in ("velocity", "stage", "rating", "started", "site.name", "remarks,"):
        assert name not in line
    assert "no stream" in sites
    bare = Gauging(SECOND.units, SECOND.channels, meter=SECOND.meter)
    assert waterml_left_out(SurveyData(None, (bare,)), waterml(SurveyData(None, (bare,)))) == ()


def test_lost_fields_are_named_from_the_gauging_on() -> None:
    """A difference deep in a record is named by its way there, once; a list by its own name."""
    (channel, *others) = FIRST.channels
    other = attrs.evolve(
        FIRST,
        quality=None,
        crew=(),
        channels=(Channel(channel.verticals, "another"), *others),
    )

    assert fields_lost((FIRST, SECOND), (other, SECOND)) == ("channels.name", "crew", "quality")


@beside
def test_a_document_of_others_is_read() -> None:
    """Three fields are enough; stage and discharge of others are kept, as they cannot be made."""
    found = read_waterml(EXAMPLE)

    (gauging,) = found.data.gaugings
    assert gauging.site.name == "ANTI-101-S"
    assert len(gauging.channels[0].verticals) == 13
    assert gauging.channels[0].verticals[6].velocity[0].value == 0.53
    assert gauging.filed is not None
    assert (gauging.filed.discharge, gauging.filed.unit) == (0.09676, "m3/s")
    assert found.notes == ()


def _of_others() -> str:
    """A document with a discharge that somebody else worked out, and none that was filed."""
    visits = with_visits(SurveyData(None, (attrs.evolve(FIRST, filed=None),)))
    return waterml(visits).decode().replace(WRITTEN_BY, "Written by hand")


@pytest.mark.parametrize(
    ("old", "new", "filed"),
    [
        (r"(m3/s\"/>\s*<swe:value>)[^<]*", r"\g<1>0.25", 0.25),
        (
            r"<swe:uom code=\"m3/s\"/>\s*<swe:value>[^<]*",
            '<swe:nilValues><swe:NilValues><swe:nilValue reason="missing">none</swe:nilValue>'
            '</swe:NilValues></swe:nilValues><swe:uom code="m3/s"/><swe:value>none',
            None,
        ),
    ],
)
def test_a_discharge_that_others_miss_is_none(old: str, new: str, filed: float | None) -> None:
    """A value that the document itself calls missing is no discharge."""
    text = _of_others()
    changed, count = re.subn(old, new, text, count=1)
    assert count == 1
    (gauging,) = gaugings_of_waterml(etree.fromstring(changed.encode())).data.gaugings
    assert (gauging.filed and gauging.filed.discharge) == filed


def test_a_discharge_of_others_needs_its_unit() -> None:
    """Without a unit nobody knows what the figure means."""
    text = _of_others()
    changed = text.replace('<swe:uom code="m3/s"/>', "", 1)
    with pytest.raises(InputRefused, match=r'a unit must be one of m3/s.*\(got "none"\)'):
        gaugings_of_waterml(etree.fromstring(changed.encode()))


def test_strange_fields_are_named() -> None:
    """What somebody else puts beside a vertical is told, not passed over."""
    text = waterml(SurveyData(None, (SECOND,))).decode()
    changed = text.replace('name="revolutions"', 'name="clicks"')
    with pytest.raises(InputRefused, match="value must be given"):
        gaugings_of_waterml(etree.fromstring(changed.encode()))

    changed = text.replace('name="rod_setting"', 'name="staff"')
    (note,) = gaugings_of_waterml(etree.fromstring(changed.encode())).notes
    assert note.endswith("the fields staff are not known, and were not read.")


def _swap(old: str, new: str) -> Callable[[str], str]:
    def change(text: str) -> str:
        assert old in text, old
        return text.replace(old, new, 1)

    return change


def _result(text: str, inner: str) -> str:
    """The document with other content in the result of its gauging."""
    whole = re.compile(r"<om:result>\s*<wmlrgs:Gauging>.*?</om:result>", re.DOTALL)
    return whole.sub(f"<om:result>{inner}</om:result>", text, count=1)


def _renamed(name: str, new: str) -> Callable[[str], str]:
    """A change that gives an element another name, where it begins and where it ends."""
    return lambda text: re.sub(rf"(</?){name}>", rf"\1{new}>", text)


BROKEN = [
    ("a bare number", lambda t: _result(t, "0.195"),
     ["om:result (line ", 'found "0.195"; wmlrgs:Gauging with inputValue and outputValue']),
    ("no result", lambda t: _result(t, ""), ["om:result (line ", "found nothing"]),
    ("a misspelled result", _renamed("wmlrgs:Gauging", "wmlrgs:Guaging"),
     ["wmlrgs:Guaging (line ", "found wmlrgs:Guaging; wmlrgs:Gauging with"]),
    ("a misspelled value", _renamed("wmlrgs:outputValue", "wmlrgs:outputValues"),
     ["wmlrgs:Gauging (line ", "found wmlrgs:inputValue, wmlrgs:outputValues"]),
    ("a date of another country", _swap(">2026-07-14T10:05:00-07:00<", ">14.07.2026 10:05<"),
     ["gml:beginPosition (line ", 'found "14.07.2026 10:05"; a day or a moment such as']),
    ("a day that is none", _swap(">2026-07-14T10:05:00-07:00<", ">2026-02-30<"), ['"2026-02-30"']),
    ("NaN as discharge", lambda t: re.sub(r"(m3/s\"/>\s*<swe:value>)[^<]*", r"\1NaN", t, count=1),
     ["swe:value (line ", 'found "NaN"; a number would be right']),
    ("INF as discharge", lambda t: re.sub(r"(m3/s\"/>\s*<swe:value>)[^<]*", r"\1INF", t, count=1),
     ['found "INF"']),
    ("a decimal comma", lambda t: re.sub(r"(m3/s\"/>\s*<swe:value>)[^<]*", r"\g<1>0,2", t, count=1),
     ['found "0,2"']),
    ("no gml:id", _swap('<om:OM_Observation gml:id="g1">', "<om:OM_Observation>"),
     ["om:OM_Observation (line ", "found no gml:id"]),
    ("one gml:id twice", _swap('gml:id="g1-time"', 'gml:id="g1"'),
     ['found the gml:id "g1" again, as in line']),
    ("a unit of nobody", _swap('<swe:uom code="m3/s"/>', '<swe:uom code="cumecs"/>'),
     ["swe:uom (line ", 'found the unit "cumecs"']),
    ("a unit of another thing", _swap('<swe:uom code="m3/s"/>', '<swe:uom code="m/s"/>'),
     ['found "m/s", which is no unit of discharge; one of']),
    ("no unit", _swap('<swe:uom code="m3/s"/>', "<swe:uom/>"), ["found no unit; a code of UCUM"]),
    ("a word among the verticals", _swap("0,4.0,1.25,", "0,4.0,deep,"),
     ["row 2 of the values (line ", 'depth: found "deep"; a number would be right']),
    ("a cell missing", _swap("0,4.0,1.25,", "0,4.0,"), ["row 2 of the values", "cells for"]),
    ("a row lost", _swap(" 0,8.0,1.0,", " "), ["cells for"]),
    ("a row too few", lambda t: re.sub(r" 0,10\.0,\S*", "", t, count=1),
     ["swe:DataArray (line ", "found 9 rows where elementCount says 10"]),
    ("a negative depth", _swap("0,4.0,1.25,", "0,4.0,-1.25,"),
     ["observation g1 (line ", "channels[0].verticals[1].depth", "(got -1.25)"]),
    ("a unit of depth", _swap('<swe:uom code="[ft_i]"/>', '<swe:uom code="s"/>'),
     ["field distance", 'one of [ft_i], [in_i], m, cm, mm, by UCUM (got "s")']),
    ("no verticals", _swap('name="distance"', 'name="offset"'), ["no array of verticals"]),
]  # fmt: skip


@pytest.mark.parametrize(
    ("change", "says"), [pytest.param(change, says, id=name) for name, change, says in BROKEN]
)
def test_what_the_schema_misses_is_found(
    change: Callable[[str], str], says: list[str], tmp_path: Path
) -> None:
    """One sentence says the file, the element and its line, what was found, what is right."""
    path = tmp_path / "basin.xml"
    text = change(waterml(with_visits(SurveyData(SURVEY, (FIRST,)))).decode())
    path.write_text(text, encoding="utf-8")

    with pytest.raises(InputRefused) as refused:
        read_waterml(path)

    sentences = [str(fault) for fault in refused.value.faults]
    assert all(sentence.startswith("basin.xml, ") for sentence in sentences), sentences
    assert [s for s in sentences if all(part in s for part in says)], sentences


@pytest.mark.parametrize(
    "text", ["<a/>", "", '<gml:Point xmlns:gml="http://www.opengis.net/gml/3.2"/>', "<a", "\0"]
)
def test_what_is_no_waterml_is_refused(text: str, tmp_path: Path) -> None:
    """Other XML, and what is no XML, is one sentence about the file."""
    path = tmp_path / "basin.xml"
    path.write_text(text, encoding="utf-8")

    with pytest.raises(InputRefused, match=r"^basin\.xml: found "):
        read_waterml(path)


def test_a_sign_that_no_xml_holds_is_refused() -> None:
    """A control sign in a remark stops the document."""
    with pytest.raises(InputRefused, match=r"U\+0001, which no XML can hold; --to json holds it"):
        waterml(SurveyData(None, (attrs.evolve(FIRST, remarks="a\x01"),)))
