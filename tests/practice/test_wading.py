"""A virtual crew in the water, act by act."""

import itertools
import statistics

import attrs
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bankside.practice.called import vertical_record
from bankside.practice.crew import CAREFUL, PERFECT, Crew, draw_crew
from bankside.practice.making import make_stream, stream_of
from bankside.practice.parameters import of
from bankside.practice.section_types import SECTION_TYPES
from bankside.practice.stream import SimulatedStream
from bankside.practice.wading import Wading

KINDS = sorted(SECTION_TYPES)
RUN = make_stream("run", 4)
MIDDLE = RUN.left + 0.5 * RUN.drawn["width"]


def _values(stream: SimulatedStream, crew: Crew, y: float, visits: int = 400) -> list[float]:
    """The mean velocity that as many visits read at one position."""
    read = [Wading(stream, crew, seed).vertical(y).velocity_ms for seed in range(visits)]
    return [value for value in read if value is not None]


@given(
    kind=st.sampled_from(KINDS),
    seed=st.integers(0, 500),
    order=st.permutations([0.15, 0.3, 0.45, 0.6, 0.75, 0.9]),
)
def test_a_reading_depends_on_its_place_and_not_on_the_order(
    kind: str, seed: int, order: list[float]
) -> None:
    """Whichever way a crew crosses the stream, it reads the same at the same mark."""
    stream, crew = make_stream(kind, seed), draw_crew(seed)
    places = [stream.left + part * stream.drawn["width"] for part in sorted(order)]
    wading, other = Wading(stream, crew, 1), Wading(stream, crew, 1)
    there = [wading.vertical(y) for y in places]
    back = {part: other.vertical(stream.left + part * stream.drawn["width"]) for part in order}

    marks = [reading.tape for reading in there]
    if len(set(marks)) == len(marks):
        assert there == [back[part] for part in sorted(order)]


def test_soundings_between_do_not_change_a_vertical() -> None:
    """A design with soundings meets the same errors at its verticals as one without."""
    with_them, without = Wading(RUN, CAREFUL, 2), Wading(RUN, CAREFUL, 2)
    with_them.edges()
    with_them.sound(MIDDLE)
    with_them.point(MIDDLE, 0.2)

    assert with_them.vertical(MIDDLE) == without.vertical(MIDDLE)


def test_the_same_act_again_is_another_reading() -> None:
    """A vertical read twice has new errors the second time, and so has every visit."""
    crew = attrs.evolve(CAREFUL, velocity_resolution=0.0, rod_resolution=0.0)
    wading = Wading(RUN, crew, 2)
    first, second = wading.vertical(MIDDLE), wading.vertical(MIDDLE)
    other = Wading(RUN, crew, 3).vertical(MIDDLE)

    assert len({r.velocity_ms for r in (first, second, other)}) == 3
    assert len({r.depth for r in (first, second, other)}) == 3


def test_what_an_act_costs() -> None:
    """A vertical is 20 s of moving and 40 s of exposure, a sounding 5 s, one more point 40 s."""
    wading = Wading(RUN, attrs.evolve(CAREFUL, two_points_from=9.0), 1)
    spent = []
    reading = wading.vertical(MIDDLE)
    spent.append(wading.seconds_spent)
    wading.sound(MIDDLE + 0.5)
    spent.append(wading.seconds_spent)
    wading.more(reading, 0.2)
    spent.append(wading.seconds_spent)
    wading.vertical(MIDDLE - 0.5, seconds=100.0)
    spent.append(wading.seconds_spent)
    wading.edges()

    assert spent == [60.0, 65.0, 105.0, 225.0]
    assert wading.seconds_spent == 225.0


def test_a_perfect_crew_reads_what_is_true() -> None:
    """Without errors, depth and mean velocity are those of the stream at that place."""
    for kind in KINDS:
        stream = make_stream(kind, 9)
        wading = Wading(stream, PERFECT, 1)
        for part in (0.1, 0.37, 0.5, 0.81):
            y = stream.left + part * stream.drawn["width"]
            reading = wading.vertical(y)

            assert reading.depth_m == pytest.approx(stream.depth_at(y), abs=1e-12)
            if reading.depth_m > 0.0:
                assert reading.velocity_ms == pytest.approx(stream.velocity_at(y), abs=1e-12)


