"""Mistakes on the sheet of a virtual visit, each beside what was read."""

import random
import statistics
from collections import Counter
from typing import get_args

import attrs
import pytest

from bankside.gauging.records import PointReading, Vertical
from bankside.practice.crew import CAREFUL
from bankside.practice.making import make_stream
from bankside.practice.mistakes import Mistake, MistakeKind, with_mistakes
from bankside.practice.simulated_gauging import simulate_gauging

READ = [
    Vertical(tape=1.0, edge="left", bank="sloping", depth=0.0),
    Vertical(tape=2.0, depth=0.36, velocity=(PointReading(value=0.41, fraction=0.6),)),
    Vertical(tape=3.0, depth=0.52, velocity=(PointReading(value=0.47, fraction=0.6),)),
    Vertical(tape=4.0, dry=True),
    Vertical(tape=5.0, edge="right", bank="sloping", depth=0.0),
]


def _of_kind(kind: MistakeKind, place: int, figure: str = "depth") -> list[Vertical]:
    """What one vertical became by a kind of mistake, over many draws."""
    found = []
    for seed in range(600):
        _, mistakes = with_mistakes(READ, 1.0, random.Random(seed))
        found += [
            m.called for m in mistakes if m.kind == kind and m.read == READ[place] and m.called
        ]
    return found


def _depths(kind: MistakeKind) -> set[float | None]:
    return {v.depth for v in _of_kind(kind, 1) if v.velocity == READ[1].velocity}


def _velocities(kind: MistakeKind) -> set[float | None]:
    return {v.velocity[0].value for v in _of_kind(kind, 1) if v.depth == READ[1].depth}


def test_a_decimal_slip_is_tenfold() -> None:
    """The point stands one place off, in the depth or the velocity."""
    assert _depths("decimal slip") == {3.6, 0.036}
    assert _velocities("decimal slip") == {4.1, 0.041}


def test_digits_change_places() -> None:
    """0.36 becomes 0.63, and 0.41 becomes 0.14."""
    assert _depths("digits swapped") == {0.63}
    assert _velocities("digits swapped") == {0.14}


def test_metres_and_feet_are_taken_for_each_other() -> None:
    """0.36 m is 1.181 ft, and 0.36 ft are 0.110 m."""
    assert _depths("metres and feet") == {1.181, 0.11}


def test_depth_and_velocity_change_places() -> None:
    """What was called as depth is written as velocity and the other way round."""
    swapped = _of_kind("depth and velocity exchanged", 1)

    assert {(v.depth, v.velocity[0].value) for v in swapped} == {(0.41, 0.36)}


def test_a_doubled_vertical_has_the_readings_of_the_one_before() -> None:
    """The same depth and velocity stand twice, at two positions."""
    doubled = _of_kind("vertical doubled", 2)

    assert {(v.tape, v.depth, v.velocity) for v in doubled} == {
        (3.0, READ[1].depth, READ[1].velocity)
    }


def test_edges_are_forgotten_and_dry_places_keep_what_they_have() -> None:
    """With a mistake everywhere, both edges are missing and the dry vertical stands."""
    called, mistakes = with_mistakes(READ, 1.0, random.Random(1))

    assert [m.read.tape for m in mistakes if m.kind == "edge forgotten"] == [1.0, 5.0]
    assert READ[3] in called
    assert all(vertical.edge is None for vertical in called)


def test_without_a_chance_nothing_is_wrong() -> None:
    """A crew that makes no mistakes writes down what it read."""
    assert with_mistakes(READ, 0.0, random.Random(1)) == (tuple(READ), ())


def test_mistakes_come_at_their_rate_and_all_kinds_do() -> None:
    """At a chance of 0.05, one vertical in twenty is wrong; every kind of mistake occurs."""
    crew = attrs.evolve(CAREFUL, mistakes=0.05)
    visits = [simulate_gauging(make_stream("run", seed), crew, seed, 30) for seed in range(250)]
    kinds = Counter(mistake.kind for made in visits for mistake in made.mistakes)
    shares = [len(made.mistakes) / (len(made.waded.verticals) + 2) for made in visits]

    assert set(kinds) == set(get_args(MistakeKind))
    assert statistics.fmean(shares) == pytest.approx(0.05, rel=0.12)


def test_every_mistake_is_told_and_nothing_else_differs() -> None:
    """Undoing the mistakes gives the sheet that a crew without them writes."""
    stream = make_stream("cobble bed", 8)
    spoilt = simulate_gauging(stream, attrs.evolve(CAREFUL, mistakes=0.3), 8, 25)
    plain = simulate_gauging(stream, CAREFUL, 8, 25)
    wrong: dict[float, Mistake] = {m.read.tape: m for m in spoilt.mistakes}
    written = {v.tape: v for v in spoilt.gauging.channels[0].verticals}

    assert wrong
    for vertical in plain.gauging.channels[0].verticals:
        mistake = wrong.get(vertical.tape)
        if mistake is None:
            assert written[vertical.tape] == vertical
        else:
            assert mistake.read == vertical
            assert written.get(vertical.tape) == mistake.called != vertical
    assert spoilt.waded == plain.waded
