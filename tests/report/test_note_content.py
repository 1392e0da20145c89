"""What a measurement note says."""

import datetime

import attrs
import pytest

from bankside.gauging.mean_stage import mean_stage
from bankside.gauging.records import Answer, Channel, PointReading, Vertical
from bankside.report.content import Cell, NoteContent, Part, Table
from bankside.report.note import note_content

from .gaugings import FEET, METRES, bare, channel, material, plain


def part(content: NoteContent, title: str) -> Part:
    """The part under a title."""
    return next(one for one in content.parts if one.title == title)


def table(content: NoteContent, title: str, number: int = 0) -> Table:
    """A table of a part."""
    return part(content, title).tables[number]


def column(found: Table, head: str) -> list[str]:
    """The cells under a head, from the first row to the last."""
    place = [one.head for one in found.columns].index(head)
    return [row[place].text for row in found.rows]


def facts(content: NoteContent) -> list[tuple[str, str, bool]]:
    """All facts of the head of the note: name, value, and whether it is open."""
    return [(f.name, f.value, f.open) for group in content.groups for f in group.facts]


def test_what_nobody_wrote_down_is_shown_as_open() -> None:
    """A gap in the header stays visible, to be filled in by hand."""
    content = note_content(material(bare()))

    names = {name for name, value, is_open in facts(content) if is_open}
    assert names >= {"Stream", "Site", "Position", "Date", "Started", "Crew", "Meter"}
    assert names >= {"Calibrated", "Proofs", "All water passes", "Water level"}
    assert {value for _, value, is_open in facts(content) if is_open} == {"not recorded"}
    assert content.date.open and content.headline.quality.open
    assert content.stream == "Stream not recorded"
    assert content.map is None and content.day is None


def test_everything_of_the_header_is_there() -> None:
    """Where, when, who, with what and at which stage: nothing that was written is dropped."""
    found = {(name, value) for name, value, _ in facts(note_content(material(plain())))}

    assert found >= {
        ("Stream", "Quill Brook"),
        ("Site", "below the ford"),
        ("Position", "45.6012° N, 1.2345° W, within 4 m"),
        ("Point", "QB-02"),
        ("Date", "2026-07-14"),
        ("Started", "10:05 (UTC-07:00)"),
        ("Ended", "10:52 (UTC-07:00)"),
        ("Crew", "I. Marrow (leader)"),
        ("Crew", "T. Quayle (rod)"),
        ("Meter", "rotating element"),
        ("Serial number", "P-12"),
        ("Rotor", "small"),
        ("Rating", "v = 0.25 n + 0.01 up to n = 1.2\nv = 0.26 n - 0.002\n(v in m/s, n in rev/s)"),
        ("Calibrated", "2026-01-09"),
        ("Calibration due", "2027-01-09"),
        ("Proofs", "spin before: 95 s\nspin after: 88 s"),
        ("10:05 (UTC-07:00)", "0.412 m"),
        ("10:52 (UTC-07:00)", "0.41 m"),
        ("All water passes", "yes"),
    }


def test_the_headline_gives_both_units_and_two_standard_uncertainties() -> None:
    """5 % of one standard uncertainty is ± 10 %, and a tenth of the discharge."""
    content = note_content(material(plain(FEET)))

    # Twice 0.0264 + 0.0798 + 0.15 + 0.2183 + 0.2772 + 0.3115 is 2.1264 ft³/s, by hand from depth,
    # 0.5 ft and velocity; a cubic foot is 0.0283168 m³.
    headline = content.headline
    assert (headline.discharge, headline.also) == ("2.126 ft³/s", "0.06021 m³/s")
    assert headline.uncertainty == "± 10 %"
    assert headline.uncertainty_basis.startswith("± 0.21 ft³/s: two standard uncertainties")
    assert (headline.quality.name, headline.quality.value) == ("The crew holds it", "good")


def test_in_metres_the_discharge_stands_once() -> None:
    """What is in m³/s already is not said again."""
    headline = note_content(material(plain(METRES))).headline

    assert (headline.discharge, headline.also) == ("2.126 m³/s", "")


def test_without_a_budget_the_headline_says_why() -> None:
    """No figure is made up where a method refuses."""
    why = "No uncertainty can be given in percent: the discharge is 0."
    content = note_content(material(plain(), budgets=(), budget_refusals=(why,)))

    assert content.headline.uncertainty == "uncertainty not stated"
    assert content.headline.uncertainty_basis == why
    assert part(content, "Uncertainty").sentences == (why,)


