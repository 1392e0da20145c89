"""How readings find their rows in the tables, and what is said where there is no row."""

import datetime

import attrs
import pytest

from bankside.gauging.budget import Budget
from bankside.gauging.records import Gauging, Meter, PointReading, RatingPart, Vertical

from .worked import CALIBRATED, SI, WORKED, between_banks, budgets, even, percents, read


def _iso(*verticals: Vertical, meter: Meter | None = None) -> Budget:
    """The budget of one channel with a vertical at every metre."""
    channel = between_banks(*verticals, right=len(verticals) + 1.0)
    return budgets(Gauging(SI, (channel,), meter=meter))["iso-748"]


def _all_alike(*velocity: PointReading, count: int = 5, depth: float = 0.5) -> Budget:
    """The budget of verticals that are all read alike, each with the same share."""
    return _iso(*(Vertical(float(x), depth, velocity) for x in range(1, count + 1)))


def _each(budget: Budget, name: str, count: int = 5) -> float:
    """A part as each of `count` equal panels has it."""
    return float(percents(budget)[name] * count**0.5)


def _said(budget: Budget, words: str) -> bool:
    return any(words in remark for remark in budget.remarks)


def test_a_plain_gauging_needs_few_words() -> None:
    """With points, times and depth in the tables, all that is said is about the table itself."""
    budget = _all_alike(PointReading(0.6, 0.6, 60.0))

    assert len(budget.remarks) == 1
    assert _said(budget, "does not know this bed")


def test_a_missing_time_is_40_s() -> None:
    """By hand: at 0.30 m/s 40 s are a third of the way from 5 (30 s) to 4 (60 s), 4.6667."""
    budget = _all_alike(PointReading(0.3, 0.6))

    assert _each(budget, "exposure") == pytest.approx(4 + 2 / 3)
    assert _said(budget, "The exposure time at every vertical is missing: 40 s are taken")


def test_a_missing_time_is_named_by_its_tape() -> None:
    """Where only some verticals have no time, they are named, each once."""
    verticals = [read(float(x), 0.5, 0.3) for x in (1, 2, 3, 4)]
    twice = (PointReading(0.3, 0.2), PointReading(0.3, 0.8))
    budget = _iso(*verticals, Vertical(5.0, 0.5, twice))

    assert _said(budget, "The exposure time at tape 5 m is missing")


def test_repeats_add_up_their_times() -> None:
    """By hand: two readings of 60 s at one point are 120 s: 5 at 0.20 m/s, and still one point."""
    budget = _all_alike(PointReading(0.2, 0.6, 60.0), PointReading(0.2, 0.6, 60.0))

    assert _each(budget, "exposure") == pytest.approx(5.0)
    assert _each(budget, "vertical profile") == pytest.approx(7.5)


def test_two_points_halve_the_square() -> None:
    """By hand: 0.2 has 11 and 0.8 has 14 at 0.10 m/s in 60 s: √((121 + 196)/2/2) = 8.9022."""
    budget = _all_alike(PointReading(0.1, 0.2, 60.0), PointReading(0.1, 0.8, 60.0))

    assert _each(budget, "exposure") == pytest.approx(8.9022, abs=5e-5)
    assert _each(budget, "vertical profile") == pytest.approx(3.5)
    # 5 % for a group rating at 0.10 m/s, over √2.
    assert _each(budget, "meter") == pytest.approx(3.5355, abs=5e-5)


def test_one_and_two_points_in_one_section() -> None:
    """By hand: two verticals of 7.5 and two of 3.5 %, equal shares: √(2·56.25 + 2·12.25)/4."""
    pair = (PointReading(0.4, 0.2, 60.0), PointReading(0.4, 0.8, 60.0))
    one = (PointReading(0.4, 0.6, 60.0),)
    kinds = [one, pair, pair, one]
    budget = _iso(*(Vertical(x + 1.0, 0.5, kind) for x, kind in enumerate(kinds)))

    assert percents(budget)["vertical profile"] == pytest.approx(137**0.5 / 4)


def test_a_day_of_calibration_makes_the_rating_its_own() -> None:
    """By hand: 1.0 instead of 2.0 % at 0.25 m/s, and the basis says which it is."""
    verticals = [read(float(x), 0.5, 0.25) for x in range(1, 6)]
    own, group = _iso(*verticals, meter=CALIBRATED), _iso(*verticals)

    assert _each(own, "meter") == pytest.approx(1.0)
    assert _each(group, "meter") == pytest.approx(2.0)
    bases = [next(p.basis for p in b.parts if p.name == "meter") for b in (own, group)]
    assert [basis.split(" rating")[0] for basis in bases] == ["own", "group"]


