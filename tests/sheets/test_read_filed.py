"""Products and totals that sheets carry: which rule they follow, and where they part from ours."""

from fractions import Fraction
from pathlib import Path

import pytest

from bankside.gauging.reconcile import RULES as KNOWN_RULES

from .building import (
    CUBIC_FOOT,
    SECTION,
    SECTION_DISCHARGE,
    discharge,
    explained,
    gauging_of,
    lines_of,
    metric,
    mid_section,
    notes,
    read,
    read_one,
    text_sheet,
    told,
)
from .filing import (
    BASE,
    EDGED,
    RULES,
    by_width,
    figure,
    filed_sheet,
    half_widths,
    to_next,
    total,
)

CLOSE = 1e-12


def test_the_rules_of_these_tests_are_the_programs_rules() -> None:
    """Every rule that the program names is filed by a sheet here."""
    assert set(RULES) == set(KNOWN_RULES)
    totals = [total(products) for stations, products in RULES.values()]
    assert len(set(totals)) == len(totals)
    assert total(RULES["mid-section"][1]) == mid_section(EDGED)


@pytest.mark.parametrize("rule", RULES)
@pytest.mark.parametrize("unit", ["", "m3/s", "L/s", "cfs"])
@pytest.mark.parametrize("form", ["products and total", "products", "total"])
def test_every_rule_is_recognised(tmp_path: Path, rule: str, unit: str, form: str) -> None:
    """Products, a total or both tell the rule by which they were made, in any unit."""
    text = filed_sheet(rule, unit, products="products" in form, totals="total" in form)
    item = read_one(text_sheet(tmp_path, text))
    found = explained(item)
    stations, filed = RULES[rule]
    ours = mid_section(stations)
    assert found.rule == rule
    # Where nothing flows at the edges, their width is all one.
    assert found.also == (("full cell at the edges",) if rule == "mid-section" else ())
    assert found.unit == {"": "m3/s", "cfs": "ft3/s"}.get(unit, unit)
    assert found.evidence == ("total" if form == "total" else "products")
    assert found.discharge_m3s == pytest.approx(float(total(filed)), rel=1e-5)
    assert found.rule_m3s == pytest.approx(float(total(filed)), rel=1e-9)
    assert discharge(item) == pytest.approx(float(ours), rel=CLOSE)
    assert found.difference_m3s == pytest.approx(float(ours - total(filed)), abs=1e-6)
    follows = f'follows "{rule}"' if "total" in form else f'and follow "{rule}"'
    assert follows in told(item)[0]
    assert ("The sheet gives no unit of discharge; m³/s fits." in told(item)) is (unit == "")
    assert not any(panel.exception for panel in found.panels)


def test_litres_in_a_column_whose_head_names_no_unit(tmp_path: Path) -> None:
    """A silent head over litres a second is found out by the figures."""
    text = filed_sheet("mid-section", "L/s", products=True, totals=True).replace("Q (L/s)", "Q")
    found = explained(read_one(text_sheet(tmp_path, text)))
    assert (found.rule, found.unit) == ("mid-section", "L/s")


def test_a_mean_section_product_on_the_later_row(tmp_path: Path) -> None:
    """Mean-section products are as often written on the row after the gap: the same rule."""
    products = RULES["mean-section"][1]
    filed = ["", *(figure(p) for p in products[:-1])]
    rows = [(*s, q) for s, q in zip(EDGED, filed, strict=True)]
    text = f"{BASE},Q (m3/s)\n{lines_of(rows)}Total,,,{figure(total(products))}\n"
    found = explained(read_one(text_sheet(tmp_path, text)))
    assert found.rule == "mean-section"
    assert not any(panel.exception for panel in found.panels)


@pytest.mark.parametrize(("written", "decimals"), [("0.264", 3), ("0.26", 2), ("0.2643", 4)])
def test_a_rounded_total(tmp_path: Path, written: str, decimals: int) -> None:
    """A total written with few figures follows the rule whose sum rounds to it."""
    assert f"{SECTION_DISCHARGE:.{decimals}f}" == written
    text = metric() + f"\nTotal discharge: {written} m3/s\n"
    item = read_one(text_sheet(tmp_path, text))
    found = explained(item)
    assert "mid-section" in (found.rule, *found.also)


