"""The debrief: parts that add up to the whole error, and the planted mistake named first."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from itertools import permutations
from typing import Any

import attrs
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bankside.gauging.checks.run import ALL_CHECKS
from bankside.gauging.compute import compute
from bankside.gauging.faults import InputRefused
from bankside.gauging.records import (
    Answer,
    Channel,
    Filed,
    Gauging,
    Meter,
    PointReading,
    RatingPart,
    Units,
    Vertical,
)
from bankside.practice.debrief.debrief import Debrief, debrief
from bankside.practice.debrief.error_parts import error_parts, take_apart
from bankside.practice.debrief.shapley import shapley
from bankside.practice.session.act import Act, Session
from bankside.practice.session.document import Practice, Told
from bankside.practice.session.followed import follow
from bankside.practice.session.practice_streams import PRACTICE_STREAMS
from bankside.practice.session.reach import make_reach

from .trainee import Trainee, practise

STREAMS = sorted(PRACTICE_STREAMS)


def debriefed(stream: str, seed: int, trainee: Trainee | None = None, **also: Any) -> Debrief:
    """The debrief of somebody who practised by a script."""
    session, _, record = practise(stream, seed, trainee)
    return debrief(Practice(session, "Ann", attrs.evolve(record, **also)))


TRAINEES = st.builds(
    Trainee,
    section=st.sampled_from(["A", "B", "C"]),
    verticals=st.integers(5, 25),
    seconds=st.integers(1, 60),
    clear=st.booleans(),
    skew=st.sampled_from([0.0, 12.0]),
    hold=st.sampled_from(
        [{}, {"facing": 30.0}, {"stance": "close upstream"}, {"restarted": False}, {"unit": "ft/s"}]
    ),
    setting=st.sampled_from([None, 0.8, 1.3]),
    deeper=st.sampled_from([0.0, 0.03]),
    angles=st.booleans(),
    edges=st.booleans(),
    skip_first=st.booleans(),
)


@settings(max_examples=25, deadline=None)
@given(st.sampled_from(STREAMS), st.integers(0, 50), TRAINEES)
def test_the_parts_add_up_to_the_whole_error(stream: str, seed: int, trainee: Trainee) -> None:
    """Whatever went wrong together: no rest is left, and no source is told twice."""
    _, followed, record = practise(stream, seed, trainee)
    apart = take_apart(followed, record)
    parts = error_parts(followed, apart)

    assert sum(part for _, part in parts.parts) == pytest.approx(parts.error, abs=1e-9)
    assert parts.measured == pytest.approx(compute(record).discharge_m3s, rel=1e-9)
    assert len(dict(parts.parts)) == len(parts.parts) == 12
    touched = apart.touched()
    assert all(part == 0.0 for source, part in parts.parts[2:] if source not in touched)


def by_ten(vertical: Vertical) -> Vertical:
    """Every velocity of the middle of the stream written with its point a place too far."""
    if not vertical.velocity or (vertical.depth or 0.0) < 0.3:
        return vertical
    first = vertical.velocity[0]
    spoilt = attrs.evolve(first, value=(first.value or 0.0) * 10.0)
    return attrs.evolve(vertical, velocity=(spoilt, *vertical.velocity[1:]))


PLANTED: Mapping[str, tuple[str, Trainee]] = {
    "half as many": ("spacing", Trainee(verticals=4)),
    "tape askew": ("tape", Trainee(skew=25.0, angles=False)),
    "no edges": ("edges", Trainee(edges=False, verticals=12)),
    "crests read": ("depth reading", Trainee(deeper=0.05)),
    "rod never set anew": ("rod setting", Trainee(setting=0.5)),
    "facing wrong": ("meter handling", Trainee(hold={"facing": 35.0})),
    "standing upstream": ("meter handling", Trainee(hold={"stance": "close upstream"})),
    "feet a second": ("meter handling", Trainee(hold={"unit": "ft/s"})),
    "a point too far": ("arithmetic", Trainee(change=by_ten)),
}


@pytest.mark.parametrize("stream", ["easy run", "undercut bank", "shallow flat bank"])
@pytest.mark.parametrize("planted", sorted(PLANTED))
def test_a_planted_mistake_is_the_largest_part(planted: str, stream: str) -> None:
    """On different waters the same mistake is named."""
    source, trainee = PLANTED[planted]
    found = debriefed(stream, 5, trainee).parts

    assert found.largest == source


def test_an_exposure_of_a_second_is_named() -> None:
    """In broken water, over twelve streams, its part is several times that of a minute."""
    names = [("pocket water", seed) for seed in range(12)]
    short, long = (
        sum(
            abs(debriefed(stream, seed, Trainee(seconds=seconds)).parts.percent("exposure"))
            for stream, seed in names
        )
        for seconds in (1, 60)
    )

    assert short > 3 * long
    one = debriefed("pocket water", 3, Trainee(seconds=1, verticals=20))
    assert abs(one.parts.percent("exposure")) > 1.0


def test_the_worse_section_is_blamed_for_what_it_costs() -> None:
    """Over thirty streams the part of the section is on the mean larger than the rest's own."""
    costs = []
    for seed in range(30):
        reach = make_reach("pocket water", seed)
        worst = max(reach.sections, key=lambda one: one.error).name
        found = debriefed("pocket water", seed, Trainee(section=worst, verticals=12)).parts
        costs.append((abs(found.percent("section choice")), abs(found.percent("spacing"))))

    assert sum(cost for cost, _ in costs) > 1.5 * sum(rest for _, rest in costs)


