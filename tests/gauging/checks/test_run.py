"""All checks together: who is sent where, in which channel, and on which day."""

from collections.abc import Sequence
from datetime import date

import attrs
import pytest

from bankside.gauging.checks.answers import accepted, key_of
from bankside.gauging.checks.finding import Finding
from bankside.gauging.checks.run import ALL_CHECKS, check_gauging
from bankside.gauging.records import Channel, Gauging, PointReading, Vertical

from .sections import FEET, RULES, gauging, left, read, right

NOT_YET = "Only once the leader holds it safe: "


def _rod(tape: float, depth: float = 1.0, velocity: float = 1.0) -> Vertical:
    """A vertical whose rod was set to twice its mark."""
    return Vertical(tape, depth, (PointReading(velocity, 0.6, rod_setting=2 * depth),))


def _advice(findings: Sequence[Finding], check: str) -> list[str]:
    return [finding.advice for finding in findings if finding.check == check]


def _settled(made: Gauging, check: str) -> Gauging:
    """The gauging with the stop of a check answered."""
    (stop,) = (f for f in check_gauging(made, RULES) if f.check == check)
    assert stop.severity == "stop"
    return accepted(made, [stop], {key_of(stop): "from the footbridge"}, by="I. Marrow")


def test_no_check_that_stops_sends_anybody_in() -> None:
    """Its advice stands as it is, whatever else is found."""
    assert [check.name for check in ALL_CHECKS if check.wades and "stop" in check.severities] == []


def test_nobody_reads_again_in_strong_water_of_that_channel() -> None:
    """7 ft²/s at tape 3 ft of the first channel; farther on, and at 3 ft of the second, 1 ft²/s."""
    strong = Channel(
        (left(), read(1), read(2), _rod(3, 2.0, 3.5), *map(read, (4, 5, 6)), _rod(7), right(8))
    )
    weak = Channel((left(), _rod(3), read(4), read(5), right(6)), name="side")

    findings = check_gauging(Gauging(FEET, (strong, weak)), RULES)

    assert _advice(findings, "Rod set wrongly") == [
        f"{NOT_YET}Set the rod to 2 ft and read again at tape 3 ft.",
        "Set the rod to 1 ft and read again at tape 7 ft.",
        "Set the rod to 1 ft and read again at tape 3 ft.",
    ]
    wrong = [finding.found for finding in findings if finding.check == "Rod set wrongly"]
    assert [words.partition(" the rod")[0] for words in wrong] == [
        "Channel 1: At tape 3 ft",
        "Channel 1: At tape 7 ft",
        "Channel 2, side: At tape 3 ft",
    ]
    crowded = [f for f in findings if f.check == "One panel carries too much"]
    assert [(f.advice, [place.tape for place in f.places]) for f in crowded] == [
        (f"{NOT_YET}Add verticals at tapes 2.5 and 3.5 ft.", []),
        ("Add verticals at tapes 1.5 and 3.5 ft.", [1.5, 3.5]),
    ]


def test_where_there_is_one_channel_it_is_not_named() -> None:
    """What is found begins with what was found."""
    (finding,) = (
        f for f in check_gauging(gauging(left(), _rod(1), right(2)), RULES) if "rod" in f.found
    )

    assert finding.found.startswith("At tape 1 ft the rod was set to 2 ft")


def test_a_stop_that_is_no_answer_to_where_holds_everybody_back() -> None:
    """8.5 ft/s in 0.3 ft is no strong water; until that is answered nobody is sent anywhere."""
    fast = [read(i, 0.3, 8.5 if i == 3 else 1.0) for i in range(1, 9)]
    made = gauging(left(), *fast, right(9))
    few = "Too few verticals"

    stopped = check_gauging(made, RULES)
    (held,) = _advice(stopped, few)
    (free,) = _advice(check_gauging(_settled(made, "Faster than plausible"), RULES), few)

    assert held == NOT_YET + free
    assert {f.places for f in stopped} == {()}
    assert _advice(stopped, "Header gaps")[0].startswith("Fill it in")


def test_in_a_closed_channel_everything_with_a_place_is_left_as_it_is() -> None:
    """12 ft²/s all over the second channel; the first, crossed before it, stays open."""
    closed = Channel((left(), *(read(i, 3.5, 3.5) for i in range(1, 11)), right(11)))
    open_one = Channel((left(), _rod(3), read(4), read(5), right(6)))
    made = Gauging(FEET, (open_one, closed))

    findings = check_gauging(_settled(made, "Water too strong to wade"), RULES)

    again = [f for f in findings if f.check == "Same value again and again" and f.channel == 1]
    assert again
    assert all(f.advice.startswith("Leave it as it is at tapes 1, 2, 3, ") for f in again)
    assert all(" and 10 ft of channel 2: nobody is sent in" in f.advice for f in again)
    assert _advice(findings, "Too few verticals") == [
        "Leave it as it is: nobody is sent in, as the water is too strong to wade."
    ]
    assert _advice(findings, "Rod set wrongly") == [
        "Set the rod to 1 ft and read again at tape 3 ft."
    ]
    alone = _settled(gauging(*closed.verticals), "Water too strong to wade")
    found = check_gauging(alone, RULES)
    assert _advice(found, "Rounded too coarse") == ["Read the rod to 0.1 ft."]
    assert {f.places for f in found} == {()}


@pytest.mark.parametrize(
    ("closed", "advice"),
    [
        (1, "Leave it as it is at tape 1 ft of channel 1 and tape 1 ft of channel 2: nobody is "),
        (2, "Read for "),
    ],
)
def test_what_lies_in_several_channels_is_left_with_their_names(closed: int, advice: str) -> None:
    """12 ft²/s in the second channel, or in a third that the finding does not name."""
    short = Vertical(1.0, 1.0, (PointReading(1.0, 0.6, seconds=20.0),))
    weak = Channel((left(), short, read(2), read(3), right(4)))
    strong = Channel((left(), *(read(i, 3.5, 3.5) for i in range(2, 6)), right(6)))
    if closed == 1:
        channels = [weak, attrs.evolve(strong, verticals=(left(), short, *strong.verticals[1:]))]
    else:
        channels = [weak, weak, strong]
    made = _settled(Gauging(FEET, tuple(channels)), "Water too strong to wade")

    (told,) = _advice(check_gauging(made, RULES), "Count too short")

    assert told.startswith(advice)


def test_the_day_is_asked_for_with_a_slip_as_well() -> None:
    """A date that lies ahead does not hang on a slipped velocity."""
    slipped = [read(i, velocity=11.6 if i == 4 else 1.1 + i / 100) for i in range(1, 10)]
    made = attrs.evolve(gauging(left(), *slipped, right(10)), date=date(2026, 7, 15))

    findings = check_gauging(made, RULES, today=date(2026, 7, 14))

    (slip,) = (f for f in findings if f.check == "Velocity looks misread")
    assert slip.advice.startswith("Come out. From the bank")
    (ahead,) = (f for f in findings if "is after today, 2026-07-14" in f.found)
    assert ahead.hangs_on is None
    assert any(f.hangs_on is not None for f in findings)
    assert not any("is after today" in f.found for f in check_gauging(made, RULES))
