"""The fold against journals worked out by hand, to which the web app is held as well."""

import hashlib
import json
from pathlib import Path
from typing import Any

import pytest

from bankside.gauging.faults import InputRefused
from bankside.gauging.journal.entry import entries_from_json
from bankside.gauging.journal.fold import fold
from bankside.gauging.journal.state import state_of
from bankside.gauging.journal.values import comparable

VECTORS = Path(__file__).parents[1] / "vectors"


def _cases(name: str) -> list[dict[str, Any]]:
    cases: list[dict[str, Any]] = json.loads((VECTORS / name).read_text(encoding="utf-8"))["cases"]
    return cases


CASES = _cases("folds.json")

COMES_TO = [pytest.param(case, id=case["name"]) for case in CASES if "said" in case]
REFUSED = [pytest.param(case, id=case["name"]) for case in CASES if "refused" in case]


def test_the_cases_have_names_of_their_own() -> None:
    """A case that fails is found by its name, and each one says what it comes to."""
    assert len({case["name"] for case in CASES}) == len(CASES) == len(COMES_TO) + len(REFUSED)


@pytest.mark.parametrize("case", COMES_TO)
@pytest.mark.parametrize("backwards", [False, True], ids=["as given", "backwards"])
def test_a_journal_comes_to_what_was_worked_out(case: dict[str, Any], backwards: bool) -> None:
    """Order, value, history, heads and conflict are those of the vector, from either end."""
    entries = entries_from_json(case["entries"])
    folded = fold(reversed(entries) if backwards else entries)

    assert [entry.id for entry in folded.entries] == case["order"]
    assert set(folded) == set(case["said"])
    for what, expected in case["said"].items():
        said = folded[what]
        assert said.what == what
        assert comparable(said.value) == comparable(expected["value"])
        assert said.entry == said.history[-1]
        assert [entry.id for entry in said.history] == expected["history"]
        assert [entry.id for entry in said.heads] == expected["heads"]
        assert said.conflict is expected["conflict"]


@pytest.mark.parametrize("case", REFUSED)
def test_a_journal_that_contradicts_itself_is_refused(case: dict[str, Any]) -> None:
    """One id with two contents, or entries of two gaugings, are told by their ids."""
    with pytest.raises(InputRefused) as refused:
        fold(entries_from_json(case["entries"]))

    (named,) = case["refused"].values()
    said = str(refused.value)
    assert all(f'"{id_}"' in said for id_ in named)
    assert len(refused.value.faults) == len(case["refused"].get("ids", [1]))


@pytest.mark.parametrize("case", [pytest.param(c, id=c["name"]) for c in _cases("states.json")])
def test_the_state_is_the_digest_of_what_was_looked_at(case: dict[str, Any]) -> None:
    """It is the SHA-256 that another program gives for the lines written by hand."""
    text = "".join(f"{line}\n" for line in case["lines"])

    assert hashlib.sha256(text.encode("utf-8")).hexdigest() == case["sha256"]
    assert state_of(entries_from_json(case["entries"])) == case["sha256"]
