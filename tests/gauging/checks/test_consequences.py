"""One slip and its many effects: which findings go with it."""

import re
from pathlib import Path

import attrs
import pytest

from bankside.gauging.checks.answers import accepted, key_of
from bankside.gauging.checks.consequences import mended
from bankside.gauging.checks.finding import Finding
from bankside.gauging.checks.run import check_gauging
from bankside.gauging.records import Gauging, StageReading
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
