"""What holds for advice on any section."""

from itertools import pairwise

import attrs
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from bankside.gauging.advice import Act, advise
from bankside.gauging.advice_design import HowRead, added, cuts
from bankside.gauging.advice_sides import sides
from bankside.gauging.between import CHARACTERS
from bankside.gauging.between_section import BetweenSection
from bankside.gauging.checks.examined import examine
from bankside.gauging.compute import compute
from bankside.gauging.records import Gauging, Vertical
from bankside.gauging.uncertainty_between import section_as_read
from bankside.gauging.uncertainty_flow import Assumed, flow_of

from .checks.sections import METRIC, RULES, gauging, left, read, right

_STEP = 0.2
_HOW = HowRead.by(RULES)


@st.composite
def sections(draw: st.DrawFn) -> Gauging:
    """Edges of water and 3 to 10 verticals at whole steps of 0.2 m, now and then a dry one."""
    gaps = draw(st.lists(st.integers(1, 8), min_size=4, max_size=11))
    tapes = [0]
    for gap in gaps:
        tapes.append(tapes[-1] + gap)
    inner = [_vertical(draw, round(tape * _STEP, 6)) for tape in tapes[1:-1]]
    return gauging(left(), *inner, right(round(tapes[-1] * _STEP, 6)), units=METRIC)


def _vertical(draw: st.DrawFn, tape: float) -> Vertical:
    if draw(st.integers(0, 9)) == 0:
        return Vertical(tape, dry=True)
    return read(tape, draw(st.floats(0.05, 1.0)), draw(st.floats(0.05, 1.0)))


def _section(made: Gauging) -> BetweenSection:
    flow = flow_of(made, compute(made))
    assume(flow.has_percents)
    section = section_as_read(made, flow, Assumed())
    assert section is not None
    return section


def _acts(made: Gauging, target: float | None = None) -> tuple[Act, ...]:
    return advise(examine(made, RULES, finished=True), target=target)


@given(sections(), st.none() | st.floats(1, 30))
@settings(max_examples=60, deadline=None)
def test_a_place_is_in_the_water_and_free(made: Gauging, target: float | None) -> None:
    """Between the edges, on no vertical, not between two dry ones, the least spacing kept."""
    called = sorted(made.channels[0].verticals, key=lambda one: one.tape)
    for act in _acts(made, target):
        if act.kind != "vertical":
            continue
        assert act.tape is not None and act.channel == 0
        below = max((one for one in called if one.tape < act.tape), key=lambda one: one.tape)
        above = min((one for one in called if one.tape > act.tape), key=lambda one: one.tape)
        assert below.depth or above.depth
        nearest = min(act.tape - below.tape, above.tape - act.tape)
        assert nearest >= RULES.si("spacing_least") - 1e-6


@given(sections(), st.floats(1, 30))
@settings(max_examples=40, deadline=None)
def test_other_acts_are_done_where_water_was_read(made: Gauging, target: float) -> None:
    """A second point or a longer exposure has a vertical of the record, with depth."""
    wet = {one.tape for one in made.channels[0].verticals if one.depth}
    for act in _acts(made, target):
        if act.kind in ("second point", "longer exposure"):
            assert act.tape in wet
        if act.kind in ("enough", "elsewhere"):
            assert act.tape is None and act.channel is None


@given(sections())
@settings(max_examples=40, deadline=None)
def test_a_mirrored_section_has_mirrored_advice(made: Gauging) -> None:
    """From the other bank the same place is best, to the next mark of the tape.

    Where strong water parts it, two sides that bring as much are told from by the order of calling.
    """
    assume(len(sides(examine(made, RULES, finished=True))) == 1)
    called = made.channels[0].verticals
    end = called[-1].tape
    turned = [attrs.evolve(one, tape=round(end - one.tape, 6)) for one in reversed(called)]
    swapped = [left(0.0), *turned[1:-1], right(end)]
    here, there = _acts(made), _acts(gauging(*swapped, units=METRIC))
    assert [round(act.percent, 1) for act in here[:1]] == [
        pytest.approx(round(act.percent, 1), abs=0.11) for act in there[:1]
    ]
    best = [act for act in here if act.percent <= min(one.percent for one in here) + 0.05]
    if here and here[0].kind == "vertical" and len(best) == 1 and there[0].kind == "vertical":
        assert here[0].tape is not None and there[0].tape is not None
        assert there[0].tape == pytest.approx(end - here[0].tape, abs=0.05 + 1e-6)


