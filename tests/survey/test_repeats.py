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


def test_no_record_repeats_an_unknown_one_where_none_says_so() -> None:
    """Without a word about repeats there is nothing to miss."""
    assert unknown_repeats([visit(1.0, UPPER)]) == ()
