"""What is measured of advice: visits that follow it, and the document that tells of them."""

import attrs
import pytest
from tests.gauging.checks.sections import RULES

from bankside.practice.crew import CAREFUL
from bankside.practice.making import make_stream
from calibration.advice import FIRST, SEEDS, Reaching, summary
from calibration.advice_document import ADVICE_DOCUMENT, advice_filled
from calibration.advised_visit import Step, Visit, fixed


def test_generated_parts_are_those_of_the_stored_results() -> None:
    """Tables in the document follow from what the scripts wrote down."""
    text = ADVICE_DOCUMENT.read_text(encoding="utf-8")

    assert advice_filled(text) == text, "run: python -m calibration.advice_document"


def test_a_visit_does_what_it_is_told_until_the_target_is_met() -> None:
    """Each act costs its time, and the last state is the first that is at the target."""
    stream = make_stream("run", SEEDS)

    steps = Visit(stream, CAREFUL, SEEDS, 6, RULES).follow(9.0, most=31)

    assert steps[0].act == "first pass" and len(steps) > 1
    assert all(step.stated > 9.0 for step in steps[:-1]) and steps[-1].stated <= 9.0
    seconds = [step.seconds for step in steps]
    assert seconds == sorted(set(seconds))


def test_an_advised_visit_begins_as_one_at_equal_distances() -> None:
    """The first pass has the errors of a fixed visit of the same verticals."""
    stream = make_stream("canal", SEEDS + 1)

    (first, *_) = Visit(stream, CAREFUL, 3, 10, RULES).follow(50.0, most=10)

    assert first == fixed(stream, CAREFUL, 3, 10, RULES)


def test_a_summary_counts_what_was_reached_held_and_told() -> None:
    """Of four visits two reach the target, one of them holds it, and one missed was told so."""
    equal = Step(25, 1500.0, 0.02, 9.0, 6.0)
    good = Reaching("whole", Step(12, 750.0, 0.03, 7.0, 5.0), True, None, {}, equal, None)
    wrong = attrs.evolve(good, end=attrs.evolve(good.end, error=0.2, seconds=1500.0), told=12)
    missed = attrs.evolve(good, end=attrs.evolve(good.end, stated=9.0), reached=False)
    told = attrs.evolve(missed, told=FIRST + 2, acts={"vertical": 3})

    row = summary([good, wrong, missed, told])

    assert (row["reached"], row["held"]) == (50.0, 50.0)
    assert (row["told when missed"], row["told at first"], row["told though reached"]) == (
        pytest.approx(50.0),
        0.0,
        50.0,
    )
    assert (row["saved"], row["25 reach"], row["acts"]) == (25.0, 0.0, {"vertical": 3})
    assert row["plans"] == 0.0 and row["plan reached"] is None
