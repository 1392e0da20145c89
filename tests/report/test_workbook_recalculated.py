"""LibreOffice, an arithmetic of its own, comes to the engine's figures from the formulas alone.

Every stored result is made wrong before LibreOffice gets a workbook, so what it writes is what it
worked out. All workbooks go through it in one run.
"""

import io
from collections.abc import Callable
from pathlib import Path
from typing import Any

import attrs
import pytest

from bankside.gauging.budget import Budget, BudgetPart
from bankside.gauging.compute import EdgeRule, Method, compute
from bankside.gauging.records import Channel, Gauging, PointReading, Vertical
from bankside.gauging.result import Result
from bankside.report.workbook import SHEETS, gauging_workbook
from bankside.sheets.read import read_sheets

from ..note.odd_gaugings import ODD, WAYS, demo, hostile
from .spreadsheet import formulas, recalculated, table, values, with_wrong_results

TRANSECTS = Path(__file__).parents[2] / "../shared/data/stream_survey_flow_2015/flow_transects.xlsx"
BUDGET = Budget(
    "iso-748",
    "an invented budget",
    (BudgetPart("verticals", 3.0, "invented"), BudgetPart("depth", 4.0, "invented")),
    5.0,
)
RELATIVE = 1e-9


@attrs.frozen
class Case:
    """A workbook, the result that it has to come to, and what LibreOffice makes of it."""

    workbook: bytes
    gauging: Gauging
    result: Result
    worked_out: Any = None


def _scaled(gauging: Gauging) -> Gauging:
    """The gauging with every reading changed, so that no formula may keep an old figure."""

    def reading(old: PointReading) -> PointReading:
        return attrs.evolve(
            old,
            value=None if old.value is None else old.value * 0.9,
            counts=None if old.counts is None else old.counts * 1.07,
            seconds=None if old.seconds is None else old.seconds + 3,
        )

    def vertical(old: Vertical) -> Vertical:
        return attrs.evolve(
            old,
            tape=old.tape * 1.03,
            depth=None if old.depth is None else old.depth * 1.1,
            velocity=tuple(reading(one) for one in old.velocity),
        )

    channels = tuple(
        Channel(tuple(vertical(one) for one in channel.verticals), channel.name)
        for channel in gauging.channels
    )
    return attrs.evolve(gauging, channels=channels)


CHANGES: dict[str, Callable[[float], float]] = {
    "tape": lambda called: called * 1.03,
    "depth": lambda called: called * 1.1,
    "velocity": lambda called: called * 0.9,
    "revolutions": lambda called: called * 1.07,
    "exposure": lambda called: called + 3,
}


def _edited(workbook: bytes) -> bytes:
    """The workbook with the same changes made by hand on the sheet of readings alone."""
    book = formulas(workbook)
    sheet = book["Readings"]
    for column in sheet.iter_cols(min_row=4):
        change = CHANGES.get(str(column[0].value).split(" (")[0])
        for cell in column[1:]:
            if change is not None and cell.value is not None:
                cell.value = change(cell.value)
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def _cases() -> dict[str, Case]:
    cases: dict[str, Case] = {}

    def add(name: str, gauging: Gauging, method: Method, edge_rule: EdgeRule) -> None:
        result = compute(gauging, method, edge_rule)
        workbook = gauging_workbook(gauging, result, (), (BUDGET,))
        cases[name] = Case(workbook, gauging, result)

    invented = {**ODD, **demo(), "hostile": hostile()}
    for number, (name, gauging) in enumerate(invented.items()):
        for method, edge_rule in WAYS:
            add(f"{name} {method} {edge_rule}", gauging, method, edge_rule)
        method, edge_rule = WAYS[number % len(WAYS)]
        changed = compute(_scaled(gauging), method, edge_rule)
        workbook = _edited(cases[f"{name} {method} {edge_rule}"].workbook)
        cases[f"{name} changed"] = Case(workbook, gauging, changed)
    return cases


