"""What the report says of review and of filed figures, where its gaugings come from an archive."""

from typing import Any

import attrs

from bankside.gauging.records import Site
from bankside.report.survey.compose import compose_survey
from bankside.report.survey.content import SurveyContent
from bankside.report.survey.data_tables import gaugings_table
from bankside.report.survey.exceptions_part import exceptions_of
from bankside.report.survey.material import SurveyMaterial, material_of
from bankside.survey.examined import examine_survey

from ...survey.building import BROOK, LOWER, RULES, SURVEY, UPPER, visit
from .surveys import three


def archived(*members: dict[str, Any]) -> SurveyMaterial:
    """A survey of an archive: 1.0 m³/s above, 0.2 of the brook, 1.2 below, with what it adds."""
    made = (
        visit(1.0, UPPER, id_="a", site=Site(id=UPPER.id)),
        visit(0.2, BROOK, id_="b", site=Site(id=BROOK.id)),
        visit(1.2, LOWER, id_="c", site=Site(id=LOWER.id)),
    )
    visits = tuple(attrs.evolve(one, **more) for one, more in zip(made, members, strict=True))
    return material_of(examine_survey(SURVEY, visits, RULES, None), visits, {})


def reviewed(*states: str) -> SurveyContent:
    """Everything that the report says of three gaugings in these states."""
    return compose_survey(archived(*({"state": state} for state in states))).content


def to_be_known(content: SurveyContent) -> dict[str, str]:
    """The last column of the summary by the site of its row."""
    return {row[1].text: row[-1].text for row in content.parts[0].tables[0].rows}


def done(content: SurveyContent) -> dict[str, str]:
    """The facts on what was done."""
    return {fact.name: fact.value for fact in content.groups[1].facts}


def test_what_was_reviewed_is_told_on_the_first_page_and_at_each_gauging() -> None:
    """One of three approved: in the facts, above all figures, in the summary and in every note."""
    content = reviewed("approved", "to review", "sent back")

    assert done(content)["Reviewed"] == "approved 1 of 3 gaugings"
    assert content.warnings == (
        "Not the last word: 2 of 3 gaugings are not approved (1 to review and 1 sent back).",
    )
    known = to_be_known(content)
    assert "approved" not in known["upper"]
    assert known["brook"].split("; ")[0] == "to review"
    assert known["lower"].split("; ")[0] == "sent back"
    ends = {note.kind.rpartition(" · ")[2] for note in content.notes}
    assert ends == {"approved", "to review", "sent back"}


def test_where_all_is_approved_nothing_is_left_to_say() -> None:
    """Nobody is warned of a season that was reviewed to its end."""
    content = reviewed("approved", "approved", "approved")

    assert done(content)["Reviewed"] == "approved 3 of 3 gaugings"
    assert content.warnings == ()


def test_exceptions_and_what_is_not_approved_stand_in_one_line() -> None:
    """A filed figure that no longer holds is an exception; a gauging to review is none."""
    told = archived({"state": "to review", "filed_m3s": 1.5}, {"state": "approved"}, {})

    assert compose_survey(told).content.warnings == (
        "Not the last word: one exception keeps a figure of this report from being final; it "
        "stands first under Exceptions. 1 of 2 gaugings is not approved (1 to review).",
    )


def test_files_without_an_archive_say_nothing_of_review() -> None:
    """Nobody can have approved what no archive holds."""
    content = compose_survey(three()).content

    assert "Reviewed" not in done(content) and content.warnings == ()
    assert all(note.kind.endswith(" · sheet.csv") for note in content.notes)


def test_both_figures_are_told_where_the_filed_one_no_longer_holds() -> None:
    """In the summary, at the head of the note and under the exceptions, with who filed it."""
    told = archived({"filed_m3s": 1.07, "filed_by": "1"}, {}, {})
    content = compose_survey(told).content
    words = "iled 1.07 m³/s by version 1 of the method; readings now give 1.00 m³/s"

    assert "filed 1.07, readings now give 1.00" in to_be_known(content)["upper"].split("; ")
    assert [one.what for one in exceptions_of(told) if one.kind == "filed otherwise"] == [
        f"F{words}."
    ]
    head = content.notes[0].headline
    assert head.warnings[0] == f"Not the figure of the report: f{words}"
    assert head.name == "Discharge by the readings as they are now"
    for note in content.notes[1:]:
        assert note.headline.name == "Discharge"
        assert all("iled" not in warning for warning in note.headline.warnings)


def test_a_filed_figure_stands_where_readings_give_none_any_more() -> None:
    """Summary, exceptions, method, notes and tables say what is left of it."""
    gone = "the right edge was taken out"
    told = archived({"filed_m3s": 1.07, "filed_by": "1", "result": None, "refused": gone}, {}, {})
    content = compose_survey(told).content

    rows = {row[1].text: [cell.text for cell in row] for row in content.parts[0].tables[0].rows}
    assert rows["upper"][4] == "1.07" and rows["upper"][6] == "not stated"
    assert "filed 1.07, readings now give none" in rows["upper"][-1]
    assert [one.what for one in exceptions_of(told) if one.kind == "filed otherwise"] == [
        "Filed 1.07 m³/s by version 1 of the method; readings now give no discharge: "
        "the right edge was taken out."
    ]
    number = rows["upper"][0]
    assert f"{number} has no note, as the readings give no discharge" in content.notes_about
    assert len(content.notes) == 2
    (method,) = (part for part in content.parts if part.title == "Method")
    assert "Of one gauging only the figure stands that was filed before." in method.sentences[0]
    table = gaugings_table(told)
    names = [column.name for column in table.columns]
    (row,) = (dict(zip(names, r, strict=True)) for r in table.rows if r[2] == "upper")
    assert (row["discharge_m3s"], row["readings_m3s"]) == (1.07, None)


def test_the_method_can_be_told_where_every_figure_is_a_filed_one() -> None:
    """No median is asked of nothing."""
    gone = {"filed_m3s": 1.07, "result": None, "refused": "gone", "budget": None}
    (method,) = (
        part
        for part in compose_survey(archived(gone, gone, gone)).content.parts
        if part.title == "Method"
    )

    assert method.sentences[0] == "Of 3 gaugings only the figure stands that was filed before."


def test_figures_that_hardly_differ_are_told_apart() -> None:
    """Two equal figures with the word that they differ would help nobody."""
    told = archived({"filed_m3s": 1.00004, "filed_by": "1"}, {}, {})

    known = to_be_known(compose_survey(told).content)["upper"]
    assert "filed 1.00004, readings now give 1.00000" in known


def test_a_note_says_who_gave_the_verdict_that_stands() -> None:
    """By name where it is one of the state; what changed since is nobody's verdict any more."""
    by = {"reviewed_by": "Ada Brook"}
    told = archived(
        {"state": "approved", **by},
        {"state": "sent back", **by},
        {"state": "changed since approval", **by},
    )

    ends = {note.kind.rpartition(" · ")[2] for note in compose_survey(told).content.notes}
    assert ends == {
        "approved by Ada Brook",
        "sent back by Ada Brook",
        "changed since approval",
    }