def test_products_rounded_to_three_decimals(tmp_path: Path) -> None:
    """Rounded products follow the rule within their own last figure."""
    products = [figure(p, 3) for p in by_width(half_widths, EDGED)]
    rows = [(*s, q) for s, q in zip(EDGED, products, strict=True)]
    found = explained(read_one(text_sheet(tmp_path, f"{BASE},Q (m3/s)\n{lines_of(rows)}")))
    assert "mid-section" in (found.rule, *found.also)
    assert not any(panel.exception for panel in found.panels)


def test_one_slipped_row(tmp_path: Path) -> None:
    """A product made with the neighbour's depth is named, and the other rows keep their rule."""
    products = by_width(half_widths, EDGED)
    products[3] = products[3] / Fraction("0.50") * Fraction("0.35")
    rows = [(*s, figure(q)) for s, q in zip(EDGED, products, strict=True)]
    text = f"{BASE},Q (m3/s)\n{lines_of(rows)}Total,,,{figure(total(products))}\n"
    item = read_one(text_sheet(tmp_path, text))
    found = explained(item)
    assert found.rule == "mid-section"
    assert [panel.tape for panel in found.panels if panel.exception] == [1.8]
    slip = Fraction("0.7") * Fraction("0.40") * Fraction("0.15")
    odd = next(panel for panel in found.panels if panel.exception)
    assert odd.difference_m3s == pytest.approx(float(slip), abs=1e-7)
    assert found.difference_m3s == pytest.approx(float(slip), abs=1e-7)
    assert "the vertical at tape 1.8 (+0.042 m³/s) makes the difference" in told(item)[1]
    assert told(item)[0].startswith('The filed products follow "mid-section"')
    assert told(item)[0].endswith("except at tape 1.8; the filed total is 0.288875 m³/s.")
    assert len(told(item)) == 2


def test_a_total_that_is_not_the_sum_of_its_products(tmp_path: Path) -> None:
    """A total from which the last rows were left out is told to be no sum of its products."""
    products = by_width(half_widths, EDGED)
    rows = [(*s, figure(q)) for s, q in zip(EDGED, products, strict=True)]
    short = total(products[:-2])
    text = f"{BASE},Q (m3/s)\n{lines_of(rows)}Total,,,{figure(short)}\n"
    item = read_one(text_sheet(tmp_path, text))
    assert explained(item).discharge_m3s == pytest.approx(float(short), abs=1e-7)
    assert (
        f"The filed total is not the sum of its own products, {float(total(products)):#.4g} m³/s."
        in told(item)
    )
    assert told(item)[0].startswith('The filed products follow "mid-section"')
    assert told(item)[0].endswith("; the filed total is 0.300875 m³/s.")


@pytest.mark.parametrize(
    ("line", "unit"),
    [
        ("Total discharge: 9.3337 cfs", "ft3/s"),
        ("Total discharge: 0.2643 m3/s", "m3/s"),
        ("Total discharge (L/s): 264.3", "L/s"),
        ("# total flow: 264.3 L/s", "L/s"),
        ("Total discharge,0.2643,m3/s", "m3/s"),
    ],
)
def test_a_total_in_a_line_of_its_own(tmp_path: Path, line: str, unit: str) -> None:
    """A total told in a line is a filed total, in the unit that stands beside it."""
    assert float(Fraction("0.2643") / CUBIC_FOOT) == pytest.approx(9.3337, abs=5e-5)
    item = read_one(text_sheet(tmp_path, metric() + "\n" + line + "\n"))
    filed = gauging_of(item).filed
    assert filed is not None and filed.unit == unit
    found = explained(item)
    assert found.rule == "mid-section"
    assert found.discharge_m3s == pytest.approx(SECTION_DISCHARGE, rel=1e-4)


def test_a_total_in_a_line_above_the_table(tmp_path: Path) -> None:
    """A total may stand above the table as well."""
    item = read_one(text_sheet(tmp_path, metric(above="Total Q: 0.264\n")))
    filed = gauging_of(item).filed
    assert filed is not None and (filed.discharge, filed.unit) == (0.264, None)


def test_a_total_in_its_own_column_on_the_last_row(tmp_path: Path) -> None:
    """A column of totals that is filled on the last row of each gauging belongs to that gauging."""
    rows = [("A", *s, "") for s in SECTION] + [("B", *s, "") for s in EDGED]
    rows[len(SECTION) - 1] = ("A", *SECTION[-1], "0.2643")
    rows[-1] = ("B", *EDGED[-1], figure(mid_section(EDGED)))
    text = "site,tape (m),depth (m),velocity (m/s),Total Q (m3/s)\n" + lines_of(rows)
    first, second = read(text_sheet(tmp_path, text)).gaugings
    assert explained(first).discharge_m3s == 0.2643
    assert explained(second).discharge_m3s == pytest.approx(float(mid_section(EDGED)), abs=1e-8)


