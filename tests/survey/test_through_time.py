"""A site through time: who stands beside whom, and what is told of it."""

import datetime

import attrs

from bankside.gauging.last_visit import compare_with_last_visit
from bankside.gauging.units import metres_per
from bankside.survey.through_time import histories_of

from .building import DAY, SURVEY, UPPER, at, section, visit

LATER = DAY + datetime.timedelta(days=30)


def test_each_visit_stands_beside_the_one_before() -> None:
    """In order of time, whatever the order they come in; each site has its own history."""
    second = visit(0.5, UPPER, id_="b", day=LATER, stage=0.40)
    first = visit(0.7, UPPER, id_="a", stage=0.42)
    histories = histories_of(SURVEY, [second, first])

    assert [history.site.id for history in histories] == ["upper", "lower", "brook"]
    one, other = histories[0].visits
    assert [one.visit.id, other.visit.id] == ["a", "b"]
    assert (one.previous, one.compared) == (None, ())
    assert other.previous == first
    assert other.compared == compare_with_last_visit(
        second.gauging, second.result, first.gauging, first.result
    )
    assert other.stage is not None and other.stage.value * metres_per(other.stage.unit) == 0.40
    assert histories[1].visits == ()


def test_whether_the_level_was_similar_is_told() -> None:
    """The mean depth is 10 / 21 m: 0.04 m is less than a tenth of it, 0.05 m is more."""
    levels = (0.40, 0.44, 0.49)
    visits = [
        visit(0.7, UPPER, id_=f"{n}", stage=stage, started=at(8 + n))
        for n, stage in enumerate(levels)
    ]
    unknown = visit(0.7, UPPER, id_="x", started=at(20))
    timed = histories_of(SURVEY, [*visits, unknown])[0].visits

    assert [one.similar_stage for one in timed] == [None, True, False, None]
    assert "at a similar stage." in timed[1].words
    assert "at another stage." in timed[2].words
    assert "at a stage not known." in timed[3].words


def test_what_is_odd_is_among_what_is_compared() -> None:
    """A section of 10 verticals instead of 20 is half as wide."""
    whole = visit(0.7, UPPER, id_="a")
    half = visit(0.7, UPPER, id_="b", day=LATER, channels=(section(0.7, count=10),))
    timed = histories_of(SURVEY, [whole, half])[0].visits[1]

    assert [one.name for one in timed.odd] == ["width"]
    assert "Width: 21.0 m then, 11.0 m now, 48 % less." in timed.words


def test_half_a_section_is_held_against_nothing() -> None:
    """Under way it is not too narrow yet, and the next visit is beside the last finished one."""
    whole = visit(0.7, UPPER, id_="a")
    half = visit(0.7, UPPER, id_="b", day=LATER, channels=(section(0.7, count=10),))
    again = visit(0.7, UPPER, id_="c", day=LATER + datetime.timedelta(days=1))
    half = attrs.evolve(half, finished=False)
    timed = histories_of(SURVEY, [whole, half, again])[0].visits

    assert [one.odd for one in timed] == [(), (), ()]
    assert [one.previous and one.previous.id for one in timed] == [None, "a", "a"]
    assert "11.0 m so far" in timed[1].words


def test_without_a_day_a_visit_is_held_against_nothing() -> None:
    """It comes last and says why."""
    timed = histories_of(
        SURVEY, [visit(0.7, UPPER, id_="x", day=None), visit(0.7, UPPER, id_="a")]
    )[0].visits

    assert [one.visit.id for one in timed] == ["a", "x"]
    assert timed[1].compared == ()
    assert "its place in time is not known" in timed[1].words
