"""Sections turned about: correlations against numpy and scipy, and when the alarm is raised."""

import datetime
import math
from collections.abc import Callable, Sequence

import attrs
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from bankside.gauging.compute import compute
from bankside.gauging.records import Channel, PointReading, Units, Vertical
from bankside.survey.mirrored import Mirrored, fit_of, mirrored_of
from bankside.survey.profiles import profile_of, sampled
from bankside.survey.visits import Visit

from .building import DAY, RULES, UPPER, gauging, visit

Shape = Callable[[float], float]
LATER = DAY + datetime.timedelta(days=20)


def skewed(place: float) -> float:
    """A bed that is deepest a fifth of the way across."""
    return 0.6 * (place / 0.2 if place < 0.2 else (1 - place) / 0.8)


def parabola(place: float) -> float:
    """A bed that is alike from both sides."""
    return 2.4 * place * (1 - place)


def mirrored(shape: Shape) -> Shape:
    """The same section seen from the other bank."""
    return lambda place: shape(1 - place)


def _channel(depth: Shape, speed: Shape, count: int, width: float, named: bool = True) -> Channel:
    places = [i / (count + 1) for i in range(1, count + 1)]
    inner = (Vertical(width * p, depth(p), (PointReading(speed(p), 0.6),)) for p in places)
    left, right = ("left", "right") if named else (None, None)
    return Channel((Vertical(0.0, 0.0, edge=left), *inner, Vertical(width, 0.0, edge=right)))


def _visit(
    depth: Shape,
    speed: Shape = lambda _: 0.4,
    count: int = 20,
    width: float = 8.0,
    *,
    id_: str = "now",
    day: datetime.date = LATER,
    named: bool = True,
) -> Visit:
    return visit(
        None, UPPER, id_=id_, day=day, channels=(_channel(depth, speed, count, width, named),)
    )


def _found(now: Visit, depth: Shape = skewed, **members: object) -> tuple[Mirrored, ...]:
    then = _visit(depth, id_="then", day=DAY, **members)
    return mirrored_of([now, then], RULES)


def test_a_section_turned_about_is_seen() -> None:
    """The bed that was deepest on the left is deepest on the right now."""
    (found,) = _found(_visit(mirrored(skewed)))

    assert (found.visit.id, found.earlier.id, found.by) == ("now", "then", "depth")
    assert found.depth.reversed == pytest.approx(1.0, abs=0.01)
    assert found.banks_named
    assert "better turned about: correlation 1.00 instead of" in found.words
    assert "facing downstream" in found.advice


@pytest.mark.parametrize("under_way", ["now", "then"])
def test_half_a_section_is_not_turned_about(under_way: str) -> None:
    """Neither a visit that is under way nor one beside it has a side that tells."""
    visits = [_visit(mirrored(skewed)), _visit(skewed, id_="then", day=DAY)]
    visits = [attrs.evolve(v, finished=v.id != under_way) for v in visits]

    assert mirrored_of(visits, RULES) == ()


@pytest.mark.parametrize(("count", "width"), [(8, 8.0), (35, 8.0), (20, 12.0), (13, 5.5)])
def test_other_widths_and_numbers_of_verticals_change_nothing(count: int, width: float) -> None:
    """The same bed in other water, and read at other places."""
    assert len(_found(_visit(mirrored(skewed), count=count, width=width))) == 1
    assert _found(_visit(skewed, count=count, width=width)) == ()


def test_a_section_that_is_alike_from_both_sides_raises_nothing() -> None:
    """A parabola fits as well either way."""
    assert _found(_visit(parabola), depth=parabola) == ()
    assert _found(_visit(mirrored(skewed)), depth=parabola) == ()


def test_a_tape_from_the_other_bank_is_turned_where_banks_are_named() -> None:
    """Tape zero on the right bank, and the record says so: nothing is mirrored."""
    channel = _channel(mirrored(skewed), lambda _: 0.4, 20, 8.0)
    swapped = {"left": "right", "right": "left", None: None}
    right = Channel(tuple(attrs.evolve(v, edge=swapped[v.edge]) for v in channel.verticals))
    now = visit(None, UPPER, id_="now", day=LATER, channels=(right,))

    assert _found(now) == ()


def test_without_names_of_banks_the_tape_is_asked_about() -> None:
    """The lower end of the tape was on the other bank: it has to be named."""
    (found,) = _found(_visit(mirrored(skewed), named=False), named=False)

    assert not found.banks_named
    assert "from which bank the tape was read" in found.advice


def test_velocity_tells_where_the_bed_does_not() -> None:
    """A bed alike from both sides with the current on one side."""
    speed: Shape = lambda place: 0.1 + skewed(place)  # noqa: E731 - as short as its fellows
    then = _visit(parabola, speed, id_="then", day=DAY)
    (found,) = mirrored_of([then, _visit(parabola, mirrored(speed))], RULES)

    assert found.by == "velocity"


def test_a_current_that_stayed_contradicts_a_bed_that_turned() -> None:
    """The bed moved over, the current did not: that is no mirror."""
    speed: Shape = lambda place: 0.1 + skewed(place)  # noqa: E731 - as short as its fellows
    then = _visit(skewed, speed, id_="then", day=DAY)

    assert mirrored_of([then, _visit(mirrored(skewed), speed)], RULES) == ()


