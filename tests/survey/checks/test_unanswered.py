"""Gaugings that wait for an answer, for their end or for a discharge."""

import attrs

from bankside.gauging.records import Answer
from bankside.survey.summary import open_findings
from bankside.survey.visits import visit_of

from ..building import RULES, UPPER, visit
from .looking import found


def test_findings_wait_until_they_are_answered() -> None:
    """The gravest of them is how grave it is; answered, nothing is said."""
    made = visit(0.7, UPPER, quality="excellent", id_="g")
    (finding,) = found("Findings without an answer", [made])
    assert finding.visits == ("g",)
    assert finding.severity == "explain"
    assert "Held to be better than it is" in finding.found

    answers = tuple(Answer(f.check, f.found, f.severity, "seen") for f in open_findings(made))
    answered = visit_of(attrs.evolve(made.gauging, answers=answers), RULES, UPPER)
    assert found("Findings without an answer", [answered]) == []


def test_a_gauging_without_a_discharge() -> None:
    """What is not complete, and what is not finished; a whole one is silent."""
    unfinished = attrs.evolve(visit(0.7, UPPER, id_="b"), finished=False)
    findings = found(
        "Gauging without a discharge",
        [visit(None, UPPER, id_="a"), unfinished, visit(0.7, UPPER, id_="c")],
    )

    assert [f.visits for f in findings] == [("a",), ("b",)]
    assert "channels must be at least one" in findings[0].found
    assert findings[1].found.endswith("gives no discharge: it is not finished.")
