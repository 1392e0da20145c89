"""The blank field sheet: what stands on it, and that it prints."""

import datetime
import os
import re
import subprocess
import sys
from collections.abc import Callable
from decimal import Decimal
from itertools import pairwise
from pathlib import Path

import attrs
import pytest

from bankside.gauging.faults import InputRefused
from bankside.gauging.plan import Plan, plan_verticals
from bankside.gauging.records import Edge
from bankside.gauging.rule_sets.load import load_rule_set
from bankside.note.cautions import CAUTIONS, DEFERENCE, DEPTH_TIMES_VELOCITY
from bankside.note.field_aids import (
    TapeUnit,
    wading_words,
)
from bankside.report.field_sheet import FieldSheet, SheetHead, field_sheet, field_sheet_pdf
from bankside.report.typst_document import Paper

from ..note.rule_sets import own_rules

RULES = load_rule_set("common-practice")
HEAD = SheetHead(
    stream="Alder Fork",
    site="Ford below the mill",
    date=datetime.date(2026, 7, 14),
    crew=("R. Tamsin: rod", "K. Ostrow: recorder"),
)


def planned(
    verticals: int,
    left: str = "3.2",
    right: str = "27.1",
    *,
    unit: TapeUnit = "ft",
    resolution: str = "0.1",
    start: Edge = "left",
) -> Plan:
    """A plan between two edges of water."""
    return plan_verticals(
        Decimal(left),
        Decimal(right),
        unit=unit,
        resolution=Decimal(resolution),
        verticals=verticals,
        start=start,
    )


@pytest.fixture
def tool(tmp_path: Path) -> Callable[..., str]:
    """A function that gives a PDF to one of poppler's tools and returns what it says."""

    def said(pdf: bytes, name: str, *options: str) -> str:
        path = tmp_path / "sheet.pdf"
        path.write_bytes(pdf)
        last = ["-"] if name == "pdftotext" else []
        run = subprocess.run(
            [name, *options, str(path), *last], capture_output=True, check=True, timeout=60
        )
        return run.stdout.decode()

    return said


def printed(plan: Plan | None, paper: Paper = "letter", **options: object) -> bytes:
    """The sheet of a plan in feet as PDF."""
    unit: TapeUnit = "m" if plan is not None and plan.unit == "m" else "ft"
    return field_sheet_pdf(
        field_sheet(plan, unit=unit, rules=RULES, **{"head": HEAD, **options}),  # type: ignore[arg-type]
        paper,
    )


def test_rows_follow_the_plan_from_edge_to_edge() -> None:
    """The edges carry their bank letter, positions the decimals of the tape, spare rows follow."""
    # By hand: 3.9 ft in three intervals of 1.3 ft.
    sheet = field_sheet(planned(2, "2", "5.9"), unit="ft", rules=RULES, head=HEAD, extra_rows=2)

    assert [(row.kind, row.number, row.tape, row.bank) for row in sheet.rows] == [
        ("edge", None, "2.0", "left"),
        ("vertical", "1", "3.3", None),
        ("vertical", "2", "4.6", None),
        ("edge", None, "5.9", "right"),
        ("extra", "+1", None, None),
        ("extra", "+2", None, None),
    ]


def test_an_edge_keeps_more_decimals_than_the_tape_is_read_to() -> None:
    """Nothing is rounded: an edge called to a hundredth stays there beside tenths."""
    rows = field_sheet(planned(1, "2.25", "5.9"), unit="ft", rules=RULES).rows

    assert [row.tape for row in rows if row.kind == "edge"] == ["2.25", "5.9"]


def test_rows_begin_at_the_bank_at_which_the_crew_starts() -> None:
    """A crew that starts on the right writes the right edge first."""
    rows = field_sheet(planned(3, start="right"), unit="ft", rules=RULES).rows

    assert (rows[0].bank, rows[0].tape, rows[4].bank, rows[4].tape) == (
        "right",
        "27.1",
        "left",
        "3.2",
    )


def test_a_sheet_without_a_plan_has_numbered_rows() -> None:
    """Nobody has said which bank or where: rows are numbered and say no more."""
    rows = field_sheet(None, unit="m", rules=RULES, verticals=3, extra_rows=0).rows

    assert [row.kind for row in rows] == ["edge", "vertical", "vertical", "vertical", "edge"]
    assert [row.number for row in rows] == [None, "1", "2", "3", None]
    assert all(row.tape is None and row.bank is None for row in rows)


