"""What the report of a survey says: every figure counted again, or put together by hand."""

import re
from collections.abc import Iterator

import attrs
import pytest

from bankside.gauging.budget import Budget, BudgetPart
from bankside.gauging.checks.quality import deciding_budget
from bankside.gauging.compute import compute
from bankside.gauging.records import Meter, MeterCheck, Site
from bankside.note.compose import note_content
from bankside.note.content import Part, Table
from bankside.report.survey.compose import compose_survey
from bankside.report.survey.content import SurveyContent
from bankside.report.survey.data_comparisons import survey_tables
from bankside.report.survey.exceptions_part import exceptions_of
from bankside.report.survey.material import SurveyMaterial, gather_survey
from bankside.report.survey.method_part import method_part
from bankside.report.survey.numbering import in_order
from bankside.survey.records import Balance
from bankside.survey.summary import open_findings

from ...survey.building import BROOK, DAY, DRY, LOWER, SURVEY, UPPER, gauging
from .surveys import demo_handed, demo_material, demo_survey, small, three


def said(material: SurveyMaterial) -> SurveyContent:
    """Everything that the report says."""
    return compose_survey(material).content


def part(content: SurveyContent, title: str) -> Part:
    """The part under a title."""
    return next(one for one in content.parts if one.title == title)


def rows(table: Table) -> list[list[str]]:
    """The texts of a table."""
    return [[cell.text for cell in row] for row in table.rows]


def plain(text: str) -> str:
    """A text with spaces at which a line may break in the place of those that hold together."""
    return text.replace("\N{NO-BREAK SPACE}", " ")


def summary() -> Iterator[dict[str, str]]:
    """The rows of the summary of the demonstration, by the heads of its columns."""
    table = part(said(demo_material()), "Summary").tables[0]
    heads = [f"{column.head} {column.unit}".strip() for column in table.columns]
    for row in rows(table):
        yield dict(zip(heads, row, strict=True))


def test_the_parts_stand_in_their_order() -> None:
    """What is read first comes first, and the notes come last."""
    content = said(demo_material())

    assert [one.title for one in content.parts] == [
        "Summary",
        "Map",
        "Sections",
        "Quality and uncertainty",
        "Duplicates",
        "Balances, gain and loss",
        "Discharge for each area",
        "Exceptions",
        "Method",
        "Wading can kill",
    ]
    assert content.name == "Marrowmere basin, low water of summer 2026"
    done = {fact.name: fact.value for fact in content.groups[1].facts}
    assert (done["Gaugings"], done["With a discharge"]) == ("27, 27 planned", "26")
    assert done["Sites"] == "18 of 19 planned were visited"
    assert content.season.value == "2026-07-20 to 2026-07-29"
    assert len(content.notes) == 27


def test_the_summary_follows_the_water_and_numbers_its_notes() -> None:
    """Sorrel Burn from its source down, then Mere Water, the tributaries before what is below."""
    table = list(summary())

    sites = list(dict.fromkeys(row["site"] for row in table))
    assert (
        sites
        == (
            "SB-03 SB-02 SB-01 MW-05 AF-02 TB-02 TB-01 AF-03 AF-01 MW-04 MW-03 QB-01 TR-02 TR-01 "
            "QB-02 QL-01 QB-03 MW-02 MW-01"
        ).split()
    )
    numbers = [int(row["note"]) for row in table if row["note"]]
    assert numbers == list(range(1, 28))
    kinds = [note.kind for note in said(demo_material()).notes]
    assert [re.match(r"Note (\d+)", kind)[1] for kind in kinds] == [str(n) for n in numbers]  # type: ignore[index]


