"""The order in which the water meets the sites, and what is said where it is not known."""

import random

import attrs
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bankside.gauging.records import Position
from bankside.survey.hydrographic_order import hydrographic_order
from bankside.survey.records import Stream, Survey, SurveySite

from .building import BROOK, LOWER, MAIN, SURVEY, TRIBUTARY, UPPER


def _ids(survey: Survey) -> list[str]:
    return [ordered.site.id for ordered in hydrographic_order(survey).sites]


def _survey(streams: list[Stream], sites: list[SurveySite]) -> Survey:
    return Survey("s", "A survey", streams=tuple(streams), sites=tuple(sites))


def test_a_tributary_stands_where_it_enters() -> None:
    """From km 8 of the river to its brook at km 5, then on to km 2; the brook is one mouth up."""
    order = hydrographic_order(SURVEY)

    assert [(o.site.id, o.mouths_below) for o in order.sites] == [
        ("upper", 0),
        ("brook", 1),
        ("lower", 0),
    ]
    assert order.remarks == ()
    assert [o.site.id for o in order.on("Alder River")] == ["upper", "lower"]


@given(st.randoms(use_true_random=False))
def test_the_order_does_not_hang_on_how_sites_are_listed(chance: random.Random) -> None:
    """A nested basin, shuffled: river, brook at km 5, rill at km 1 of the brook, another river."""
    streams = [MAIN, TRIBUTARY, Stream("Cress Rill", "Birch Brook", 1.0), Stream("Zinnia Creek")]
    sites = [
        *(SurveySite(f"a{km}", "Alder River", f"a{km}", along_km=km) for km in (9, 6, 5, 1)),
        *(SurveySite(f"b{km}", "Birch Brook", f"b{km}", along_km=km) for km in (3, 0)),
        SurveySite("c0", "Cress Rill", "c0", along_km=0.5),
        SurveySite("z", "Zinnia Creek", "z", along_km=1),
    ]
    chance.shuffle(streams)
    chance.shuffle(sites)

    assert _ids(_survey(streams, sites)) == ["a9", "a6", "b3", "c0", "b0", "a5", "a1", "z"]


def test_without_a_distance_sites_come_last_by_name_and_that_is_said() -> None:
    """No km and no line: by name, and a sentence that this says nothing of the water."""
    lost = [attrs.evolve(s, along_km=None) for s in (UPPER, LOWER)]
    order = hydrographic_order(attrs.evolve(SURVEY, sites=(*lost, BROOK)))

    assert [o.site.id for o in order.sites] == ["brook", "lower", "upper"]
    (remark,) = order.remarks
    assert remark.startswith("lower and upper: neither a distance")


def test_a_single_site_of_a_stream_needs_no_distance() -> None:
    """There is nothing to put it in order with."""
    alone = attrs.evolve(BROOK, along_km=None)

    assert hydrographic_order(attrs.evolve(SURVEY, sites=(UPPER, alone, LOWER))).remarks == ()


def test_a_mouth_that_is_not_known_is_said() -> None:
    """The tributary then comes after the sites of the river."""
    order = hydrographic_order(
        attrs.evolve(SURVEY, streams=(MAIN, attrs.evolve(TRIBUTARY, joins_at_km=None)))
    )

    assert [o.site.id for o in order.sites] == ["upper", "lower", "brook"]
    assert "Give joins_at_km" in order.remarks[0]


def test_positions_are_projected_on_the_line_of_the_stream() -> None:
    """A river due south along a meridian: 0.01 degree of latitude is 1.112 km."""
    main = attrs.evolve(MAIN, line=(Position(-120.0, 45.1), Position(-120.0, 45.0)))
    brook = attrs.evolve(
        TRIBUTARY, joins_at_km=None, line=(Position(-119.9, 45.06), Position(-120.0, 45.05))
    )
    upper = attrs.evolve(UPPER, along_km=None, position=Position(-120.001, 45.08))
    lower = attrs.evolve(LOWER, along_km=None, position=Position(-119.999, 45.01))
    order = hydrographic_order(
        attrs.evolve(SURVEY, streams=(main, brook), sites=(lower, BROOK, upper))
    )

    assert [o.site.id for o in order.sites] == ["upper", "brook", "lower"]
    assert order.sites[0].along.km == pytest.approx(8.896, abs=0.001)
    assert order.sites[0].along.by == "line"
    assert "at the most 79 m off" in order.remarks[0]
    assert "is measured along its line" in order.remarks[1]


def test_sites_on_streams_that_are_not_listed_have_an_order() -> None:
    """A survey without streams is ordered by stream and by distance."""
    assert _ids(_survey([], [LOWER, BROOK, UPPER])) == ["upper", "lower", "brook"]