@pytest.mark.parametrize("head", ["Total Q (m3/s)", "Discharge (m3/s)"])
def test_a_total_repeated_on_every_row(tmp_path: Path, head: str) -> None:
    """A database that writes a gauging's total on each of its rows files one total."""
    rows = [(*s, "0.2643") for s in SECTION]
    found = explained(read_one(text_sheet(tmp_path, f"{BASE},{head}\n{lines_of(rows)}")))
    assert found.discharge_m3s == pytest.approx(0.2643, rel=1e-9)
    assert found.rule == "mid-section"


def test_several_totals(tmp_path: Path) -> None:
    """Totals that contradict one another are told, and none is picked."""
    text = f"{BASE},Q (m3/s)\n" + lines_of((*s, "") for s in SECTION)
    item = read_one(text_sheet(tmp_path, text + "Total,,,0.2643\nTotal,,,0.31\n"))
    assert gauging_of(item).filed is None
    assert any("0.2643, 0.31" in note for note in item.notes)


def test_one_total_written_twice_is_one_total(tmp_path: Path) -> None:
    """The same total below the table and in a line is no contradiction."""
    text = f"{BASE},Q (m3/s)\n" + lines_of((*s, "") for s in SECTION)
    item = read_one(text_sheet(tmp_path, text + "Total,,,0.2643\n\nTotal discharge: 0.2643\n"))
    filed = gauging_of(item).filed
    assert filed is not None and filed.discharge == 0.2643
    assert item.notes == ()


def test_a_total_that_is_only_rounded_in_its_second_place_is_no_contradiction(
    tmp_path: Path,
) -> None:
    """0.2643 under the products and "0.264" in the header are one total."""
    text = "Total discharge: 0.264\n" + f"{BASE},Q (m3/s)\n" + lines_of((*s, "") for s in SECTION)
    item = read_one(text_sheet(tmp_path, text + "Total,,,0.2643\n"))
    filed = gauging_of(item).filed
    assert filed is not None and filed.discharge == 0.2643


def test_the_verticals_that_make_the_difference_are_named(tmp_path: Path) -> None:
    """Where the rules part, the verticals are named in order of what they change."""
    products = by_width(to_next, EDGED)
    rows = [(*s, figure(q)) for s, q in zip(EDGED, products, strict=True)]
    item = read_one(text_sheet(tmp_path, f"{BASE},Q (m3/s)\n{lines_of(rows)}"))
    found = explained(item)
    differences = {
        float(s[0]): float(ours - filed)
        for s, ours, filed in zip(EDGED, by_width(half_widths, EDGED), products, strict=True)
    }
    assert {p.tape: p.difference_m3s for p in found.panels} == pytest.approx(differences, abs=1e-7)
    # By hand: (0.7-0.6)×0.2 = 0.02, (0.8-1.0)×0.12 = -0.024, (0.65-0.8)×0.0875 = -0.013125,
    # (0.8-0.6)×0.0375 = 0.0075, (0.4-0.5)×0.02 = -0.002: three make four fifths of 0.066625.
    assert (
        "the verticals at tape 2.4 (-0.024 m³/s), 1.8 (+0.020 m³/s) and 1 (-0.013 m³/s) make "
        "most of the difference"
    ) in told(item)[1]
    assert found.difference_m3s == pytest.approx(-0.011625, abs=1e-7)


def test_a_total_in_another_unit_than_its_products_is_kept_as_a_remark(tmp_path: Path) -> None:
    """Litres written below products in cubic feet are not read as cubic feet."""
    text = (
        "tape (ft),depth (ft),velocity (ft/s),Q (cfs)\n"
        "0,0,0,0\n2,1.2,0.9,2.16\n4,1.6,1.3,4.16\n6,1.0,0.8,1.60\n8,0,0,0\n"
        "Total,,,224.3 L/s\n"
    )
    item = read_one(text_sheet(tmp_path, text))
    assert "224.3" in (gauging_of(item).remarks or "")
    assert "in another unit than the products" in notes(item)
    filed = gauging_of(item).filed
    assert filed is None or filed.discharge is None
