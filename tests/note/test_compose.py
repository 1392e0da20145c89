"""What a measurement note says."""

import datetime
from typing import Any

import attrs
import pytest

from bankside.gauging.budget import Budget, BudgetPart
from bankside.gauging.checks.answers import key_of
from bankside.gauging.checks.finding import Finding, Severity, Suspect
from bankside.gauging.compute import EdgeRule, Method
from bankside.gauging.mean_stage import mean_stage
from bankside.gauging.records import (
    Answer,
    Channel,
    Gauging,
    PointReading,
    StageReading,
    Vertical,
)
from bankside.gauging.rule_sets.load import load_rule_set, rule_set_from_toml
from bankside.note.called_figures import with_figures
from bankside.note.compose import note_content
from bankside.note.content import Cell, NoteContent, Part, Table

from .gaugings import FEET, METRES, bare, channel, material, plain
from .odd_gaugings import ODD


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
    assert names >= {"Stream", "Site", "Position", "Started", "Ended", "Crew", "Meter"}
    assert names >= {"Calibrated", "Proofs", "All water passes", "Water level"}
    assert {value for _, value, is_open in facts(content) if is_open} == {"not recorded"}
    assert content.date.open and content.headline.quality.open
    assert content.stream == "Stream not recorded"
    assert content.map is None and content.day is None


