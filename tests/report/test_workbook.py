"""What stands in the workbook: formulas where figures are worked out, and nowhere else."""

import datetime
import io
import re
import zipfile
from typing import Any

import attrs
import pytest

from bankside.gauging.budget import Budget, BudgetPart
from bankside.gauging.checks.finding import Finding
from bankside.gauging.compute import EdgeRule, Method, compute
from bankside.gauging.faults import InputRefused
from bankside.gauging.mean_velocity import _METHODS
from bankside.gauging.records import Answer, Gauging, Site
from bankside.gauging.rule_sets.load import load_rule_set
from bankside.report.workbook import SHEETS, gauging_workbook
from bankside.report.workbook_velocity import METHODS

from ..note.odd_gaugings import HOSTILE, ODD, WAYS, demo, hostile
from .spreadsheet import formulas, table, values

# The functions of the first edition of Office Open XML (ECMA-376, 2006), which any program knows.
OLD_FUNCTIONS = set(
    "ABS AVERAGE COS COUNT IF MAX OR RADIANS ROUND SQRT SUM SUMPRODUCT SUMSQ".split()
)


def _workbook(gauging: Gauging, *way: Any, **more: Any) -> bytes:
    return gauging_workbook(gauging, compute(gauging, *way), **more)


def _cells(workbook: bytes, *sheets: str) -> list[Any]:
    """The cells of some sheets, or of all."""
    book = formulas(workbook)
    return [cell for sheet in sheets or SHEETS for row in book[sheet].iter_rows() for cell in row]


@pytest.mark.parametrize(("method", "edge_rule"), WAYS)
def test_whatever_is_worked_out_on_panels_is_a_formula(method: Method, edge_rule: EdgeRule) -> None:
    """No figure stands on the sheet of panels: below the heads are formulas and words alone."""
    for gauging in (*ODD.values(), *demo().values()):
        result = compute(gauging, method, edge_rule)
        workbook = gauging_workbook(gauging, result)
        below = [cell for cell in _cells(workbook, "Panels") if cell.row > 4 and cell.value]
        words = {cell.column for cell in below if cell.data_type == "s"}
        heads = formulas(workbook)["Panels"][4]

        assert {cell.data_type for cell in below} == {"f", "s"}
        assert {heads[column - 1].value for column in words} == {"velocity from", "in words"}
        # channel, vertical, two tapes, depth and velocity of a vertical; width, area, discharge,
        # share and amount of a panel, and between two verticals their mean depth and velocity.
        of_panel = 5 if method == "mid-section" else 7
        least = 6 * len(result.verticals) + of_panel * len(result.panels)
        of_readings = 2 * sum(vertical.measured for vertical in result.verticals)
        of_totals = 4 * (len(result.channels) + 1)
        of_walls = sum(len(vertical.neighbours) == 1 for vertical in result.verticals)
        found = sum(cell.data_type == "f" for cell in below) - least - of_readings - of_totals
        assert of_walls <= found <= 2 * of_walls


def test_readings_hold_what_was_called_and_no_formula() -> None:
    """Every figure stands there as called, to the last digit, each once."""
    called = 0.1 + 0.2
    [channel] = ODD["repeats"].channels
    odd = attrs.evolve(channel.verticals[1], depth=called, tape=1 / 3)
    gauging = attrs.evolve(
        ODD["repeats"],
        channels=(
            attrs.evolve(channel, verticals=(channel.verticals[0], odd, *channel.verticals[2:])),
        ),
    )
    workbook = _workbook(gauging)
    rows = table(values(workbook)["Readings"])

    assert all(cell.data_type != "f" for cell in _cells(workbook, "Readings"))
    assert [(row["tape"], row["depth"], row["velocity"], row["exposure"]) for row in rows[:4]] == [
        (0, 0, None, None),
        (1 / 3, called, 0.31, 40),
        (None, None, 0.37, 25),
        (2, 0.5, 0.44, None),
    ]
    assert [row["fraction of depth"] for row in rows[6:10]] == [0.8, 1 - 0.8, 0.8, 0.2]


def test_texts_never_become_formulas_or_links() -> None:
    """A remark, a name or a correction that begins like a formula stays the text that it is."""
    workbook = _workbook(hostile())
    texts = {cell.value: cell.data_type for cell in _cells(workbook) if cell.data_type != "f"}
    with zipfile.ZipFile(io.BytesIO(workbook)) as parts:
        names = parts.namelist()

    [channel] = hostile().channels
    expected = {"=channel", "=site", "@stream", "+remarks", "=what", "-was", "+now", "@reason"}
    expected |= {vertical.remark for vertical in channel.verticals if vertical.remark}
    assert len(expected) == 8 + min(len(HOSTILE), len(channel.verticals))
    assert {text: texts.get(text) for text in expected} == dict.fromkeys(expected, "s")
    assert not any("vba" in name or "externalLink" in name for name in names)
    assert not any("hyperlink" in name.lower() for name in names)


