"""What a crew is told to do next, and in which words."""

import re

import attrs
import pytest

from bankside.gauging.advice import Act, advise
from bankside.gauging.advice_design import added
from bankside.gauging.advice_grounds import Grounds, grounds_of
from bankside.gauging.advice_plan import target_remark
from bankside.gauging.advice_sides import sides
from bankside.gauging.checks.answers import accepted, key_of
from bankside.gauging.checks.examined import examine
from bankside.gauging.checks.finding import Finding
from bankside.gauging.checks.run import check_gauging
from bankside.gauging.compute import compute
from bankside.gauging.header_records import CrewMember, RotorSize
from bankside.gauging.records import (
    Gauging,
    Meter,
    PointReading,
    StageReading,
    Vertical,
)
from bankside.gauging.rule_sets.rule_set import RuleSet

from .checks.sections import METRIC, RULES, gauging, left, read, right

TWO = (CrewMember("I. Marrow"), CrewMember("O. Tern"))
FIGURE = r"± [\d.]+ %"


def _smooth(count: int, *, width: float = 12.0, exposure: float = 60.0) -> Gauging:
    """A parabola 0.6 m deep that runs at 0.6 m/s, `count` verticals at equal distances."""
    inner = []
    for i in range(1, count + 1):
        part = i / (count + 1)
        shape = 4 * part * (1 - part)
        readings = (PointReading(0.3 + 0.3 * shape, 0.6, exposure),)
        inner.append(Vertical(round(width * part, 2), 0.6 * shape, readings))
    return gauging(left(), *inner, right(width), units=METRIC)


def _rough(count: int) -> Gauging:
    """Boulders: every other vertical is deep and fast, those between shallow and all but dead."""
    inner = [read(0.5 * i, *((0.5, 0.45) if i % 2 else (0.15, 0.05))) for i in range(1, count + 1)]
    return gauging(left(), *inner, right(0.5 * (count + 1)), units=METRIC)


def _told(
    made: Gauging,
    target: float | None = None,
    rules: RuleSet = RULES,
    crew: tuple[CrewMember, ...] = TWO,
) -> tuple[Act, ...]:
    made = attrs.evolve(made, crew=crew)
    return advise(examine(made, rules, finished=True), target=target)


def _wanting(least: float, share: float = 10.0) -> RuleSet:
    """The rule set, with another number of verticals, and another share that a panel may carry."""
    changed = {
        "verticals_least": attrs.evolve(RULES["verticals_least"], value=least),
        "panel_share_limit": attrs.evolve(RULES["panel_share_limit"], value=share),
    }
    return attrs.evolve(RULES, values={**RULES.values, **changed})


def test_enough_where_target_and_rule_set_are_met() -> None:
    """One act, and it says how sure the discharge is and by how many verticals."""
    (act,) = _told(_smooth(24), target=12)

    assert (act.kind, act.seconds, act.tape) == ("enough", 0.0, None)
    assert re.fullmatch(rf"Enough: {FIGURE} reached with 24 verticals\.", act.words)


def test_the_rule_set_is_not_broken_unsaid() -> None:
    """With the target met and verticals missing, they come first; who stops says so."""
    acts = _told(_smooth(14), target=14)

    assert acts[0].kind == "vertical" and acts[-1].kind == "enough"
    assert '; ± 14 % is reached, 6 more are asked for by the rule set "common-practice".' in (
        acts[0].words
    )
    assert re.fullmatch(
        rf'{FIGURE} reached with 14 verticals, yet the rule set "common-practice" asks for 20: '
        r"who stops here departs from it and says so\.",
        acts[-1].words,
    )
    (alone,) = _told(_smooth(14), target=14, rules=_wanting(14, share=15))
    assert alone.kind == "enough"


def test_a_heavy_panel_comes_before_enough() -> None:
    """At the target and with all its verticals: the panel above the limit comes first."""
    made = _smooth(14)  # its two middle panels carry 10.7 %, those beside them 10.2 %

    acts = _told(made, target=14, rules=_wanting(14))

    assert [act.kind for act in acts[:-1]] == ["vertical"] * 5 and acts[-1].kind == "enough"
    assert all(4 < (act.tape or 0) < 8 for act in acts[:-1])
    wants = 'yet the rule set "common-practice" wants no panel above 10 % of the discharge'
    assert f"; ± 14 % is reached, {wants}." in acts[0].words
    assert f"reached with 14 verticals, {wants}: who stops here departs from it" in acts[-1].words
    findings = check_gauging(made, _wanting(14))
    held = advise(examine(made, _wanting(14), finished=True), findings, target=14)
    assert held and {act.kind for act in held} == {"vertical"}


