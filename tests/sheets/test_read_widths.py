"""Width columns and products beside readings: what they mean, and that they change nothing."""

from fractions import Fraction
from pathlib import Path

import pytest

from .building import (
    CUBIC_FOOT,
    SECTION,
    SECTION_DISCHARGE,
    discharge,
    explained,
    lines_of,
    mid_section,
    read_one,
    text_sheet,
    told,
)
from .filing import (
    BASE,
    EDGED,
    OWN_WIDTHS,
    by_width,
    figure,
    filed_sheet,
    from_last,
    full_ends,
    half_widths,
    to_next,
    total,
)

CLOSE = 1e-12


@pytest.mark.parametrize(
    ("widths", "meaning"),
    [
        (half_widths, "panel width"),
        (to_next, "distance to the next vertical"),
        (from_last, "distance from the last vertical"),
        (full_ends, "panel width with a full cell at the edges"),
    ],
)
def test_what_a_width_column_means(tmp_path: Path, widths: object, meaning: str) -> None:
    """Three habits and a fourth fill a width column; the tape tells which, and it is said."""
    found_widths = [figure(w, 3) for w in widths(EDGED)]  # type: ignore[operator]
    products = [
        figure(Fraction(w) * Fraction(d) * Fraction(v))
        for w, (_, d, v) in zip(found_widths, EDGED, strict=True)
    ]
    rows = [(*s, w, q) for s, w, q in zip(EDGED, found_widths, products, strict=True)]
    item = read_one(text_sheet(tmp_path, f"{BASE},width (m),Q (m3/s)\n{lines_of(rows)}"))
    assert explained(item).widths == (meaning,)
    assert any(f"widths are the {meaning}" in s for s in told(item))
    assert discharge(item) == pytest.approx(float(mid_section(EDGED)), rel=CLOSE)


def test_widths_that_fit_no_meaning(tmp_path: Path) -> None:
    """Widths of the sheet's own are used for nothing but to explain the sheet's products."""
    text = filed_sheet("the sheet's own widths", "m3/s", products=True, totals=True)
    item = read_one(text_sheet(tmp_path, text))
    assert explained(item).widths == ()
    assert explained(item).rule == "the sheet's own widths"
    assert discharge(item) == pytest.approx(float(mid_section(EDGED)), rel=CLOSE)


def test_equal_spacing_does_not_tell_two_meanings_apart(tmp_path: Path) -> None:
    """With equal gaps and no width on the last row two meanings remain, and both are named."""
    rows = [
        ("0", "0", "0", "1"),
        ("1", "0.3", "0.2", "1"),
        ("2", "0.4", "0.3", "1"),
        ("3", "0.2", "0.1", "1"),
        ("4", "0", "0", ""),
    ]
    text = f"{BASE},width (m),Q (m3/s)\n" + lines_of(
        (*row, figure(Fraction(row[1]) * Fraction(row[2]))) for row in rows
    )
    item = read_one(text_sheet(tmp_path, text))
    found = explained(item)
    assert "distance to the next vertical" in found.widths and len(found.widths) > 1
    assert any("the spacing does not tell which" in s for s in told(item))
    assert found.rule == "mid-section"
    assert "distance to next vertical" in found.also


def test_a_width_column_changes_no_discharge(tmp_path: Path) -> None:
    """Wrong widths and right widths give one and the same discharge."""
    for widths in (OWN_WIDTHS, ["1"] * 7, ["", "0.5", "", "", "9", "", ""]):
        rows = [(*s, w) for s, w in zip(EDGED, widths, strict=True)]
        item = read_one(text_sheet(tmp_path, f"{BASE},width (m)\n{lines_of(rows)}"))
        assert discharge(item) == pytest.approx(float(mid_section(EDGED)), rel=CLOSE)


def test_text_among_the_products_is_no_fault(tmp_path: Path) -> None:
    """Nothing hangs on a filed product: a word in its column refuses no gauging."""
    rows = [(*s, q) for s, q in zip(SECTION, ("", "n.m.", "0.1197", "?", "", ""), strict=True)]
    item = read_one(text_sheet(tmp_path, f"{BASE},Q (m3/s)\n{lines_of(rows)}"))
    assert discharge(item) == pytest.approx(SECTION_DISCHARGE, rel=CLOSE)


def test_feet_with_a_silent_discharge_column(tmp_path: Path) -> None:
    """On a sheet in feet a silent column of discharges is in cubic feet a second."""
    filed = total(by_width(half_widths, EDGED))
    rows = [(*s, figure(q)) for s, q in zip(EDGED, by_width(half_widths, EDGED), strict=True)]
    text = f"tape (ft),depth (ft),velocity (ft/s),Q\n{lines_of(rows)}Total,,,{figure(filed)}\n"
    found = explained(read_one(text_sheet(tmp_path, text)))
    assert (found.rule, found.unit) == ("mid-section", "ft3/s")
    assert found.discharge_m3s == pytest.approx(float(filed * CUBIC_FOOT), rel=1e-6)


def test_a_sounding_counts_as_zero_velocity_in_the_filed_products(tmp_path: Path) -> None:
    """A spreadsheet multiplies a blank velocity by nothing: its rule is found all the same."""
    stations = [(x, d, "" if x == "1.8" else v) for x, d, v in EDGED]
    as_filed = [(x, d, v or "0") for x, d, v in stations]
    products = by_width(half_widths, as_filed)
    rows = [(*s, figure(q)) for s, q in zip(stations, products, strict=True)]
    item = read_one(text_sheet(tmp_path, f"{BASE},Q (m3/s)\n{lines_of(rows)}"))
    found = explained(item)
    assert found.rule == "mid-section"
    between = Fraction("0.25") + (Fraction("0.30") - Fraction("0.25")) * Fraction(8, 14)
    extra = Fraction("0.7") * Fraction("0.50") * between
    assert found.difference_m3s == pytest.approx(float(extra), abs=1e-7)
    assert found.unread == (1.8,)
    assert "count a velocity of zero at tape 1.8, where there is water" in " ".join(told(item))
    # (0.098 of ours) / 0.190875 filed is half as much again.
    assert "gives 0.2884 m³/s, 51 % more" in told(item)[1]
