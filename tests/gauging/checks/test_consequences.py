"""One slip and its many effects: which findings go with it."""

import re
from pathlib import Path

import attrs
import pytest

from bankside.gauging.checks.answers import accepted, key_of
from bankside.gauging.checks.consequences import mended, with_consequences
from bankside.gauging.checks.finding import Finding, Severity, Suspect
from bankside.gauging.checks.run import check_gauging
from bankside.gauging.records import Gauging, PointReading, StageReading, Vertical
from bankside.gauging.rule_sets.load import load_rule_set
from bankside.sheets.read import read_sheets

from .sections import gauging as made
from .sections import left, read, right

RULES = load_rule_set("common-practice")
SLIPPED = Path(__file__).parents[3] / "demo" / "sheets" / "tansy_run.csv"
SENTENCE = "It goes if the depth at tape 1.95 m is 0.36 m."


@pytest.fixture(scope="module")
def slipped() -> Gauging:
    """A gauging in which 0.36 m was written as 3.60 m, and one count was short."""
    gauging = read_sheets(SLIPPED).gaugings[0].gauging
    assert gauging is not None
    return gauging


def _with_depth(gauging: Gauging, tape: float, depth: float) -> Gauging:
    """The gauging had another depth been written at a tape position."""
    channel = gauging.channels[0]
    verticals = tuple(
        attrs.evolve(v, depth=depth) if v.tape == tape else v for v in channel.verticals
    )
    return attrs.evolve(gauging, channels=(attrs.evolve(channel, verticals=verticals),))


def _by_check(findings: tuple[Finding, ...]) -> dict[str, Finding]:
    return {finding.check: finding for finding in findings}


def test_effects_name_their_cause(slipped: Gauging) -> None:
    """The crew sees that one reading, read again, settles four findings."""
    findings = _by_check(check_gauging(slipped, RULES))

    for check in ("Water too strong to wade", "Deeper than wading work", "Bed not resolved"):
        assert findings[check].hangs_on == SENTENCE
    assert findings["Depth looks misread"].hangs_on is None


def test_other_findings_stand_by_themselves(slipped: Gauging) -> None:
    """A short count has nothing to do with a slipped point."""
    assert _by_check(check_gauging(slipped, RULES))["Count too short"].hangs_on is None


def test_what_is_left_to_aim_at_does_not_keep_the_grave_one(slipped: Gauging) -> None:
    """A panel of 48 % goes with the slip, though some panels stay above what is aimed at."""
    findings = _by_check(check_gauging(slipped, RULES))

    assert findings["One panel carries too much"].hangs_on == SENTENCE
    assert findings["Panels above the aim"].hangs_on is None


def test_the_cause_stands_before_its_effects(slipped: Gauging) -> None:
    """Of findings as grave, the one to begin with comes first."""
    fix = [f.check for f in check_gauging(slipped, RULES) if f.severity == "fix now"]

    assert fix == ["Depth looks misread", "One panel carries too much"]


def test_what_goes_is_gone_once_the_figure_is_right(slipped: Gauging) -> None:
    """The sentence keeps its word: with the figure meant, no such finding is raised."""
    before = check_gauging(slipped, RULES)
    after = check_gauging(_with_depth(slipped, 1.95, 0.36), RULES)

    gone = {(f.check, f.severity) for f in before if f.hangs_on is not None}
    assert gone
    assert gone.isdisjoint({(f.check, f.severity) for f in after if 1.95 in f.tapes})


def test_the_record_is_not_touched(slipped: Gauging) -> None:
    """A figure is tried, never put in the place of what was called."""
    cause = _by_check(check_gauging(slipped, RULES))["Depth looks misread"]
    better = mended(slipped, cause)

    assert better == _with_depth(slipped, 1.95, 0.36)
    assert [v.depth for v in slipped.channels[0].verticals if v.tape == 1.95] == [3.6]


def test_a_finding_without_a_suspect_mends_nothing(slipped: Gauging) -> None:
    """Only a slip says which figure was meant."""
    cause = _by_check(check_gauging(slipped, RULES))["Count too short"]

    assert mended(slipped, cause) is None


def test_nobody_is_sent_back_past_a_stop() -> None:
    """Where the water is too strong, what is unread stays so, before the stop is answered too."""
    strong = made(left(), *(read(i, depth=3.3, velocity=3.5) for i in range(1, 9)), right(9))
    findings = [f for f in check_gauging(strong, RULES) if f.severity != "stop"]

    wading = [f for f in findings if f.check == "One panel carries too much"]
    assert wading
    assert all(f.advice.startswith("Leave it as it is at tape") for f in wading)
    assert [f.places for f in findings if f.places] == []
    header = next(f for f in findings if f.check == "Header gaps")
    assert header.advice.startswith("Fill it in")