def test_a_crew_that_hardly_wades_has_no_table(tool: Callable[..., str]) -> None:
    """Below the first depth of the table there is none to print; the words remain."""
    own = own_rules(wade_depth_stop=(0.5, "ft"), wade_depth_caution=(0.5, "ft"))
    sheet = field_sheet(None, unit="ft", rules=own)

    assert sheet.wading == ()
    text = " ".join(tool(field_sheet_pdf(sheet, "letter"), "pdftotext").split())
    assert wading_words("ft", own) in text


def test_no_caution_speaks_against_the_rules_of_the_crew() -> None:
    """The rule of thumb of 10 ft²/s does not stand beside another limit on the same sheet."""
    sheet = field_sheet(None, unit="ft", rules=RULES)

    assert len(sheet.cautions) == len(CAUTIONS) - 1
    assert not any("10 ft²/s" in words for words in sheet.cautions)


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        ({"verticals": 0}, "verticals must be 1 to 500 in number (got 0)"),
        ({"extra_rows": 101}, "extra rows must be 0 to 100 in number (got 101)"),
        ({"points": 4}, "points must be 1 to 3 in number (got 4)"),
        ({"plan": planned(2)}, "the plan must be in m like the sheet (got ft)"),
        (
            {"head": SheetHead(stream="o" * 201)},
            "the stream must have 200 characters at most (got 201)",
        ),
    ],
)
def test_what_makes_no_sheet_is_refused(change: dict[str, object], sentence: str) -> None:
    """Each refusal is one sentence with what was found."""
    with pytest.raises(InputRefused) as refused:
        field_sheet(**{"plan": None, "unit": "m", "rules": RULES, **change})  # type: ignore[arg-type]

    assert str(refused.value) == sentence


def test_a_rule_set_without_a_printed_limit_is_refused() -> None:
    """The sheet does not fill in a limit that the rules leave out."""
    values = {name: v for name, v in RULES.values.items() if name != "wade_product_stop"}

    with pytest.raises(InputRefused, match='"common-practice" must set wade_product_stop'):
        field_sheet(None, unit="ft", rules=attrs.evolve(RULES, values=values))


@pytest.mark.parametrize(
    ("verticals", "pages", "unit", "paper"),
    [(5, 2, "ft", "letter"), (25, 3, "ft", "letter"), (60, 5, "m", "a4"), (25, 3, "m", "a4")],
)
def test_every_planned_position_is_printed(
    tool: Callable[..., str], verticals: int, pages: int, unit: TapeUnit, paper: Paper
) -> None:
    """Each position stands on paper once, beside its number, and the head on every sheet."""
    plan = planned(verticals, "3.20", "27.15", unit=unit, resolution="0.05")
    pdf = printed(plan, paper)
    info = tool(pdf, "pdfinfo")
    sheets = tool(pdf, "pdftotext", "-layout").split("\f")[:-1]

    assert re.search(r"Pages: +(\d+)", info)[1] == str(pages)  # type: ignore[index]
    assert ("612 x 792" if paper == "letter" else "595.276 x 841.89") in info
    assert len(sheets) == pages
    for number, sheet in enumerate(sheets, start=1):
        first, *_ = (line for line in sheet.splitlines() if line.strip())
        assert "Alder Fork" in first and "Ford below the mill" in first and "2026-07-14" in first
        assert f"sheet {number} of {pages}" in first
    rows = re.findall(r"^ *(\d+) +(\d+\.\d\d)$", "\n".join(sheets[1:]), re.MULTILINE)
    assert rows == [
        (str(number), f"{vertical.tape}") for number, vertical in enumerate(plan.verticals, 1)
    ]
    text = "\n".join(sheets)
    for number in range(1, 7):
        assert re.search(rf"^ *\+{number}$", text, re.MULTILINE)


def test_the_sheet_holds_what_the_crew_needs(tool: Callable[..., str]) -> None:
    """Head, cautions, reading back, signatures and the rules' name are on paper."""
    text = " ".join(tool(printed(planned(5)), "pdftotext").split())

    for words in (
        *(caution.short for caution in CAUTIONS if caution is not DEPTH_TIMES_VELOCITY),
        wading_words("ft", RULES),
        DEFERENCE,
        "R. Tamsin: rod, K. Ostrow: recorder",
        "Read back every call",
        "datum",
        "Time zone",
        "no gauge",
        "undercut",
        "What was moved",
        "Whole flow in this section?",
        "Measured by",
        "Recorded by",
        "Checked by",
        "on (date)",
        "Measurement no.",
        "Gauge that was read",
        "Benchmark or zero",
        "Air",
        "water",
        "°C",
        "by one standard uncertainty:",
        "good (up to 5 %)",
        "Rules: common-practice.",
        "at least 40 s",
    ):
        assert words in text
    # What a blank sheet gives no room for is not asked for.
    assert "widths add up" not in text and "last visit" not in text