@pytest.mark.parametrize("left_out", [("sound", "hold"), ("hold",), ("sound",)], ids=" ".join)
def test_figures_that_nobody_read_are_called_so(left_out: tuple[str, ...]) -> None:
    """Invented depths and velocities are no errors of the rod, the meter or the arithmetic."""

    def invented(row: Vertical) -> Vertical:
        depth = 1.5 * (row.depth or 0.0) if "sound" in left_out else row.depth
        faster = 1.4 if "hold" in left_out else 1.0
        readings = [attrs.evolve(one, value=faster * (one.value or 0.0)) for one in row.velocity]
        return attrs.evolve(row, depth=depth, velocity=tuple(readings))

    session, _, record = practise("easy run", 5)
    (channel,) = record.channels
    marks = [row.tape for row in channel.verticals if row.edge is None][8:14]
    rows = [invented(row) if row.tape in marks else row for row in channel.verticals]
    acts = [one for one in session.acts if one.do not in left_out or one.tape not in marks]
    written = attrs.evolve(record, channels=(Channel(tuple(rows)),))
    found = debrief(Practice(attrs.evolve(session, acts=tuple(acts)), "Ann", written))
    honest = debriefed("easy run", 5).parts

    assert found.parts.largest == "no reading"
    assert found.parts.percent("no reading") > 5.0
    for source in ("depth reading", "meter handling", "arithmetic"):
        assert found.parts.percent(source) == pytest.approx(honest.percent(source), abs=0.5)
    assert sum(part for _, part in found.parts.parts) == pytest.approx(found.parts.error, abs=1e-9)
    said = [one.why for one in found.better if not one.why.startswith("The check")]
    assert said[0].startswith("6 verticals have figures at a mark where nobody stood the rod")
    assert honest.percent("no reading") == 0.0


def test_dry_ground_needs_no_rod() -> None:
    """Who sees from the bank that it is dry has invented nothing."""
    session, followed, record = practise("two channels", 3)
    water = followed.water
    assert water is not None
    dry = [one.tape for one in record.channels[0].verticals if one.dry]
    acts = [one for one in session.acts if one.tape not in dry]
    seen = attrs.evolve(session, acts=tuple(acts))
    bare = [tape for tape in dry if water.depth_at(tape, 0.0) <= 0.0]

    assert bare and len(bare) == len(dry)
    assert take_apart(follow(seen), record).unread() == ()


def test_water_that_was_written_as_dry_is_the_reading_s() -> None:
    """A stretch of thin water between bars, all of it called dry, is still taken apart."""

    def dry(row: Vertical) -> Vertical:
        return Vertical(row.tape, dry=True) if (row.depth or 0.0) < 0.2 else row

    found = debriefed("two channels", 3, Trainee(change=dry)).parts

    assert found.percent("depth reading") < -0.5
    assert sum(part for _, part in found.parts) == pytest.approx(found.error, abs=1e-9)


