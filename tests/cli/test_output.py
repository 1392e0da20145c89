"""Faults on their way out: one that many rows share is said once, with the rows."""

import pytest

from bankside.cli.output import asked_once
from bankside.gauging.faults import Fault


def _faults(rows: list[int], message: str = "found nothing", column: str = "C") -> list[Fault]:
    return [Fault(message, "alder.csv", None, row, column) for row in rows]


@pytest.mark.parametrize(
    ("rows", "listed"),
    [
        (list(range(10, 42)), "10 to 41"),
        ([10, 11, 14], "10 to 11, 14"),
        ([7, 3], "3, 7"),
        (list(range(2, 40, 2)), "2, 4, 6, 8, 10, 12 and 13 more"),
    ],
)
def test_equal_faults_are_one_sentence(rows: list[int], listed: str) -> None:
    """The first of equal faults stands for all, with the rows of all of them."""
    (fault,) = asked_once(_faults(rows))
    assert (fault.row, fault.column) == (rows[0], "C")
    assert fault.message == f"found nothing (the same on rows {listed})"


def test_a_fault_of_one_row_stays_as_it_is() -> None:
    """Nothing is added to a fault that stands alone, or twice on one row."""
    assert asked_once(_faults([4])) == _faults([4])
    assert asked_once(_faults([4, 4])) == _faults([4])


def test_other_faults_stay_apart() -> None:
    """Another column, another sentence or another file is another fault, in the order found."""
    faults = [
        *_faults([4, 5]),
        *_faults([4], "found too much"),
        *_faults([4], column="D"),
        Fault("found nothing", "quill.csv", None, 4, "C"),
    ]
    folded = asked_once(faults)
    assert [f.row for f in folded] == [4, 4, 4, 4]
    assert folded[1:] == faults[2:]
