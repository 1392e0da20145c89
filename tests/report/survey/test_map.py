"""The map of a survey: what is on it, how large it is, and that it can be read."""

import itertools
import math
import re
from xml.etree import ElementTree

import attrs
import pytest

from bankside.gauging.records import Position
from bankside.report.survey.map_content import MapBy, MapSite, MapStream, SurveyMap
from bankside.report.survey.map_frame import MapFrame, frame_of
from bankside.report.survey.map_furniture import LARGEST_MM, radius_mm, scale_bar_m
from bankside.report.survey.map_labels import Box, Mark, place_labels
from bankside.report.survey.map_part import map_part, survey_map
from bankside.report.survey.map_picture import draw_survey_map
from bankside.report.survey.stream_names import name_along, points_along

from ...note.gaugings import ENDLESS, HOSTILE
from .geodesic import metres_between
from .surveys import demo_material, demo_survey, small, three


def shown() -> SurveyMap:
    """The map of the demonstration."""
    found = survey_map(demo_material(), "discharge")
    assert found is not None
    return found


def test_every_site_with_a_position_is_on_it() -> None:
    """What has no position is named below, what has no discharge is shown without."""
    found = shown()

    labels = {site.label for site in found.sites}
    assert labels == {site.label for site in demo_survey().sites} - {"MW-01"}
    assert [site.label for site in found.sites if not site.words] == ["SB-03"]
    part = map_part(demo_material(), found, "discharge")
    assert "Not on the map, as no position is known: MW-01." in part.below
    assert {stream.name for stream in found.streams if stream.trunk} == {"Mere Water"}


def test_the_last_day_stands_for_a_site_and_repeats_for_their_mean() -> None:
    """AF-01 was gauged on 22 and on 29 July; QB-02 twice on one day, by two crews that agree."""
    words = {site.label: site.words for site in shown().sites}

    assert words["AF-01"] == "0.654"
    pair = [
        float(one.visit.final_m3s or 0)
        for one in demo_material().surveyed
        if one.visit.site is not None and one.visit.site.id == "QB-02"
    ]
    assert len(pair) == 2 and float(words["QB-02"]) == pytest.approx(sum(pair) / 2, rel=0.004)
    assert words["TR-02"] == "0.182"  # the unfinished gauging stands for nothing


@pytest.mark.parametrize(
    ("by", "figures"), [("discharge", (2.698, 3.040)), ("unit-discharge", None)]
)
def test_no_mean_of_duplicates_that_disagree_is_on_it(
    by: MapBy, figures: tuple[float, float] | None
) -> None:
    """At MW-02 the crews found 2.70 and 3.04 m³/s: both stand there, with a cross for a mark."""
    found = survey_map(demo_material(), by)
    assert found is not None
    (site,) = (site for site in found.sites if site.label == "MW-02")

    assert site.value is None
    told = [float(word) for word in site.words.split(" or ")]
    if figures is not None:
        assert told == pytest.approx(figures, rel=0.002)
    assert told[1] / told[0] == pytest.approx(3.040 / 2.698, rel=0.01)
    below = map_part(demo_material(), found, by).below
    assert "Duplicates disagree at MW-02: each figure stands there, and no mean of them." in below


def test_marks_can_go_by_discharge_for_each_area() -> None:
    """Then a site without an area has none."""
    found = survey_map(demo_material(), "unit-discharge")
    assert found is not None
    words = {site.label: site.words for site in found.sites}

    assert found.unit == "L/s/km²"
    assert words["SB-02"] == "7.27"  # 0.1003 m³/s from 13.8 km²
    assert words["QL-01"] == ""


@pytest.mark.parametrize("lat", [0.0, 45.6, -67.0])
def test_the_scale_bar_is_as_long_as_it_says(lat: float) -> None:
    """Laid on the middle of the map, its ends are so many metres apart on the ellipsoid."""
    frame = frame_of([(-1.40, lat - 0.08), (-1.22, lat + 0.08)])
    long_mm = scale_bar_m(frame) / frame.metres_per_mm
    middle = frame.width_mm / 2, frame.height_mm / 2

    for east, north in ((long_mm / 2, 0.0), (0.0, long_mm / 2)):
        ends = [
            _lon_lat(frame, (middle[0] + sign * east, middle[1] + sign * north)) for sign in (-1, 1)
        ]
        assert metres_between(*ends) == pytest.approx(scale_bar_m(frame), rel=1e-4)
        apart = math.dist(*(frame.on_paper(end) for end in ends))
        assert apart == pytest.approx(long_mm, rel=1e-6)
    assert 20 < long_mm <= 50


def _lon_lat(frame: MapFrame, paper: tuple[float, float]) -> tuple[float, float]:
    return frame.plane.to_lon_lat(
        (
            frame.west_m + paper[0] * frame.metres_per_mm,
            frame.south_m + paper[1] * frame.metres_per_mm,
        )
    )


def test_north_is_up_and_all_is_in_the_frame() -> None:
    """Every place of the demonstration lies on the paper, further north higher up."""
    found = shown()
    frame = frame_of(list(found.places))
    on_paper = [frame.on_paper(place) for place in found.places]

    assert all(0 < x < frame.width_mm and 0 < y < frame.height_mm for x, y in on_paper)
    assert frame.on_paper((-1.3, 45.65))[1] > frame.on_paper((-1.3, 45.55))[1]
    assert frame.on_paper((-1.25, 45.6))[0] > frame.on_paper((-1.35, 45.6))[0]
    assert frame.paper_mm[0] == 180.0 and frame.paper_mm[1] < 235