def test_channels_that_are_written_apart_come_to_the_same() -> None:
    """Two channels with edges of their own at the bar, or one with dry ground in it."""
    session, _, record = practise("two channels", 4)
    rows = list(record.channels[0].verticals)
    water = make_reach("two channels", 4).section(make_reach("two channels", 4).best).water
    (_, first_end), (second_start, _) = water.stream.wet_stretches[:2]
    inner = (
        Vertical(round(first_end, 2), 0.0, edge="right", bank="sloping"),
        Vertical(round(second_start, 2), 0.0, edge="left", bank="sloping"),
    )
    left = [row for row in rows if row.tape < first_end]
    right = [row for row in rows if row.tape > second_start]
    apart = attrs.evolve(record, channels=(Channel((*left, inner[0])), Channel((inner[1], *right))))
    one = debrief(Practice(session, None, record)).parts
    two = debrief(Practice(session, None, apart)).parts

    assert sum(part for _, part in two.parts) == pytest.approx(two.error, abs=1e-9)
    assert abs(two.percent("edges")) < 0.5
    for source in ("points", "exposure"):
        assert two.percent(source) == pytest.approx(one.percent(source), abs=0.1)


def test_revolutions_are_refused() -> None:
    """A practice meter shows velocities, and nothing is guessed from counts."""
    session, _, record = practise("easy run", 1)

    def counted(row: Vertical) -> Vertical:
        velocity = tuple(PointReading(None, r.fraction, 40.0, 30.0) for r in row.velocity)
        return attrs.evolve(row, velocity=velocity)

    rows = tuple(counted(row) for row in record.channels[0].verticals)
    meter = Meter(rating=(RatingPart(0.3, 0.02),))
    turned = attrs.evolve(record, channels=(Channel(rows),), meter=meter)
    with pytest.raises(InputRefused, match="must be written as the practice meter shows them"):
        debrief(Practice(session, None, turned))


def test_the_better_section_costs_nothing() -> None:
    """Whoever chose it is blamed for no choice."""
    found = debriefed("pocket water", 3).parts

    assert found.percent("section choice") == 0.0
    assert found.best == debriefed("pocket water", 3).section


def test_a_total_that_was_added_up_wrongly_is_arithmetic() -> None:
    """The figure that was written down counts, in its unit."""
    right = debriefed("easy run", 4)
    wrong = debriefed("easy run", 4, filed=Filed(discharge=1.3 * right.parts.measured, unit="m3/s"))

    assert wrong.parts.measured == pytest.approx(1.3 * right.parts.measured)
    expected = 30.0 * right.parts.measured / right.parts.discharge
    assert wrong.parts.percent("arithmetic") == pytest.approx(expected, rel=0.02)
    for source, part in right.parts.parts:
        if source != "arithmetic":
            assert dict(wrong.parts.parts)[source] == pytest.approx(part, rel=0.2, abs=1e-9)


def test_the_first_cell_that_was_forgotten_shows() -> None:
    """The strip at the bank is left to a straight line: over ten streams spacing costs more."""
    right, wrong = (
        sum(
            abs(debriefed("undercut bank", seed, Trainee(skip_first=skip)).parts.percent("spacing"))
            for seed in range(10)
        )
        for skip in (False, True)
    )

    assert wrong > 1.1 * right
    assert "Too big a jump from the bank" in {check.name for check in ALL_CHECKS}
    better = debriefed("undercut bank", 4, Trainee(skip_first=True)).better
    assert any("Beside a bank the step to the first vertical" in one.why for one in better)


def test_a_level_that_rises_has_a_part_of_its_own() -> None:
    """Slow readings from one bank to the other meet low water there and high water here."""
    found = debriefed("rising stage", 1, Trainee(seconds=600)).parts

    assert found.percent("level") != 0.0
    assert debriefed("easy run", 1, Trainee(seconds=600)).parts.percent("level") == 0.0