def test_a_gain_that_nobody_needs_is_not_told() -> None:
    """24 even verticals: each act would take less than 0.1 off the interval, and that is said."""
    (act,) = _told(_smooth(24))

    assert (act.kind, act.channel, act.tape, act.seconds) == ("no more", None, None, 0.0)
    assert re.fullmatch(
        r"No more vertical, second point or longer exposure is worth its time: each would take "
        rf"less than 0\.1 off {FIGURE}\.",
        act.words,
    )


def test_on_the_way_to_a_target_less_is_worth_it() -> None:
    """What brings its part of what is missing to the target is told, as many such acts do."""
    now = _told(_smooth(24))[0].percent

    acts = _told(_smooth(24), target=now - 0.05)

    assert acts[0].kind == "vertical" and now - 0.1 < acts[0].percent < now
    minutes = r"; about (\d+) more verticals, some (\d+) min in the water, to "
    told = re.search(minutes, acts[0].words)
    assert told is not None
    assert int(told[2]) == round(int(told[1]) * acts[0].seconds / 60)


def test_verticals_that_the_rule_set_wants_are_told_whatever_they_bring() -> None:
    """Without a target as well; a crew of 14 verticals is six short."""
    acts = _told(_smooth(14))

    assert acts[0].kind == "vertical" and acts[0].percent > _told(_smooth(24))[0].percent
    assert acts[0].words.endswith('; the rule set "common-practice" asks for 6 more.')


def _grounds(made: Gauging) -> Grounds | None:
    examined = examine(made, RULES, finished=True)
    return grounds_of(examined, sides(examined)[0])


def test_the_figure_told_is_that_of_the_budget() -> None:
    """The weight of kinks chooses the place alone: read as expected, the interval is as told."""
    made = _smooth(8)
    act = _told(made)[0]
    grounds = _grounds(made)
    assert grounds is not None and act.tape is not None
    section = grounds.section.of_the_likely(1e-3)

    new = added(section.waters[0], act.tape, grounds.how)

    left_open = section.with_stations(0, [new]).half_width(0.95)
    taken_off = section.half_width(0.95) - left_open
    assert act.percent == pytest.approx(grounds.section.half_width(0.95) - taken_off, rel=1e-9)


def test_before_the_target_the_best_act_comes_first_with_what_it_brings() -> None:
    """And how many more verticals the target is likely to need."""
    acts = _told(_smooth(8), target=6.5)

    assert acts[0].kind == "vertical"
    assert re.fullmatch(
        rf"Read a vertical at tape [\d.]+ m: {FIGURE} becomes about {FIGURE}, as [\d.]+ % of what "
        r"is open between verticals lies between tapes [\d.]+ and [\d.]+ m; about \d+ more "
        r"verticals, some \d+ min in the water, to ± 6\.5 %\.",
        acts[0].words,
    )
    assert all(act.kind not in ("enough", "elsewhere") for act in acts)


def test_a_rough_bed_is_told_not_to_do() -> None:
    """The time of 25 more verticals is not enough, and its figure is told; acts still follow."""
    acts = _told(_rough(14), target=8)

    assert acts[0].kind == "elsewhere" and acts[1].kind == "vertical"
    assert acts[0].percent > 8
    assert (
        re.fullmatch(
            r"± 8 % is not to be reached here, find a smoother section where wading is safe: "
            r"25 more verticals, or "
            rf"second points in their time, would still leave {FIGURE}\.",
            acts[0].words,
        )
        or "rod, meter and profile" in acts[0].words
    )


def test_where_water_runs_back_no_percent_of_next_to_nothing_is_told() -> None:
    """An eddy takes back nearly all that comes down, so half the interval is several times that."""
    inner = [read(1.0 * i, 0.4, 0.5 if i % 2 else -0.45) for i in range(1, 16)]
    acts = _told(gauging(left(), *inner, right(16), units=METRIC), target=8)

    assert acts[0].kind == "elsewhere" and acts[0].percent > 100
    assert "would still leave more than the discharge either way;" in acts[0].words
    assert acts[1].kind == "vertical"
    assert re.search(
        r": half the interval, now more than the discharge itself, becomes about 0\.\d+ of that, ",
        acts[1].words,
    )
    assert not re.search(r"± \d{3}", " ".join(act.words for act in acts))