def test_a_row_holds_what_was_called_and_what_it_comes_to() -> None:
    """The panel at tape 3 m: 0.5 m wide, 0.74 m deep, 0.59 m/s, so 0.37 m² and 0.2183 m³/s."""
    found = table(note_content(material(plain())), "Verticals")

    heads = [one.head for one in found.columns]
    assert heads == [
        *("tape", "depth", "at", "read", "time", "mean velocity"),
        *("width", "area", "discharge", "share", "notes"),
    ]
    row = [cell.text for cell in found.rows[4]]
    assert row[:6] == ["3.0", "0.74", "0.6", "0.59", "40", "0.590"]
    assert row[6:9] == ["0.50", "0.3700", "0.2183"]
    # 0.2183 of 2.126 is 10.27 %.
    assert found.rows[4][9] == Cell("** 10.3", "strong")
    assert [cell.text for cell in found.totals[0]][:1] == ["total"]
    assert [cell.text for cell in found.totals[0]][6:10] == ["6.5", "3.710", "2.126", "100.0"]
    assert column(found, "notes")[0] == "left edge, sloping"


def test_readings_keep_every_decimal_and_each_its_line() -> None:
    """Nothing called is rounded; readings at several depths stand under one another."""
    first, second, *others = channel(5).verticals
    read = (PointReading(0.31255, 0.2, seconds=41.5), PointReading(0.2, 0.8))
    odd = attrs.evolve(second, tape=1.23456, depth=0.4567, velocity=read, angle=12.5)
    gauging = attrs.evolve(plain(), channels=(Channel((first, odd, *others)),))
    found = table(note_content(material(gauging)), "Verticals")

    assert column(found, "tape")[1] == "1.23456"
    assert column(found, "depth")[1] == "0.4567"
    assert column(found, "at")[1] == "0.2\n0.8"
    assert column(found, "read")[1] == "0.31255\n0.20000"
    assert column(found, "time")[1] == "41.5\n"
    assert column(found, "angle")[1] == "12.5°"


def test_counts_of_a_rotating_meter_stand_in_their_own_column() -> None:
    """What was counted is shown as counted."""
    counted = tuple(
        attrs.evolve(v, velocity=(PointReading(None, 0.6, seconds=40, counts=25),))
        if v.depth
        else v
        for v in channel(5).verticals
    )
    gauging = attrs.evolve(plain(), channels=(Channel(counted),))
    found = table(note_content(material(gauging)), "Verticals")

    assert column(found, "turns")[1] == "25"
    assert "read" not in [one.head for one in found.columns]


def test_a_dry_vertical_and_a_remark_are_told() -> None:
    """An island inside a channel reads "dry", and the crew's words stand beside it."""
    verticals = list(channel(5).verticals)
    verticals[3] = Vertical(tape=verticals[3].tape, dry=True, remark="gravel bar")
    gauging = attrs.evolve(plain(), channels=(Channel(tuple(verticals)),))
    found = table(note_content(material(gauging)), "Verticals")

    assert column(found, "depth")[3] == "dry"
    assert column(found, "notes")[3] == "dry; gravel bar"


def test_by_mean_section_a_row_says_how_far_its_panel_reaches() -> None:
    """A panel lies between two verticals; the last vertical begins none."""
    found = table(note_content(material(plain(), "mean-section")), "Verticals")

    assert column(found, "panel to")[:2] == ["1.5", "2.0"]
    assert column(found, "panel to")[-1] == column(found, "discharge")[-1] == ""


def test_each_channel_has_its_table_and_shares_add_up() -> None:
    """Two channels, two tables; what they carry adds up to the whole."""
    gauging = attrs.evolve(plain(), channels=(channel(9), channel(4, 20.0)))
    content = note_content(material(gauging))

    tables = part(content, "Verticals").tables
    assert [one.name for one in tables] == ["Channel 1", "Channel 2"]
    shares = [float(one.totals[0][9].text) for one in tables]
    assert sum(shares) == pytest.approx(100.0, abs=0.11)
    assert len(part(content, "Section").pictures) == 1