def test_the_summary_gives_three_figures_of_what_is_worked_out() -> None:
    """Each discharge is that of its record, to three figures, with its feet beside it."""
    figures = {f"{compute(one.gauging).discharge_m3s:.3g}" for one in demo_handed() if one.finished}
    shown = {f"{float(row['discharge m³/s']):.3g}" for row in summary() if row["discharge m³/s"]}

    assert shown == figures
    for row in summary():
        if row["discharge m³/s"]:
            digits = row["discharge m³/s"].replace(".", "").lstrip("0")
            assert len(digits) == 3
            ratio = float(row["discharge ft³/s"]) / float(row["discharge m³/s"])
            assert ratio == pytest.approx(35.3147, rel=0.01)
            assert 4 < float(row["within ± %"]) < 15


def test_an_unfinished_gauging_has_no_discharge_in_the_report() -> None:
    """Its note says how far it came; no table takes it for the stream's discharge."""
    row = next(row for row in summary() if "unfinished" in row["to be known"])

    assert (row["site"], row["day"]) == ("TR-02", "2026-07-24")
    assert row["discharge m³/s"] == row["within ± %"] == row["per area L/s/km²"] == ""
    note = said(demo_material()).notes[int(row["note"]) - 1]
    assert note.headline.warnings[0] == "Unfinished: readings are still to come"


def test_a_site_without_a_visit_stands_in_the_summary() -> None:
    """Nobody has to compare lists to see that it is missing."""
    row = next(row for row in summary() if row["site"] == "SB-03")

    assert row["to be known"] == "not visited" and row["note"] == row["day"] == ""


def test_duplicates_have_verdicts() -> None:
    """Three pairs agree; the one with weed round the rotor does not, by 12 % of the mean."""
    found = part(said(demo_material()), "Duplicates")
    by_site = {row[0]: row for row in rows(found.tables[0])}

    assert {site: row[-1] for site, row in by_site.items() if site != "MW-02"} == {
        "AF-03": "they agree",
        "QB-02": "they agree",
        "MW-01": "they agree",
    }
    assert by_site["MW-02"][-1] == "too far apart; more than both allow"
    # 2.698 and 3.040 m³/s: 0.342 of a mean of 2.869.
    assert by_site["MW-02"][6] == "12"
    assert found.sentences[0].startswith("4 of 22 visits were measured twice")
    assert found.sentences[0].endswith("By more than one crew: 3 of 4.")


def test_duplicates_tell_crew_meter_and_what_is_open() -> None:
    """Two crews with one meter, and one crew with two; what nobody answered stands beside."""
    pairs = (
        (UPPER, ("A. Hollins",), "X-1"),
        (UPPER, ("K. Ashdown",), "X-1"),
        (LOWER, ("A. Hollins",), "X-1"),
        (LOWER, ("A. Hollins",), "X-2"),
        (BROOK, (), "X-1"),
        (BROOK, (), None),
    )
    made = [
        gauging(1.0, id_=f"g{n}", site=Site(id=site.id), crew=crew, serial=serial)
        for n, (site, crew, serial) in enumerate(pairs)
    ]
    material = small(*made)
    found = part(said(material), "Duplicates")

    alike = {row[0]: row[8] for row in rows(found.tables[0])}
    assert alike == {
        "upper": "other crew,\nsame meter",
        "lower": "same crew,\nother meter",
        "brook": "crew not known,\nmeter not known",
    }
    assert found.sentences[0].endswith(
        "By more than one crew: 1 of 3; of 1 it is not written down."
    )
    numbers = {one.visit.id: n for n, one in enumerate(in_order(material), 1)}
    waiting = {numbers[v.id]: len(open_findings(v)) for v in material.examined.visits}
    assert any(waiting.values())
    for row in rows(found.tables[0]):
        for cell in (row[2], row[4]):
            number = int(re.findall(r"note (\d+)", cell)[0])
            told = re.findall(r"\n(\d+) open", cell)
            assert told == ([str(waiting[number])] if waiting[number] else [])


