"""A practice session: what is shown is what the water does, the same however often it is asked."""

import json
import math
import random
from itertools import pairwise

import attrs
import pytest

from bankside.gauging.faults import InputRefused
from bankside.gauging.json_text import parsed, written
from bankside.practice.session.act import Act, Session
from bankside.practice.session.display import running_means, second_means
from bankside.practice.session.document import (
    FORMAT,
    Practice,
    Told,
    practice_from_document,
    practice_to_document,
)
from bankside.practice.session.followed import follow
from bankside.practice.session.reach import make_reach
from bankside.practice.session.shown import (
    Shown,
    ShownDepth,
    ShownEdge,
    ShownPoint,
    ShownStage,
)
from bankside.practice.turbulence import exposure_variance

from ..survey.building import gauging as real_gauging
from .trainee import practise

REACH = make_reach("easy run", 5)
STREAM = REACH.section(REACH.best).water.stream
MIDDLE = round(0.5 * (STREAM.left + STREAM.right), 2)
BEGUN = (Act("choose", section=REACH.best), Act("stretch"))


def acted(*acts: Act, begun: tuple[Act, ...] = BEGUN, stream: str = "easy run") -> list[Shown]:
    """What acts show after a beginning."""
    followed = follow(Session(stream, 5, (*begun, *acts)))
    return [one for one in followed.shown if one is not None]


def held(**members: object) -> ShownPoint:
    """A meter held in the middle of the stream."""
    said = {"tape": MIDDLE, "fraction": 0.6, "seconds": 40.0, **members}
    (one,) = acted(Act("hold", **said))  # type: ignore[arg-type]
    assert isinstance(one, ShownPoint)
    return one


def test_the_same_acts_show_the_same() -> None:
    """Replaying a session gives every figure again, and a longer session begins alike."""
    session, followed, _ = practise("cobble riffle", 3)
    shorter = attrs.evolve(session, acts=session.acts[:12])

    assert follow(session).shown == followed.shown
    assert follow(shorter).shown == followed.shown[:12]


def test_a_meter_shows_a_mean_that_settles() -> None:
    """A figure a second, the last one being called; far in, it is near the true velocity there."""
    short, long = held(), held(seconds=600.0)

    assert len(short.display) == 40
    assert short.called == short.display[-1]
    assert long.called == pytest.approx(long.true, rel=0.03)
    steps = [abs(b - a) for a, b in pairwise(short.display)]
    assert sum(steps[:10]) > sum(steps[-10:])


@pytest.mark.parametrize("seconds", [1, 5, 40])
@pytest.mark.parametrize("time_scale", [0.3, 2.0, 20.0])
def test_means_vary_as_the_formula_of_the_simulation_says(seconds: int, time_scale: float) -> None:
    """The variance of 8,000 means is that of `exposure_variance`, within 7 %."""
    rng = random.Random(1)
    means = [sum(second_means(rng, [(0.2, time_scale)], seconds)) / seconds for _ in range(8_000)]
    variance = sum(mean * mean for mean in means) / len(means)

    assert variance == pytest.approx(exposure_variance(0.2, time_scale, seconds), rel=0.07)


def test_neighbouring_seconds_are_alike() -> None:
    """Water that was fast is still fast a second later: exp(−1 s / time scale) for long ones."""
    values = second_means(random.Random(2), [(1.0, 30.0)], 60_000)
    mean = sum(values) / len(values)
    off = [value - mean for value in values]
    pairs = sum(a * b for a, b in pairwise(off))

    assert pairs / sum(a * a for a in off) == pytest.approx(math.exp(-1.0 / 30.0), abs=0.02)


def test_running_means_are_means() -> None:
    """By hand."""
    assert running_means([1.0, 3.0, 5.0]) == [1.0, 2.0, 3.0]


def test_a_meter_that_faces_wrong_shows_the_cosine() -> None:
    """Half of the velocity at 60°; nothing else changes."""
    right, wrong = held(), held(facing=60.0)

    assert right.called is not None and wrong.called is not None
    assert wrong.called == pytest.approx(0.5 * right.called, abs=1e-3)
    assert (wrong.true, wrong.deviation) == (right.true, right.deviation)


def test_somebody_close_upstream_takes_velocity_away() -> None:
    """Whoever stands in the flow before the meter makes a lee."""
    right, wrong = held(), held(stance="close upstream")

    assert right.called is not None and wrong.called is not None
    assert wrong.called < 0.9 * right.called


def test_feet_a_second_are_shown_where_the_meter_is_set_so() -> None:
    """The figure is 3.28 times as large, and nothing on the display says so."""
    right, wrong = held(), held(unit="ft/s")

    assert right.called is not None and wrong.called is not None
    assert wrong.called == pytest.approx(right.called / 0.3048, abs=2e-3)


def test_a_counter_that_goes_on_mixes_two_points() -> None:
    """Forty seconds here and forty at another place give the mean of both."""
    other = round(STREAM.left + 0.1 * (STREAM.right - STREAM.left), 2)
    first = Act("hold", tape=other, fraction=0.6, seconds=40.0)
    anew = Act("hold", tape=MIDDLE, fraction=0.6, seconds=40.0)
    shown = acted(first, attrs.evolve(anew, restarted=False))
    alone = acted(first, anew)

    figures = [one.called for one in (*shown, alone[1]) if isinstance(one, ShownPoint)]
    slow, mixed, right = (figure or 0.0 for figure in figures)
    assert mixed == pytest.approx(0.5 * (slow + right), abs=2e-3)