def test_deep_verticals_have_two_points_and_thin_water_a_float() -> None:
    """0.2 and 0.8 from the limit on, 0.6 below it, and a float where the meter has no room."""
    depth = Wading(RUN, CAREFUL, 1).sound(MIDDLE).depth_m

    def fractions(**habits: float) -> list[float | None]:
        wading = Wading(RUN, attrs.evolve(CAREFUL, **habits), 1)
        return [point.fraction for point in wading.vertical(MIDDLE).points]

    assert fractions(two_points_from=0.9 * depth) == [0.2, 0.8]
    assert fractions(two_points_from=1.2 * depth) == [0.6]
    assert fractions(shallowest=1.2 * depth) == [0.0]


def test_more_points_count_as_compute_counts_them() -> None:
    """0.6 with 0.2 and 0.8 is the three-point mean, 0.6 twice the mean weighted by time."""
    crew = attrs.evolve(CAREFUL, two_points_from=9.0, angle_overlooked=1.0)
    wading = Wading(RUN, crew, 1)
    one = wading.vertical(MIDDLE)
    longer = wading.more(one, 0.6, seconds=120.0)
    v, w = (point.value for point in longer.points)
    three = wading.more(wading.more(one, 0.2), 0.8)
    middle, top, bottom = (point.value for point in three.points)

    assert longer.velocity_ms == pytest.approx((40.0 * v + 120.0 * w) / 160.0)
    assert three.velocity_ms == pytest.approx((top + 2.0 * middle + bottom) / 4.0)
    assert len(vertical_record(three).velocity) == 3


@given(seed=st.integers(0, 10_000), kind=st.sampled_from(KINDS), in_feet=st.booleans())
def test_what_is_called_is_a_multiple_of_the_resolution(
    seed: int, kind: str, in_feet: bool
) -> None:
    """Tape, depth and velocity are called as finely as tape, rod and meter can be read."""
    stream, crew = make_stream(kind, seed), draw_crew(seed, in_feet)
    reading = Wading(stream, crew, seed).vertical(stream.left + 0.4 * stream.drawn["width"])

    called = [(reading.tape, crew.tape_resolution), (reading.depth, crew.rod_resolution)]
    called += [(point.value, crew.velocity_resolution) for point in reading.points]
    for value, resolution in called:
        assert value == pytest.approx(round(value / resolution) * resolution, abs=1e-6)
    assert reading.depth >= 0.0


def test_a_crew_in_feet_calls_feet() -> None:
    """What is called is in feet and feet a second, and is the same water."""
    still = attrs.evolve(PERFECT, length_unit="ft", velocity_unit="ft/s")
    feet, metres = (Wading(RUN, crew, 1).vertical(MIDDLE) for crew in (still, PERFECT))

    assert feet.depth * 0.3048 == pytest.approx(metres.depth)
    assert feet.points[0].value * 0.3048 == pytest.approx(metres.points[0].value)
    assert feet.velocity_ms == pytest.approx(metres.velocity_ms)


def test_calibration_and_zero_are_one_draw_for_the_visit() -> None:
    """Within a visit every velocity is off by the same factor; from visit to visit it scatters."""
    crew = attrs.evolve(PERFECT, calibration=0.02)
    places = [RUN.left + part * RUN.drawn["width"] for part in (0.2, 0.4, 0.6, 0.8)]
    gains = []
    for seed in range(400):
        wading = Wading(RUN, crew, seed)
        ratios = [(wading.vertical(y).velocity_ms or 0.0) / RUN.velocity_at(y) for y in places]
        assert max(ratios) == pytest.approx(min(ratios), rel=1e-9)
        gains.append(ratios[0])

    assert statistics.fmean(gains) == pytest.approx(1.0, abs=0.003)
    assert statistics.pstdev(gains) == pytest.approx(0.02, rel=0.1)


def test_the_scatter_of_readings_is_that_of_the_exposure() -> None:
    """With turbulence alone, readings of 20 s scatter as the stream says, and those of 200 s."""
    pulsing = attrs.evolve(PERFECT, settled=False)
    for seconds in (20.0, 200.0):
        values = _values(RUN, attrs.evolve(pulsing, exposure=seconds), MIDDLE)
        cosine = RUN.velocity_at(MIDDLE) / RUN.mean_speed_at(MIDDLE)

        assert statistics.fmean(values) == pytest.approx(RUN.velocity_at(MIDDLE), rel=0.01)
        assert statistics.pstdev(values) == pytest.approx(
            cosine * RUN.exposure_deviation(MIDDLE, seconds), rel=0.12
        )


