"""Whole visits: the record, the plain lists, and what is true behind both."""

import datetime
import math
import statistics

import attrs
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bankside.gauging.checks.run import check_gauging
from bankside.gauging.compute import compute
from bankside.gauging.rule_sets.load import BASE, load_rule_set
from bankside.kernel.discharge import mid_section_discharge
from bankside.practice.crew import CAREFUL, PERFECT, Crew, draw_crew
from bankside.practice.making import make_stream
from bankside.practice.measuring import even_positions, measure, section_lists
from bankside.practice.section_types import SECTION_TYPES
from bankside.practice.simulated_gauging import simulate_gauging
from bankside.practice.wading import Wading

KINDS = sorted(SECTION_TYPES)
RULES = load_rule_set(BASE)
START = datetime.datetime(2026, 7, 14, 10, 5, tzinfo=datetime.UTC)

crews = st.builds(draw_crew, st.integers(0, 10_000), st.booleans())


def _discharge(stream_seed: int, kind: str, crew: Crew, seed: int, count: int) -> float:
    measured = measure(make_stream(kind, stream_seed), crew, seed, count)
    return mid_section_discharge(measured.tapes, measured.depths, measured.velocities)


@pytest.mark.parametrize("kind", KINDS)
def test_a_perfect_crew_with_very_many_verticals_finds_the_truth(kind: str) -> None:
    """Without errors, 2000 verticals give the true discharge and area within a thousandth."""
    for seed in range(3):
        stream = make_stream(kind, seed)
        result = compute(simulate_gauging(stream, PERFECT, 1, 2000).gauging)

        assert result.discharge_m3s == pytest.approx(stream.discharge, rel=1e-3)
        assert result.area_m2 == pytest.approx(stream.area, rel=1e-3)


@given(
    kind=st.sampled_from(KINDS),
    seed=st.integers(0, 10_000),
    crew=crews,
    count=st.integers(1, 40),
)
def test_every_gauging_can_be_computed_and_the_lists_give_the_same(
    kind: str, seed: int, crew: Crew, count: int
) -> None:
    """Any crew on any stream makes a record that computes; the light path agrees with it."""
    crew = attrs.evolve(crew, mistakes=0.0)
    stream = make_stream(kind, seed)
    made = simulate_gauging(stream, crew, seed, count)
    lists = measure(stream, crew, seed, count)

    discharge = compute(made.gauging).discharge_m3s
    light = mid_section_discharge(lists.tapes, lists.depths, lists.velocities)
    assert discharge == pytest.approx(light, rel=1e-12, abs=1e-15)
    assert made.seconds == lists.seconds
    assert made.mistakes == ()


@given(kind=st.sampled_from(KINDS), seed=st.integers(0, 10_000), crew=crews)
def test_the_checks_can_look_at_any_visit(kind: str, seed: int, crew: Crew) -> None:
    """A gauging with mistakes is computed and checked without falling over."""
    spoilt = attrs.evolve(crew, mistakes=0.3)
    made = simulate_gauging(make_stream(kind, seed), spoilt, seed, 20, started=START)

    assert math.isfinite(compute(made.gauging).discharge_m3s)
    check_gauging(made.gauging, RULES)


@given(kind=st.sampled_from(KINDS), seed=st.integers(0, 10_000))
def test_the_lists_are_a_section(kind: str, seed: int) -> None:
    """Tapes rise, no depth is below 0, the ends are the edges, and velocities are finite."""
    lists = measure(make_stream(kind, seed), draw_crew(seed), seed, 25)

    assert all(a < b for a, b in zip(lists.tapes, lists.tapes[1:], strict=False))
    assert min(lists.depths) >= 0.0
    assert all(math.isfinite(v) for v in lists.velocities)
    assert len(lists.tapes) == len(lists.depths) == len(lists.velocities)


def test_more_verticals_err_less_and_rough_beds_more() -> None:
    """Between verticals alone: 8 on cobbles err more than 30, and smooth runs less than both."""

    def error(kind: str, count: int) -> float:
        errors = [
            _discharge(seed, kind, PERFECT, 1, count) / make_stream(kind, seed).discharge - 1.0
            for seed in range(60)
        ]
        return math.sqrt(statistics.fmean(e * e for e in errors))

    assert error("run", 30) < 0.01 < error("cobble bed", 30) < 0.05 < error("cobble bed", 8)


def test_a_careful_crew_is_off_by_a_few_percent() -> None:
    """25 verticals on a run scatter by 2 to 5 %, as good wading measurements do."""
    errors = [
        _discharge(seed, "run", CAREFUL, 1, 25) / make_stream("run", seed).discharge - 1.0
        for seed in range(150)
    ]

    assert 0.02 < statistics.pstdev(errors) < 0.05
    assert abs(statistics.fmean(errors)) < 0.03


def test_soundings_take_their_velocity_from_both_sides() -> None:
    """A depth without velocity gets one in proportion to the tape, as compute does."""
    stream = make_stream("run", 3)
    wading = Wading(stream, PERFECT, 1)
    left, right = wading.edges()
    a, b = even_positions(left.tape_m, right.tape_m, 2)
    middle = (a + b) / 2.0
    readings = [wading.vertical(a), wading.sound(middle), wading.vertical(b)]
    tapes, depths, velocities = section_lists(left, right, readings)

    assert tapes == [left.tape_m, a, middle, b, right.tape_m]
    assert depths[2] == pytest.approx(stream.depth_at(middle))
    assert velocities[2] == pytest.approx((velocities[1] + velocities[3]) / 2.0)


def test_no_vertical_is_placed_in_a_gap_or_twice_at_a_mark() -> None:
    """Crews leave out dry bars that they see, and read no mark twice."""
    stream = make_stream("braid", 6)
    made = simulate_gauging(stream, CAREFUL, 1, 60)
    tapes = [vertical.tape for vertical in made.gauging.channels[0].verticals]

    assert len(tapes) == len(set(tapes))
    assert made.waded.gaps
    for reading in made.waded.verticals:
        assert not any(low < reading.tape_m < high for low, high in made.waded.gaps)


def test_times_stand_beside_the_verticals() -> None:
    """With a start, each vertical has its moment and the gauging its end; no clock is asked."""
    made = simulate_gauging(make_stream("run", 1), CAREFUL, 1, 10, started=START)
    moments = [v.at for v in made.gauging.channels[0].verticals if v.at is not None]

    assert len(moments) == 10
    assert moments == sorted(moments)
    assert moments[0] == START + datetime.timedelta(seconds=60)
    assert made.gauging.ended == START + datetime.timedelta(seconds=round(made.seconds))
    assert simulate_gauging(make_stream("run", 1), CAREFUL, 1, 10).gauging.started is None


def test_a_steep_edge_beside_dry_ground_has_its_velocity_read() -> None:
    """A wall of water next to which no water was read is not left without a velocity."""
    stream = make_stream("canal", 2)
    assert (stream.left_bank, stream.right_bank) == ("steep", "steep")
    made = simulate_gauging(stream, CAREFUL, 1, [])
    verticals = made.gauging.channels[0].verticals

    assert [bool(vertical.velocity) for vertical in verticals] == [True, True]
    assert compute(made.gauging).discharge_m3s > 0.0