def test_the_sheet_is_tagged(tool: Callable[..., str]) -> None:
    """A screen reader finds tables with heads and headings in it."""
    pdf = printed(planned(5))

    assert re.search(r"Tagged: +yes", tool(pdf, "pdfinfo"))
    structure = tool(pdf, "pdfinfo", "-struct")
    assert {"H1", "H2", "Table", "TH"} <= set(re.findall(r"\w+", structure))


def test_rows_leave_room_to_write_twice(tool: Callable[..., str]) -> None:
    """Rows are 9 mm high or more, measured between the printed numbers."""
    plan = planned(9, "103.2", "127.1")
    for points, least in ((1, 9.0), (2, 18.0)):
        boxes = tool(printed(plan, points=points), "pdftotext", "-bbox")
        tops = [
            float(top)
            for top, word in re.findall(r'yMin="([\d.]+)"[^>]*>([\d.]+)</word>', boxes)
            if word in {str(vertical.tape) for vertical in plan.verticals}
        ]
        steps = [(b - a) / 72 * 25.4 for a, b in pairwise(tops)]
        assert len(steps) == 8
        assert min(steps) > least - 0.001  # poppler gives points to six decimals


@pytest.mark.parametrize(
    "name",
    [
        "Quill Brook, the long arm behind the upper meadow below the confluence with the eastern "
        "tributary of the third homestead",
        "Llanbrook" * 20,
    ],
)
def test_long_names_wrap(tool: Callable[..., str], name: str) -> None:
    """Nothing of a long name is cut off, on any sheet, and it stays on the paper."""
    pdf = printed(planned(25), head=SheetHead(stream=name, crew=(name,)))
    text = re.sub(r"\s|\u200b", "", tool(pdf, "pdftotext"))

    sheets = int(re.search(r"Pages: +(\d+)", tool(pdf, "pdfinfo"))[1])  # type: ignore[index]
    wanted = re.sub(r"\s", "", name)
    assert text.count(wanted) == sheets + 1
    boxes = re.findall(
        r'xMin="([-\d.]+)" yMin="([-\d.]+)" xMax="([-\d.]+)" yMax="([-\d.]+)"',
        tool(pdf, "pdftotext", "-bbox"),
    )
    assert all(float(x) >= 0 and float(y) >= 0 for x, y, _, _ in boxes)
    assert all(float(x) <= 612 and float(y) <= 792 for _, _, x, y in boxes)


@pytest.mark.parametrize(
    "name",
    [
        '#panic("no")',
        "*bold* _slant_ $x$ \\ #let a = 1",
        "= Heading",
        '"]}; quote',
        "<label> @ref // no",
    ],
)
def test_a_hostile_name_stays_a_name(tool: Callable[..., str], name: str) -> None:
    """What somebody types is printed as typed and never becomes markup."""
    text = " ".join(tool(printed(planned(2), head=SheetHead(site=name)), "pdftotext").split())

    assert name in text


def test_a_sign_that_cannot_be_printed_is_not_lost(tool: Callable[..., str]) -> None:
    """A control sign or a letter beyond the fonts stands there as its number."""
    pdf = printed(planned(2), head=SheetHead(site="A\x07B 川"))

    assert "A[U+0007]B [U+5DDD]" in tool(pdf, "pdftotext")


def test_equal_sheets_give_equal_bytes_in_any_process() -> None:
    """Neither the clock nor the order of hashes leaves a trace."""
    script = (
        "import hashlib\n"
        "from bankside.gauging.rule_sets.load import load_rule_set\n"
        "from bankside.report.field_sheet import *\n"
        "sheet = field_sheet(None, unit='ft', rules=load_rule_set('common-practice'))\n"
        "print(hashlib.sha256(field_sheet_pdf(sheet, 'letter')).hexdigest())"
    )
    hashes = {
        subprocess.run(
            [sys.executable, "-c", script],
            env={**os.environ, "PYTHONHASHSEED": seed},
            capture_output=True,
            text=True,
            check=True,
            timeout=120,
        ).stdout
        for seed in ("0", "1", "4242")
    }

    assert len(hashes) == 1


def test_other_content_gives_other_bytes() -> None:
    """The comparison of bytes can fail."""
    sheet: FieldSheet = field_sheet(None, unit="ft", rules=RULES)

    assert field_sheet_pdf(sheet, "letter") != field_sheet_pdf(
        attrs.evolve(sheet, site="Quill Brook"), "letter"
    )
