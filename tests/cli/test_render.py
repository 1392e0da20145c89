"""The discharge table: fixed results in, lines of text out."""

import io
from collections.abc import Sequence
from datetime import UTC, date, datetime

import pytest
from rich.console import Console

from bankside.cli.render import render_result, safe_text
from bankside.gauging.compute import compute
from bankside.gauging.records import (
    Channel,
    Gauging,
    PointReading,
    Site,
    Units,
    Vertical,
)
from bankside.gauging.result import Result

FEET = Units(length="ft", velocity="ft/s")
METRES = Units(length="m", velocity="m/s")
CENTIMETRES = Units(length="m", velocity="cm/s", depth="cm")


def printed(
    gauging: Gauging,
    result: Result,
    filed: Sequence[str] = (),
    *,
    width: int = 80,
    colours: bool = False,
) -> list[str]:
    """The lines that come out, without the blanks at their ends."""
    file = io.StringIO()
    console = Console(
        file=file,
        width=width,
        force_terminal=colours,
        color_system="truecolor" if colours else None,
        legacy_windows=False,
    )
    render_result(console, gauging, result, filed)
    return [line.rstrip() for line in file.getvalue().splitlines()]


def computed(gauging: Gauging) -> list[str]:
    """The lines for a gauging by the mid-section method."""
    return printed(gauging, compute(gauging))


def at(tape: float, depth: float, velocity: float, fraction: float | None = None) -> Vertical:
    """A vertical with one velocity."""
    return Vertical(tape=tape, depth=depth, velocity=(PointReading(velocity, fraction),))


def gauging_of(units: Units, *verticals: Vertical, site: Site = Site()) -> Gauging:  # noqa: B008
    """A gauging of one channel between two sloping edges."""
    return Gauging(units=units, channels=(Channel(verticals=verticals),), site=site)


def edge(bank: str, tape: float) -> Vertical:
    """Where the water ends on a sloping bank."""
    return Vertical(tape=tape, depth=0.0, edge=bank, bank="sloping")  # type: ignore[arg-type]


# Five panels whose shares are 4, 8, 8, 40 and 40 %: widths of 1 ft, total 5 ft³/s.
SHARES = gauging_of(
    FEET,
    edge("left", 2.0),
    at(3.0, 0.5, 0.4),
    at(4.0, 0.5, 0.8),
    at(5.0, 0.8, 0.5),
    at(6.0, 1.25, 1.6),
    at(7.0, 2.0, 1.0),
    edge("right", 8.0),
    site=Site(stream="Alder Fork", name="above the footbridge"),
)


def test_the_table_on_paper() -> None:
    """One row a panel, units in the heads, decimals under one another, large shares marked."""
    assert computed(SHARES)[:17] == [
        "Alder Fork, above the footbridge",
        "",
        "tape  depth  velocity  width   area  discharge  share    velocity",
        "(ft)   (ft)    (ft/s)   (ft)  (ft²)    (ft³/s)  (%)      from",
        "─────────────────────────────────────────────────────────────────",
        "   2   0.00     0.000    0.5  0.000      0.000   0.0     edge",
        "   3   0.50     0.400    1.0  0.500      0.200   4.0",
        "   4   0.50     0.800    1.0  0.500      0.400   8.0 *",
        "   5   0.80     0.500    1.0  0.800      0.400   8.0 *",
        "   6   1.25     1.600    1.0  1.250      2.000  40.0 **",
        "   7   2.00     1.000    1.0  2.000      2.000  40.0 **",
        "   8   0.00     0.000    0.5  0.000      0.000   0.0     edge",
        "",
        "** above 10 % of the discharge, the limit for one panel",
        "*  above 5 % of the discharge, the aim for one panel",
        "",
        "Discharge         5.000 ft³/s  =  0.1416 m³/s",
    ]


def test_the_totals_below_the_table() -> None:
    """Area, width, means and perimeter in the called units; method and edge rule by name."""
    lines = computed(SHARES)

    # 5.05 ft² over 6 ft; bed lengths 1.1180, 1, 1.0440, 1.0966, 1.25 and 2.2361 by Pythagoras.
    assert lines[17:] == [
        "Area              5.050 ft²",
        "Width             6 ft",
        "Mean depth        0.8417 ft",
        "Mean velocity     0.9901 ft/s",
        "Wetted perimeter  7.745 ft",
        "Method            mid-section method, edges by the half-width rule",
    ]


def test_the_triangular_rule_is_named() -> None:
    """The edge rule changes totals, so it stands beside them."""
    lines = printed(SHARES, compute(SHARES, edge_rule="triangular"))

    assert "Method            mid-section method, edges by the triangular rule" in lines


