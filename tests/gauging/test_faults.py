import pickle

import pytest

from bankside.gauging.faults import BanksideError, Fault, InputRefused


def test_a_fault_in_a_table_says_its_place() -> None:
    """File, sheet, row and column stand before the sentence, in this order."""
    fault = Fault("found nothing", file="flow.xlsx", sheet="June", row=14, column='C "Depth (m)"')

    assert str(fault) == 'flow.xlsx, sheet "June", row 14, column C "Depth (m)": found nothing'


def test_a_fault_leaves_out_what_it_does_not_know() -> None:
    """Parts of a place that are absent leave no trace."""
    assert str(Fault("found nothing")) == "found nothing"
    assert str(Fault("found nothing", file="flow.csv", row=3)) == "flow.csv, row 3: found nothing"


@pytest.mark.parametrize(
    ("steps", "path"),
    [
        (["depth"], "depth"),
        (["depth", 7, "verticals", 0, "channels"], "channels[0].verticals[7].depth"),
        ([3, "stage"], "stage[3]"),
    ],
)
def test_a_path_grows_outwards(steps: list[str | int], path: str) -> None:
    """Every level puts its own step before the path, fields with a dot, indexes without."""
    fault = Fault("found nothing")
    for step in steps:
        fault = fault.inside(step)

    assert fault.path == path


def test_a_refusal_says_every_fault_on_its_own_line() -> None:
    """The text of the error is the text of all its faults."""
    refusal = InputRefused([Fault("one", path="a"), Fault("two", path="b")])

    assert str(refusal) == "a: one\nb: two"
    assert isinstance(refusal, BanksideError)
    assert isinstance(refusal, ValueError)


def test_a_refusal_survives_pickling() -> None:
    """An error can cross from one process to another with its faults."""
    refusal = InputRefused([Fault("one", path="a")])

    assert pickle.loads(pickle.dumps(refusal)).faults == refusal.faults
