"""How strong the water was at an earlier visit, and what is said of it at the gate."""

import datetime
from typing import Any

import attrs
import pytest

from bankside.gauging.last_wading import last_wading
from bankside.gauging.records import (
    Channel,
    Gauging,
    PointReading,
    StageReading,
    Units,
    Vertical,
)
from bankside.gauging.rule_sets.load import BASE, load_rule_set, rule_set_from_toml

RULES = load_rule_set(BASE)
SQUARE_FOOT = 0.3048**2


def _rules(**products: float) -> Any:
    values = "".join(
        f'[values.{name}]\nvalue = {value}\nunit = "ft2/s"\nconfidence = "practice"\n'
        'source = "invented"\n'
        for name, value in products.items()
    )
    return rule_set_from_toml(f'format = "bankside.rules/1"\nname = "own"\ntitle = "Own"\n{values}')


def _visit(*water: tuple[float, float], **fields: Any) -> Gauging:
    """Verticals 1 ft apart from 1 ft on, each with a depth in ft and a velocity in ft/s."""
    verticals = (
        Vertical(0.0, 0.0, edge="left"),
        *(Vertical(i, d, (PointReading(v, 0.6),)) for i, (d, v) in enumerate(water, start=1)),
        Vertical(len(water) + 1.0, 0.0, edge="right"),
    )
    return Gauging(Units("ft", "ft/s"), (Channel(verticals),), **fields)


def test_the_strongest_vertical_is_named_with_the_limits() -> None:
    """1.5 ft at 2 ft/s is stronger than 2 ft at 1 ft/s."""
    visit = _visit(
        (1.0, 1.0),
        (1.5, 2.0),
        (2.0, 1.0),
        date=datetime.date(2025, 9, 2),
        stage=(StageReading(1.32),),
    )

    look = last_wading(visit, RULES)

    assert look.product_m2s == pytest.approx(3 * SQUARE_FOOT, rel=1e-12)
    assert look.product == "3 ft²/s"
    assert (look.channel, look.tape, look.verdict) == (0, 2, "below the limits")
    assert look.words == (
        "At the last visit, on 2025-09-02, depth times velocity was up to 3 ft²/s, at tape 2 ft, "
        "and the depth up to 2 ft. From 6.46 ft²/s (0.6 m²/s) on the leader decides, from "
        "10 ft²/s on nobody wades. The stage was 1.32 ft; where it stands higher today, the water "
        "is stronger than that."
    )


@pytest.mark.parametrize(
    ("velocity", "verdict"),
    [
        (3.22, "below the limits"),
        (3.23, "the leader decides"),
        (4.99, "the leader decides"),
        (5.0, "nobody wades"),
        (-5.0, "nobody wades"),
    ],
)
def test_the_verdict_at_the_limits(velocity: float, verdict: str) -> None:
    """2 ft of water: 0.6 m²/s at 3.229 ft/s, 10 at 5 ft/s, whichever way it runs."""
    assert last_wading(_visit((2.0, velocity)), RULES).verdict == verdict


def test_a_laxer_rule_set_does_not_lower_the_guard() -> None:
    """At 10 ft²/s nobody wades, whatever a rule set allows; a stricter one counts."""
    strong = _visit((2.0, 5.0))

    assert last_wading(strong, _rules(wade_product_stop=14)).verdict == "nobody wades"
    strict = last_wading(_visit((2.0, 2.0)), _rules(wade_product_stop=4, wade_product_caution=3))
    assert strict.verdict == "nobody wades"
    assert "From 3 ft²/s on the leader decides, from 4 ft²/s on nobody wades." in strict.words


def test_a_visit_without_velocities_says_so() -> None:
    """Soundings alone tell no depth times velocity."""
    sounded = Gauging(Units("m", "m/s"), (Channel((Vertical(1.0, 0.4), Vertical(2.0, 0.5))),))

    look = last_wading(sounded, RULES)

    assert (look.product_m2s, look.verdict) == (None, None)
    assert look.words.startswith("At the last visit no depth was read together with a velocity. ")
    assert "From 0.6 m²/s on the leader decides" in look.words


def test_the_channel_is_named_where_there_are_several() -> None:
    """Each may have a tape of its own."""
    one, other = _visit((1.0, 1.0)), _visit((1.0, 2.0))
    both = attrs.evolve(one, channels=one.channels + other.channels)

    look = last_wading(both, RULES)

    assert (look.channel, look.tape) == (1, 1)
    assert "at tape 1 ft of channel 2, and" in look.words