def test_everything_of_the_header_is_there() -> None:
    """Where, when, who, with what and at which stage: nothing that was written is dropped."""
    content = note_content(material(plain()))
    found = {(name, value) for name, value, _ in facts(content)}

    assert (content.stream, content.site) == ("Quill Brook", "below the ford")
    assert content.date.value == "2026-07-14"
    assert found >= {
        ("Position", "45.6012° N, 1.2345° W, within 4 m"),
        ("Point", "QB-02"),
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


def test_a_duplicate_names_the_gauging_that_it_repeats() -> None:
    """Whoever reads the note of a duplicate finds the other one; any other says nothing of it."""
    repeated = note_content(material(attrs.evolve(plain(), repeats="QB-2026-013")))

    assert ("Duplicate of", "QB-2026-013", False) in facts(repeated)
    assert "Duplicate of" not in {name for name, _, _ in facts(note_content(material(plain())))}


def test_the_headline_gives_both_units_and_two_standard_uncertainties() -> None:
    """5 % of one standard uncertainty is ± 10 %, and a tenth of the discharge."""
    content = note_content(material(plain(FEET), findings=()))

    # Twice 0.0264 + 0.0798 + 0.15 + 0.2183 + 0.2772 + 0.3115 is 2.1264 ft³/s, by hand from depth,
    # 0.5 ft and velocity; a cubic foot is 0.0283168 m³.
    headline = content.headline
    assert (headline.discharge, headline.also) == ("2.13 ft³/s", "0.0602 m³/s")
    assert headline.uncertainty == "± 10 %"
    assert headline.uncertainty_basis.startswith("± 0.21 ft³/s: two standard uncertainties")
    assert (headline.quality.name, headline.quality.value) == ("Quality:", "good")


def test_in_metres_the_discharge_stands_once() -> None:
    """What is in m³/s already is not said again."""
    headline = note_content(material(plain(METRES))).headline

    assert (headline.discharge, headline.also) == ("2.13 m³/s", "")


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
    made = material(plain())
    found = table(note_content(made), "Findings of the checks")

    answered, unanswered = ([cell.text for cell in row] for row in found.rows)
    keys = [key_of(finding) for finding in made.findings]
    assert [row[1].lead for row in found.rows] == [
        f"{keys[0]}  Water too strong to wade",
        f"{keys[1]}  Deeper than wading work",
    ]
    assert answered == [
        "explain",
        "At tape 3 m depth times velocity is 0.67 m²/s, from 0.6 m²/s on. Let the leader decide.\n"
        "Answered: roped (I. Marrow, 10:05 (UTC-07:00))",
        "0.6 m²/s: Australian Rainfall & Runoff, book 6, ch. 7 (Cox et al. 2010): moderate hazard "
        "for adults from 0.6 m²/s on (from memory)",
    ]
    assert unanswered[0] == "stop\nnot answered"
    assert unanswered[2] == ""
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
    # One standard uncertainty, the interval of 68 % (the same by a published method), that of 95 %.
    assert [row[1].text for row in found.tables[0].totals] == ["5.0", "5.0", "10"]
    assert found.below == ("† from memory: nobody has checked it against the publication",)
    assert "pulsation of the velocity" in found.points[0]


def test_the_interval_of_two_thirds_is_the_model_s_own() -> None:
    """Beside that of 95 %; it is not one standard uncertainty, nor half of the other."""
    own = attrs.evolve(
        budget("between-verticals", 5.0), expanded_percent=9.1, two_thirds_percent=4.2
    )
    found = part(note_content(material(plain(), budgets=(own,))), "Uncertainty")

    assert [(row[0].text, row[1].text) for row in found.tables[0].totals] == [
        ("one standard uncertainty", "5.0"),
        ("within, about 2 in 3 (68 %)", "4.2"),
        ("within, about 19 in 20", "9.1"),
    ]


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
    words = cautions()

    assert "at 0.93 m²/s (10 ft²/s)" in words and "crew leader decide" in words


def cautions(limit: float | None = None) -> str:
    """The cautions of a note by a rule set in which nobody wades from this limit on, in ft²/s."""
    base = load_rule_set("common-practice")
    if limit is None:
        return part(note_content(material(bare(), rules=base)), "Wading can kill").sentences[0]
    stop = attrs.evolve(base["wade_product_stop"], value=limit, rule_set="ours")
    ours = attrs.evolve(base, name="ours", values={**base.values, "wade_product_stop": stop})
    return part(note_content(material(plain(FEET), rules=ours)), "Wading can kill").sentences[0]


def test_cautions_go_by_the_rule_set_in_force_but_never_laxer() -> None:
    """A crew that stays out at 6 ft²/s reads 6; one that would go to 20 reads 10."""
    assert "stay out at 6 ft²/s," in cautions(6)
    assert "stay out at 10 ft²/s," in cautions(20)


def finding(
    severity: Severity, *, suspect: Suspect | None = None, answered: bool = False
) -> Finding:
    """A finding of a severity, which doubts a reading or not, answered or not."""
    reason = Answer("Some check", "Found.", severity, "looked again") if answered else None
    return Finding("Some check", severity, "Found.", "Look.", suspect=suspect, answer=reason)


def test_an_unanswered_finding_keeps_a_figure_from_being_final() -> None:
    """Two stops and a thing to fix are counted under the figure; what was answered is not."""
    grave = (finding("stop"), finding("stop"), finding("fix now"), finding("explain"))
    done = (finding("stop", answered=True), finding("fix now", answered=True))

    unanswered = note_content(material(plain(), findings=(*grave, *done))).headline
    answered = note_content(material(plain(), findings=(*done, finding("note")))).headline
    accepted = (
        'Stop, "Some check", accepted by somebody unnamed',
        'Fix now, "Some check", accepted by somebody unnamed',
    )
    assert unanswered.warnings == (
        "Not a final figure: 2 stop, 1 fix now not answered",
        *accepted,
    )
    assert answered.warnings == accepted


@pytest.mark.parametrize(
    ("found", "told"),
    [
        (finding("stop"), False),
        (finding("explain", suspect=Suspect(3, "depth")), False),
        (finding("fix now"), True),
        (finding("stop", answered=True), True),
        (finding("fix now", suspect=Suspect(3, "depth"), answered=True), True),
    ],
)
def test_no_range_is_told_while_a_reading_is_in_doubt(found: Finding, told: bool) -> None:
    """A range around a slip would promise too much; the budget still stands in its table."""
    content = note_content(material(plain(), findings=(found,)))

    wanted = "± 10 %" if told else "± not told while a reading is in doubt"
    assert content.headline.uncertainty == wanted
    assert part(content, "Uncertainty").tables[0].totals[-1][1].text == "10"


def budget(key: Any, standard: float) -> Budget:
    """A budget by a method of this key."""
    return Budget(key, f"method {key}", (BudgetPart("verticals", standard, "told"),), standard)


ISO, SCATTER = "±\u00a0{}\u00a0% by ISO\u00a0748", "±\u00a0{}\u00a0% by interpolated\u00a0variance"
TWO = f"Two estimates, each about 19 in 20: {ISO}, {SCATTER}"
TURNED = f"Two estimates, each about 19 in 20: {SCATTER}, {ISO}"
"""No end of a line comes between a figure and its sign."""


@pytest.mark.parametrize(
    ("budgets", "headline"),
    [
        # 3.5 and 15 % are more than twice apart; 3.5 and 6.9 % are not.
        ((("iso-748", 3.5), ("interpolated-variance", 15)), TWO.format("7.0", "30")),
        ((("iso-748", 15), ("interpolated-variance", 3.5)), TURNED.format("7.0", "30")),
        ((("iso-748", 3.5), ("interpolated-variance", 6.9)), TWO.format("7.0", "14")),
        ((("iso-748", 3.5), ("interpolated-variance", 1.8)), "± 7.0 %"),
        ((("iso-748", 3.5), ("components", 1)), "± 7.0 %"),
        ((("interpolated-variance", 15), ("components", 1)), "± 30 %"),
        ((("components", 1),), "uncertainty not stated"),
    ],
)
def test_methods_far_apart_are_both_told(
    budgets: tuple[tuple[str, float], ...], headline: str
) -> None:
    """Two estimates stand each with its method, and cannot be read as one range of the discharge.

    ISO 748 alone misleads on a rough bed; components, a lower bound, are never told.
    """
    made = tuple(budget(key, standard) for key, standard in budgets)
    found = note_content(material(plain(), findings=(), budgets=made)).headline

    assert found.uncertainty == headline
    assert " to " not in found.uncertainty
    assert "method components" not in found.uncertainty_basis
    if headline.startswith("Two"):
        # 7 % of 2.1264 m³/s is 0.149.
        assert "± 0.15 m³/s by method" in found.uncertainty_basis
        larger = max(standard for _, standard in budgets)
        amount = {6.9: "0.29", 15: "0.64"}[larger]
        assert f"± {amount} m³/s by method" in found.uncertainty_basis
        assert "Each is two standard uncertainties" in found.uncertainty_basis


def test_more_than_the_discharge_is_told_as_an_amount() -> None:
    """120 % of 2.1264 m³/s is 2.55: no percent of what is left over stands in the headline."""
    made = (budget("between-verticals", 60.0),)
    found = note_content(material(plain(METRES), findings=(), budgets=made)).headline

    assert found.uncertainty == "± 2.6 m³/s"
    assert found.uncertainty_basis.startswith("more than the discharge itself")
    assert "%" not in found.uncertainty_basis.partition(":")[0]


def test_quality_words_and_the_range_are_told_apart() -> None:
    """Where a word is held against one standard uncertainty, the note says that ± is two."""
    rules = load_rule_set("common-practice")
    held = attrs.evolve(finding("explain"), thresholds=(rules["quality_good"],))
    with_word, without = (
        part(note_content(material(plain(), findings=(one,))), "Findings of the checks").below
        for one in (held, finding("explain"))
    )

    assert without == ()
    assert "one standard uncertainty; the ± beside the discharge is two" in with_word[0]


@pytest.mark.parametrize(
    ("method", "edge_rule", "words"),
    [
        ("mean-section", "half-width", "the mean-section method."),
        ("mid-section", "triangular", "the mid-section method, edges by the triangular rule."),
        ("mid-section", "half-width", None),
    ],
)
def test_findings_by_other_panels_say_so(
    method: Method, edge_rule: EdgeRule, words: str | None
) -> None:
    """Shares in the findings are those of mid-section panels, whatever the note is by."""
    below = part(note_content(material(plain(), method, edge_rule)), "Findings of the checks").below

    assert len(below) == (words is not None)
    assert words is None or below[0].endswith(f"the figures of this note are by {words}")


def test_a_threshold_of_the_rule_set_below_says_whose_it_is() -> None:
    """A publication does not seem to have said what common practice says."""
    base, after = load_rule_set("common-practice"), load_rule_set("after-usgs-tm-3-a8")
    one = attrs.evolve(finding("explain"), thresholds=(base["wade_product_stop"],))
    cells = [
        table(
            note_content(material(plain(), findings=(one,), rules=rules)), "Findings of the checks"
        )
        .rows[0][2]
        .text
        for rules in (base, after)
    ]

    assert cells[0].startswith("10 ft²/s: USGS and EPA")
    assert cells[1].startswith("10 ft²/s of common-practice: USGS and EPA")


def cut_short() -> Gauging:
    """A gauging that ends in the water: only the left edge was written."""
    return attrs.evolve(plain(), channels=(Channel(channel(12).verticals[:9]),))


def test_an_edge_that_was_not_measured_is_told() -> None:
    """Water beyond the last vertical is in no panel, so the figure is too small."""
    verticals = cut_short().channels[0].verticals
    sides = {
        "Right edge": verticals,
        "Both edges": verticals[1:],
        "One edge": (attrs.evolve(verticals[0], edge=None, bank=None), *verticals[1:]),
    }
    for words, left in sides.items():
        gauging = attrs.evolve(plain(), channels=(Channel(left),))
        warnings = note_content(material(gauging, findings=())).headline.warnings
        assert warnings == (f"{words} not measured: the figure is too small",)
    assert note_content(material(plain(), findings=())).headline.warnings == ()
    assert note_content(material(bare(), findings=())).headline.warnings == ()


def test_of_several_channels_the_one_without_its_edge_is_named() -> None:
    """Which channel has to be gone on with is told."""
    gauging = attrs.evolve(plain(), channels=(*cut_short().channels, channel(4, 20.0)))
    warnings = note_content(material(gauging, findings=())).headline.warnings

    assert warnings == ("Channel 1: right edge not measured: the figure is too small",)


def test_an_unfinished_gauging_says_so_first() -> None:
    """Nobody takes a figure from the middle of the stream for the whole."""
    warnings = note_content(material(cut_short(), findings=(), finished=False)).headline.warnings

    assert warnings[0] == "Unfinished: readings are still to come"
    assert len(warnings) == 2


def test_around_an_island_both_widths_are_told() -> None:
    """From 0 to 5 m with dry ground from 1.5 to 2.5 m: 5 m edge to edge, 4 m of it water."""
    content = note_content(material(ODD["island"], findings=()))
    found = table(content, "Verticals")

    width = [one.head for one in found.columns].index("width")
    assert float(found.totals[0][width].text) == 5
    assert "5 m edge to edge, 4 of it water" in part(content, "Verticals").below
    assert not any(
        "edge to edge" in line for line in part(note_content(material(plain())), "Verticals").below
    )


def test_a_mean_of_stages_has_one_decimal_more_than_they_have() -> None:
    """1.3, 1.3 and 1.4 ft have the mean 1.3333…: told as 1.33 ft."""
    stages = tuple(StageReading(value) for value in (1.3, 1.3, 1.4))
    gauging = attrs.evolve(plain(FEET), stage=stages)
    result = material(gauging).result
    found = note_content(material(gauging, mean_stage=mean_stage(gauging, result)))

    assert ("Mean gauge height", "1.33 ft", False) in facts(found)


@pytest.mark.parametrize(
    ("value", "words"),
    [(9.996, "10.0"), (12345.6, "12300"), (0.0602131, "0.0602"), (2.1264, "2.13"), (0.0, "0")],
)
def test_three_figures_are_three_figures(value: float, words: str) -> None:
    """Rounding up to the next power of ten adds no digit, and large figures claim none."""
    assert with_figures(value, 3) == words


def test_marks_follow_the_rule_set_in_force() -> None:
    """A page does not call a share "above the limit" and mark it by the aim of other rules."""
    own = rule_set_from_toml(
        'format = "bankside.rules/1"\nname = "alder"\ntitle = "Alder basin"\n[values]\n'
        'panel_share_aim = { value = 2, unit = "%", source = "us", confidence = "practice" }\n'
        'panel_share_limit = { value = 3, unit = "%", source = "us", confidence = "practice" }\n'
    )

    content = note_content(material(plain(), rules=own))

    assert "** above 3 % of the discharge, the limit for one panel" in str(content)
    assert "Crossed: above 3 %." in str(content) and "above 10 %" not in str(content)