def test_a_rod_that_is_set_wrongly_holds_the_meter_elsewhere() -> None:
    """A scale at twice the depth holds it at 0.2, at half the depth at 0.8."""
    depth = STREAM.depth_at(MIDDLE)

    assert held(setting=depth).held == pytest.approx(0.6)
    assert held(setting=2 * depth).held == pytest.approx(0.2)
    assert held(setting=depth / 2).held == pytest.approx(0.8)
    assert held(setting=depth / 2).true < held(setting=2 * depth).true


def test_the_surface_swings_about_the_true_depth() -> None:
    """What is seen at the rod stays between its lowest and its highest, around the truth."""
    (one,) = acted(Act("sound", tape=MIDDLE))

    assert isinstance(one, ShownDepth)
    assert one.depth == pytest.approx(STREAM.depth_at(MIDDLE))
    assert one.low < min(one.swing) < one.depth < max(one.swing) < one.high


def test_a_tape_that_is_askew_makes_the_stream_wider() -> None:
    """At 30° by 1 / cos 30°, and marks lie at other places of the section."""
    edges = (Act("edge", side="left"), Act("edge", side="right"))
    square = [one.tape for one in acted(*edges) if isinstance(one, ShownEdge)]
    begun = (BEGUN[0], Act("stretch", skew=30.0))
    askew = [one.tape for one in acted(*edges, begun=begun) if isinstance(one, ShownEdge)]

    wider = (askew[1] - askew[0]) / (square[1] - square[0])
    assert wider == pytest.approx(1 / math.cos(math.radians(30.0)), abs=0.01)


def test_the_gauge_rises_where_the_stream_does() -> None:
    """By 4 cm an hour in the stream that rises, and not at all in the others."""
    acts = (Act("stage"), *(Act("hold", tape=9.0, fraction=0.6, seconds=600.0),) * 6, Act("stage"))
    for stream, least, most in (("rising stage", 0.035, 0.05), ("easy run", 0.0, 0.0)):
        begun = (Act("choose", section="A"), Act("stretch"))
        shown = acted(*acts, begun=begun, stream=stream)
        first, last = (one.value for one in shown if isinstance(one, ShownStage))
        assert least <= last - first <= most


def test_no_water_shows_no_velocity() -> None:
    """Beyond the edge nothing covers the meter, and no figure is made up."""
    (one,) = acted(Act("hold", tape=STREAM.right + 2.0, fraction=0.6, seconds=10.0))

    assert isinstance(one, ShownPoint)
    assert one.called is None
    assert one.display == ()


@pytest.mark.parametrize(
    ("acts", "said"),
    [
        ((Act("sound", tape=1.0),), r"acts\[0\].do: a section must be chosen"),
        ((BEGUN[0], Act("sound", tape=1.0)), r"acts\[1\].do: the tape must be stretched"),
        ((Act("choose", section="Z"),), r"acts\[0\].section: section must be one of A, B, C"),
        (
            (*BEGUN, BEGUN[0], Act("stage"), Act("edge", side="left")),
            r"acts\[4\].do: the tape must",
        ),
    ],
)
def test_what_cannot_be_done_yet_is_said(acts: tuple[Act, ...], said: str) -> None:
    """One sentence with the place of the act; a new section needs the tape again."""
    with pytest.raises(InputRefused, match=said):
        follow(Session("easy run", 5, acts))


@pytest.mark.parametrize(
    ("members", "said"),
    [
        ({"do": "hold", "tape": 1.0, "fraction": 0.6}, "seconds must be given where"),
        ({"do": "hold", "tape": 1.0, "fraction": 0.6, "seconds": 2.5}, "a whole number"),
        ({"do": "hold", "tape": 1.0, "fraction": 0.6, "seconds": 9e9}, "from 1 to 600"),
        ({"do": "edge"}, "side must be given where"),
        ({"do": "fly"}, "do must be one of"),
        ({"do": "stretch", "skew": 80.0}, "skew must be a number from -45 to 45"),
        ({"do": "sound", "tape": 1.0, "tap": 2.0}, "tap"),
    ],
)
def test_an_act_that_does_not_say_enough_is_refused(members: dict[str, object], said: str) -> None:
    """Strictly, as everything that comes as JSON."""
    document = {"format": FORMAT, "session": {"stream": "easy run", "seed": 1, "acts": [members]}}
    with pytest.raises(InputRefused, match=said):
        practice_from_document(parsed(json.dumps(document)))


def test_a_session_comes_back_from_json() -> None:
    """Acts, record, person, and what was told on the way."""
    session, _, record = practise("undercut bank", 2)
    practice = Practice(session, "Ann", record, (Told("A check", "something", "explain"),))

    text = written(practice_to_document(practice))
    assert practice_from_document(parsed(text)) == practice


def test_a_record_of_real_water_is_no_practice() -> None:
    """The two never mix, in neither direction."""
    practice = Practice(Session("easy run", 1), None, real_gauging(1.0, id_="real"))
    with pytest.raises(InputRefused, match="found a gauging of real water in a practice session"):
        practice_from_document(parsed(written(practice_to_document(practice))))


def test_another_format_is_refused() -> None:
    """By its name."""
    with pytest.raises(InputRefused, match=r'format must be "bankside\.practice/1"'):
        practice_from_document(parsed('{"format": "bankside.gauging/1"}'))
    with pytest.raises(InputRefused, match="stream must be one of"):
        practice_from_document(
            parsed(json.dumps({"format": FORMAT, "session": {"stream": "x", "seed": 1}}))
        )