def test_discharge_for_each_area_says_where_duplicates_disagree() -> None:
    """At MW-02 neither figure is to be trusted, nor their mean; at QB-02 two crews agree."""
    (table,) = part(said(demo_material()), "Discharge for each area").tables
    beside = {row[0]: row[-1] for row in rows(table)}

    assert beside["MW-02"].startswith("Its duplicates disagree")
    assert "disagree" not in beside["QB-02"]


def test_notes_say_what_is_known_and_send_nobody_into_the_water() -> None:
    """What a crew might have done is advice at the stream; afterwards nobody can do it."""
    for one, note in zip(in_order(demo_material()), said(demo_material()).notes, strict=True):
        assert one.note is not None and one.note.findings
        (table,) = next(p for p in note.parts if p.title == "Findings of the checks").tables
        assert "what to do" not in table.columns[1].head
        told = [row[1] for row in rows(table)]
        for finding, words in zip(one.note.findings, told, strict=True):
            assert finding.found in words and finding.advice not in words
    at_the_stream = note_content(one.note)
    (table,) = next(p for p in at_the_stream.parts if p.title == "Findings of the checks").tables
    assert all(
        finding.advice in row[1]
        for finding, row in zip(one.note.findings, rows(table), strict=True)
    )


def told_by(*standard: tuple[str, float]) -> str:
    """What the method says of a gauging whose uncertainty was worked out by these methods."""
    (one,) = small(gauging(1.0, id_="a", site=Site(id=UPPER.id))).surveyed
    budgets = tuple(
        Budget(key, f"method {key}", (BudgetPart("verticals", u, "told"),), u, (), left)  # type: ignore[arg-type]
        for key, u in standard
        for left in ((("depth",) if key == "components" else ()),)
    )
    assert one.note is not None
    stands = deciding_budget(budgets) or budgets[0]
    told = attrs.evolve(
        one,
        visit=attrs.evolve(one.visit, budget=stands),
        note=attrs.evolve(one.note, budgets=budgets),
    )
    material = attrs.evolve(small(), surveyed=(told,))
    return method_part(material).sentences[-1]


def test_the_method_says_which_uncertainty_stands_and_why() -> None:
    """Without ours the larger stands; a lower bound only where there is no other."""
    three = told_by(("iso-748", 3.0), ("interpolated-variance", 5.0), ("components", 9.0))
    alone = told_by(("components", 9.0))
    one = told_by(("iso-748", 3.0))

    for method in ("iso-748", "interpolated-variance", "components"):
        assert f"method {method} (1)" in three
    assert "else the larger figure" in three and "that by interpolated variance in 1" in three
    assert "That by components leaves parts out and is a lower bound." in three
    assert "larger" not in alone
    assert "is a lower bound; in 1 nothing else could be stated." in alone
    assert "larger" not in one and "lower bound" not in one
    assert "that by between verticals in 26" in part(said(demo_material()), "Method").sentences[-1]


def test_the_tables_have_what_the_land_in_between_gives() -> None:
    """What drains between two sites is the difference of their areas, at the yield of others."""
    material = demo_material()
    table = next(one for one in survey_tables(material) if one.name == "balances")
    names = [column.name for column in table.columns]
    by_name = {row["name"]: row for row in (dict(zip(names, r, strict=True)) for r in table.rows)}
    area = {site.id: site.drainage_area_km2 or 0.0 for site in material.survey.sites}
    springs = by_name["Sorrel Burn past the springs"]

    assert springs["land_km2"] == pytest.approx(area["SB-01"] - area["SB-02"])
    (median,) = {
        unit.median_l_s_km2 for unit in material.examined.unit_discharges if unit.site.id == "SB-01"
    }
    assert median is not None
    assert springs["land_gives_m3s"] == pytest.approx(median * springs["land_km2"] / 1000)
    assert springs["as_land_yields"] is False  # 0.107 m³/s are far more than that
    assert by_name["Quill Brook past the mill leat"]["as_land_yields"] is True
    told = [row for row in by_name.values() if row["verdict"] != "gain"]
    assert told and all(row["as_land_yields"] is None for row in told)


