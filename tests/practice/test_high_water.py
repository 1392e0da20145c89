"""A reach in which nobody should go in: truly beyond the limits, and said so, kindly."""

from __future__ import annotations

import datetime
from typing import Any

import attrs
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bankside.gauging.json_text import parsed, written
from bankside.gauging.records import StageReading
from bankside.gauging.rule_sets.load import load_rule_set
from bankside.practice.debrief.instead_words import instead_of
from bankside.practice.debrief.judgement import Judgement, judge
from bankside.practice.readiness.requirements import Requirements
from bankside.practice.readiness.standing import standings_of
from bankside.practice.readiness.tries import Try, tries_of
from bankside.practice.session.act import Act, Session
from bankside.practice.session.document import (
    Practice,
    practice_from_document,
    practice_to_document,
)
from bankside.practice.session.face import face_of
from bankside.practice.session.followed import follow
from bankside.practice.session.high_water import Danger, high_water
from bankside.practice.session.practice_streams import PRACTICE_STREAMS
from bankside.practice.session.reach import make_reach

from .trainee import Trainee, practise, waited

STREAM = "after rain"
SEEDS = range(200)
BY_DANGER: dict[Danger | None, list[int]] = {}
for number in SEEDS:
    water = high_water(STREAM, number)
    BY_DANGER.setdefault(None if water is None else water.danger, []).append(number)
DANGERS: list[Danger] = ["too strong", "rising", "wood below"]
STAYS = Act("stay out")


def most(name: str, seed: int, section: str, seconds: float = 0.0) -> list[float]:
    """Depth times velocity at 400 places of a section, by its water, at a second."""
    water = make_reach(name, seed).section(section).water
    stream = water.stream
    places = [stream.left + (stream.right - stream.left) * (i + 0.5) / 400 for i in range(400)]
    return [water.depth_at(y, seconds) * abs(water.velocity_at(y, seconds)) for y in places]


def session(seed: int, *acts: Act, stream: str = STREAM) -> Practice:
    """What somebody did, without a word written down."""
    said = Session(stream, seed, acts)
    return Practice(said, "Ann", day=datetime.date(2026, 5, 1))


def measured(seed: int, *after: Act, stream: str = STREAM, **habits: Any) -> Practice:
    """A whole gauging, and what was done after it."""
    said, _, record = practise(stream, seed, Trainee(**habits))
    said = attrs.evolve(said, acts=(*said.acts, *after))
    return Practice(said, "Ann", record, day=datetime.date(2026, 5, 1))


def judged(practice: Practice) -> Judgement:
    """What is said of it."""
    found = judge(practice)
    assert found is not None
    return found


def one_try(practice: Practice) -> Try:
    """The try that it is."""
    (found,) = tries_of([practice])
    return found


def still(*tries: Try) -> tuple[str, ...]:
    """What is still asked of somebody who has gauged one stream, and of whom two are asked."""
    good = Try("Ann", None, "easy run", 0, 1.0, None, True, 0, True)
    asked = Requirements(streams=2, kinds=1, gauged=1, must=())
    (person,) = standings_of([good, *tries], asked)
    return person.still


def test_about_half_of_the_seeds_can_be_waded() -> None:
    """And each danger comes often enough to be met."""
    assert 75 <= len(BY_DANGER[None]) <= 125
    assert all(len(BY_DANGER[danger]) >= 18 for danger in DANGERS)


def test_neither_name_nor_words_tell_which() -> None:
    """One name and one sentence for all seeds, and other streams never swell."""
    assert [one.name for one in PRACTICE_STREAMS.values() if one.swells] == [STREAM]
    for seed in (BY_DANGER[None][0], BY_DANGER["rising"][0]):
        reach = make_reach(STREAM, seed)
        assert reach.kind is PRACTICE_STREAMS[STREAM]
        assert [one.name for one in reach.sections] == ["A", "B", "C"]
    assert make_reach("rising stage", 3).high is None


@pytest.mark.parametrize("seed", BY_DANGER["too strong"][:12])
def test_too_strong_is_beyond_the_limit_at_every_section(seed: int) -> None:
    """Over at least a fifth of the width, less what falls between 400 places."""
    stop = load_rule_set("common-practice").si("wade_product_stop")
    for section in "ABC":
        found = most(STREAM, seed, section)
        assert sum(product >= stop for product in found) >= 0.19 * len(found)


@pytest.mark.parametrize("seed", BY_DANGER["rising"][:12])
def test_rising_water_is_beyond_the_limit_within_the_hour(seed: int) -> None:
    """At every section, though it is below it now; and it is brown, with drift, on the gauge."""
    stop = load_rule_set("common-practice").si("wade_product_stop")
    for section in "ABC":
        assert max(most(STREAM, seed, section)) < stop
        assert max(most(STREAM, seed, section, 3600.0)) > 0.99 * stop
    reach = make_reach(STREAM, seed)
    assert reach.signs.brown and reach.signs.drift
    climbed = follow(Session(STREAM, seed)).gauge_at(0.0) - follow(Session(STREAM, seed)).gauge_at(
        -1200.0
    )
    assert 0.09 < climbed < 0.18


