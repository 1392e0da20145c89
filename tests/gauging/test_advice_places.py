"""Where one more vertical pays most, and where nobody is sent."""

import re

import attrs
import pytest

from bankside.gauging.advice import Act, advise
from bankside.gauging.checks.answers import accepted, key_of
from bankside.gauging.checks.examined import examine
from bankside.gauging.checks.run import check_gauging
from bankside.gauging.records import Channel, Gauging, StageReading

from .checks.sections import FEET, METRIC, RULES, at_tapes, even, gauging, left, read, right


def _one_more(made: Gauging) -> Act | None:
    """The best vertical among the acts, if there is one."""
    acts = advise(examine(made, RULES, finished=True), check_gauging(made, RULES))
    return next((act for act in acts if act.kind == "vertical"), None)


def test_half_way_where_one_more_leaves_least() -> None:
    """A thalweg of 3 ft between verticals 3 ft apart, and the rest 1 ft apart: there is the gap."""
    deep = {9.0: {"depth": 2.0}, 12.0: {"depth": 2.0}}
    tapes = [float(i) for i in range(10)] + [float(i) for i in range(12, 22)]

    found = _one_more(gauging(*at_tapes(tapes, deep)))

    assert found is not None and (found.channel, found.tape) == (0, 10.5)
    assert re.fullmatch(
        r"Read a vertical at tape 10\.5 ft: ± [\d.]+ % becomes about ± [\d.]+ %, as [\d.]+ % of "
        r"what is open between verticals lies between tapes 9 and 12 ft; the rule set "
        r"\"common-practice\" asks for 2 more\. Nobody goes in alone\.",
        found.words,
    )


def test_a_gap_without_room_is_passed_over() -> None:
    """In 0.4 ft no vertical fits, however much runs there; other gaps have room."""
    fast = {10.0: {"velocity": 4.0}, 10.4: {"velocity": 4.0}}
    tapes = [float(i) for i in range(11)] + [10.4] + [float(i) for i in range(11, 25)]

    examined = examine(gauging(*at_tapes(tapes, fast)), RULES, finished=True)
    found = next(act for act in advise(examined) if act.kind == "vertical")

    assert found.tape in (9.5, 10.7)  # on either side of the fast water


def test_no_room_anywhere_is_no_place() -> None:
    """0.4 ft apart throughout."""
    assert _one_more(gauging(*even(9, 0.4))) is None


def test_the_channel_is_named() -> None:
    """A side channel of two panels that carry 2 ft³/s each beside 24 that carry 1."""
    side = Channel((left(), read(1, velocity=2.0), read(2, velocity=2.0), right(3)), name="side")

    found = _one_more(Gauging(FEET, (Channel(tuple(even())), side)))

    assert found is not None and found.channel == 1
    assert found.words.startswith(f"Read a vertical at tape {found.tape:g} ft (channel 2, side): ")


def test_nobody_is_sent_where_a_finding_calls_out() -> None:
    """Too strong a current or rising water; accepted, the readings stand, and nobody goes back."""
    strong = gauging(*(left(), *(read(i, depth=3.3, velocity=3.5) for i in range(1, 9)), right(9)))
    rising = attrs.evolve(gauging(*even(depth=1)), stage=(StageReading(1.0), StageReading(1.3)))

    assert _one_more(strong) is None
    assert _one_more(rising) is None
    stops = [f for f in check_gauging(strong, RULES) if f.severity == "stop"]
    reasons = {key_of(stop): "from the footbridge" for stop in stops}
    settled = accepted(strong, stops, reasons, by="I. Marrow")
    assert _one_more(settled) is None


@pytest.mark.parametrize("answered", [False, True])
def test_nobody_is_sent_beside_a_vertical_where_the_leader_decides(answered: bool) -> None:
    """7.2 ft²/s at 6 ft; the widest gap is beside it, and is left alone, whatever is answered."""
    shallow = {tape: {"depth": 2.0} for tape in (1.0, 2.0, 3.0, 7.0, 8.0)}
    strong = {**shallow, 6.0: {"depth": 2.0, "velocity": 3.6}}
    tapes = [0.0, 1.0, 2.0, 3.0, 6.0, 7.0, 8.0, 9.0]
    weak = _one_more(gauging(*at_tapes(tapes, {**shallow, 6.0: {"depth": 2.0, "velocity": 1.5}})))
    assert weak is not None and weak.tape == 4.5
    made = gauging(*at_tapes(tapes, strong))
    asks = [f for f in check_gauging(made, RULES) if f.check == "Water too strong to wade"]
    assert [(f.severity, f.tapes) for f in asks] == [("explain", (6.0,))]
    if answered:
        made = accepted(made, asks, {key_of(asks[0]): "we stood there"}, by="I. Marrow")

    found = advise(examine(made, RULES, finished=True))[0]

    assert found.tape is not None and not 3 < found.tape < 7
    assert found.words.endswith(
        " A vertical between tapes 3 and 6 ft would bring more, but nobody is sent there: there "
        "or on the way the water is, or may well be, too deep or too fast."
    )


def test_a_figure_in_doubt_decides_nothing() -> None:
    """A velocity of 4 ft/s among those of 1 ft/s carries most of all; it is settled first."""
    slipped = gauging(*even(v12={"velocity": 4.0}))
    grave = [f for f in check_gauging(slipped, RULES) if f.suspect and f.severity == "fix now"]

    assert bool(grave)
    assert _one_more(slipped) is None


@pytest.mark.parametrize("units", [FEET, METRIC])
def test_still_water_has_no_place(units: object) -> None:
    """No share can be told where nothing runs."""
    still = {f"v{i}": {"velocity": 0.0} for i in range(1, 25)}

    assert _one_more(attrs.evolve(gauging(*even(**still)), units=units)) is None