def test_a_text_too_long_for_a_cell_is_refused() -> None:
    """Nothing is cut short: the refusal says how long the text is and what a cell holds."""
    gauging = attrs.evolve(ODD["still"], remarks="x" * 40_000)

    with pytest.raises(InputRefused, match=r"40,000 characters .* 32,767"):
        _workbook(gauging)


def test_every_formula_is_one_that_old_programs_know() -> None:
    """No function is younger than the file format itself, and no name is undefined."""
    for gauging in ODD.values():
        workbook = _workbook(gauging, budgets=(BUDGET,))
        names = set(formulas(workbook).defined_names)
        for cell in _cells(workbook):
            if cell.data_type == "f":
                functions = set(re.findall(r"([A-Z.]+)\(", cell.value))
                called = set(re.findall(r"\b[a-z]\w*_\w+\b", cell.value))
                assert functions <= OLD_FUNCTIONS
                assert called <= names


def test_every_method_of_the_engine_has_a_formula() -> None:
    """A method for points that the engine learns has to be written as a formula as well."""
    assert set(METHODS) == {name for name, _ in _METHODS.values()} | {"measured"}


BUDGET = Budget(
    "components",
    "an invented budget",
    (BudgetPart("verticals", 3.0, "invented"), BudgetPart("stage", 4.0, "invented")),
    5.0,
    remarks=("something was assumed",),
    left_out=("something nobody could source",),
)


def test_a_budget_adds_up_by_a_formula() -> None:
    """Parts of 3 and 4 % come to 5 % by a formula over their cells, which the summary points at."""
    workbook = _workbook(ODD["points"], budgets=(BUDGET,))
    sheet = {row["part"]: row for row in table(formulas(workbook)["Uncertainty"])}
    shown = {row["part"]: row for row in table(values(workbook)["Uncertainty"])}

    assert re.fullmatch(
        r"=SQRT\(SUMSQ\(B\d+:B\d+\)\)", sheet["standard uncertainty"]["% of the discharge"]
    )
    assert shown["within, about 19 in 20"]["% of the discharge"] == 10
    assert shown["left out"]["where it comes from, or what it does"] == BUDGET.left_out[0]
    summary = [cell.value for cell in _cells(workbook, "Summary")]
    assert any(str(value).startswith("=Uncertainty!") for value in summary)


def test_a_finding_stands_with_its_thresholds_and_its_answer() -> None:
    """What a check found is kept word for word, with the source of the value that it rests on."""
    threshold = load_rule_set("common-practice")["panel_share_limit"]
    answer = Answer("share", "found", "explain", "=the channel is narrow", "I. Marrow")
    finding = Finding("share", "explain", "found", "move", 0, (1.5, 2), (threshold,), 1.2, answer)
    workbook = _workbook(ODD["points"], findings=(finding,))
    [row] = table(values(workbook)["Findings"])

    assert (row["severity"], row["check"], row["channel"]) == ("explain", "share", 1)
    assert (row["found"], row["advice"], row["probably meant"]) == ("found", "move", 1.2)
    assert row["at tape"] == "1.5, 2"
    assert threshold.source in row["thresholds and their sources"]
    assert row["accepted because"] == "=the channel is narrow"


def test_no_checks_and_no_findings_are_told_apart() -> None:
    """That nothing was found is another thing than that nothing was asked."""
    unasked, clean = (
        table(values(_workbook(ODD["still"], findings=findings))["Findings"])
        for findings in (None, ())
    )

    assert unasked[0]["check"] == "no checks were made"
    assert clean[0]["check"] == "the checks found nothing"


def _summary(workbook: bytes) -> list[tuple[Any, ...]]:
    """The rows of the summary: what, value, unit, where from."""
    return list(values(workbook)["Summary"].iter_rows(5, None, 1, 4, values_only=True))


def test_the_summary_has_the_units_called_first() -> None:
    """Who read feet sees feet first, and SI under them."""
    rows = [row for row in _summary(_workbook(demo()["demo_alder_fork_0"])) if row[2]]
    units = [row[2] for row in rows][:15]

    assert rows[0][0] == "discharge"
    assert units[:3] == ["ft³/s", "m³/s", "L/s"]
    assert units[3:] == ["ft²", "m²", "ft", "m", "ft", "m", "ft/s", "m/s", "ft", "m", "ft", "m"]
    # 29.83 ft³/s stand on the sheet, and 30.20 by mid-section as the tables of the note have it.
    assert rows[0][1] == pytest.approx(30.20, abs=0.005)
    assert rows[1][1] == pytest.approx(30.20 * 0.0283168, abs=0.0002)
    width = next(row for row in rows if row[0] == "width of the water")
    assert width[1:3] == (pytest.approx(27.1 - 3.2), "ft")