def test_balances_claim_nothing_inside_their_error() -> None:
    """Two confluences close, the springs show, and each verdict stands beside its figures."""
    tables = part(said(demo_material()), "Balances, gain and loss").tables
    names = [row[0].lead.removesuffix(":") for row in tables[0].rows]
    verdict = {(name, row[1]): row for name, row in zip(names, rows(tables[0]), strict=True)}

    assert verdict["Teasel Beck into Alder Fork", "2026-07-20"][-1] == "no measurable change"
    assert verdict["Tansy Run into Quill Brook", "2026-07-21"][-1] == "no measurable change"
    assert verdict["Sorrel Burn past the springs", "2026-07-22"][-1] == "gain"
    for row in (*verdict.values(), *rows(tables[1])):
        if row[4] and row[-1] in ("gain", "loss", "no measurable change"):
            outside = abs(float(row[4])) >= float(row[5])
            assert outside == (row[-1] != "no measurable change"), row


def test_each_balance_can_be_followed_in_its_line() -> None:
    """By hand: 1.0 and 0.2 come in, 1.2 goes on; what was not gauged has no figure."""
    flow = Balance("the brook", (UPPER.id, BROOK.id), LOWER.id)
    taken = Balance("the mill race", (UPPER.id,), LOWER.id, taken_out=(BROOK.id,))
    survey = attrs.evolve(SURVEY, balances=(flow, taken))
    made = (gauging(m3s, site=Site(id=s.id)) for m3s, s in ((1.0, UPPER), (0.2, BROOK)))
    below = gauging(1.2, site=Site(id=LOWER.id))

    known = part(said(small(*made, below, survey=survey)), "Balances, gain and loss")
    assert [(row[0].lead, plain(row[0].text)) for row in known.tables[0].rows] == [
        ("the brook:", "upper 1.00 + brook 0.200 → lower 1.20"),
        ("the mill race:", "upper 1.00 → lower 1.20 + brook 0.200 taken out"),
    ]
    lost = part(said(small(below, survey=survey)), "Balances, gain and loss").tables[0].rows[0]
    assert plain(lost[0].text) == "upper ? + brook ? → lower 1.20"


def test_percents_are_no_finer_than_what_they_are_uncertain_by() -> None:
    """Tenths of a percent stand only beside a band of less than ten percent."""
    tables = part(said(demo_material()), "Balances, gain and loss").tables
    told = [row for table in tables for row in rows(table) if row[5] and row[6]]

    for row in told:
        band = 100 * float(row[5]) / float(row[2])
        assert ("." in row[6]) == (band < 10), row
    assert {"." in row[6] for row in told} == {True, False}


def test_the_window_is_told_from_the_gauging_below() -> None:
    """Two gaugings above can be two days apart and still be held against the one below."""
    sentences = part(said(demo_material()), "Balances, gain and loss").sentences

    assert "Gaugings that are at most one day from the gauging below are held against it." in (
        sentences
    )


def test_the_method_counts_what_was_done() -> None:
    """Verticals, points, exposures, units and meters are those of the records, counted again."""
    text = " ".join(part(said(demo_material()), "Method").sentences)
    finished = [one.gauging for one in demo_handed() if one.finished]
    verticals = [v for g in finished for c in g.channels for v in c.verticals]
    points = [r for v in verticals for r in v.velocity]
    two = sum(1 for v in verticals if len({r.fraction for r in v.velocity}) == 2)
    one = sum(1 for v in verticals if len({r.fraction for r in v.velocity}) == 1)
    feet = sum(1 for g in finished if g.units.length == "ft")
    wet = sum(1 for v in verticals if (v.depth or 0) > 0)

    assert len(finished) == 26
    assert "26 gaugings were made by wading and worked out by the mid-section method" in text
    assert f"They rest on {wet} verticals with water" in text
    assert f"one point (0.6 of the depth) at {one} and two points" in text
    assert f"two points (0.2 and 0.8 of the depth) at {two}." in text
    assert f"at {sum(1 for r in points if r.seconds)} of {len(points)} points" in text
    longest = max(r.seconds for r in points if r.seconds)
    assert f"The meter was held for 40 to {longest:g} s" in text
    assert f"m and m/s in {26 - feet} and ft and ft/s in {feet}" in text
    assert (
        "electromagnetic EM-07 in 10, electromagnetic EM-11 in 9 and rotating element P-12 in 7"
        in text
    )
    assert "4 of 22 visits were measured twice" in text
    assert "hold a gauging against others at most 1 day from it." in text
    assert "version 1 of our methods" in text


