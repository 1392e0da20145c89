"""Practice streams: one discharge at every section of a reach, and one section clearly better."""

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from bankside.gauging.rule_sets.load import load_rule_set
from bankside.practice.section_types import SECTION_TYPES
from bankside.practice.session.high_water import strength
from bankside.practice.session.practice_streams import PRACTICE_STREAMS
from bankside.practice.session.reach import calmed, make_reach, section_error

SEEDS = st.integers(0, 10_000)
NAMES = st.sampled_from(sorted(PRACTICE_STREAMS))


@settings(max_examples=30, deadline=None)
@given(NAMES, SEEDS)
def test_every_section_carries_the_same(name: str, seed: int) -> None:
    """As it is and after clearing: what differs is how well it can be measured."""
    reach = make_reach(name, seed)
    discharges = [w.discharge(0.0) for one in reach.sections for w in (one.water, one.cleared)]

    assert discharges == pytest.approx([discharges[0]] * 6, rel=1e-12)


@settings(max_examples=30, deadline=None)
@given(NAMES, SEEDS)
def test_one_section_is_clearly_better(name: str, seed: int) -> None:
    """Its error between verticals is at most half that of any other."""
    reach = make_reach(name, seed)
    best = reach.section(reach.best)

    assert section_error(best.water.stream) == best.error
    assert all(2 * best.error <= one.error for one in reach.sections if one is not best)


@settings(max_examples=30, deadline=None)
@given(NAMES, SEEDS)
def test_all_of_it_can_be_waded(name: str, seed: int) -> None:
    """Below the limit at which nobody wades and nowhere over 4 ft; the better one well below.

    But for high water after rain, which `test_high_water.py` holds.
    """
    rules = load_rule_set("common-practice")
    reach = make_reach(name, seed)
    assume(reach.high is None)
    best = reach.section(reach.best).water.stream

    for one in reach.sections:
        assert strength(one.water.stream) < rules.si("wade_product_stop")
        assert max(one.water.stream.depths) <= rules.si("wade_depth_caution")
    assert strength(best) < 0.8 * rules.si("wade_product_caution")


def test_a_seed_is_one_reach_and_another_seed_is_another() -> None:
    """The same in every process: names, places, waters."""
    make_reach.cache_clear()
    one, other = make_reach("pocket water", 4), make_reach("pocket water", 5)
    make_reach.cache_clear()
    again = make_reach("pocket water", 4)

    assert [(s.name, s.along, s.error) for s in one.sections] == [
        (s.name, s.along, s.error) for s in again.sections
    ]
    assert one.sections[0].water.stream.depths != other.sections[0].water.stream.depths


def test_the_better_section_has_no_name_of_its_own() -> None:
    """Nobody learns to choose A: each name is the better one about a third of the time."""
    best = [make_reach("easy run", seed).best for seed in range(90)]

    assert all(best.count(name) >= 15 for name in "ABC")


def test_a_calmed_type_keeps_its_form() -> None:
    """Width, depth and form are drawn as before; only what roughens is less."""
    rough = SECTION_TYPES["pocket water"]
    calm = calmed(rough)

    assert (calm.width, calm.depth, calm.form) == (rough.width, rough.depth, rough.form)
    assert calm.stones.high < rough.stones.low * 1.5
    assert calm.velocity_roughness.high < rough.velocity_roughness.low


def test_an_unknown_stream_is_a_fault() -> None:
    """There is no stream of every name."""
    with pytest.raises(KeyError):
        make_reach("ocean", 1)


def test_rising_water_is_deeper_and_faster_and_adds_up() -> None:
    """The discharge at a later second is that of a strip sum over the water then, by 1e-4."""
    water = make_reach("rising stage", 2).sections[0].water
    stream, later = water.stream, 3600.0
    width = (stream.right - stream.left) / 40_000
    places = [stream.left + width * (i + 0.5) for i in range(40_000)]
    summed = width * sum(water.depth_at(y, later) * water.velocity_at(y, later) for y in places)

    assert water.discharge(later) == pytest.approx(summed, rel=1e-4)
    assert water.discharge(later) > 1.05 * water.discharge(0.0)