def test_the_mean_section_method_has_a_second_tape_column() -> None:
    """Panels between verticals say where they end, and no edge rule is named."""
    lines = printed(SHARES, compute(SHARES, method="mean-section"))

    assert lines[2].split()[:3] == ["tape", "to", "depth"]
    assert lines[5].split()[:2] == ["2", "3"]
    assert lines[-1] == "Method            mean-section method"


def test_metres_stand_once() -> None:
    """Readings in metres need no second discharge."""
    lines = computed(gauging_of(METRES, edge("left", 0.0), at(1.0, 0.5, 0.3), edge("right", 2.0)))

    assert lines[3].split() == ["(m)", "(m)", "(m/s)", "(m)", "(m²)", "(m³/s)", "(%)", "from"]
    assert "Discharge         0.1500 m³/s" in lines


def test_depths_in_centimetres_stay_in_centimetres() -> None:
    """A tape in metres, depths in cm and velocities in cm/s are shown as they were called."""
    gauging = gauging_of(CENTIMETRES, edge("left", 0.1), at(0.4, 12.5, 31), edge("right", 0.8))
    lines = computed(gauging)

    assert lines[3].split()[:3] == ["(m)", "(cm)", "(cm/s)"]
    assert lines[6].split()[:4] == ["0.4", "12.5", "31.0", "0.35"]
    assert any(line.startswith("Mean depth        6.250 cm") for line in lines)


@pytest.mark.parametrize(("length", "area"), [("in", "(ft²)"), ("mm", "(m²)"), ("cm", "(m²)")])
def test_areas_and_discharges_are_in_feet_or_metres(length: str, area: str) -> None:
    """Inches make square feet and cubic feet, everything metric makes metres."""
    units = Units(length=length, velocity="ft/s")  # type: ignore[arg-type]
    lines = computed(gauging_of(units, edge("left", 0.0), at(12.0, 6.0, 1.0), edge("right", 24.0)))

    assert lines[3].split()[0] == f"({length})"
    assert area in lines[3]


def test_inches_come_to_the_same_water_as_feet() -> None:
    """12 in by 6 in at 1 ft/s is half a cubic foot a second."""
    units = Units(length="in", velocity="ft/s")
    lines = computed(gauging_of(units, edge("left", 0.0), at(12.0, 6.0, 1.0), edge("right", 24.0)))

    assert any(line.startswith("Discharge         0.5000 ft³/s") for line in lines)


def test_how_a_velocity_came_about() -> None:
    """The usual way is said once; the rows that differ say so themselves."""
    gauging = gauging_of(
        FEET,
        edge("left", 0.0),
        at(1.0, 0.4, 0.5, 0.6),
        at(2.0, 0.6, 0.7, 0.6),
        at(3.0, 0.6, 0.7, 0.6),
        Vertical(tape=4.0, depth=0.7),
        at(5.0, 0.5, 0.6, 0.6),
        at(6.0, 0.5, 0.6, 0.6),
        at(7.0, 0.5, 0.6, 0.6),
        edge("right", 8.0),
    )
    lines = computed(gauging)
    rows = {line.split()[0]: line for line in lines[5:14]}

    assert rows["4"].endswith("interpolated")
    assert rows["0"].endswith("edge")
    assert rows["1"].endswith("*")
    assert "Where nothing stands under velocity from: one point 0.6" in lines


def test_notes_and_filed_figures_stand_in_full() -> None:
    """Every assumption is printed, wrapped under its own beginning and never cut."""
    gauging = gauging_of(FEET, at(0.4, 0.5, 0.5), at(1.0, 0.8, 0.9), edge("right", 2.0))
    result = compute(gauging)
    lines = printed(gauging, result, ["The sheet carries 0.55 ft³/s."])
    text = " ".join(line.strip() for line in lines)

    assert result.notes
    assert all(f"- {note}" in text for note in result.notes)
    assert lines.index("The sheet carries 0.55 ft³/s.") < lines.index("Notes")


def test_every_channel_has_its_table() -> None:
    """Channels are told apart by number and name, with what each carries."""
    left = Channel(verticals=(edge("left", 0.0), at(1.0, 1.0, 1.0), edge("right", 2.0)))
    right = Channel(
        verticals=(edge("left", 5.0), at(7.0, 1.0, 2.0), edge("right", 9.0)), name="side channel"
    )
    lines = computed(Gauging(units=FEET, channels=(left, right)))

    assert "Channel 1: 1.000 ft³/s" in lines
    assert "Channel 2, side channel: 4.000 ft³/s" in lines
    assert "Discharge         5.000 ft³/s  =  0.1416 m³/s" in lines
    assert sum(line.startswith("** above 10 %") for line in lines) == 1