@pytest.fixture(scope="module")
def cases(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Case]:
    """Every invented workbook, worked out anew in one run of LibreOffice."""
    return _worked_out(_cases(), tmp_path_factory.mktemp("recalculated"))


def _worked_out(made: dict[str, Case], folder: Path) -> dict[str, Case]:
    files = recalculated(
        {name: with_wrong_results(case.workbook) for name, case in made.items()}, folder
    )
    return {name: attrs.evolve(case, worked_out=values(files[name])) for name, case in made.items()}


@pytest.fixture(scope="module")
def transects(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Case]:
    """The workbook of every transect of the survey, worked out anew."""
    if not TRANSECTS.exists():
        pytest.skip(f"the transects of the stream survey are not here: {TRANSECTS.name} is missing")
    made = {}
    for number, item in enumerate(read_sheets(TRANSECTS).gaugings):
        if item.gauging is None:
            continue  # a dry section: nothing was measured
        result = compute(item.gauging)
        workbook = gauging_workbook(item.gauging, result, (), (BUDGET,))
        made[f"transect {number}"] = Case(workbook, item.gauging, result)
    return _worked_out(made, tmp_path_factory.mktemp("transects"))


def _same(found: Any, expected: float | None, size: float = 0.0) -> bool:
    """Whether a cell holds a figure; `size` is that of the amounts of which it is a difference."""
    if expected is None:
        return found in (None, "")
    if not isinstance(found, int | float):
        return False
    return abs(found - expected) <= RELATIVE * max(abs(expected), size)


def test_the_discharge_is_the_engines(cases: dict[str, Case]) -> None:
    """From wrong stored results, LibreOffice comes to the engine's totals on the summary."""
    assert {"alder_fork", "quill_brook", "tansy_run"} <= {
        name.removeprefix("demo_").rpartition("_0 ")[0] for name in cases
    }
    assert len(cases) > 60
    assert _wrong_totals(cases) == {}


def test_every_panel_is_the_engines(cases: dict[str, Case]) -> None:
    """Vertical by vertical and panel by panel, the formulas come to the engine's figures."""
    assert _wrong_panels(cases) == []


def test_the_transects_of_a_survey_are_the_engines(transects: dict[str, Case]) -> None:
    """The same holds for the 95 transects that a survey measured and published."""
    assert len(transects) == 95
    assert _wrong_totals(transects) == {}
    assert _wrong_panels(transects) == []


def _wrong_totals(cases: dict[str, Case]) -> dict[str, dict[str, Any]]:
    """The totals on each summary that are not the engine's, each in every unit it stands in."""
    wrong = {}
    for name, case in cases.items():
        found: dict[tuple[str, str], Any] = {}
        what = ""
        for head, value, unit in case.worked_out["Summary"].iter_rows(
            5, None, 1, 3, values_only=True
        ):
            what = head or what
            if unit:
                found.setdefault((what, unit), value)
        off = {
            f"{what} ({unit})": value
            for what, expected in _totals(case).items()
            for unit, value in ((u, v) for (w, u), v in found.items() if w == what)
            if not _same(value, None if expected is None else expected / IN_SI[unit])
        }
        shown = {what for what, _ in found}
        off |= {what: "missing" for what in _totals(case) if what not in shown}
        if off:
            wrong[name] = off
    return wrong


# One of each unit in SI; the foot and the inch are exact by the agreement of 1959.
IN_SI = {
    **{"m": 1.0, "cm": 0.01, "mm": 0.001, "ft": 0.3048, "in": 0.0254},
    **{"m²": 1.0, "ft²": 0.3048 * 0.3048},
    **{"m/s": 1.0, "cm/s": 0.01, "ft/s": 0.3048},
    **{"m³/s": 1.0, "L/s": 0.001, "ft³/s": 0.3048 * 0.3048 * 0.3048, "%": 1.0},
}