def test_other_gaugings_make_another_paragraph() -> None:
    """Nothing in the method is a phrase that is always there."""
    text = " ".join(part(said(three()), "Method").sentences)

    assert "3 gaugings were made by wading" in text
    assert "They rest on 60 verticals with water, 20 in a gauging" in text
    assert "at 60: one point" in text or "60 verticals: one point (0.6 of the depth) at 60" in text
    assert "held for 60 s" in text
    assert "Meters: propeller X-1 in 2 and propeller X-2 in 1" in text
    assert "A proof of the meter was written down in 0 of 3 gaugings." in text
    assert "0 of 3 visits were measured twice or more, 0 %" in text
    assert "Calibrated" not in text and "askew" not in text


def test_proofs_that_did_not_pass_are_counted() -> None:
    """A spin of 5 s is written down and proves nothing; the common limits ask for more."""
    spins = (("before", 5.0), ("before", 300.0), (None, None))
    made = [
        gauging(
            1.0,
            id_=f"g{n}",
            site=Site(id=UPPER.id),
            meter=Meter(
                kind="cup meter",
                rotor="large",
                checks=()
                if when is None
                else (MeterCheck(kind="spin", when=when, seconds=seconds),),
            ),
        )
        for n, (when, seconds) in enumerate(spins)
    ]

    text = " ".join(part(said(small(*made)), "Method").sentences)
    assert "A proof of the meter was written down in 2 of 3 gaugings; 1 did not pass." in text
    text = " ".join(part(said(small(made[1])), "Method").sentences)
    assert "written down in 1 of 1 gaugings; none did not pass" not in text
    assert "written down in 1 of 1 gaugings; all passed." in text


def test_exceptions_tell_everything_that_went_wrong() -> None:
    """What was put into the invented survey comes out, each thing once."""
    found = {(one.kind, one.where): one for one in exceptions_of(demo_material())}
    kinds = {kind for kind, _ in found}

    assert ("unfinished", "note 17, TR-02, 2026-07-24") in found
    assert ("Section turned about", "notes 15 and 16; QB-01; 2026-07-28") in found
    assert ("Duplicate disagrees", "notes 24 and 25; MW-02; 2026-07-23") in found
    assert ("Site without a gauging", "SB-03") in found
    assert ("position missing", "MW-01, Mere Water, at the gravel pit") in found
    assert ("no staff gauge", "note 18, TR-02, 2026-07-27") in found
    assert {"Meter overdue", "fix now, not answered", "explain, not answered"} <= kinds
    unit = found["corrected", "note 23, QB-03, 2026-07-22"]
    assert unit.what.startswith("Unit of velocity: was ft/s, now m/s (R. Fenwright: The discharge")
    grave = [one.kind for one in exceptions_of(demo_material()) if one.grave]
    assert grave == ["unfinished", "Duplicate disagrees", "fix now, not answered"]


def test_grave_exceptions_are_told_above_every_figure() -> None:
    """A reader who sees the first page alone knows that not all is final."""
    assert said(demo_material()).warnings == (
        "Not the last word: 3 exceptions keep figures of this report from being final; they stand "
        "first under Exceptions.",
    )
    assert said(three()).warnings == ()


