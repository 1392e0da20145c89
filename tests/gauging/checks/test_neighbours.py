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
    """The first and the last vertical are slow because of the bank; the next ones are not."""
    for place in (1, 24):
        assert found(NAME, gauging(*even(**{f"v{place}": {"velocity": 0.75}}))) == []
    for place, pair in ((2, (2.0, 3.0)), (23, (22.0, 23.0))):
        (finding,) = found(NAME, gauging(*even(**{f"v{place}": {"velocity": 0.75}})))
        assert finding.tapes == pair


def test_panels_that_carry_next_to_nothing_are_left_out() -> None:
    """A panel of less than 3 % is not compared, one of more is."""
    thin = gauging(*even(v12={"velocity": 0.7}))  # 0.7 of 23.7 is 2.95 %
    thicker = gauging(*even(v12={"velocity": 0.75}))  # 0.75 of 23.75 is 3.16 %

    assert found(NAME, thin) == []
    assert len(found(NAME, thicker)) == 1


def test_opposite_directions_differ() -> None:
    """Water running back beside water running down is never alike."""
    assert len(found(NAME, gauging(*even(v12={"velocity": -1.0})))) == 1


def test_a_pair_is_told_with_its_velocities_and_where_to_add_one() -> None:
    """1 beside 0.75 ft/s is a third more; in 0.4 ft there is no room for a vertical."""
    for gap, advice in (
        (1.0, "Add a vertical at tape 2.5 ft, or read tapes 2 and 3 ft again."),
        (0.4, "Read tapes 0.8 and 1.2 ft again."),
    ):
        (finding,) = found(NAME, gauging(*even(24, gap, v2={"velocity": 0.75})))
        assert finding.found == (
            "Two neighbouring velocities, 0.75 ft/s and 1 ft/s at tapes "
            f"{2 * gap:g} and {3 * gap:g} ft, differ by more than 20 % of the smaller one."
        )
        assert finding.advice == advice
        assert [t.name for t in finding.thresholds] == ["neighbour_velocity", "neighbour_share"]


def test_two_pairs_ask_for_two_verticals() -> None:
    """Either side of the one that differs."""
    (finding,) = found(NAME, gauging(*even(v12={"velocity": 1.3})))
    assert finding.found.startswith("2 pairs of neighbouring velocities, most those of ")
    assert finding.found.endswith(", differ by more than 20 % of the smaller one.")
    assert finding.advice.startswith("Add verticals at tapes 11.5 and 12.5 ft, or read tapes ")