def test_a_slip_of_the_pen_sends_nobody_out(slipped: Gauging) -> None:
    """A depth of 3.60 m for 0.36 m stops no work: it is read again first."""
    cause = _by_check(check_gauging(slipped, RULES))["Depth looks misread"]

    assert cause.advice.startswith("Ask what was called; if that does not settle it, read the ")


def test_rising_water_holds_everybody_back() -> None:
    """A level that rises fast calls the crew out before anybody is asked to add a vertical."""
    few = made(left(), *(read(i, depth=0.6, velocity=0.5) for i in range(1, 6)), right(6))
    rising = attrs.evolve(few, stage=(StageReading(1.0), StageReading(1.3)))
    findings = _by_check(check_gauging(rising, RULES))

    assert findings["Level changed"].advice.startswith("The water rose: come out")
    crowded = findings["One panel carries too much"]
    assert crowded.advice.startswith("Only once the leader holds it safe: ")
    falling = attrs.evolve(few, stage=(StageReading(1.3), StageReading(1.0)))
    assert _by_check(check_gauging(falling, RULES))["One panel carries too much"].advice.startswith(
        "Add "
    )


def test_an_answered_stop_sends_nobody_back_into_that_water() -> None:
    """It stands as it was read; what is unread stays so, and no place to stand is named."""
    strong = made(left(), *(read(i, depth=3.3, velocity=3.5) for i in range(1, 9)), right(9))
    stop = _by_check(check_gauging(strong, RULES))["Water too strong to wade"]
    settled = accepted(strong, [stop], {key_of(stop): "from the footbridge"}, by="I. Marrow")

    crowded = _by_check(check_gauging(settled, RULES))["One panel carries too much"]
    assert re.fullmatch(
        r"Leave it as it is at tapes [\d, ]+ and \d ft: nobody is sent in, as the water is too "
        r"strong to wade\.",
        crowded.advice,
    )
    assert crowded.places == ()


@pytest.mark.parametrize(("velocity", "places"), [(4.1, False), (3.2, True)])
def test_nobody_is_sent_across_water_that_nobody_wades(velocity: float, places: bool) -> None:
    """A pool of 10.3 ft²/s on one side closes the channel, far shallows too.

    Of 8 ft²/s it does not: the leader decides, and there is the other bank.
    """
    pool = [read(float(i), depth=2.5, velocity=velocity) for i in range(1, 5)]
    tail = [read(4.0 + i, depth=1.0, velocity=1.0) for i in range(1, 17)]
    wide = made(left(), *pool, *tail, read(40.0), right(60.0))
    strong = _by_check(check_gauging(wide, RULES))["Water too strong to wade"]
    settled = accepted(wide, [strong], {key_of(strong): "from the footbridge"}, by="I. Marrow")

    panels = [f for f in check_gauging(settled, RULES) if f.check == "One panel carries too much"]
    by_tape = {f.tapes[-1]: f for f in panels}
    assert by_tape[4.0].places == () and bool(by_tape[40.0].places) is places


def _slip(suspect: Suspect, instead: float, severity: Severity = "fix now") -> Finding:
    """A slip at tape 2 ft of the first channel."""
    tapes = (2.0,)
    return Finding(
        "A slip", severity, "Odd.", "Ask.", 0, tapes=tapes, instead=instead, suspect=suspect
    )


TWO_POINTS = Vertical(2.0, 1.0, (PointReading(1.2, 0.2), PointReading(8.0, 0.8)))
SMALL = made(left(), read(1.0), TWO_POINTS, right(3.0))


@pytest.mark.parametrize(
    ("suspect", "instead", "meant"),
    [
        (Suspect(2, "tape"), 2.5, attrs.evolve(TWO_POINTS, tape=2.5)),
        (Suspect(2, "depth"), 0.9, attrs.evolve(TWO_POINTS, depth=0.9)),
        (
            Suspect(2, "velocity", 1),
            0.8,
            attrs.evolve(TWO_POINTS, velocity=(PointReading(1.2, 0.2), PointReading(0.8, 0.8))),
        ),
    ],
)
def test_the_figure_in_doubt_alone_is_mended(
    suspect: Suspect, instead: float, meant: Vertical
) -> None:
    """Of the vertical that is named, and of its velocities the one that is."""
    assert mended(SMALL, _slip(suspect, instead)) == made(left(), read(1.0), meant, right(3.0))