def test_a_symmetric_section_has_symmetric_advice() -> None:
    """What is advised on one side is advised on the other, and brings as much."""
    depths = [0.3, 0.5, 0.7, 0.5, 0.3]
    inner = [read(1.0 * i, depth, depth) for i, depth in enumerate(depths, start=1)]
    acts = _acts(gauging(left(), *inner, right(6), units=METRIC))
    by_tape = {a.tape: a.percent for a in acts if a.kind == "vertical" and a.tape is not None}

    assert len(by_tape) >= 4
    for tape, percent in by_tape.items():
        assert by_tape[round(6 - tape, 6)] == pytest.approx(percent, rel=1e-6)


@given(sections(), st.integers(0, 100), st.integers(1, 6))
@settings(max_examples=100, deadline=None)
def test_one_more_vertical_widens_no_part_that_it_measures(
    made: Gauging, which: int, pieces: int
) -> None:
    """Whatever the character: neither its interval, by itself, nor the widths of the panels."""
    section = _section(made)
    stations, line = section.waters[0], section.between.lines[0]
    i = which % (len(stations) - 1)
    low, high = stations[i].tape_m, stations[i + 1].tape_m

    after = section.with_stations(0, [added(stations, (low + high) / 2, _HOW)])

    assert after.variances.width <= section.variances.width * (1 + 1e-9)
    for one in CHARACTERS:
        whole, cut = (one.cut_variance(line, i, k) for k in (pieces, pieces + 1))
        assert cut <= whole * (1 + 1e-9)
        assert one.cut_variance(line, i, 1) == pytest.approx(one.interval_variance(line, i))


@given(sections())
@settings(max_examples=40, deadline=None)
def test_nothing_is_advised_that_would_leave_more(made: Gauging) -> None:
    """Every act is expected to leave less than there is."""
    now = _section(made).half_width(0.95)
    acts = [act for act in _acts(made) if act.kind != "no more"]
    assert all(act.percent < now and act.seconds > 0 for act in acts)


@given(sections())
@settings(max_examples=40, deadline=None)
def test_nobody_is_sent_into_water_at_the_limits(made: Gauging) -> None:
    """Neither at a reading at a limit, nor beside one, nor between two of them."""
    called = sorted(made.channels[0].verticals, key=lambda one: one.tape)
    strong = [
        i
        for i, one in enumerate(called)
        if one.velocity and one.depth
        if one.depth * one.velocity[0].value >= RULES.si("wade_product_caution")
    ]
    if not strong:
        return
    out = (called[strong[0] - 1].tape, called[strong[-1] + 1].tape)
    for act in _acts(made):
        assert act.tape is None or not out[0] < act.tape < out[1]


@given(sections(), st.integers(0, 100))
@settings(max_examples=40, deadline=None)
def test_a_second_point_and_a_longer_exposure_lower_their_own_part_alone(
    made: Gauging, which: int
) -> None:
    """The profile by a second point, the readings by both; what is between stays as it is."""
    section = _section(made)
    wet = [one for one in section.waters[0] if one.depth_m > 0]
    one = wet[which % len(wet)]
    second = section.with_stations(0, [attrs.evolve(one, points=2)])
    longer = section.with_stations(
        0, [attrs.evolve(one, exposure_percent=one.exposure_percent / 2)]
    )

    assert second.variances.profile < section.variances.profile
    assert second.variances.readings <= section.variances.readings
    assert longer.variances.readings <= section.variances.readings
    assert longer.variances.profile == section.variances.profile
    for after in (second, longer):
        assert after.between.variance == pytest.approx(section.between.variance, rel=1e-12)
        assert after.half_width(0.95) <= section.half_width(0.95) * (1 + 1e-9)


@given(sections())
@settings(max_examples=25, deadline=None)
def test_cuts_gain_less_and_less(made: Gauging) -> None:
    """The first takes most from what is between; the last of them still takes something."""
    section = _section(made)
    gains = [cut.gain for cut in cuts(section, 12, _HOW.least_m)]
    assert all(before >= after > 0 for before, after in pairwise(gains))