def test_an_upright_bank_written_as_shown_is_nobodys_mistake() -> None:
    """The velocity that the method takes there is its own, whatever it is off."""
    edges, points = [], []
    for seed in range(8):
        session, followed, record = practise("undercut bank", seed)
        assert any(row.edge and row.depth for row in record.channels[0].verticals)
        found = debrief(Practice(session, None, record)).parts
        edges.append(abs(found.percent("edges")))
        # Had the true velocity been written there, nothing would be left of the method's part.
        apart = take_apart(followed, record)
        taken = apart.discharge(frozenset({"points"})) - apart.discharge(frozenset())
        points.append(abs(taken))

    # Only what the marks of tape and rod are rounded to: less than a debrief tells of.
    assert max(edges) < 0.5
    assert min(points) > 0.0


def test_a_section_is_blamed_only_for_what_it_cost() -> None:
    """Where its part goes against the whole error it saved something, and nothing is claimed."""
    told: dict[bool, int] = {True: 0, False: 0}
    blamed: dict[bool, int] = {True: 0, False: 0}
    for seed in range(30):
        reach = make_reach("pocket water", seed)
        worst = max(reach.sections, key=lambda one: one.error).name
        found = debriefed("pocket water", seed, Trainee(section=worst))
        part = dict(found.parts.parts)["section choice"]
        with_it = part * found.parts.error > 0.0
        told[with_it] += 1
        blamed[with_it] += any(one.why.startswith("Choice of the section") for one in found.better)

    assert told[False] >= 3
    assert blamed[False] == 0
    assert blamed[True] >= 0.5 * told[True]


def test_long_readings_are_not_told_to_be_longer() -> None:
    """What is left after two minutes at every point is chance."""
    short, long = (
        [
            one
            for seed in range(12)
            for one in debriefed("pocket water", seed, Trainee(seconds=seconds)).better
            if "xposure" in one.why or "shorter than 30 s" in one.why
        ]
        for seconds in (10, 120)
    )

    assert short and all("Stay 40 seconds" in one.what for one in short)
    assert not any("Stay 40 seconds" in one.what for one in long)


def test_perfect_readings_leave_the_spacing_alone() -> None:
    """Truth at every mark, written down in full: nothing but what lies between is off."""
    session, followed, record = practise("easy run", 8)
    water = followed.water
    assert water is not None
    stream = water.stream

    def truly(row: Vertical) -> Vertical:
        if row.edge is not None:
            y = stream.left if row.edge == "left" else stream.right
            return attrs.evolve(row, tape=y)
        velocity = (PointReading(stream.velocity_at(row.tape)),)
        return Vertical(row.tape, stream.depth_at(row.tape), velocity)

    rows = tuple(truly(row) for row in record.channels[0].verticals)
    true = attrs.evolve(record, channels=(Channel(rows),))
    # Nobody held a meter for these: acts of depth alone stand behind them.
    acts = tuple(act for act in session.acts if act.do != "hold")
    found = debrief(Practice(attrs.evolve(session, acts=acts), None, true)).parts

    assert found.percent("spacing") == pytest.approx(100 * found.error / found.discharge, abs=1e-6)


def test_feet_and_metres_come_to_the_same_parts() -> None:
    """The same readings called in feet give the same shares."""
    session, _, record = practise("easy run", 9, Trainee(hold={"unit": "ft/s"}))

    def in_feet(row: Vertical) -> Vertical:
        depth = None if row.depth is None else row.depth / 0.3048
        return attrs.evolve(row, tape=row.tape / 0.3048, depth=depth)

    rows = tuple(in_feet(row) for row in record.channels[0].verticals)
    feet = attrs.evolve(record, units=Units("ft", "ft/s"), channels=(Channel(rows),))
    found = debrief(Practice(session, None, feet)).parts
    plain = debriefed("easy run", 9).parts

    # The meter showed ft/s and the sheet says ft/s: all is well, but for the digit it is read to.
    assert found.percent("meter handling") == pytest.approx(0.0, abs=0.2)
    assert found.percent("points") == pytest.approx(plain.percent("points"), rel=0.05)


def test_one_more_vertical_is_told_where_one_is_advised() -> None:
    """Where it would have stood, and the discharge with it: over many streams nearer the truth."""
    nearer = total = 0
    for seed in range(25):
        found = debriefed("cobble riffle", seed, Trainee(verticals=8))
        if found.one_more is None:
            continue
        total += 1
        truth = found.parts.discharge
        nearer += abs(found.one_more.discharge - truth) < abs(found.parts.measured - truth)

    assert total >= 15
    assert nearer > 0.5 * total


