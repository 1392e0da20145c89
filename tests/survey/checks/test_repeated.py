"""Repeats that disagree, that miss their fellow, and that are too few."""

import attrs
import pytest

from ..building import LOWER, SURVEY, UPPER, visit
from .looking import found


@pytest.mark.parametrize(
    ("apart", "severity"),
    [(5.0, None), (5.1, "explain"), (10.0, "explain"), (10.1, "fix now")],
)
def test_a_pair_at_its_limits(apart: float, severity: str | None) -> None:
    """Silent to 5 %, to be explained to 10 %, then to be measured again."""
    visits = [visit(1 + sign * apart / 200, UPPER, id_=f"{sign}") for sign in (-1, 1)]
    findings = found("Duplicate disagrees", visits)

    assert [f.severity for f in findings] == ([] if severity is None else [severity])
    for finding in findings:
        assert (finding.sites, finding.visits) == (("upper",), ("-1", "1"))
        assert "of their mean apart" in finding.found


def test_a_repeat_without_a_discharge_is_told() -> None:
    """The pair cannot be judged."""
    (finding,) = found("Duplicate disagrees", [visit(1.0, UPPER, id_="a"), visit(None, UPPER)])

    assert "cannot be told" in finding.found


def test_a_missing_fellow_is_named() -> None:
    """By the id that the record gives; a fellow that is there is silent."""
    (finding,) = found("Repeats a gauging that is not here", [visit(1.0, UPPER, repeats="gone")])
    assert '"gone"' in finding.found

    pair = [visit(1.0, UPPER, id_="a"), visit(1.0, UPPER, id_="b", repeats="a")]
    assert found("Repeats a gauging that is not here", pair) == []


@pytest.mark.parametrize(("target", "told"), [(None, False), (50.0, False), (50.1, True)])
def test_the_share_at_its_limit(target: float | None, told: bool) -> None:
    """One of two visits was measured twice: half."""
    survey = attrs.evolve(SURVEY, duplicates_percent=target)
    visits = [visit(1.0, UPPER, id_=n) for n in "ab"] + [visit(1.0, LOWER, id_="c")]

    assert bool(found("Too few duplicates", visits, survey)) == told