def test_what_is_common_is_told_where_it_is_in_the_way() -> None:
    """In water of 10 cm a rod of 6 mm is 6 % for itself: no vertical helps."""
    shallow = [read(1.0 * i, 0.1, 0.5) for i in range(1, 25)]
    acts = _told(gauging(left(), *shallow, right(25), units=METRIC), target=5)

    assert acts[0].kind == "elsewhere"
    assert "rod, meter and profile, the same at all verticals, alone leave ± 1" in acts[0].words
    assert acts[0].words.endswith("with a more even bed where wading is safe.")


def test_a_few_readings_send_nobody_away() -> None:
    """Seven verticals tell too little of a bed; eight may."""
    kinds = [{act.kind for act in _told(_rough(count), target=2)} for count in (6, 8)]

    assert "elsewhere" not in kinds[0] and "elsewhere" in kinds[1]


def _narrow(depth: float, rotor: RotorSize | None = None) -> Gauging:
    """Eleven verticals 0.1 m apart, between which there is no room for more."""
    inner = [read(round(0.1 * i, 1), depth, 0.4) for i in range(1, 12)]
    made = gauging(left(), *inner, right(1.2), units=METRIC)
    return made if rotor is None else attrs.evolve(made, meter=Meter(rotor=rotor))


def test_a_second_point_is_told_where_the_rule_set_has_two() -> None:
    """From 2.5 ft on, with a small rotor from 1.5 ft on; nobody is told of more than it asks."""
    acts = _told(_narrow(0.8))

    assert {act.kind for act in acts} == {"second point"}  # nobody wrote how long was read
    assert re.fullmatch(
        r"Read 0\.2 and 0\.8 of the depth as well at tape [\d.]+ m, as the rule set asks: "
        rf"{FIGURE} becomes about {FIGURE}\.",
        acts[0].words,
    )
    assert acts[0].seconds == 20 + 2 * 40
    assert {act.kind for act in _told(_narrow(0.6))} == {"no more"}
    assert {act.kind for act in _told(_narrow(0.6, "small"))} == {"second point"}


@pytest.mark.parametrize(
    ("exposure", "beyond"), [(20.0, ""), (40.0, ", beyond what the rule set ")]
)
def test_a_longer_exposure_says_where_it_goes_beyond_the_rule_set(
    exposure: float, beyond: str
) -> None:
    """40 s more lower what the readings leave; the rule set has all it asks for with 40."""
    made = _smooth(30, width=4.0, exposure=exposure)
    now = _told(made)[0].percent
    acts = _told(made, target=now - 0.01)

    longer = [act for act in acts if act.kind == "longer exposure"]
    assert longer and longer[0].seconds == 20 + 40
    assert "Read longer at tape" in longer[0].words
    assert f", 40 s more a point{beyond}" in longer[0].words
    assert bool(beyond) == ("beyond" in longer[0].words)


def test_a_mean_of_a_vertical_takes_no_second_point() -> None:
    """0.2 and 0.8 are added to 0.6, not to a velocity written without its point."""
    inner = [Vertical(0.1 * i, 0.8, (PointReading(0.4),)) for i in range(1, 12)]

    (act,) = _told(gauging(left(), *inner, right(1.2), units=METRIC))
    assert act.kind == "no more"


def _accepted(made: Gauging) -> tuple[Gauging, tuple[Finding, ...]]:
    """The gauging with all its findings accepted, and what is then found."""
    findings = check_gauging(made, RULES)
    reasons = {key_of(one): "as it was" for one in findings}
    settled = accepted(made, findings, reasons, by="I. Marrow")
    return settled, check_gauging(settled, RULES)


def test_nobody_is_sent_anywhere_while_a_finding_calls_out() -> None:
    """A stop is open; once it is accepted its reading stands, and nobody goes there again.

    What is accepted was taken for settled before, and the crew was sent back beside it.
    """
    inner = [read(1.0 * i, 1.0, 1.1) for i in range(1, 9)]
    strong = gauging(left(), *inner, right(9), units=METRIC)
    findings = check_gauging(strong, RULES)
    assert any(one.severity == "stop" for one in findings)

    assert advise(examine(strong, RULES, finished=True), findings, target=5) == ()

    settled, later = _accepted(strong)
    acts = advise(examine(settled, RULES, finished=True), later, target=5)
    assert [act.tape for act in acts] == [None] * len(acts)
    assert "nobody is sent there" in acts[0].words


