"""The last visit beside the present gauging, from the entries of both."""

import attrs

from bankside.gauging.records import StageReading

from .entering import Pad, ask, demo, entered, look

NAMES = {
    "discharge",
    "width",
    "area",
    "mean depth",
    "mean velocity",
    "largest depth",
    "stage",
    "verticals",
}


def test_every_figure_is_beside_that_of_the_last_visit() -> None:
    """The same sheet twice: nothing is odd and all is the same."""
    entries = entered(demo("alder_fork.csv")).entries

    view = look(entries, earlier=entries)

    assert {one["name"] for one in view["earlier"]} == NAMES
    assert not any(one["odd"] for one in view["earlier"])
    width = next(one for one in view["earlier"] if one["name"] == "width")
    assert (width["then"], width["now"]) == ("23.9 ft", "23.9 ft")
    assert width["words"] == "23.9 ft then, 23.9 ft now, the same."
    assert view["remarks"] == []


def test_velocities_in_the_wrong_unit_are_odd() -> None:
    """The same readings, said to be in m/s: 3.28 times as fast as last time."""
    gauging = demo("alder_fork.csv")
    wrong = attrs.evolve(gauging, units=attrs.evolve(gauging.units, velocity="m/s"))

    view = look(entered(wrong).entries, earlier=entered(gauging).entries)

    odd = [one for one in view["earlier"] if one["odd"]]
    assert [one["name"] for one in odd] == ["mean velocity"]
    assert "3.3 times that of the last visit" in odd[0]["words"]


def test_before_the_last_vertical_it_is_said_that_more_is_to_come() -> None:
    """Half a section is narrower than the whole: no question yet."""
    entries = entered(demo("alder_fork.csv")).entries

    view = look(entries[: len(entries) // 2], earlier=entries)

    width = next(one for one in view["earlier"] if one["name"] == "width")
    assert width["words"].endswith("so far.") and not width["odd"]


def test_a_last_visit_that_cannot_be_read_is_told() -> None:
    """The present gauging has its view all the same."""
    entries = entered(demo("alder_fork.csv")).entries

    view = look(entries, earlier=[{"id": "nonsense"}, 7])

    assert view["earlier"] == []
    assert view["remarks"] == ["The last visit cannot be read, so nothing is held against it."]
    no_discharge = Pad().say("units/length", "m").say("units/velocity", "m/s")
    beside = look(entries, earlier=no_discharge.entries)
    assert beside["remarks"] == ["The last visit has no discharge."]
    assert {one["then"] for one in beside["earlier"]} == {"not known", "0"}


def test_the_gate_is_told_how_strong_the_water_was() -> None:
    """1.79 ft at 1.35 ft/s, and the like: the strongest vertical of Alder Fork, by hand."""
    gauging = attrs.evolve(demo("alder_fork.csv"), stage=(StageReading(1.32),))
    verticals = gauging.channels[0].verticals
    most = max((v.depth or 0) * (r.value or 0) for v in verticals for r in v.velocity)

    reply = ask(ask="wade", earlier=entered(gauging).entries, rule_set="common-practice")

    assert reply["product"] == f"{most:.3g} ft²/s"
    assert reply["verdict"] == "below the limits"
    assert "on nobody wades" in reply["words"] and "The stage was 1.32 ft" in reply["words"]
    assert reply["unit"] == "ft"
    assert reply["limits"][0] == {"depth": "1.0", "leader": "> 5.0", "nobody": "> 8.0"}
    assert "10 ft²/s" in reply["cautions"][0]
    assert reply["cautions"][-1].startswith("Local rules, permits")


def test_the_gate_without_a_last_visit_still_cautions() -> None:
    """Nothing is known of the water; limits and cautions stand."""
    reply = ask(ask="wade", unit="m")

    assert (reply["product"], reply["verdict"]) == (None, None)
    assert reply["words"].startswith("No last visit was taken along")
    assert reply["unit"] == "m" and reply["limits"] and len(reply["cautions"]) >= 9
    assert "m²/s" in reply["limits_words"]