@pytest.mark.parametrize("seed", BY_DANGER["wood below"][:12])
def test_wood_lies_below_sections_that_are_strong(seed: int) -> None:
    """At or beyond the limit from which the leader decides, and just below the last section."""
    leader = load_rule_set("common-practice").si("wade_product_caution")
    reach = make_reach(STREAM, seed)
    for one in reach.sections:
        assert max(most(STREAM, seed, one.name)) > 0.98 * leader
        assert reach.wood_below(one) is not None
    assert 4.0 <= (reach.wood_below(reach.sections[-1]) or 0.0) <= 12.0


@pytest.mark.parametrize("seed", BY_DANGER[None][:20])
def test_the_other_seeds_can_be_waded_and_look_so(seed: int) -> None:
    """Below the limits, clear, steady, nothing below."""
    rules = load_rule_set("common-practice")
    reach = make_reach(STREAM, seed)

    assert reach.high is None
    assert not reach.signs.brown and not reach.signs.drift and reach.signs.wood is None
    assert follow(Session(STREAM, seed)).gauge_at(-1200.0) == 0.5
    for section in "ABC":
        assert max(most(STREAM, seed, section)) < rules.si("wade_product_stop")


@settings(max_examples=15, deadline=None)
@given(st.integers(0, 10_000))
def test_a_seed_is_one_water(seed: int) -> None:
    """The same in every process: its danger, its signs, its sections."""
    one = make_reach(STREAM, seed)
    make_reach.cache_clear()
    again = make_reach(STREAM, seed)

    assert (one.high, one.best) == (again.high, again.best)
    assert [s.water.stream.depths for s in one.sections] == [
        s.water.stream.depths for s in again.sections
    ]


def test_brown_water_hides_its_bed() -> None:
    """It is as dark everywhere, and no stone shows under it."""
    stream = make_reach("cobble riffle", 2).sections[0].water.stream
    seen = face_of(stream, brown=True)

    assert len({place.dark for place in seen.places if not place.dry}) == 1
    assert seen.under == ()
    assert seen.stones == face_of(stream).stones


@pytest.mark.parametrize("danger", DANGERS)
def test_who_stays_out_is_praised_and_ready(danger: Danger) -> None:
    """It counts as shown, what the water was is told, and what would have told the discharge."""
    practice = session(BY_DANGER[danger][0], STAYS)
    found = judged(practice)
    told = " ".join(f"{one.why} {one.what}" for one in found.instead)

    assert found.right and found.stops == 0
    assert "You stayed out, and that was right" in found.verdict
    assert all(word in told for word in ("Another day", "Floats", "bridge"))
    assert found.because and all(sentence.endswith(".") for sentence in found.because)
    one = one_try(practice)
    assert (one.left, one.stops, one.percent, one.set_aside) == (True, 0, None, False)
    assert still(one) == ()


@pytest.mark.parametrize("seed", SEEDS)
def test_another_place_is_tried_only_in_clear_and_steady_water(seed: int) -> None:
    """Rising or brown water, or wood, is never left for a second try at the same flood."""
    high = high_water(STREAM, seed)
    if high is None:
        return
    told = " ".join(f"{one.why} {one.what}" for one in instead_of(high, "by the water"))
    may = high.danger == "too strong" and not high.signs.brown

    assert ("wide and slow" in told) == may
    assert ("No other place is safer today." in told) == (not may)
    assert told.count("well back from the edge, never above wood") == (2 if may else 1)


def test_a_call_to_stay_out_sends_nobody_to_another_place() -> None:
    """A level that rises does so everywhere; who stays out unbidden is told neither."""
    places = [instead_of(None, asked)[-1] for asked in ("by a check", "by nothing")]

    assert places[0].why == "No other place is safer today."
    assert "safer" not in places[1].why and "wide and slow" not in places[1].what


@pytest.mark.parametrize(
    ("danger", "said"),
    [("too strong", "% of the width"), ("rising", "climbed by"), ("wood below", "Wood lies")],
)
def test_what_the_water_was_is_told_by_the_limits(danger: Danger, said: str) -> None:
    """With the limit that it is held against."""
    found = judged(session(BY_DANGER[danger][1], STAYS))

    assert any(said in sentence for sentence in found.because)
    assert any("m²/s" in sentence for sentence in found.because)


@pytest.mark.parametrize("danger", DANGERS)
def test_who_goes_in_is_told_what_would_have_happened(danger: Danger) -> None:
    """However well it was measured: no discharge is told, and a stop counts as passed over."""
    practice = measured(BY_DANGER[danger][0])
    found = judged(practice)

    assert (found.right, found.outcome) == (False, "went in")
    assert "nobody should have gone in" in found.verdict
    assert "Where you stood" in found.because[0]
    assert not hasattr(found, "percent")
    one = one_try(practice)
    assert one.stops >= 1
    assert not one.left and one.percent is None
    assert any("passed over" in sentence for sentence in still(one))