def test_water_that_runs_upstream_keeps_its_sign() -> None:
    """A backward panel has a negative share, and is marked by its amount."""
    gauging = gauging_of(
        FEET, edge("left", 0.0), at(1.0, 1.0, -0.5), at(2.0, 1.0, 1.5), edge("right", 3.0)
    )
    row = next(line for line in computed(gauging) if line.startswith("   1"))

    assert row.split() == ["1", "1", "-0.500", "1.0", "1.000", "-0.500", "-50.0", "**"]


def test_nothing_has_no_sign() -> None:
    """A velocity too small to be shown is not shown as minus nothing."""
    gauging = gauging_of(
        FEET, edge("left", 0.0), at(1.0, 1.0, -0.0001), at(2.0, 1.0, 1.5), edge("right", 3.0)
    )

    assert not any("-0.0" in line for line in computed(gauging))


def test_no_total_means_no_shares() -> None:
    """Where all water stands still, shares are empty and the totals are there."""
    lines = computed(gauging_of(FEET, edge("left", 0.0), at(1.0, 1.0, 0.0), edge("right", 2.0)))

    assert "Discharge         0 ft³/s  =  0 m³/s" in lines
    assert not any("**" in line for line in lines)


def test_a_dry_section_has_no_means() -> None:
    """Without water there is no mean depth and no mean velocity to show."""
    lines = computed(gauging_of(FEET, edge("left", 0.0), edge("right", 2.0)))

    assert "Discharge         0 ft³/s  =  0 m³/s" in lines
    assert not any(line.startswith(("Mean depth", "Mean velocity")) for line in lines)


@pytest.mark.parametrize(
    ("gauging", "title"),
    [
        (Gauging(FEET, SHARES.channels), "Gauging without a name"),
        (Gauging(FEET, SHARES.channels, date=date(2026, 7, 14)), "2026-07-14"),
        (
            Gauging(
                FEET,
                SHARES.channels,
                site=Site(stream="Alder Fork"),
                started=datetime(2026, 7, 14, 10, 5, tzinfo=UTC),
            ),
            "Alder Fork, 2026-07-14",
        ),
    ],
)
def test_the_title_says_what_is_known(gauging: Gauging, title: str) -> None:
    """Stream, place and day head the table as far as the record has them."""
    assert computed(gauging)[0] == title


@pytest.mark.parametrize("width", [40, 60, 80, 200])
def test_no_width_cuts_a_figure(width: int) -> None:
    """On a narrow screen lines run on; the rows are the same at every width."""
    result = compute(SHARES, method="mean-section")
    narrow = printed(SHARES, result, width=width)
    wide = printed(SHARES, result, width=200)

    def figures(lines: list[str]) -> list[list[str]]:
        return [line.split()[:8] for line in lines if line[:4].strip().isdigit()]

    assert len(figures(narrow)) == 6
    assert figures(narrow) == figures(wide)
    assert sorted(" ".join(narrow).split()) == sorted(
        word if set(word) != {"─"} else narrow[4] for word in " ".join(wide).split()
    )


def test_a_pipe_gets_no_colours_and_a_terminal_no_other_words() -> None:
    """Weight is the only thing that a terminal adds, so nobody has to see colours."""
    result = compute(SHARES)
    plain = printed(SHARES, result)
    styled = printed(SHARES, result, colours=True)

    assert not any("\x1b" in line for line in plain)
    assert any("\x1b[1m" in line for line in styled)
    unstyled = [line.replace("\x1b[1m", "").replace("\x1b[0m", "").rstrip() for line in styled]
    assert unstyled == plain


def test_an_old_code_page_takes_every_character() -> None:
    """A file in Western code page 1252 holds the table, with plain lines."""
    raw = io.BytesIO()
    file = io.TextIOWrapper(raw, encoding="cp1252", newline="\n")
    gauging = gauging_of(FEET, at(0.4, 0.5, 0.5), at(1.0, 0.8, 0.9), edge("right", 2.0))
    render_result(Console(file=file, width=80), gauging, compute(gauging))
    file.flush()

    assert "ft³/s" in raw.getvalue().decode("cp1252")


def test_names_are_printed_as_they_are() -> None:
    """Brackets and colons in a name are no markup, and nothing in it steers the terminal."""
    site = Site(stream="[red]Alder[/red] :wave:", name="here\x1b[31m\rthere")
    gauging = gauging_of(FEET, edge("left", 0.0), at(1.0, 1.0, 1.0), edge("right", 2.0), site=site)

    assert computed(gauging)[0] == "[red]Alder[/red] :wave:, here [31m there"
    assert safe_text("a\x1b\x07b").plain == "a  b"
