"""Why the app shows a figure: two sentences and a source, thresholds by the rule set in force."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest

from bankside.bank.reasons.practising import PRACTISING
from bankside.bank.reasons.reason import Reason
from bankside.bank.why import REASONS
from bankside.gauging.checks.run import ALL_CHECKS
from bankside.gauging.rule_sets.load import BASE, load_rule_set, shipped_names
from bankside.gauging.rule_sets.thresholds import THRESHOLDS
from bankside.note.cautions import CAUTIONS
from bankside.practice.debrief.source_words import SOURCES

from .entering import ask

ROOT = Path(__file__).parents[2]
EVERY = (*REASONS, *PRACTISING)

# Points of the depth, how often an interval holds, and a method by its number: no thresholds.
_METHOD = {"0.2", "0.6", "0.8", "68", "95", "748"}
_OWN = ("ours", "assumed", "Bankside", "the crew", "the tape", "all figures assumed")


def _reasons(**more: Any) -> dict[str, Any]:
    reply = ask(ask="why", **more)
    assert reply["ok"], reply
    reasons: dict[str, Any] = reply["reasons"]
    return reasons


def _one_sentence(text: str) -> bool:
    ends = re.findall(r"[.?!](?=\s|$)", text)
    return len(ends) == 1 and text[-1] in ".?!" and text[0].isupper()


@pytest.mark.parametrize("reason", EVERY, ids=lambda reason: reason.key)
def test_a_reason_is_two_sentences_and_a_source(reason: Reason) -> None:
    """What it is for in one sentence, why it is so in another, and who says so."""
    assert _one_sentence(reason.purpose), reason.purpose
    assert _one_sentence(reason.grounds), reason.grounds
    assert reason.source
    assert reason.name


def test_a_key_has_one_reason() -> None:
    """No key has two reasons, and none holds what a page parts keys by."""
    keys = [reason.key for reason in EVERY]

    assert len(keys) == len(set(keys))
    assert not [key for key in keys if ";" in key]
    assert not [check.name for check in ALL_CHECKS if ";" in check.name]


@pytest.mark.parametrize("reason", EVERY, ids=lambda reason: reason.key)
def test_no_threshold_is_typed_twice(reason: Reason) -> None:
    """Figures of thresholds stand in rule sets: a sentence has numbers of methods alone."""
    numbers = set(re.findall(r"\d+(?:\.\d+)?", f"{reason.name} {reason.purpose} {reason.grounds}"))

    assert numbers <= _METHOD
    assert set(reason.thresholds) <= set(THRESHOLDS)


@pytest.mark.parametrize("name", shipped_names())
def test_thresholds_are_those_of_the_rule_set_in_force(name: str) -> None:
    """Each value, its confidence and its source are word for word those of the rule set."""
    rules = load_rule_set(name)
    told = [
        threshold
        for reason in _reasons(rule_set=name, practice=True).values()
        for threshold in reason["thresholds"]
    ]

    assert len(told) > 100
    for threshold in told:
        held = rules[threshold["name"]]
        assert threshold["value"] == held.words()
        assert threshold["confidence"] == held.confidence
        assert threshold["source"] == held.source
        assert threshold["rule_set"] == held.rule_set


def test_verticals_are_spread_as_debriefs_have_it() -> None:
    """The plan and the debrief of practice name one source for where verticals stand."""
    (spread,) = [reason for reason in REASONS if reason.key == "spread"]

    assert spread.source.startswith(f"{SOURCES['spacing'].source}; ")


def test_another_rule_set_has_other_figures() -> None:
    """The exposure after ISO 748 is not that of common practice, and both say whose it is."""
    usual, iso = (
        _reasons(rule_set=name)["exposure"]["thresholds"][0] for name in (BASE, "after-iso-748")
    )

    assert (usual["value"], usual["rule_set"]) == ("40 s", BASE)
    assert (iso["value"], iso["rule_set"]) == ("30 s", "after-iso-748")


def test_thresholds_are_told_in_the_unit_of_the_tape() -> None:
    """Whoever reads metres is told metres, with the figure as it was written behind it."""
    stop = {one["name"]: one for one in _reasons(unit="m")["wading limits"]["thresholds"]}

    assert stop["wade_depth_stop"]["value"] == "1.52 m (5 ft)"


def test_every_check_says_why_as_the_catalogue_does() -> None:
    """A finding's rule is told in the words of the catalogue, which stand there alone."""
    reasons = _reasons()

    for check in ALL_CHECKS:
        told = reasons[f"check: {check.name}"]
        assert told["words"] == f"{check.trigger} {check.remedy}"
        assert told["source"] == check.source


def test_practice_is_told_where_it_is_asked_for() -> None:
    """At a real stream nothing of practice is told; every part of a debrief has its reason."""
    practice = _reasons(practice=True)

    assert {f"source: {source}" for source in SOURCES} <= set(practice)
    assert set(_reasons()) == set(practice) - {reason.key for reason in PRACTISING}


def test_a_rule_set_that_is_not_known_is_said() -> None:
    """A journal from a crew with rules of its own is told common practice, and that it is so."""
    reply = ask(ask="why", rule_set="crew.toml")

    assert reply["rule_set"] == load_rule_set(BASE).title
    assert reply["remarks"] == [
        'The rule set "crew.toml" is not known here: "common-practice" is used.'
    ]


def _cited() -> str:
    """Return all that the documents and the words of checks and debriefs cite, in one line."""
    texts = [
        *(
            path.read_text(encoding="utf-8")
            for path in (ROOT / "docs").glob("*.md")
            if path.name != "why.md"
        ),
        *(check.source for check in ALL_CHECKS),
        *(words.source for words in SOURCES.values()),
        *(caution.source for caution in CAUTIONS),
    ]
    return " ".join(" ".join(texts).split()).casefold()


def test_no_source_is_invented() -> None:
    """Every source is one that the repository cites already, or says that there is none."""
    cited = _cited()
    unknown = []
    for reason in EVERY:
        for piece in reason.source.split("; "):
            named = piece.removeprefix("what helps against it: ").removeprefix("for equal flow: ")
            named = re.sub(r", (docs/\w+\.md|from memory)$", "", named)
            if named not in _OWN and named.casefold() not in cited:
                unknown.append(f"{reason.key}: {piece}")

    assert not unknown
    for path in {path for one in EVERY for path in re.findall(r"docs/\w+\.md", one.source)}:
        assert (ROOT / path).is_file()


def _said_in_the_page() -> tuple[set[str], set[str]]:
    """Return the keys that marks in the page's own text name, and all that is quoted there."""
    marked: set[str] = set()
    words: set[str] = set()
    for path in (*(ROOT / "web" / "page").rglob("*"), *(ROOT / "web" / "practice").rglob("*")):
        if path.suffix not in (".svelte", ".ts") or path.name.endswith(".test.ts"):
            continue
        text = path.read_text(encoding="utf-8")
        for mark in re.findall(r'why="([^"{}]+)"', text):
            marked |= {key.strip() for key in mark.split(";")}
        for quoted in re.findall(r'"([^"\n]+)"', text):
            words |= {key.strip() for key in quoted.split(";")}
    return marked, words


def test_marks_and_reasons_are_the_same() -> None:
    """Each key that the page marks a figure with has a reason, and no reason is without a mark."""
    marked, words = _said_in_the_page()
    every = {reason.key for reason in EVERY}
    # The debrief makes up the keys of its sources from what it shows.
    keys = {key for key in every if not key.startswith("source: ")}

    assert marked - every == set()
    assert keys - words == set()
