"""Proofs of the meter: asked for by its kind, held to the rule set's limits."""

from datetime import date
from typing import Any

import attrs
import pytest

from bankside.gauging.checks.meter_proof import CHECKS
from bankside.gauging.records import Meter, MeterCheck, RatingPart

from .conditions_building import COMPLETE, findings, gauging, severities, with_meter

PROVEN, SPIN, ZERO, DUE = CHECKS
BEFORE, AFTER = (MeterCheck("spin", when, seconds=45.0) for when in ("before", "after"))


def _asked(missing: str) -> str:
    """Which proofs are to be written down: all that are missing."""
    return " and ".join(when for when in ("before", "after") if when in missing)


@pytest.mark.parametrize(
    ("checks", "finished", "missing"),
    [
        ((BEFORE, AFTER), True, None),
        ((BEFORE,), True, "No proof of the meter after"),
        ((AFTER,), True, "No proof of the meter before"),
        ((), True, "No proof of the meter before or after"),
        ((BEFORE,), False, None),
        ((), False, "No proof of the meter before the"),
    ],
)
def test_a_proof_before_and_one_after(
    checks: tuple[MeterCheck, ...], finished: bool, missing: str | None
) -> None:
    """The proof after the readings is not asked for before they are all made."""
    found = findings([PROVEN], with_meter(checks=checks), finished=finished)
    assert [finding.severity for finding in found] == ([] if missing is None else ["note"])
    assert all(missing is not None and f.found.startswith(missing) for f in found)
    asked = [f.advice.rpartition(", ")[2] for f in found]
    assert asked == ([] if not missing else [f"{_asked(missing)} the readings."])


@pytest.mark.parametrize(
    ("fields", "spin", "zero"),
    [
        ({"kind": "propeller"}, True, False),
        ({"kind": "Cup meter"}, True, False),
        ({"rotor": "small"}, True, False),
        ({"serial": "9", "rating": (RatingPart(0.5, 0.02),)}, True, False),
        ({"kind": "electromagnetic"}, False, True),
        ({"kind": "unheard of"}, True, True),
    ],
)
def test_only_what_its_kind_has_is_asked_for(
    fields: dict[str, Any], spin: bool, zero: bool
) -> None:
    """A rotor is spun, a meter without one is held in still water; of others either will do."""
    (finding,) = findings([PROVEN], gauging(meter=Meter(**fields)))
    assert ("spin" in finding.advice, "still water" in finding.advice) == (spin, zero)


def test_no_meter_is_a_gap_of_the_header() -> None:
    """Where no meter is named, no proof of one is asked for."""
    assert findings(CHECKS, gauging()) == []


@pytest.mark.parametrize(
    ("rotor", "seconds", "count"),
    [
        ("small", 39.0, 1),
        ("small", 40.0, 0),
        ("large", 89.0, 1),
        ("large", 90.0, 0),
        (None, 39.0, 1),
        (None, 40.0, 0),
    ],
)
@pytest.mark.parametrize("finished", [True, False])
def test_a_spin(rotor: Any, seconds: float, count: int, finished: bool) -> None:
    """40 s for a small rotor and 90 s for a large one will do; an unknown one is held to 40 s."""
    spin = MeterCheck("spin", "before", seconds=seconds)
    meter = with_meter(kind="cup meter", rotor=rotor, checks=(spin,))
    found = severities([SPIN], meter, finished=finished)
    assert found == [("Rotor stops too soon", "fix now")] * count


@pytest.mark.parametrize(
    ("kind", "rotor", "severity"),
    [
        ("Cup meter", None, "fix now"),
        ("rotating", "small", "fix now"),
        (None, "large", "fix now"),
        (None, None, "explain"),
        ("rotating", None, "explain"),
        ("propeller", None, "explain"),
        ("propeller", "small", "explain"),
        ("Electromagnetic", None, "explain"),
        ("acoustic Doppler", None, "explain"),
    ],
)
def test_the_spin_of_another_kind_is_held_against_its_maker(
    kind: str | None, rotor: Any, severity: str
) -> None:
    """40 and 90 s were written for meters with cups: of others a short spin may be sound."""
    meter = with_meter(kind=kind, rotor=rotor, checks=(MeterCheck("spin", "after", seconds=20.0),))
    (finding,) = findings([SPIN], meter)
    assert finding.severity == severity
    assert ("maker" in finding.advice) == (severity == "explain")
    assert finding.advice.endswith("and measure again.") == (severity == "fix now")


@pytest.mark.parametrize(("value", "count"), [(0.05, 0), (-0.05, 0), (0.051, 1), (-0.051, 1)])
@pytest.mark.parametrize("finished", [True, False])
def test_a_zero(value: float, count: int, finished: bool) -> None:
    """0.05 ft/s in still water, either way, will do."""
    meter = with_meter(rotor=None, checks=(MeterCheck("zero", "after", value=value),))
    assert severities([ZERO], meter, finished=finished) == [("Zero is off", "fix now")] * count


@pytest.mark.parametrize(
    ("due", "count"), [(date(2026, 7, 13), 1), (date(2026, 7, 14), 0), (None, 0)]
)
@pytest.mark.parametrize("finished", [True, False])
def test_a_calibration(due: date | None, count: int, finished: bool) -> None:
    """On the day on which it falls due it holds, by the date, the start, or else today."""
    record = with_meter(calibration_due=due)
    bare = attrs.evolve(record, date=None, started=None, ended=None)
    expected = [("Calibration overdue", "explain")] * count
    assert severities([DUE], record, finished=finished) == expected
    assert severities([DUE], attrs.evolve(record, date=None), finished=finished) == expected
    assert severities([DUE], bare, today=COMPLETE.date, finished=finished) == expected
    assert severities([DUE], bare, finished=finished) == []


@pytest.mark.parametrize(
    ("rotor", "words"),
    [
        ("small", "less than 40 s for a small rotor of cups."),
        ("large", "less than 90 s for a large rotor of cups."),
        (None, "less than 40 s for even a small rotor of cups."),
    ],
)
@pytest.mark.parametrize("when", ["before", "after"])
def test_a_short_spin_is_told_with_its_limit(rotor: Any, words: str, when: Any) -> None:
    """After the readings it was too late: they are made again."""
    spin = MeterCheck("spin", when, seconds=20.0)
    (finding,) = findings([SPIN], with_meter(kind="cup meter", rotor=rotor, checks=(spin,)))
    assert finding.found == f"The rotor spun for 20 s {when} the readings, {words}"
    assert finding.advice.endswith(
        ", or take another meter" + (", and measure again." if when == "after" else ".")
    )
    assert [t.name for t in finding.thresholds] == [f"spin_{rotor or 'small'}"]


@pytest.mark.parametrize("when", ["before", "after"])
def test_a_zero_that_is_off_is_told_with_its_limit(when: Any) -> None:
    """It is found behind a spin as well."""
    proofs = (BEFORE, MeterCheck("zero", when, value=-0.06))
    (finding,) = findings([ZERO], with_meter(checks=proofs))
    assert finding.found == (
        f"In still water the meter showed -0.06 ft/s {when} the readings, more than 0.05 ft/s."
    )
    assert finding.advice.endswith(
        ", or take another meter" + (", and measure again." if when == "after" else ".")
    )
    assert [t.name for t in finding.thresholds] == ["zero_velocity"]