def test_water_on_the_rod_and_a_soft_bed_deepen_every_reading() -> None:
    """Pile-up adds v²/2g times its part; sinking adds half of what it may, on the mean."""
    y = MIDDLE
    v = RUN.velocity_at(y)
    piled = Wading(RUN, attrs.evolve(PERFECT, pile_up=1.0), 1).sound(y).depth_m
    soft = stream_of(attrs.evolve(SECTION_TYPES["run"], softness=of(0.04, unit="m")), 4)
    lean = attrs.evolve(PERFECT, rod_lean=1.0)
    sunk = [Wading(soft, lean, seed).sound(y).depth_m for seed in range(400)]

    assert piled - RUN.depth_at(y) == pytest.approx(v * v / 19.6133, rel=1e-6)
    assert statistics.fmean(sunk) - soft.depth_at(y) == pytest.approx(0.02, abs=0.002)
    assert max(sunk) - soft.depth_at(y) < 0.04


def test_an_angle_that_is_overlooked_makes_too_much_water() -> None:
    """At 30° the flow is 15.5 % faster along itself; who notes the angle gets the right figure."""
    section = attrs.evolve(SECTION_TYPES["run"], angle=of(30.0, unit="°"), angle_deviation=of(0.0))
    stream = stream_of(section, 1)
    y = stream.left + 0.5 * stream.drawn["width"]
    noted = Wading(stream, PERFECT, 1).vertical(y)
    overlooked = Wading(stream, attrs.evolve(PERFECT, angle_overlooked=1.0), 1).vertical(y)

    assert noted.angle == pytest.approx(30.0)
    assert noted.velocity_ms == pytest.approx(stream.velocity_at(y))
    assert overlooked.angle is None
    assert overlooked.velocity_ms == pytest.approx(1.1547 * stream.velocity_at(y), rel=1e-4)


def test_edges_are_found_within_their_error() -> None:
    """Edges scatter by what the crew's habit says, and a steep one has a depth."""
    stream = make_stream("undercut bank", 2)
    crew = attrs.evolve(PERFECT, edge_finding=0.05)
    found = [Wading(stream, crew, seed).edges() for seed in range(400)]
    rights = [right.tape_m for _, right in found]

    assert statistics.fmean(rights) == pytest.approx(stream.right, abs=0.01)
    assert statistics.pstdev(rights) == pytest.approx(0.05, rel=0.12)
    assert {left.bank for left, _ in found} == {"sloping"}
    assert {right.bank for _, right in found} == {"undercut"}
    assert found[0][1].depth_m == pytest.approx(stream.depths[-1])


def test_gaps_as_wide_as_a_crew_sees_are_found() -> None:
    """The bars of a braid are found where they are; a crew that sees less finds fewer."""
    stream = make_stream("braid", 2)
    true = [(a, b) for (_, a), (b, _) in itertools.pairwise(stream.wet_stretches)]
    sharp, blind = (attrs.evolve(PERFECT, gap_seen=seen) for seen in (0.3, 50.0))

    found = Wading(stream, sharp, 1).gaps()
    assert len(found) == len([1 for a, b in true if b - a > 0.3]) > 0
    for low, high in found:
        assert any(abs(low - a) < 1e-9 and abs(high - b) < 1e-9 for a, b in true)
    assert Wading(stream, blind, 1).gaps() == []


def test_gaps_between_which_the_tape_has_no_mark_are_one() -> None:
    """Where a coarse tape puts the end of a gap on the start of the next, they do not overlap."""
    crew = attrs.evolve(CAREFUL, tape_resolution=0.3, gap_seen=0.02)
    several = 0
    for seed in range(150):
        gaps = Wading(make_stream("pocket water", seed), crew, 1).gaps()
        several += len(gaps) > 1

        assert all(low < high for low, high in gaps)
        assert all(a[1] < b[0] for a, b in itertools.pairwise(gaps))
    assert several > 3


def test_where_it_is_dry_no_velocity_is_read() -> None:
    """A further point on dry ground is refused, with the tape position."""
    stream = make_stream("braid", 6)
    low, high = Wading(stream, PERFECT, 1).gaps()[0]
    wading = Wading(stream, PERFECT, 1)
    dry = wading.vertical((low + high) / 2.0)

    assert (dry.depth, dry.velocity_ms, dry.points) == (0.0, 0.0, ())
    with pytest.raises(ValueError, match="where there is water"):
        wading.more(dry, 0.6)


def test_drawn_crews_keep_to_their_ranges() -> None:
    """Every habit of a drawn crew lies within the bounds that the documents print."""
    for seed in range(100):
        crew = draw_crew(seed)
        for field in attrs.fields(Crew):
            if "range" in field.metadata:
                bounds = field.metadata["range"]
                assert bounds.low <= getattr(crew, field.name) <= bounds.high
