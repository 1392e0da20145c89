"""Drills: errors that can be found, readings that are told rightly, and cards that come again."""

from __future__ import annotations

from collections import Counter
from decimal import Decimal

import attrs
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bankside.gauging.checks.run import check_gauging
from bankside.gauging.faults import InputRefused
from bankside.gauging.rod import rod_points
from bankside.gauging.rule_sets.load import load_rule_set
from bankside.practice.drills.boxes import MOST_BOX, Boxes, after_answer, next_card
from bankside.practice.drills.cards import CARDS, card_and_seed, error_on
from bankside.practice.drills.find_error import ERRORS, judge, spoilt_sheet
from bankside.practice.drills.question import answered
from bankside.practice.drills.reading_cards import READING_CARDS, reading_question

RULES = load_rule_set("common-practice")


@pytest.mark.parametrize("kind", sorted(ERRORS))
def test_a_sheet_has_one_error_of_its_kind(kind: str) -> None:
    """What was read beside what stands there differ, and a check names the place."""
    for seed in range(6):
        sheet = spoilt_sheet(seed, kind)  # type: ignore[arg-type]
        assert sheet.kind == kind
        assert sheet.written != sheet.read
        rows = sheet.gauging.channels[0].verticals
        assert (sheet.written in rows) == (sheet.written is not None)
        assert sheet.read not in rows
        assert sheet.found in check_gauging(sheet.gauging, RULES)
        assert sheet.gauging.practice


def test_a_seed_is_one_sheet() -> None:
    """The same one whenever it is asked for, and another for another seed."""
    one = spoilt_sheet(3)
    spoilt_sheet.cache_clear()

    assert spoilt_sheet(3).gauging == one.gauging
    assert spoilt_sheet(4).gauging != one.gauging


def test_every_kind_comes_up() -> None:
    """Over seventy sheets each kind is there some times."""
    kinds = Counter(spoilt_sheet(seed).kind for seed in range(70))

    assert set(kinds) == set(ERRORS)
    assert max(kinds.values()) < 30


def test_place_and_kind_are_judged_by_themselves() -> None:
    """And what was read is told, so that nobody is left guessing."""
    sheet = spoilt_sheet(1, "decimal slip")
    other = next(v.tape for v in sheet.gauging.channels[0].verticals if v.tape != sheet.tape)

    right = judge(sheet, sheet.tape, "decimal slip")
    assert (right.place, right.kind) == (True, True)
    assert right.words.startswith("Well seen.")
    assert f"It was read as tape {sheet.tape:g} m" in right.words
    half = judge(sheet, sheet.tape, "digits swapped")
    assert (half.place, half.kind) == (True, False)
    none = judge(sheet, other, "digits swapped")
    assert (none.place, none.kind) == (False, False)
    assert none.words.startswith("Not this one.")
    with pytest.raises(InputRefused, match="kind must be one of"):
        judge(sheet, 1.0, "haste")


@given(st.sampled_from(sorted(READING_CARDS)), st.integers(0, 100_000))
def test_the_right_answer_is_right_and_far_ones_are_not(card: str, seed: int) -> None:
    """Whatever is asked: the answer itself, a little off it, and well off it."""
    question = reading_question(card, seed)

    assert answered(question, str(question.answer)).right
    assert answered(question, str(question.answer + question.within)).right
    wrong = answered(question, str(question.answer + question.within + Decimal("0.02")))
    assert not wrong.right
    assert str(question.answer) in wrong.words
    assert reading_question(card, seed) == question


@given(st.integers(0, 100_000))
def test_a_setting_is_that_of_the_rod(seed: int) -> None:
    """Held against what the app tells a crew: 0.4 of the setting above the bed."""
    question = reading_question("setting of the rod", seed)
    depth, fraction = question.figure["depth"], question.figure["fraction"]

    above = 0.4 * float(question.answer)
    assert 1.0 - above / depth == pytest.approx(fraction)
    points = rod_points(Decimal(str(depth)), "ft", RULES)
    settings = {point.fraction: Decimal(point.setting) for point in points}
    assert settings[fraction] == question.answer