@pytest.mark.parametrize("unit", ["ft3/s", None])
def test_the_total_that_was_carried_has_the_unit_that_is_taken(unit: Any) -> None:
    """A sheet that names no unit is understood in one, and the summary says in which."""
    gauging = demo()["demo_alder_fork_0"]
    assert gauging.filed is not None
    gauging = attrs.evolve(gauging, filed=attrs.evolve(gauging.filed, unit=unit))
    rows = {row[0]: row for row in _summary(_workbook(gauging))}

    assert rows["total that the sheet carried"][1:3] == (29.83, "ft³/s")
    said = "names no unit, ft³/s is taken" in rows["total that the sheet carried"][3]
    assert said == (unit is None)
    assert rows["difference from it"][1] == pytest.approx((30.20 - 29.83) / 29.83 * 100, abs=0.02)


def test_the_summary_says_why_a_figure_is_not_final() -> None:
    """What stands in bold beside the discharge of the note stands on the summary as well."""
    finding = Finding("deep", "stop", "found", "move", 0, (1.5,))
    doubtful = _summary(_workbook(ODD["points"], findings=(finding,), budgets=(BUDGET,)))
    clean = _summary(_workbook(ODD["points"], findings=(), budgets=(BUDGET,)))
    open_edge = attrs.evolve(
        ODD["points"],
        channels=(attrs.evolve(ODD["points"].channels[0], verticals=_without_an_edge()),),
    )
    unfinished = _summary(_workbook(open_edge, finished=False))

    assert doubtful[0][0] == "Not a final figure: 1 stop not answered"
    assert ("uncertainty", "± not told while a reading is in doubt") in [r[:2] for r in doubtful]
    assert clean[0][0] == "Discharge and section"
    assert ("uncertainty, a lower bound", 10) in [row[:2] for row in clean]
    assert [row[0] for row in unfinished[:2]] == [
        "Unfinished: readings are still to come",
        "Right edge not measured: the figure is too small",
    ]


def _without_an_edge() -> Any:
    return ODD["points"].channels[0].verticals[:-1]


def test_equal_input_gives_equal_bytes() -> None:
    """The workbook is dated by the record, never by the clock."""
    gauging = attrs.evolve(ODD["two_channels"], date=datetime.date(2026, 5, 3))

    assert _workbook(gauging) == _workbook(gauging)
    with zipfile.ZipFile(io.BytesIO(_workbook(gauging))) as parts:
        assert {part.date_time for part in parts.infolist()} == {(1980, 1, 1, 0, 0, 0)}
        core = parts.read("docProps/core.xml").decode()
    assert set(re.findall(r"\d{4}-\d\d-\d\dT[\d:]+Z", core)) == {"2026-05-03T00:00:00Z"}


def test_a_long_gauging_prints_with_heads_on_every_page() -> None:
    """Sixty verticals run over several pages, each as wide as the table and with its heads."""
    book = formulas(_workbook(ODD["sixty"]))

    assert len(table(book["Panels"])) == 62 + 2
    for sheet in SHEETS:
        assert book[sheet].page_setup.orientation == "landscape"
        assert book[sheet].page_setup.fitToWidth in (None, 1)
        assert book[sheet].page_setup.fitToHeight == 0
        assert book[sheet].print_title_rows == "$4:$4"
        assert book[sheet].freeze_panes.endswith("5")


def test_what_the_sheet_carried_is_kept_apart() -> None:
    """A filed total and filed products stand as filed; nothing is worked out from them."""
    gauging = next(g for g in demo().values() if g.filed is not None and g.filed.panels)
    assert gauging.filed is not None
    rows = table(values(_workbook(gauging))["Readings"])
    filed = [row["discharge as filed"] for row in rows if row["discharge as filed"] is not None]

    assert filed == [p.discharge for p in gauging.filed.panels if p.discharge is not None]


def test_a_gauging_without_anything_around_it_has_its_sheets() -> None:
    """No site, no date, no crew: the sheets are there, and no cell says None."""
    workbook = _workbook(attrs.evolve(ODD["still"], site=Site()))

    assert tuple(formulas(workbook).sheetnames) == SHEETS
    assert not any(cell.value == "None" for cell in _cells(workbook))
