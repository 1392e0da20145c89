"""What is missing around the readings, all of it in one finding."""

from typing import Any

import attrs
import pytest

from bankside.gauging.checks.header import CHECKS
from bankside.gauging.records import CrewMember, Meter, Site, StageReading

from .conditions_building import COMPLETE, findings, gauging


@pytest.mark.parametrize(
    ("without", "missing"),
    [
        ({"site": Site("above the weir", "Alder Fork")}, "the position"),
        ({"site": attrs.evolve(COMPLETE.site, stream=None)}, "the stream"),
        ({"site": attrs.evolve(COMPLETE.site, name=None)}, "the site"),
        ({"started": None}, "the start with its time zone"),
        ({"ended": None}, "the end with its time zone"),
        ({"crew": ()}, "the crew"),
        ({"meter": None}, "the meter"),
        ({"meter": Meter("propeller")}, "the meter's serial number"),
        ({"meter": Meter(serial="P-7")}, "the kind of meter"),
        ({"stage": ()}, "the stage (or that there is no gauge)"),
        ({"stage": (StageReading(2.5),)}, "the second stage"),
        ({"date": None, "started": None}, "the date, the start with its time zone"),
        ({"crew": (CrewMember("A. Mora", "rod"), CrewMember("B. Lind"))}, "the role of B. Lind"),
        (
            {"crew": (CrewMember("A. Mora"), CrewMember("B. Lind"))},
            "the role of A. Mora and B. Lind",
        ),
    ],
)
def test_each_gap_is_named(without: dict[str, Any], missing: str) -> None:
    """Of a complete header, what was taken away is what is missing."""
    (finding,) = findings(CHECKS, attrs.evolve(COMPLETE, **without))
    assert (finding.severity, finding.found) == ("note", f"Not written down: {missing}.")


@pytest.mark.parametrize(
    "record",
    [
        COMPLETE,
        attrs.evolve(COMPLETE, stage=(), no_gauge=True),
        attrs.evolve(COMPLETE, date=None),
    ],
)
def test_nothing_is_missing(record: Any) -> None:
    """No gauge is an answer, and a start has its date."""
    assert findings(CHECKS, record) == []


def test_all_gaps_are_one_finding() -> None:
    """A sheet without any header is told so once."""
    (finding,) = findings(CHECKS, gauging())
    assert finding.found.count(",") == 8


def test_unfinished() -> None:
    """The end and the second stage are not asked for before they are due; the rest is."""
    begun = attrs.evolve(COMPLETE, ended=None, stage=(StageReading(2.5),))
    assert findings(CHECKS, begun, finished=False) == []
    (finding,) = findings(CHECKS, attrs.evolve(begun, crew=()), finished=False)
    assert finding.found == "Not written down: the crew."