def test_what_could_not_be_read_is_named() -> None:
    """A file that was refused is left out, and both is said."""
    content = said(small(gauging(1.0, site=Site(id="upper")), left_out=2))

    assert content.warnings[1] == "Left out, as they could not be read: 2."
    table = part(content, "Exceptions").tables[0]
    assert rows(table)[0] == ["refused", "lost_0.csv, the file", "found nothing."]


def test_what_gives_no_discharge_is_no_zero() -> None:
    """Readings without a discharge stay in the report with the reason; a dry bed has 0."""
    lost = gauging(None, id_="lost", site=Site(id="upper"))
    dry = gauging(None, id_="dry", site=Site(id="lower"), channels=(DRY,))
    content = said(small(lost, dry))
    shown = {row[1]: row for row in rows(part(content, "Summary").tables[0])}

    assert shown[UPPER.id][4] == "" and shown[UPPER.id][-1].startswith("no discharge")
    assert shown[LOWER.id][4] == "0"
    kinds = [row[0] for row in rows(part(content, "Exceptions").tables[0])]
    assert "no discharge" in kinds


def test_a_gauging_at_no_site_and_without_a_day_is_told() -> None:
    """It stands last in the summary, and under the exceptions."""
    content = said(small(gauging(1.0, id_="lost", day=None, site=Site("nowhere", "Alder River"))))
    last = rows(part(content, "Summary").tables[0])[-1]

    assert last[1:4] == ["none", "Alder River, nowhere", "not recorded"]
    kinds = [row[0] for row in rows(part(content, "Exceptions").tables[0])]
    assert {"Gauging at no known site", "day not known"} <= set(kinds)


def test_two_gaugings_with_one_id_are_both_in_it() -> None:
    """A record that was handed over twice is shown twice, never dropped."""
    one = gauging(1.0, id_="same", site=Site(id="upper"))
    content = said(small(one, one))

    assert [row[0] for row in rows(part(content, "Summary").tables[0])][:2] == ["1", "2"]
    assert len(content.notes) == 2


def test_an_empty_survey_says_that_it_is_empty() -> None:
    """Without a gauging every part still says what it has to say."""
    content = said(small())

    assert content.season.open and content.notes == ()
    assert len(rows(part(content, "Summary").tables[0])) == len(SURVEY.sites)
    assert part(content, "Method").sentences == ("No gauging gives a discharge.",)
    assert part(content, "Duplicates").sentences[0] == "Nothing was measured twice."


def test_the_rules_of_the_survey_go_before_those_of_the_records() -> None:
    """They are named with how many gaugings they were used for."""
    asked = gauging(1.0, id_="x", site=Site(id="upper"), rule_set="after-iso-748")
    named = attrs.evolve(SURVEY, rule_set="after-usgs-tm-3-a8")

    own = said(small(asked))
    of_survey = said(small(asked, survey=named))
    assert "ISO 748" in part(own, "Method").sentences[-1].partition("Uncertainty")[0]
    assert "USGS" in part(of_survey, "Method").sentences[-1].partition("Uncertainty")[0]


def test_the_order_in_which_files_come_changes_nothing() -> None:
    """Handed over from the last to the first, the report says the same."""
    turned = gather_survey(demo_survey(), demo_handed()[::-1], window_days=1)

    tables = [part(said(one), "Summary").tables[0] for one in (demo_material(), turned)]
    assert rows(tables[0]) == rows(tables[1])
    found = [{(e.kind, e.what) for e in exceptions_of(one)} for one in (demo_material(), turned)]
    assert found[0] == found[1]


def test_a_sheet_that_is_older_than_the_season_is_told() -> None:
    """A gauging outside the days of the survey is in it, and asked about."""
    early = gauging(1.0, id_="early", day=DAY, site=Site(id="upper"))
    later = attrs.evolve(SURVEY, starts=DAY.replace(day=20))

    kinds = [one.kind for one in exceptions_of(small(early, survey=later))]
    assert "Outside the season" in kinds