def test_alone_is_nobody_sent_in_whatever_is_answered() -> None:
    """An answer says why one name is written; it puts nobody on the bank. A second name does."""
    alone = attrs.evolve(_smooth(12), crew=TWO[:1])
    findings = check_gauging(alone, RULES)
    assert any(one.check == "Alone at the stream" for one in findings)
    assert advise(examine(alone, RULES, finished=True), findings) == ()
    settled, later = _accepted(alone)
    assert advise(examine(settled, RULES, finished=True), later) == ()

    both = attrs.evolve(alone, crew=TWO)
    assert advise(examine(both, RULES, finished=True), check_gauging(both, RULES)) != ()


def test_where_no_crew_is_written_the_first_act_says_that_nobody_goes_in_alone() -> None:
    """Nobody knows who is there."""
    acts = _told(_smooth(8), crew=())

    assert acts[0].words.endswith(" Nobody goes in alone.")
    assert not any("alone" in act.words for act in (*acts[1:], *_told(_smooth(8))))
    (enough,) = _told(_smooth(24), target=12, crew=())
    assert "alone" not in enough.words


def test_water_that_rose_sends_nobody_back_once_it_is_accepted() -> None:
    """The reading stands; the water is as high as it was."""
    made = attrs.evolve(_smooth(12), stage=(StageReading(1.0), StageReading(1.3)))
    settled, later = _accepted(made)
    assert any(one.comes_out and one.answer is not None for one in later)

    assert advise(examine(settled, RULES, finished=True), later) == ()


def test_nothing_is_told_before_both_edges_are_read() -> None:
    """What lies beyond the last vertical nobody knows yet."""
    whole = _smooth(12)
    open_ = gauging(*whole.channels[0].verticals[:-1], units=METRIC)

    assert _told(whole) != () and _told(open_) == ()


def test_a_finer_exposure_costs_what_the_rule_set_asks() -> None:
    """20 s to move and the exposure of the rule set at each point."""
    longer = attrs.evolve(RULES["exposure"], value=60.0)
    rules = attrs.evolve(RULES, values={**RULES.values, "exposure": longer})

    by_rules = [
        next(act.seconds for act in _told(_smooth(8), rules=one) if act.kind == "vertical")
        for one in (RULES, rules)
    ]
    assert by_rules == [60.0, 80.0]


@pytest.mark.parametrize("target", [10.0, 14.0])
def test_a_plan_says_how_many_verticals_are_likely_to_do(target: float) -> None:
    """Fewer for a wider target; and what the rule set asks for at the least."""
    made = _smooth(24)
    remark = target_remark(made, compute(made), RULES, target=target)

    assert remark is not None
    found = re.fullmatch(
        rf"For ± {target:g} % \(19 in 20\) about (\d+) verticals do, by the earlier gauging, as "
        r'likely as not; the rule set "common-practice" asks for at least 20\.',
        remark,
    )
    assert found is not None
    wider = target_remark(made, compute(made), RULES, target=2 * target)
    assert wider is not None
    fewer = re.search(r"about (\d+) verticals", wider)
    assert fewer is not None and int(fewer[1]) <= int(found[1])


def test_a_plan_says_where_no_number_is_likely_to_do() -> None:
    """With what the most would leave, and whether bed or instruments are in the way."""
    made = _rough(14)
    remark = target_remark(made, compute(made), RULES, target=4)

    assert remark is not None
    assert re.match(
        rf"± 4 % \(19 in 20\) is not likely here, by the earlier gauging: \d+ verticals would "
        rf"still leave {FIGURE}(, as rod, meter and profile|; a smoother section)",
        remark,
    )


def test_a_plan_for_one_channel_goes_by_it_alone() -> None:
    """A channel in which nothing flows tells nothing."""
    made = _smooth(12)
    still = attrs.evolve(
        made,
        channels=(*made.channels, gauging(left(), read(1, 0.5, 0.0), right(2)).channels[0]),
    )
    result = compute(still)

    assert target_remark(still, result, RULES, channel=0) is not None
    assert target_remark(still, result, RULES, channel=1) is None
