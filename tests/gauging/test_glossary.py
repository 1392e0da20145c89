import importlib
import inspect
import pkgutil
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any, NamedTuple, get_args

import attrs
import pytest

import bankside.kernel
from bankside.gauging import result
from bankside.gauging.advice import Act
from bankside.gauging.budget import Budget, BudgetPart
from bankside.gauging.checks.finding import Finding, Place, Suspect
from bankside.gauging.fields import meaning_of
from bankside.gauging.last_visit import Compared
from bankside.gauging.mean_stage import MeanStage
from bankside.gauging.plan import Plan, PlannedEdge, PlannedVertical
from bankside.gauging.reconcile import PanelDifference, Reconciliation
from bankside.gauging.records import Gauging
from bankside.gauging.rule_sets.rule_set import Threshold
from bankside.practice.called import CalledPoint, CalledVertical, FoundEdge
from bankside.practice.measuring import Measured, Waded
from bankside.practice.mistakes import Mistake
from bankside.practice.simulated_gauging import SimulatedGauging
from bankside.survey.checks.finding import SurveyFinding
from bankside.survey.closure import Closure, Sides
from bankside.survey.duplicate_share import DuplicateShare
from bankside.survey.duplicates import DuplicatePair, Duplicates
from bankside.survey.hydrographic_order import Along, HydrographicOrder, OrderedSite
from bankside.survey.land_between import LandBetween
from bankside.survey.mirrored import Fit, Mirrored
from bankside.survey.propagation import Spread
from bankside.survey.records import Survey
from bankside.survey.site_flow import SiteFlow
from bankside.survey.summary import SeasonTotals, Summary, SummaryRow
from bankside.survey.through_time import SiteHistory, TimedVisit
from bankside.survey.unit_discharge import UnitDischarge
from bankside.survey.visits import Visit

GLOSSARY = Path(__file__).parents[2] / "docs" / "glossary.md"


class Row(NamedTuple):
    symbol: str
    unit: str
    meaning: str
    source: str


def _rows() -> Iterator[tuple[str, Row]]:
    for line in GLOSSARY.read_text(encoding="utf-8").splitlines():
        cells = [cell.strip() for cell in line.strip("|").split("|")]
        if line.startswith("| `"):
            name, *rest = cells
            yield name.strip("`"), Row(*rest)


ROWS = list(_rows())
GLOSSES = dict(ROWS)


def _records(record: Any) -> Iterator[Any]:
    """The record class and, once each, those that its fields hold."""
    found = {record: None}
    waiting = [record]
    while waiting:
        for field in attrs.fields(waiting.pop()):
            for inner in (field.type, *get_args(field.type)):
                if isinstance(inner, type) and attrs.has(inner) and inner not in found:
                    found[inner] = None
                    waiting.append(inner)
    yield from found


RECORD_FIELDS = {
    f"{record.__name__}.{field.name}": field
    for root in (Gauging, Survey)
    for record in _records(root)
    for field in attrs.fields(record)
}
WORKED_OUT = [
    *(getattr(result, name) for name in result.__all__),
    *(Reconciliation, PanelDifference, Plan, PlannedEdge, PlannedVertical),
    *(Budget, BudgetPart, Act, Compared),
    *(Finding, Place, Suspect, Threshold, MeanStage),
    *(Visit, Duplicates, DuplicatePair, DuplicateShare, SiteFlow, Spread, Sides, Closure),
    LandBetween,
    *(UnitDischarge, Along, OrderedSite, HydrographicOrder, SiteHistory, TimedVisit, Fit, Mirrored),
    *(SummaryRow, SeasonTotals, Summary, SurveyFinding),
    *(CalledPoint, CalledVertical, FoundEdge, Waded, Measured, Mistake, SimulatedGauging),
]
RESULT_FIELDS = {
    f"{kind.__name__}.{field.name}" for kind in WORKED_OUT for field in attrs.fields(kind)
}


def _kernel_parameters() -> Iterator[str]:
    for module_info in pkgutil.iter_modules(bankside.kernel.__path__):
        module = importlib.import_module(f"bankside.kernel.{module_info.name}")
        for name in module.__all__:
            if inspect.isfunction(function := getattr(module, name)):
                yield from inspect.signature(function).parameters


KERNEL_PARAMETERS = set(_kernel_parameters())


def test_every_name_is_in_the_glossary_once() -> None:
    """Record fields, result fields and kernel parameters have one row each, and no row is stale."""
    names = [name for name, _ in ROWS]

    assert len(names) == len(set(names))
    assert set(names) == {*RECORD_FIELDS, *RESULT_FIELDS, *KERNEL_PARAMETERS}


@pytest.mark.parametrize("name", sorted(RECORD_FIELDS))
def test_a_field_means_what_the_glossary_says(name: str) -> None:
    """The sentence in the glossary is the one in the code and in the published schema."""
    assert GLOSSES[name].meaning == meaning_of(RECORD_FIELDS[name])


@pytest.mark.parametrize("name", [name for name, _ in ROWS])
def test_a_row_is_complete(name: str) -> None:
    """Every row says symbol, unit, meaning and source, with a dash only for no symbol."""
    row = GLOSSES[name]

    assert all(row)
    assert "—" not in (row.unit, row.meaning, row.source)


@pytest.mark.parametrize("name", sorted(RESULT_FIELDS))
def test_a_unit_in_a_name_is_its_unit(name: str) -> None:
    """A result whose name ends in a unit of SI has that unit in the glossary."""
    units = {"m": "m", "ms": "m/s", "m2": "m²", "m3s": "m³/s"}
    ending = re.search(r"_(m|ms|m2|m3s)$", name)
    row = GLOSSES[name]

    assert (row.unit in units.values()) == (ending is not None)
    if ending is not None:
        assert row.unit == units[ending[1]]