@pytest.mark.parametrize("missing", ["suspect", "instead", "channel"])
def test_half_a_doubt_mends_nothing(missing: str) -> None:
    """Which figure, in which channel, and what was meant: without one of them nothing is tried."""
    slip = attrs.evolve(_slip(Suspect(2, "depth"), 0.9), **{missing: None})

    assert mended(SMALL, slip) is None


@pytest.mark.parametrize(
    ("suspect", "sentence"),
    [
        (Suspect(2, "tape"), "It goes if tape 2 ft is 0.8 ft."),
        (Suspect(2, "depth"), "It goes if the depth at tape 2 ft is 0.8 ft."),
        (Suspect(2, "velocity", 1), "It goes if the velocity at tape 2 ft is 0.8 ft/s."),
    ],
)
def test_what_would_have_to_be_is_told_with_its_unit(suspect: Suspect, sentence: str) -> None:
    """The tape, the depth or the velocity, at its place."""
    slip = _slip(suspect, 0.8)
    effect = Finding("An effect", "note", "Odd.", "Look.")

    told = with_consequences(SMALL, [effect, slip], lambda better: [])

    assert told == [slip, attrs.evolve(effect, hangs_on=sentence)]


def _told(*left_over: Finding, severity: Severity = "fix now") -> list[str]:
    """What hangs on a slip and what does not, where some findings are left once it is mended."""
    slip = _slip(Suspect(2, "depth"), 0.8, severity)
    there = Finding("An effect", "explain", "Odd.", "Look.", 0, tapes=(2.0, 3.0))
    other = Finding("Another", "explain", "Odd.", "Look.")
    told = with_consequences(SMALL, [other, there, slip], lambda better: left_over)
    return [f"{'-' if one.hangs_on else '+'} {one.check}" for one in told]


@pytest.mark.parametrize(
    ("changes", "stays"),
    [
        ({}, True),
        ({"severity": "fix now"}, True),
        ({"severity": "note"}, False),
        ({"tapes": (3.0, 4.0)}, True),
        ({"tapes": (4.0, 5.0)}, False),
        ({"tapes": ()}, True),
        ({"channel": 1}, False),
    ],
)
def test_what_is_still_found_does_not_hang_on_the_slip(
    changes: dict[str, object], stays: bool
) -> None:
    """One of the check, no milder, in that channel and at one of the places at least."""
    again = attrs.evolve(
        Finding("An effect", "explain", "Odd.", "Look.", 0, tapes=(2.0, 3.0)), **changes
    )

    expected = ["+ A slip", "+ An effect", "- Another"]
    if not stays:
        expected[1:] = ["- Another", "- An effect"]
    assert _told(again) == expected


def test_what_says_nothing_of_a_place_stays_wherever_it_is_found() -> None:
    """A finding about the whole gauging is the same one, with tape positions or without."""
    again = Finding("Another", "explain", "Odd.", "Look.", tapes=(2.0,))

    assert _told(again) == ["+ A slip", "+ Another", "- An effect"]


def test_a_slip_explains_nothing_that_does_not_cure_itself_or_is_no_grave_one() -> None:
    """Still found with the other figure, or only to be explained: all stand by themselves."""
    alone = ["+ Another", "+ An effect", "+ A slip"]

    assert _told(severity="explain") == alone
    assert _told(_slip(Suspect(2, "depth"), 0.8)) == alone


def test_a_slip_that_is_none_hides_no_other() -> None:
    """The first does not cure itself; the second does, and says so of its effect."""
    first, second = (
        attrs.evolve(_slip(Suspect(2, "depth"), figure), check=check)
        for check, figure in (("First", 0.7), ("Second", 0.8))
    )
    effect = Finding("An effect", "note", "Odd.", "Look.")

    def find(better: Gauging) -> list[Finding]:
        """With 0.7 ft all is found again, with 0.8 ft the first slip alone."""
        depth = better.channels[0].verticals[2].depth
        return [first] if depth == 0.8 else [first, second, effect]

    told = with_consequences(SMALL, [effect, first, second], find)

    assert [one.check for one in told] == ["Second", "First", "An effect"]
    assert told[2].hangs_on == "It goes if the depth at tape 2 ft is 0.8 ft."