@pytest.mark.parametrize(
    ("due", "day", "percent", "basis"),
    [
        ("2026-07-14", "2026-07-14", 1.0, "own rating, as a day of calibration is written"),
        (
            "2026-07-13",
            "2026-07-14",
            2.0,
            "group rating, as its calibration was overdue: so much at the least",
        ),
        (None, "2026-02-14", 2.0, "group rating, as it was calibrated after the gauging"),
        (None, "2026-07-14", 1.0, "own rating, as a day of calibration is written"),
        ("2026-07-13", None, 1.0, "own rating, as a day of calibration is written"),
    ],
)
def test_an_overdue_calibration_is_none(
    due: str | None, day: str | None, percent: float, basis: str
) -> None:
    """The figures by hand from the table at 0.25 m/s; what counts is the day of the gauging."""
    verticals = [read(float(x), 0.5, 0.25) for x in range(1, 6)]
    meter = attrs.evolve(CALIBRATED, calibration_due=due and datetime.date.fromisoformat(due))
    gauging = Gauging(
        SI,
        (between_banks(*verticals, right=6.0),),
        date=day and datetime.date.fromisoformat(day),
        meter=meter,
    )
    budget = budgets(gauging)["iso-748"]

    assert _each(budget, "meter") == pytest.approx(percent)
    assert next(p.basis for p in budget.parts if p.name == "meter").startswith(basis)


def test_counts_find_their_rows_by_the_rating() -> None:
    """By hand: 50 counts in 50 s by v = 0.2 n + 0.05 are 0.25 m/s: 2.0 % for a group rating."""
    meter = Meter(rating=(RatingPart(0.2, 0.05),))
    counted = (PointReading(None, 0.6, 50.0, 50.0),)
    budget = _iso(*(Vertical(float(x), 0.5, counted) for x in range(1, 6)), meter=meter)

    assert _each(budget, "meter") == pytest.approx(2.0)


def test_a_velocity_without_points_is_read_at_one() -> None:
    """Nobody knows how it was read: the widest row, and a sentence."""
    budget = _all_alike(PointReading(0.4, None, 60.0))

    assert _each(budget, "vertical profile") == pytest.approx(7.5)
    assert _said(budget, "The velocity at every vertical is written without its points")


@pytest.mark.parametrize("fractions", [(0.2,), (0.5,), (0.2, 0.6, 0.8), (0.1, 0.7)])
def test_other_points_are_said_to_have_no_row(fractions: tuple[float, ...]) -> None:
    """The table is for certain points: others have the figure of the next fewer, and a sentence."""
    budget = _all_alike(*(PointReading(0.4, at, 60.0) for at in fractions))
    listed = ", ".join(f"{at:g}" for at in fractions)

    assert _each(budget, "vertical profile") == pytest.approx(7.5 if len(fractions) == 1 else 3.5)
    assert _said(budget, f"tapes 1 m ({listed}), 2 m ({listed})")


@pytest.mark.parametrize(
    ("reading", "words"),
    [
        (PointReading(0.04, 0.6, 60.0), "The exposure table begins at 0.05 m/s"),
        (PointReading(-0.02, 0.6, 60.0), "The meter table begins at 0.03 m/s"),
        (PointReading(0.4, 0.6, 20.0), "The exposure table begins at 30 s"),
    ],
)
def test_slow_water_and_short_times_are_a_lower_bound(reading: PointReading, words: str) -> None:
    """Before the first row its figure stands, and the remark says that the truth may be more."""
    budget = _all_alike(reading)

    assert [remark for remark in budget.remarks if words in remark and "lower bound" in remark]


@pytest.mark.parametrize("count", [4, 1])
def test_few_verticals_are_a_lower_bound(count: int) -> None:
    """Below five verticals the first row stands, and the remark says so."""
    budget = _all_alike(PointReading(0.4, 0.6, 60.0), count=count)

    assert percents(budget)["verticals"] == 7.5
    assert _said(budget, f"begins at 5 and {count} were read")


def test_shallow_water_is_beyond_the_range_for_depths() -> None:
    """The range for depths by rod begins at 0.4 m: how many verticals are less deep is told."""
    assert _said(budgets(WORKED)["iso-748"], "shallower") is False
    budget = _all_alike(PointReading(0.4, 0.6, 60.0), depth=0.39)

    assert _said(budget, "5 of 5 verticals are shallower than 0.4 m")


def test_soundings_are_no_verticals_that_were_read() -> None:
    """Two of twelve are sounded: ten count, and the two are named with what they carry."""
    channel = even(12)
    given = list(channel.verticals)
    for place in (4, 8):
        given[place] = attrs.evolve(given[place], velocity=())
    budget = _iso(*given[1:-1])

    assert percents(budget)["verticals"] == 4.5
    assert _said(budget, "tapes 4 m (8.3 % of the discharge) and 8 m (8.3 % of the discharge)")
    # They have the figures of one point read for 40 s: 4 and 3 at 0.60 m/s, so 3.6667.
    squares = 10 * 3.0**2 + 2 * (3 + 2 / 3) ** 2
    assert percents(budget)["exposure"] == pytest.approx(squares**0.5 / 12)


def test_a_steep_edge_counts_as_it_is_written() -> None:
    """With a velocity an edge in water is a vertical that was read; by a wall factor it is not."""
    walls = [
        Vertical(0.0, 0.5, (PointReading(0.3, 0.6, 60.0),), edge="left", bank="steep"),
        Vertical(6.0, 0.5, edge="right", bank="steep", wall_factor=0.65),
    ]
    inner = [read(float(x), 0.5, 0.4) for x in range(1, 6)]
    channel = attrs.evolve(even(1), verticals=(walls[0], *inner, walls[1]))
    budget = budgets(Gauging(SI, (channel,)))["iso-748"]

    assert percents(budget)["verticals"] == pytest.approx(6.9)
    assert _said(budget, "No velocity was read at tape 6 m")