@given(st.integers(0, 100_000))
def test_inches_are_twelfths(seed: int) -> None:
    """7 inches are 0.58 ft, never 0.7."""
    question = reading_question("inches and tenths", seed)
    feet, inches = question.figure["feet"], question.figure["inches"]

    assert float(question.answer) == pytest.approx(feet + inches / 12, abs=0.005)
    assert not answered(question, f"{feet}.{inches}").right or inches in (10, 11)


@given(st.integers(0, 100_000))
def test_a_spacing_counts_gaps(seed: int) -> None:
    """One more than verticals."""
    question = reading_question("spacing", seed)
    figure = question.figure

    gaps = (figure["right"] - figure["left"]) / float(question.answer)
    assert gaps == pytest.approx(figure["verticals"] + 1)
    # The width over the verticals, rounded as anybody would, is what the card is there to mend.
    slip = (figure["right"] - figure["left"]) / figure["verticals"]
    assert not answered(question, f"{slip:.2f}").right
    assert not answered(question, f"{slip:.4f}").right


@given(st.sampled_from(["rod in metres", "rod in feet"]), st.integers(0, 100_000))
def test_the_crest_of_the_swing_is_not_the_depth(card: str, seed: int) -> None:
    """Half the swing is allowed, and a hundredth always: no more."""
    question = reading_question(card, seed)
    swing = Decimal(str(question.figure["swing"]))

    assert question.within == max(Decimal("0.01"), swing / 2)
    if swing > Decimal("0.01"):
        assert not answered(question, str(question.answer + swing)).right


@pytest.mark.parametrize("text", ["", "a lot", "1,2", "nan", "inf"])
def test_what_is_no_figure_is_refused(text: str) -> None:
    """One sentence, and the card stays where it is."""
    with pytest.raises(InputRefused, match=r'the answer must be a figure such as "1\.25"'):
        answered(reading_question("tape", 1), text)


def test_what_was_right_comes_later_and_what_was_wrong_soon() -> None:
    """Boxes by hand: 2, 3 after right answers, 1 after a wrong one; due after 2, 4, 1 rounds."""
    boxes = after_answer(Boxes(), "tape", True)
    assert (boxes.state("tape").box, boxes.state("tape").due) == (2, 3)
    boxes = after_answer(boxes, "tape", True)
    assert (boxes.state("tape").box, boxes.state("tape").due) == (3, 6)
    boxes = after_answer(boxes, "tape", False)
    assert (boxes.state("tape").box, boxes.state("tape").due) == (1, 4)
    assert (boxes.state("tape").right, boxes.state("tape").wrong) == (2, 1)
    for _ in range(9):
        boxes = after_answer(boxes, "tape", True)
    assert boxes.state("tape").box == MOST_BOX


def test_the_next_card_is_one_that_is_due() -> None:
    """New ones in their order, then what is due, then what is due first."""
    cards = ("a", "b")
    boxes = Boxes()
    assert next_card(boxes, cards) == "a"
    boxes = after_answer(boxes, "a", True)
    assert next_card(boxes, cards) == "b"
    boxes = after_answer(boxes, "b", False)
    assert boxes.round == 2
    # b is due in round 3, a as well: neither is due now, and b is in the lower box.
    assert next_card(boxes, cards) == "b"
    with pytest.raises(ValueError, match="there must be a card"):
        next_card(boxes, ())


def test_who_fails_one_card_sees_it_most() -> None:
    """Over 200 answers, all right but one card: it comes up far more often than any other."""
    boxes, asked = Boxes(), Counter[str]()
    for _ in range(200):
        card, _ = card_and_seed(boxes)
        asked[card] += 1
        boxes = after_answer(boxes, card, card != "tape")

    assert set(asked) == set(CARDS)
    assert asked["tape"] > 2 * max(count for card, count in asked.items() if card != "tape")


def test_cards_know_their_errors() -> None:
    """A card on reading has none."""
    assert error_on("tape") is None
    assert {error_on(card) for card in CARDS} == {None, *ERRORS}


def test_boxes_refuse_what_cannot_be() -> None:
    """A box beyond the last one, said as everywhere."""
    state = Boxes().state("tape")
    with pytest.raises(InputRefused, match="box must be from 1 to 5"):
        attrs.evolve(state, box=6)