def stopped(seed: int = 5) -> tuple[Session, Gauging]:
    """A record with a depth of 2 m, which the checks stop at."""

    def deep(row: Vertical) -> Vertical:
        return attrs.evolve(row, depth=2.5) if (row.depth or 0.0) > 0.3 else row

    session, _, record = practise("easy run", seed, Trainee(change=deep))
    return session, record


def test_findings_are_told_with_what_became_of_them() -> None:
    """Open at the end, answered, or told on the way and gone since."""
    session, record = stopped()
    told = (Told("Count too short", "The velocity was read for 5 s at tape 3 m.", "explain"),)
    found = debrief(Practice(session, None, record, told))

    stops = [row for row in found.findings if row.severity == "stop"]
    assert stops and all(row.fate == "left open" for row in stops)
    assert [row.check for row in found.findings if row.fate == "put right"] == ["Count too short"]
    answers = tuple(
        Answer(check=row.check, finding=row.found, severity=row.severity, reason="by design")
        for row in stops
    )
    again = debrief(Practice(session, None, attrs.evolve(record, answers=answers)))
    assert all(row.fate == "answered" for row in again.findings if row.severity == "stop")


def test_three_things_are_said_and_safety_comes_first() -> None:
    """Each with a source, or that it has none; none of them twice."""
    session, record = stopped()
    found = debrief(Practice(session, None, record)).better

    assert len(found) == 3
    assert "called everybody out" in found[0].why
    assert len({better.what for better in found}) == 3
    assert all(better.source for better in found)
    well = debriefed("easy run", 12).better
    assert len(well) == 3


@pytest.mark.parametrize(
    ("hold", "said"),
    [
        ({"facing": 30.0}, "did not face the flow"),
        ({"stance": "close upstream"}, "stood close upstream"),
        ({"restarted": False}, "went on counting"),
        ({"unit": "ft/s"}, "another unit than m/s"),
        ({"seconds": 12.0}, "shorter than 30 s"),
    ],
)
def test_what_was_seen_is_said(hold: dict[str, Any], said: str) -> None:
    """A habit is named even where it happened to cost little this time."""
    better = debriefed("easy run", 12, Trainee(hold=hold)).better

    assert any(said in one.why for one in better)


def test_stones_that_were_moved_late_are_said() -> None:
    """Clearing comes before the first reading."""
    session, _, record = practise("cobble riffle", 4)
    late = attrs.evolve(session, acts=(*session.acts, Act("clear")))
    better = debrief(Practice(late, None, record)).better

    assert "Stones were moved after the first reading" in better[0].why


@pytest.mark.parametrize(
    ("make", "said"),
    [
        (lambda s, r: Practice(s, None, None), "record must be given"),
        (lambda s, r: Practice(Session("easy run", 1), None, r), "a section must be chosen"),
    ],
)
def test_nothing_is_debriefed_before_its_time(
    make: Callable[[Session, Gauging], Practice], said: str
) -> None:
    """One sentence says what is missing."""
    session, _, record = practise("easy run", 1)
    with pytest.raises(InputRefused, match=said):
        debrief(make(session, record))


def test_shares_are_the_mean_over_all_orders() -> None:
    """The definition itself: in every order, what each part changes when it joins."""
    parts = ("a", "b", "c")

    def value(there: frozenset[str]) -> float:
        return 2.0 * ("a" in there) + 3.0 * ({"a", "b"} <= there) - 1.0 * ({"b", "c"} <= there)

    orders = list(permutations(parts))
    expected = dict.fromkeys(parts, 0.0)
    for order in orders:
        for place, part in enumerate(order):
            before = frozenset(order[:place])
            expected[part] += (value(before | {part}) - value(before)) / len(orders)

    assert shapley(parts, value) == pytest.approx(expected)


def test_a_part_that_changes_nothing_gets_nothing() -> None:
    """And parts that do the same get the same."""
    found = shapley(("a", "b", "c"), lambda there: float(bool(there & {"a", "b"})))

    assert found == pytest.approx({"a": 0.5, "b": 0.5, "c": 0.0})
    assert shapley((), lambda there: 1.0) == {}
