"""Answers to findings: kept with the gauging, and only as long as they fit."""

import datetime
import re

import attrs
import pytest

from bankside.gauging.checks.answers import accepted, is_open, key_of, lapsed_answers
from bankside.gauging.checks.finding import Finding
from bankside.gauging.checks.run import check_gauging
from bankside.gauging.faults import InputRefused
from bankside.gauging.records import Channel, Gauging, PointReading, Units, Vertical
from bankside.gauging.rule_sets.load import load_rule_set
from bankside.gauging.wire import from_json, to_json

RULES = load_rule_set("common-practice")
NOON = datetime.datetime(2026, 7, 14, 12, 0, tzinfo=datetime.UTC)
CHECK = "Water too strong to wade"


def _gauging(velocity: float = 0.9) -> Gauging:
    """A strong stream: 0.8 m deep, so that 0.9 m/s calls for the leader."""
    verticals = (
        Vertical(tape=0, depth=0, edge="left"),
        Vertical(tape=1, depth=0.8, velocity=(PointReading(value=velocity, fraction=0.6),)),
        Vertical(tape=2, depth=0, edge="right"),
    )
    return Gauging(units=Units(length="m", velocity="m/s"), channels=(Channel(verticals),))


def _strong(gauging: Gauging) -> Finding:
    return next(f for f in check_gauging(gauging, RULES) if f.check == CHECK)


def _answered(reason: str = "leader decided") -> Gauging:
    gauging = _gauging()
    found = _strong(gauging)
    return accepted(gauging, [found], {key_of(found): reason}, by="I. Marrow", at=NOON)


def test_an_answer_stands_beside_its_finding() -> None:
    """Who accepted it, when and why is shown with what was accepted."""
    answer = _strong(_answered()).answer

    assert answer is not None
    assert (answer.reason, answer.by, answer.at) == ("leader decided", "I. Marrow", NOON)
    assert not is_open(_strong(_answered()))


def test_an_answer_outlives_the_file() -> None:
    """The record carries its answers through our JSON form."""
    again = from_json(to_json(_answered()))

    assert _strong(again).answer == _strong(_answered()).answer


def test_an_answer_lapses_with_its_finding() -> None:
    """Once a reading changes what is found, the finding is open again and the answer is told."""
    changed = attrs.evolve(_gauging(0.95), answers=_answered().answers)

    assert is_open(_strong(changed))
    assert [a.reason for a in lapsed_answers(changed, check_gauging(changed, RULES))] == [
        "leader decided"
    ]


def test_the_last_answer_goes_before_and_the_first_is_kept() -> None:
    """Nothing that was ever said is lost."""
    once = _answered("leader decided")
    found = _strong(once)
    twice = accepted(once, [found], {key_of(found): "leader decided, two spotters"})

    answer = _strong(twice).answer
    assert answer is not None and answer.reason == "leader decided, two spotters"
    assert [a.reason for a in twice.answers] == ["leader decided", "leader decided, two spotters"]


def test_a_key_changes_with_what_is_found() -> None:
    """An answer given by key cannot land on another finding than the one that was read."""
    assert key_of(_strong(_gauging(0.9))) != key_of(_strong(_gauging(0.95)))
    assert key_of(_strong(_gauging(0.9))) == key_of(_strong(_answered()))
    assert re.fullmatch("[a-z2-7]{5}", key_of(_strong(_gauging())))


@pytest.mark.parametrize(
    ("key", "reason", "said"),
    [
        ("zzzzz", "leader decided", "the key of a finding must be one of"),
        (None, "  ", "must say why"),
    ],
)
def test_an_answer_to_nothing_is_refused(key: str | None, reason: str, said: str) -> None:
    """A wrong key and an empty reason are each told in a sentence."""
    found = _strong(_gauging())

    with pytest.raises(InputRefused, match=said):
        accepted(_gauging(), [found], {key or key_of(found): reason})


def _two_channels() -> Gauging:
    """Two channels, each with a tape of its own, equally strong at the same tape position."""
    channel = _gauging().channels[0]
    return attrs.evolve(_gauging(), channels=(channel, attrs.evolve(channel, name="side")))


def test_an_answer_stays_in_its_channel() -> None:
    """What is accepted in one channel is open in the other, though both say the same."""
    gauging = _two_channels()
    strong = [f for f in check_gauging(gauging, RULES) if f.check == CHECK]
    assert [f.found.split(":")[0] for f in strong] == ["Channel 1", "Channel 2, side"]

    kept = accepted(gauging, strong, {key_of(strong[0]): "leader decided"})
    again = [f for f in check_gauging(kept, RULES) if f.check == CHECK]
    assert [f.answer is None for f in again] == [False, True]


def test_a_graver_finding_is_open_again() -> None:
    """An answer to what was to be explained does not settle it once it is graver by other rules."""
    found = _strong(_gauging())
    graver = attrs.evolve(found, severity="stop")

    assert key_of(graver) != key_of(found)
    assert lapsed_answers(_answered(), [graver]) == _answered().answers


def test_somebody_stands_for_the_answer_to_a_stop() -> None:
    """A grave finding is not accepted by nobody."""
    for severity in ("stop", "fix now"):
        grave = attrs.evolve(_strong(_gauging()), severity=severity)

        with pytest.raises(InputRefused, match="must say who gives it"):
            accepted(_gauging(), [grave], {key_of(grave): "leader decided"})
        kept = accepted(_gauging(), [grave], {key_of(grave): "leader decided"}, by="I. Marrow")
        assert [(a.by, a.severity) for a in kept.answers] == [("I. Marrow", severity)]


def test_a_wrong_key_is_told_the_right_ones() -> None:
    """All keys there are, and the one that was given."""
    found = _strong(_gauging())
    other = attrs.evolve(found, severity="note")
    one, two = key_of(found), key_of(other)

    with pytest.raises(InputRefused, match=f"one of {one}, {two} .got .zzzzz"):
        accepted(_gauging(), [found, other], {"zzzzz": "leader decided"})
    with pytest.raises(InputRefused, match=r"one of none, as nothing is found \(got "):
        accepted(_gauging(), [], {"zzzzz": "leader decided"})


def test_a_note_asks_for_no_answer() -> None:
    """It is only to be known."""
    assert not is_open(attrs.evolve(_strong(_gauging()), severity="note"))
    assert is_open(_strong(_gauging()))