def _totals(case: Case) -> dict[str, float | None]:
    """The figures of a summary; no range stands beside half a stream."""
    result = case.result
    uncertainty = {"uncertainty": 10.0} if _is_whole(case.gauging) else {}
    return {
        "discharge": result.discharge_m3s,
        "area": result.area_m2,
        "width of the water": result.width_m,
        "mean depth": result.mean_depth_m,
        "mean velocity": result.mean_velocity_ms,
        "wetted perimeter": result.wetted_perimeter_m,
        "hydraulic radius": result.hydraulic_radius_m,
        **uncertainty,
    }


def _is_whole(gauging: Gauging) -> bool:
    """Whether the water of every channel ends at both ends of its verticals."""
    return all(
        end.edge is not None or end.dry or end.depth == 0
        for channel in gauging.channels
        for ends in [sorted(channel.verticals, key=lambda vertical: vertical.tape)]
        for end in (ends[0], ends[-1])
    )


def _wrong_panels(cases: dict[str, Case]) -> list[tuple[Any, ...]]:
    """The figures of panels and verticals that are not the engine's."""
    wrong: list[tuple[Any, ...]] = []
    for name, case in cases.items():
        panels = {(p.channel + 1, p.vertical + 1): p for p in case.result.panels}
        size = sum(abs(panel.discharge_m3s) for panel in case.result.panels)
        rows = [row for row in table(case.worked_out["Panels"]) if row["vertical"] is not None]
        assert len(rows) == len(case.result.verticals)
        for row, vertical in zip(rows, case.result.verticals, strict=True):
            panel = panels.get((row["channel"], row["vertical"]))
            expected: dict[str, float | None] = {
                "depth": vertical.depth_m,
                "velocity of the vertical": vertical.velocity_ms,
            }
            if panel is not None:
                expected |= {
                    "width": panel.width_m,
                    "area": panel.area_m2,
                    "discharge": panel.discharge_m3s,
                    "share": panel.share,
                }
            wrong += [
                (name, row["tape as called"], key, row[key], figure)
                for key, figure in expected.items()
                if not _same(row[key], figure, 1e-6 * size if key == "discharge" else 0.0)
            ]
    return wrong


def test_the_stored_results_are_those_worked_out(cases: dict[str, Case]) -> None:
    """A viewer that works nothing out shows in every cell what LibreOffice comes to."""
    wrong = []
    count = 0
    for name, case in cases.items():
        if name.endswith("changed"):
            continue  # edited by hand, these have no stored results
        stored, worked_out, text = values(case.workbook), case.worked_out, formulas(case.workbook)
        for sheet in SHEETS:
            for row in text[sheet].iter_rows():
                for cell in row:
                    if cell.data_type != "f":
                        continue
                    count += 1
                    ours = stored[sheet][cell.coordinate].value
                    theirs = worked_out[sheet][cell.coordinate].value
                    if not (_same(theirs, ours, 1e-6) if _is_number(ours) else theirs == ours):
                        wrong.append((name, sheet, cell.coordinate, cell.value, ours, theirs))

    assert count > 10_000
    assert wrong == []


def _is_number(value: Any) -> bool:
    return isinstance(value, int | float)


def test_wrong_stored_results_are_seen() -> None:
    """The workbooks that LibreOffice gets hold no right figure in a cell with a formula."""
    result = compute(ODD["points"])
    workbook = with_wrong_results(gauging_workbook(ODD["points"], result))
    text, stored = formulas(workbook), values(workbook)
    shown = {
        stored[cell.parent.title][cell.coordinate].value
        for sheet in SHEETS
        for row in text[sheet].iter_rows()
        for cell in row
        if cell.data_type == "f"
    }

    assert shown == {-77777.5}


def test_without_libreoffice_the_proof_fails(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """Nothing passes by being skipped: the failure says what to install."""
    monkeypatch.setenv("PATH", str(tmp_path))

    with pytest.raises(pytest.fail.Exception, match=r"apt-get install .* libreoffice-calc"):
        recalculated({}, tmp_path)