def test_who_stands_beyond_the_limit_is_told_plainly() -> None:
    """A careful gauging of water that is too strong meets it."""
    (first, *_) = judged(measured(BY_DANGER["too strong"][0])).because

    assert "may take anybody off their feet" in first
    assert "would have" not in first


@pytest.mark.parametrize(
    ("danger", "said"), [("rising", "the next hour"), ("wood below", "one slip")]
)
def test_below_the_limit_it_is_told_why_that_was_not_enough(danger: Danger, said: str) -> None:
    """Where every reading was below the limit: the limit beside it, and what else there was."""
    (first, *_) = judged(measured(BY_DANGER[danger][0])).because

    assert "below the limit of 0.93 m²/s" in first and said in first


def test_coming_out_again_is_right_and_going_in_was_not() -> None:
    """Kindly, and it still counts: the water said no before the first step."""
    seed = BY_DANGER["too strong"][0]
    tape = round(make_reach(STREAM, seed).sections[0].water.stream.left + 0.4, 2)
    went = (Act("choose", section="A"), Act("stretch"), Act("sound", tape=tape))
    practice = session(seed, *went, STAYS)
    found = judged(practice)

    assert found.outcome == "came out"
    assert "Coming out was right" in found.verdict
    assert one_try(practice).stops == 1


def test_to_stay_out_of_what_can_be_waded_is_never_blamed() -> None:
    """No stop, no missing figure: it is left aside, and another stream is asked for."""
    practice = session(BY_DANGER[None][0], STAYS)
    found, one = judged(practice), one_try(practice)

    assert "you may always stay out" in found.verdict
    assert (found.right, found.stops, found.because) == (False, 0, ())
    assert one.set_aside and one.stops == 0
    assert still(one)[0] == "One stream more to gauge for the first time."
    good = Try("Ann", None, "easy run", 1, 1.0, None, True, 0, True)
    assert still(good, one) == still(good) == ()


def test_to_come_out_unbidden_is_not_blamed_either() -> None:
    """Half a section read at an ordinary stream, and out."""
    practice = measured(3, stream="easy run")
    acts = [act for act in practice.session.acts if act.do not in ("sound", "hold")]
    some = [act for act in practice.session.acts if act.do in ("sound", "hold")][:8]
    said = attrs.evolve(practice.session, acts=(*acts, *some, STAYS))
    practice = attrs.evolve(practice, session=said)

    assert "came out before all was read" in judged(practice).verdict
    assert one_try(practice).set_aside


def test_the_word_alone_takes_back_no_whole_gauging() -> None:
    """Who has read all and says then to stay out is debriefed as anybody."""
    practice = measured(3, STAYS, stream="easy run")

    assert judge(practice) is None
    assert one_try(practice).percent is not None


def test_to_stay_out_and_go_in_after_all_is_to_go_in() -> None:
    """The last word counts."""
    practice = measured(BY_DANGER["rising"][0])
    said = attrs.evolve(practice.session, acts=(STAYS, *practice.session.acts))

    assert judged(attrs.evolve(practice, session=said)).outcome == "went in"


def test_nobody_is_credited_for_a_session_in_which_nothing_was_said() -> None:
    """Nobody went in, which is right, but nobody decided either: it is left aside."""
    practice = session(BY_DANGER["rising"][0], Act("choose", section="A"))

    assert "Say so another time" in judged(practice).verdict
    assert one_try(practice).set_aside


def test_a_gauge_that_calls_out_before_anybody_is_in() -> None:
    """At the stream that rises slowly: staying out is what the check asks for."""
    said, record = waited(3)
    practice = Practice(said, "Ann", record)

    assert "A check called everybody out" in judged(practice).verdict
    assert one_try(practice).left and still(one_try(practice)) == ()


@pytest.mark.parametrize("stream", ["easy run", "two channels", "rising stage"])
def test_figures_of_a_gauge_that_nobody_looked_at_call_nobody(stream: str) -> None:
    """A rise that was made up, or is more than was shown, is set aside: the stream said nothing."""
    _, record = waited(1)
    record = attrs.evolve(record, stage=(StageReading(0.5), StageReading(0.7)))
    looked = (Act("choose", section="A"), Act("stage"), Act("stage"), STAYS)
    for acts in (looked[:1] + looked[3:], looked):
        one = one_try(attrs.evolve(session(1, *acts, stream=stream), record=record))
        assert (one.left, one.set_aside, one.stops) == (False, True, 0)
        assert still(one)[0] == "One stream more to gauge for the first time."


def test_an_ordinary_gauging_is_not_judged() -> None:
    """Who wades what can be waded has a debrief of the discharge."""
    assert judge(measured(BY_DANGER[None][0])) is None
    assert judge(measured(4, stream="easy run")) is None


def test_to_stay_out_is_kept_with_the_session() -> None:
    """As JSON and back."""
    practice = session(BY_DANGER["rising"][0], STAYS)

    assert practice_from_document(parsed(written(practice_to_document(practice)))) == practice
