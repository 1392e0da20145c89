"""What the document on practice says is so."""

import re
from pathlib import Path

import attrs
import pytest

from bankside.practice.parameters import Range
from bankside.practice.section_type import SectionType
from bankside.practice.section_types import SECTION_TYPES

DOCUMENT = Path(__file__).parents[2] / "docs" / "practice.md"


def test_the_examples_run(capsys: pytest.CaptureFixture[str]) -> None:
    """The lines that the document shows run, and both errors that they print are the same."""
    crew, session = re.findall(r"```python\n(.*?)```", DOCUMENT.read_text("utf-8"), re.DOTALL)
    exec(compile(crew, str(DOCUMENT), "exec"), {})
    truths, by_record, by_lists, act = capsys.readouterr().out.splitlines()
    exec(compile(session, str(DOCUMENT), "exec"), {})
    assert capsys.readouterr().out.count(",") == 39  # a figure for each of 40 seconds

    discharge = float(truths.split()[0])
    assert float(by_lists) / discharge - 1 == pytest.approx(float(by_record), abs=1e-12)
    assert float(act.split()[1]) > 100


@pytest.mark.parametrize("name", sorted(SECTION_TYPES))
def test_a_type_changes_bounds_and_neither_unit_nor_source(name: str) -> None:
    """One table of units and sources holds for all types, and every range has both."""
    first = next(iter(SECTION_TYPES.values()))
    for field in attrs.fields(SectionType):
        drawn = getattr(SECTION_TYPES[name], field.name)
        if isinstance(drawn, Range):
            usual = getattr(first, field.name)
            assert (drawn.unit, drawn.source) == (usual.unit, usual.source), field.name
            assert drawn.low <= drawn.high
            assert drawn.unit and drawn.source


def test_numbers_of_things_are_drawn_evenly() -> None:
    """A number that is rounded down comes as often as its neighbour: the bounds end below one."""
    for name, count in (("braid", "channels"), ("weed bed", "weed_beds")):
        drawn = getattr(SECTION_TYPES[name], count)
        assert drawn.low == int(drawn.low)
        assert 0.98 < drawn.high - int(drawn.high) < 1.0