def test_findings_come_with_rule_and_answer() -> None:
    """Severity, what was found, what to do, by whose rule, and what the crew said to it."""
    found = table(note_content(material(plain())), "Findings of the checks")

    answered, unanswered = ([cell.text for cell in row] for row in found.rows)
    assert answered == [
        "explain",
        "At tape 3 m depth times velocity is 0.67 m²/s, from 7 ft²/s on. Let the leader decide.\n"
        "Answered: roped (I. Marrow, 10:05 (UTC-07:00))",
        "7 ft²/s: common practice, no source",
    ]
    assert unanswered[0] == "stop\nnot answered"
    assert found.rows[1][0].kind == "strong"


def test_no_findings_and_no_checks_are_two_things() -> None:
    """Silence is not taken for a clean bill."""
    clean = note_content(material(plain(), findings=()))
    unchecked = note_content(material(plain(), findings=(), rules=None))

    assert part(clean, "Findings of the checks").sentences == ("The checks found nothing.",)
    assert "Findings of the checks" not in [one.title for one in unchecked.parts]


def test_an_answer_to_what_is_found_no_more_is_still_told() -> None:
    """Nothing that the crew wrote is lost when the readings change."""
    answer = Answer("Deeper than wading work", "Deep at tape 9 m.", "stop", "held by a rope")
    gauging = attrs.evolve(plain(), answers=(answer,))
    points = part(note_content(material(gauging)), "Findings of the checks").points

    assert points == ('No longer found: "Deep at tape 9 m." It was answered: held by a rope',)


def test_a_correction_keeps_the_old_figure() -> None:
    """The figure struck through can be read, with what stands there now, why, by whom, when."""
    found = table(note_content(material(plain())), "Corrections")

    assert [cell.text for cell in found.rows[0]] == [
        *("depth at tape 3.5 m", "8.3", "0.83", "decimal slipped", "J. Ostrander"),
        "10:05 (UTC-07:00)",
    ]
    assert found.rows[0][1].kind == "struck"
    assert [cell.text for cell in found.rows[1]][2:] == ["taken out", *["not recorded"] * 3]


def test_uncertainty_marks_what_is_from_memory_and_what_is_left_out() -> None:
    """A figure that nobody checked carries a sign, and the sign is explained."""
    found = part(note_content(material(plain())), "Uncertainty")

    assert [[cell.text for cell in row] for row in found.tables[0].rows] == [
        ["verticals", "3.0 †"],
        ["depth", "4.0"],
    ]
    assert [row[1].text for row in found.tables[0].totals] == ["5.0", "10"]
    assert found.below == ("† from memory: nobody has checked it against the publication",)
    assert "pulsation of the velocity" in found.points[0]


def test_filed_total_notes_remarks_and_rules_are_there() -> None:
    """What explains the figure comes with it: filed total, assumptions, remarks, rule set."""
    content = note_content(
        material(
            plain(), filed=("The filed total, 2 m³/s, is nothing known.",), sheet_notes=("N.",)
        )
    )

    assert part(content, "The total that was filed").sentences[0].startswith("The filed total")
    assert part(content, "What was assumed").points[0] == "N."
    assert part(content, "Remarks").sentences == ("Light wind upstream.",)
    worked_out = " ".join(part(content, "How it was worked out").sentences)
    assert "Mid-section method, edges by the half-width rule; version 1" in worked_out
    assert "Rule set common-practice" in worked_out
    assert "QB-2026-014" in worked_out


def test_the_mean_gauge_height_stands_with_the_stage() -> None:
    """0.412 and 0.410 m at the ends of a steady change: 0.411 m by time."""
    gauging = plain()
    usual = material(gauging)
    found = note_content(material(gauging, mean_stage=mean_stage(gauging, usual.result)))

    assert ("Mean gauge height", "0.411 m", False) in facts(found)
    assert any("mean gauge height" in p for p in part(found, "What was assumed").points)


def test_a_time_on_another_day_says_its_day() -> None:
    """A gauging that ends after midnight is not taken for one that ends before it began."""
    late = plain().started
    assert late is not None
    gauging = attrs.evolve(plain(), ended=late + datetime.timedelta(hours=15))

    assert ("Ended", "2026-07-15 01:05 (UTC-07:00)", False) in facts(
        note_content(material(gauging))
    )


def test_cautions_are_on_every_note() -> None:
    """Wading can kill, and the program decides nothing."""
    words = " ".join(part(note_content(material(bare())), "Wading can kill").sentences)

    assert "10 ft²/s" in words and "crew leader decide" in words
