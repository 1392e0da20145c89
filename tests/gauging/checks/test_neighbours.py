"""Neighbouring velocities that differ too much."""

import pytest

from .sections import even, found, gauging

NAME = "Neighbouring velocities too different"


@pytest.mark.parametrize(("velocity", "pairs"), [(1.2, 0), (1.21, 2), (0.834, 0), (0.83, 2)])
def test_more_than_a_fifth_of_the_smaller_one(velocity: float, pairs: int) -> None:
    """1.2 beside 1 is a fifth more than the smaller; 1 beside 0.83 is 20.5 % more."""
    made = gauging(*even(v12={"velocity": velocity}))

    findings = found(NAME, made)

    assert len(findings) == (1 if pairs else 0)
    assert all(f.severity == "note" and f.tapes == (11.0, 12.0, 13.0) for f in findings)
    assert found(NAME, made, finished=False) == []


def test_many_pairs_are_one_finding_with_the_worst_named() -> None:
    """The largest difference is 1 beside 1.9, at 15 and 16 ft or 16 and 17 ft."""
    made = gauging(*even(v8={"velocity": 1.3}, v16={"velocity": 1.9}))

    (finding,) = found(NAME, made)

    assert finding.found.startswith("4 pairs of neighbouring velocities, most those of 1 ft/s and ")
    assert "1.9 ft/s at tapes 15 and 16 ft" in finding.found
    assert "15.5" in finding.advice and "16.5" in finding.advice


def test_the_pair_beside_a_bank_is_excepted() -> None:
    """The first vertical is slow because of the bank."""
    assert found(NAME, gauging(*even(v1={"velocity": 0.75}))) == []


def test_panels_that_carry_next_to_nothing_are_left_out() -> None:
    """A panel of less than 3 % is not compared, one of more is."""
    thin = gauging(*even(v12={"velocity": 0.7}))  # 0.7 of 23.7 is 2.95 %
    thicker = gauging(*even(v12={"velocity": 0.75}))  # 0.75 of 23.75 is 3.16 %

    assert found(NAME, thin) == []
    assert len(found(NAME, thicker)) == 1


def test_opposite_directions_differ() -> None:
    """Water running back beside water running down is never alike."""
    assert len(found(NAME, gauging(*even(v12={"velocity": -1.0})))) == 1
