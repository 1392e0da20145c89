"""Which gaugings belong to one measurement."""

import datetime
import random

from bankside.survey.repeats import repeat_groups, unknown_repeats
from bankside.survey.visits import Visit

from .building import DAY, LOWER, UPPER, at, visit

NEXT = DAY + datetime.timedelta(days=1)


def _groups(*visits: Visit) -> list[list[str]]:
    return [[visit.id for visit in group.visits] for group in repeat_groups(visits)]


def test_one_site_and_one_day_make_one_measurement() -> None:
    """Another site or another day is another measurement; they come in order of time."""
    later = visit(1.0, UPPER, id_="c", day=NEXT)
    second = visit(1.0, UPPER, id_="a", started=at(11))
    first = visit(1.0, UPPER, id_="b", started=at(9))
    elsewhere = visit(1.0, LOWER, id_="d", started=at(10))

    assert _groups(later, second, first, elsewhere) == [["b", "a"], ["d"], ["c"]]


def test_without_a_site_or_a_day_nothing_is_guessed() -> None:
    """Two gaugings at no known site, or of no day, stand by themselves."""
    assert _groups(visit(1.0, None, id_="a"), visit(1.0, None, id_="b")) == [["a"], ["b"]]
    undated = [visit(1.0, UPPER, id_=name, day=None) for name in "ab"]
    assert _groups(*undated) == [["a"], ["b"]]


def test_the_order_in_which_visits_are_given_does_not_matter() -> None:
    """Files arrive in any order."""
    visits = [visit(1.0, site, id_=f"{site.id}{n}") for site in (UPPER, LOWER) for n in range(3)]
    shuffled = visits[:]
    random.Random(7).shuffle(shuffled)

    assert _groups(*shuffled) == _groups(*visits)


def test_a_record_that_says_so_is_a_repeat_on_another_day_as_well() -> None:
    """The crew came back the next morning, and a third one repeats the second."""
    visits = [
        visit(1.0, UPPER, id_="a"),
        visit(1.0, UPPER, id_="b", day=NEXT, repeats="a"),
        visit(1.0, None, id_="c", day=None, repeats="b"),
        visit(1.0, LOWER, id_="d"),
    ]

    assert _groups(*visits) == [["a", "b", "c"], ["d"]]
    assert [group.linked for group in repeat_groups(visits)] == [True, False]


def test_two_that_repeat_each_other_are_one_measurement() -> None:
    """A circle of links ends."""
    visits = [
        visit(1.0, UPPER, id_=id_, day=day, repeats=other)
        for id_, day, other in (("a", DAY, "b"), ("b", NEXT, "a"))
    ]

    assert _groups(*visits) == [["a", "b"]]


def test_a_repeat_of_a_gauging_that_is_not_there_is_told() -> None:
    """Its fellow may be in another file; one without a word about repeats misses nothing."""
    visits = [visit(1.0, UPPER, id_="a", repeats="gone"), visit(1.0, LOWER, id_="b")]

    assert [missing.id for missing in unknown_repeats(visits)] == ["a"]
    assert _groups(*visits) == [["a"], ["b"]]