def test_marks_go_by_area() -> None:
    """Four times the water is a mark of twice the radius; little water can still be seen."""
    assert radius_mm(4.0, 4.0) == LARGEST_MM
    assert radius_mm(1.0, 4.0) == pytest.approx(LARGEST_MM / 2)
    assert radius_mm(-1.0, 4.0) == pytest.approx(LARGEST_MM / 2)
    assert radius_mm(1e-9, 4.0) == radius_mm(0.0, 0.0) > 0.5


FRAME = Box(0, 0, 170, 150)


@pytest.mark.parametrize("apart", [3.0, 6.0, 30.0])
def test_labels_keep_off_each_other(apart: float) -> None:
    """Nine marks close together, even at a corner: no label lies on another or off the map."""
    marks = [Mark(5 + apart * i, 5 + apart * j, 1.0, 9.0, 5.5) for i in range(3) for j in range(3)]
    boxes = [placed.box for placed in place_labels(marks, [], FRAME)]

    assert len(boxes) == 9
    for one, other in itertools.combinations(boxes, 2):
        assert one.shared(other) == 0
    for box in boxes:
        assert box.shared(FRAME) == pytest.approx(9.0 * 5.5)


def test_labels_keep_off_lines() -> None:
    """Where there is room beside a stream, no label lies on it."""
    line = points_along([(20.0, 75.0), (150.0, 75.0)], 1.0)
    marks = [Mark(x, y, 1.2, 10.0, 5.5) for x, y in line[10:130:30]]
    boxes = [placed.box for placed in place_labels(marks, line, FRAME)]

    assert sum(box.holds(x, y) for box in boxes for x, y in line) == 0


def test_a_name_runs_along_its_stream() -> None:
    """It is turned as the line runs, upright to read, beside the line and in the frame."""
    line = [(20.0, 120.0), (120.0, 20.0)]
    place = name_along(line, (20.0, 2.6), [], points_along(line, 1.0), FRAME)

    assert place is not None
    assert place.turn == pytest.approx(-45.0)
    off = abs(place.x + place.y - 140.0) / math.sqrt(2)
    assert 1.3 < off < 4
    assert name_along([(0.0, 0.0), (3.0, 0.0)], (20.0, 2.6), [], [], FRAME) is None


def test_it_is_black_on_white() -> None:
    """Nothing is said by a colour: red, green and blue are alike everywhere."""
    svg = draw_survey_map(shown(), "svg").decode()

    colours = set(re.findall(r"#([0-9a-fA-F]{6})\b", svg))
    assert colours
    assert [c for c in colours if not c[0:2] == c[2:4] == c[4:6]] == []


def test_it_is_as_large_as_it_says_and_the_same_every_time() -> None:
    """180 mm wide, so that a millimetre of the frame is one on paper."""
    first, again = draw_survey_map(shown(), "svg"), draw_survey_map(shown(), "svg")
    root = ElementTree.fromstring(first)
    size = [float((root.get(name) or "").removesuffix("pt")) for name in ("width", "height")]

    paper = frame_of(list(shown().places)).paper_mm
    assert size == pytest.approx([side * 72 / 25.4 for side in paper], rel=1e-4)
    assert first == again


@pytest.mark.parametrize(
    "content",
    [
        SurveyMap((), (MapSite("one", (0.0, 0.0), 1.0, "1.00"),), "discharge", "m³/s"),
        SurveyMap((), (MapSite("dry", (0.0, 0.0), 0.0, "0"),), "discharge", "m³/s"),
        SurveyMap((), (MapSite("none", (10.0, 60.0), None),), "discharge", "m³/s"),
        SurveyMap(
            (MapStream(HOSTILE, ((179.9, 1.0), (-179.9, 1.1))), MapStream("dot", ((180.0, 1.0),))),
            tuple(MapSite(ENDLESS, (179.99, 1.0 + n / 1000), 1.0, "1.00") for n in range(12)),
            "discharge",
            "m³/s",
        ),
    ],
    ids=["one", "dry", "none", "hostile"],
)
def test_any_map_can_be_drawn(content: SurveyMap) -> None:
    """One site, no water, no discharge, the date line and names of any length."""
    ElementTree.fromstring(draw_survey_map(content, "svg"))


def test_without_a_position_there_is_no_map() -> None:
    """It is said instead."""
    material = three()

    assert survey_map(material, "discharge") is None
    assert map_part(material, None, "discharge").sentences == (
        "No site has a position, so that there is no map.",
    )


def test_a_crew_s_position_stands_in_for_the_planned_one() -> None:
    """Where the survey says no place, the one that was measured is shown."""
    gauging = three().surveyed[0].visit.gauging
    there = attrs.evolve(gauging.site, position=Position(-1.3, 45.6))
    found = survey_map(small(attrs.evolve(gauging, site=there)), "discharge")

    assert found is not None
    assert [(site.label, site.place) for site in found.sites] == [("upper", (-1.3, 45.6))]