def test_sections_that_are_not_alike_either_way_say_nothing() -> None:
    """Waves of which a fifth is alike and a fifth turned: r is 0 directly and 0.4 turned about."""

    def wave(turned: int, own: int) -> Shape:
        return lambda p: (
            1
            + 0.3
            * (
                math.sqrt(0.2) * math.cos(2 * math.pi * p)
                + turned * math.sqrt(0.2) * math.sin(2 * math.pi * p)
                + math.sqrt(0.6) * math.cos(2 * math.pi * own * p)
            )
        )

    then, now = _visit(wave(1, 2), count=60, id_="then", day=DAY), _visit(wave(-1, 3), count=60)
    before, after = profile_of(then), profile_of(now)
    assert before is not None and after is not None
    fit = fit_of((after.places, after.depths_m), (before.places, before.depths_m))
    assert fit.margin is not None and fit.margin > 0.3
    assert mirrored_of([then, now], RULES) == ()


def test_the_margin_is_that_of_the_rule_set() -> None:
    """A margin that no section can reach silences it."""
    margin = attrs.evolve(RULES["mirror_margin"], value=1.9)
    rules = attrs.evolve(RULES, values={**RULES.values, "mirror_margin": margin})
    visits = [_visit(skewed, id_="then", day=DAY), _visit(mirrored(skewed))]

    assert len(mirrored_of(visits, RULES)) == 1
    assert mirrored_of(visits, rules) == ()


@given(
    st.lists(st.floats(0, 2), min_size=5, max_size=30),
    st.lists(st.floats(0, 2), min_size=5, max_size=30),
)
def test_the_correlation_is_that_of_scipy(one: Sequence[float], other: Sequence[float]) -> None:
    """Straight lines by numpy.interp, Pearson's r by scipy, directly and turned about."""
    at = (np.arange(50) + 0.5) / 50
    places = [np.linspace(0, 1, len(values)) for values in (one, other)]
    first, second = (np.interp(at, p, v) for p, v in zip(places, (one, other), strict=True))
    fit = fit_of((places[0].tolist(), one), (places[1].tolist(), other))

    if min(np.std(first), np.std(second)) > 1e-6:
        assert fit.direct == pytest.approx(stats.pearsonr(first, second).statistic, abs=1e-6)
        assert fit.reversed == pytest.approx(
            stats.pearsonr(first[::-1], second).statistic, abs=1e-6
        )
    assert np.allclose(sampled(places[0].tolist(), one, at.tolist()), first, atol=1e-12)


def test_a_flat_bed_has_no_shape_to_fit() -> None:
    """The same figure everywhere has no correlation."""
    flat = ((0.0, 1.0), (0.5, 0.5))

    assert fit_of(flat, ((0.0, 1.0), (0.1, 0.5))).margin is None


def test_few_verticals_are_no_profile() -> None:
    """Four verticals in the water tell no side."""
    assert profile_of(_visit(skewed, count=4)) is None
    assert profile_of(_visit(skewed, count=5)) is not None


def test_channels_over_each_other_on_the_tape_are_no_profile() -> None:
    """Two channels each with a tape of its own lie beside each other in no known way."""
    channel = _channel(skewed, lambda _: 0.4, 10, 8.0)
    beside = Channel(tuple(attrs.evolve(v, tape=v.tape + 10) for v in channel.verticals))

    assert profile_of(visit(None, UPPER, channels=(channel, channel))) is None
    both = profile_of(visit(None, UPPER, channels=(channel, beside)))
    assert both is not None and both.places[-1] == 1.0


def test_the_unit_of_the_tape_does_not_matter() -> None:
    """Relative places are the same in feet."""
    metric = profile_of(_visit(skewed))
    feet = profile_of(
        visit(
            None,
            UPPER,
            units=Units("ft", "m/s", depth="m"),
            channels=(_channel(skewed, lambda _: 0.4, 20, 8.0),),
        )
    )

    assert metric is not None and feet is not None
    assert feet.places == pytest.approx(metric.places, abs=1e-12)


def _rough(chance: np.random.Generator) -> Shape:
    """A bed of its own, rough over a twelfth of the width, a little deeper on one side."""
    at = np.linspace(0, 1, 200)
    lean = chance.uniform(-0.6, 0.6)
    alike = np.exp(-0.5 * ((at[:, None] - at[None, :]) / 0.08) ** 2) + 1e-6 * np.eye(len(at))
    bumps = np.linalg.cholesky(alike) @ chance.normal(size=len(at))
    bed = 4 * at * (1 - at) * np.exp(3 * lean * (at - 0.5) + 0.25 * bumps)
    return lambda place: float(np.interp(place, at, bed))


def _unchecked(depth: Shape, count: int, day: datetime.date) -> Visit:
    """A visit without findings, which would take most of the time."""
    record = gauging(None, day=day, channels=(_channel(depth, lambda _: 0.4, count, 8.0),))
    return Visit(day.isoformat(), record, UPPER, result=compute(record))


def test_on_rough_beds_most_that_is_turned_is_told_and_nothing_else() -> None:
    """Forty beds, each read twice at other places with 3 % of error in every depth."""
    chance = np.random.default_rng(11)
    told = {True: 0, False: 0}
    for _ in range(40):
        bed = _rough(chance)
        counts = chance.integers(15, 28, size=2)

        def read(place: float, bed: Shape = bed) -> float:
            return bed(place) * float(np.exp(0.03 * chance.normal()))

        then = _unchecked(read, int(counts[0]), DAY)
        for turned in (True, False):
            now = _unchecked(mirrored(read) if turned else read, int(counts[1]), LATER)
            told[turned] += len(mirrored_of([then, now], RULES))

    assert told[False] == 0
    assert told[True] >= 16
