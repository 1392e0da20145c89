"""The tables follow the records: their units, their guards, their keys."""

import re
from pathlib import Path

import attrs
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bankside.exchange.data import SurveyData, gauging_keys
from bankside.exchange.field_units import AS_CALLED, FIXED
from bankside.exchange.layouts import GAUGINGS, SURVEYS, layouts_in
from bankside.exchange.ucum import UCUM, product_ucum, ucum_of, unit_of_ucum
from bankside.gauging.faults import InputRefused
from bankside.gauging.fields import Number, One, kind_of
from bankside.gauging.text_guard import guarded, unguarded
from bankside.gauging.units import (
    cubic_metres_per_second_per,
    metres_per,
    metres_per_second_per,
)

from .building import BASIN, FIRST, SECOND

GLOSSARY = Path(__file__).parents[2] / "docs" / "glossary.md"


def _numbers() -> set[tuple[type, str]]:
    found = set()
    waiting = [layout.record for root in (SURVEYS, GAUGINGS) for layout, _ in layouts_in(root)]
    while waiting:
        record = waiting.pop()
        for field in attrs.fields(record):
            kind = kind_of(field)
            if isinstance(kind, One):
                waiting.append(kind.record)
            if isinstance(kind, Number):
                found.add((record, field.name))
    return found


def test_every_number_has_its_unit() -> None:
    """A number that a record gains says its unit in every format, or this fails."""
    assert set(AS_CALLED) | set(FIXED) == _numbers()
    assert not set(AS_CALLED) & set(FIXED)


def test_units_are_those_of_the_glossary() -> None:
    """What the tables say of a number's unit is what the glossary says."""
    rows = re.findall(r"^\| `(\w+\.\w+)` \| [^|]* \| ([^|]*) \|", GLOSSARY.read_text("utf-8"), re.M)
    units = dict(rows)
    fixed = {"1": "1", "s": "s", "deg": "°", "m": "m", "km2": "km²", "/s": "revolutions a second"}
    called = {
        "length": "units.length",
        "depth": "units.depth",
        "velocity": "units.velocity",
        "rating slope": "units.velocity per",
        "filed area": "product of the units of length and depth",
        "filed discharge": "filed.unit",
    }
    told = {
        f"{record.__name__}.{name}": fixed.get(code, code) for (record, name), code in FIXED.items()
    }
    told |= {f"{record.__name__}.{name}": called[q] for (record, name), q in AS_CALLED.items()}

    glossed = {name: text for name, text in told.items() if name in units}
    assert len(glossed) > 20
    assert [n for n, text in glossed.items() if not units[n].startswith(text)] == []


@given(st.text())
def test_a_guarded_text_comes_back(text: str) -> None:
    """Whatever a text begins with, its guard is taken away and nothing else."""
    assert unguarded(guarded(text)) == text
    assert not guarded(text).startswith(("=", "+", "-", "@", "\t", "\r", "\n"))


@pytest.mark.parametrize(
    ("text", "written"),
    [("=1+1", "'=1+1"), ("'tis", "''tis"), ("''", "'''"), ("12", "12"), ("a=b", "a=b")],
)
def test_a_guard_is_one_apostrophe(text: str, written: str) -> None:
    """What begins like a formula, or with an apostrophe, gets one; other texts stay as they are."""
    assert guarded(text) == written


def test_a_text_that_nobody_guarded_is_taken_as_it_is() -> None:
    """An apostrophe before plain letters was typed by somebody, and stays."""
    assert unguarded("'tis") == "'tis"


@pytest.mark.parametrize("unit", UCUM)
def test_codes_mean_their_units(unit: str) -> None:
    """Each code leads back to its unit, and is worth what the factors of UCUM make of it."""
    # UCUM: [ft_i] is 12 [in_i], and [in_i] is 2.54 cm; L is dm3.
    worth = {"[ft_i]": 12 * 0.0254, "[in_i]": 0.0254, "m": 1.0, "cm": 0.01, "mm": 0.001, "L": 0.1}
    base, power, per = re.fullmatch(r"(\[\w+\]|[A-Za-z]+?)(3?)(/s)?", ucum_of(unit)).groups()  # type: ignore[union-attr]
    cubed = 3 if power or base == "L" else 1
    factor = (
        cubic_metres_per_second_per if cubed == 3 else metres_per_second_per if per else metres_per
    )

    assert unit_of_ucum(ucum_of(unit), tuple(UCUM)) == unit
    assert factor(unit) == pytest.approx(worth[base] ** cubed, rel=1e-12)


def test_an_unknown_code_is_refused() -> None:
    """A unit is never guessed: a code that is none of those that are right is named."""
    with pytest.raises(InputRefused, match=r'one of m, \[ft_i\], by UCUM \(got "ft"\)'):
        unit_of_ucum("ft", ("m", "ft"))
    with pytest.raises(InputRefused, match='got "yd"'):
        ucum_of("yd")
    assert unit_of_ucum("[cft_i]/s", ("ft3/s",)) == "ft3/s"
    assert (product_ucum("ft", "ft"), product_ucum("m", "cm")) == ("[ft_i]2", "m.cm")


def test_gaugings_without_an_id_of_their_own_get_a_key() -> None:
    """Keys differ whatever the ids are, and an id of its own is the key."""
    gaugings = [
        SECOND,
        FIRST,
        FIRST,
        attrs.evolve(SECOND, id="gauging-1"),
        attrs.evolve(SECOND, id="gauging-3"),
    ]

    assert gauging_keys(gaugings) == (
        *("gauging-1-", "af-2026-07-14", "gauging-3-"),
        *("gauging-1", "gauging-3"),
    )


def test_figures_of_other_gaugings_are_refused() -> None:
    """What is worked out belongs to the gaugings it is handed over with."""
    with pytest.raises(ValueError, match="those of the gaugings"):
        SurveyData(None, (FIRST,), BASIN.visits)
