"""From which bank the crew is sent, where strong water parts the section."""

import math

import attrs
import pytest

from bankside.gauging.advice import Act, advise
from bankside.gauging.advice_sides import sides
from bankside.gauging.checks.examined import examine
from bankside.gauging.header_records import CrewMember
from bankside.gauging.records import Channel, Gauging, Vertical

from .checks.sections import METRIC, RULES, gauging, left, read, right

CREW = (CrewMember("I. Marrow"), CrewMember("O. Tern"))


def _row(strong: float = 0.2, *, tapes: tuple[float, ...] = ()) -> tuple[Vertical, ...]:
    """Calm shallows from 0 to 20 m, with 0.6 m at so many m/s at 8 m."""
    places = tapes or tuple(float(i) for i in range(1, 20))
    return (
        left(),
        *(read(at, 0.6, strong) if at == 8.0 else read(at, 0.3, 0.2) for at in places),
        right(20),
    )


def _acts(made: Gauging, target: float | None = 1.0) -> list[Act]:
    examined = examine(attrs.evolve(made, crew=CREW), RULES, finished=True)
    return [act for act in advise(examined, target=target) if act.tape is not None]


def test_acts_stand_on_one_side_of_strong_water_and_name_its_bank() -> None:
    """0.69 m²/s at 8 m: nobody is sent to both sides, which would make somebody cross."""
    acts = _acts(gauging(*_row(1.15), units=METRIC))

    assert acts
    far = [(act.tape or 0.0) > 8.0 for act in acts]
    assert all(far) or not any(far)
    bank = "right" if far[0] else "left"
    assert all(f" m, from the {bank} bank: " in act.words for act in acts)


@pytest.mark.parametrize("bank", ["left", "right"])
def test_the_side_is_taken_at_which_most_is_gained(bank: str) -> None:
    """A gap of 4 m on either side in turn."""
    gone = (3.0, 4.0, 5.0) if bank == "left" else (13.0, 14.0, 15.0)
    tapes = tuple(float(i) for i in range(1, 20) if i not in gone)

    first = _acts(gauging(*_row(1.15, tapes=tapes), units=METRIC))[0]

    assert f"from the {bank} bank" in first.words
    assert gone[0] - 1 < (first.tape or 0.0) < gone[-1] + 1


def test_without_strong_water_no_bank_is_named() -> None:
    """Both sides, as there is nothing to cross."""
    acts = _acts(gauging(*_row(), units=METRIC))

    assert acts and all("bank" not in act.words for act in acts)
    (side,) = sides(examine(gauging(*_row(), units=METRIC), RULES, finished=True))
    assert side.bank == "" and side.wading[0].keeps_out is None


def test_water_that_nobody_wades_leaves_nothing_in_its_channel() -> None:
    """0.96 m²/s at 8 m: neither side, and the one act says so."""
    made = attrs.evolve(gauging(*_row(1.6), units=METRIC), crew=CREW)

    assert _acts(made) == []
    first = advise(examine(made, RULES, finished=True))[0]
    assert first.kind == "no more"
    assert first.words.startswith("Nothing that is worth its time is left where somebody may be ")
    assert "nobody is sent there" in first.words


@pytest.mark.parametrize(("velocity", "banks"), [(1.15, ["left", "right"]), (1.6, ["left"])])
def test_channels_behind_strong_water_are_out_of_reach_from_the_near_bank(
    velocity: float, banks: list[str]
) -> None:
    """Strong water in the second of three channels; behind water that nobody wades, nowhere."""
    calm = Channel(_row())
    made = Gauging(METRIC, (calm, Channel(_row(velocity)), calm))

    found = sides(examine(made, RULES, finished=True))

    assert [side.bank for side in found] == [f"from the {bank} bank" for bank in banks]
    near = found[0].wading
    assert near[0].again(19.0) and not near[2].again(1.0)
    assert near[1].again(6.0) is (velocity < 1.5) and not near[1].again(10.0)
    for side in found[1:]:
        assert side.wading[0].closed and side.wading[1].keeps_out == (-math.inf, 9.0)
        assert side.wading[2].again(1.0)


def test_the_near_side_is_where_the_channel_was_begun() -> None:
    """Called from the right bank on, the near side is that of the higher tape."""
    made = gauging(*reversed(_row(1.15)), units=METRIC)

    near, far = sides(examine(made, RULES, finished=True))

    assert (near.bank, far.bank) == ("from the right bank", "from the left bank")
    assert near.wading[0].again(10.0) and not near.wading[0].again(6.0)
