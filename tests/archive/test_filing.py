"""When a figure is filed, by whom and why; and that none changes without one of these reasons."""

from __future__ import annotations

import pytest
from sqlalchemy import event

from bankside.archive.archive import Archive
from bankside.archive.refiling import refile
from bankside.archive.refresh import refresh, rework
from bankside.archive.tables import filings
from bankside.archive.trouble import ArchiveTrouble
from bankside.gauging.compute import METHOD_VERSION
from bankside.gauging.journal.state import state_of

from .building import CROSSING_M3S, FASTER_M3S, Device, crossing, keep
from .looking import filed, row_of, rows
from .newer import MORE, VERSION, use_newer_method


def _story(archive: Archive, gauging: str = "g1") -> list[tuple[str, float]]:
    """Why figures were filed, and which."""
    return [(one.reason, pytest.approx(one.discharge_m3s)) for one in filed(archive, gauging)]


def _shown(archive: Archive) -> tuple[str, object]:
    """How far the gauging has come, and the figure that it shows."""
    row = row_of(archive)
    figure = row["discharge_m3s"]
    return row["state"], None if figure is None else pytest.approx(figure)


def test_the_first_figure_is_filed_when_the_gauging_is_over(archive: Archive) -> None:
    """A gauging under way shows its figure so far, and files none before it is closed."""
    device = crossing(closed=False)
    keep(archive, device)
    assert _shown(archive) == ("under way", CROSSING_M3S)
    assert filed(archive) == ()

    device.say("closed", {"by": "I. Marrow"})
    keep(archive, device)
    (one,) = filed(archive)
    assert (one.reason, one.by, one.method_version) == ("first worked out", None, METHOD_VERSION)
    assert one.discharge_m3s == pytest.approx(CROSSING_M3S, rel=1e-12)
    assert one.state == state_of(device.entries) == row_of(archive)["digest"]
    assert one.is_sound
    assert _shown(archive) == ("to review", CROSSING_M3S)


def test_a_figure_is_filed_whole(archive: Archive) -> None:
    """Totals and every panel are in it, and by which rules they were worked out."""
    keep(archive, crossing())
    figures = filed(archive)[0].figures

    assert figures["area_m2"] == pytest.approx(1 * 0.4 + 1 * 0.5 + 1 * 0.4)
    assert figures["width_m"] == pytest.approx(4.0)
    assert [panel[2] for panel in figures["panels"] if panel[2]] == pytest.approx(
        [0.08, 0.15, 0.08]
    )
    assert (figures["method"], figures["edge_rule"]) == ("mid-section", "half-width")


def test_a_corrected_reading_files_a_new_figure(archive: Archive) -> None:
    """The former figure stays on record beside the new one."""
    device = crossing()
    keep(archive, device)
    device.correct()
    keep(archive, device)

    assert _story(archive) == [
        ("first worked out", CROSSING_M3S),
        ("the readings changed", FASTER_M3S),
    ]
    assert _shown(archive) == ("to review", FASTER_M3S)


@pytest.mark.parametrize(
    ("what", "value"),
    [
        ("remarks", "Cattle upstream."),
        ("weather", "rain"),
        ("crew/k2", {"name": "O. Thessaly"}),
        ("nonsense", "whatever"),
    ],
)
def test_what_leaves_the_figures_as_they_are_files_nothing(
    archive: Archive, what: str, value: object
) -> None:
    """A remark, the weather, one more name: the entries are others, and the figure is the same."""
    device = crossing()
    keep(archive, device)
    before = row_of(archive)["digest"]
    device.say(what, value)
    keep(archive, device)

    assert _story(archive) == [("first worked out", CROSSING_M3S)]
    assert row_of(archive)["digest"] != before


def test_a_gauging_opened_again_keeps_its_figure(archive: Archive) -> None:
    """What is called after it was opened again is filed when it is closed again."""
    device = crossing()
    keep(archive, device)
    device.say("closed", None)
    device.correct()
    keep(archive, device)
    assert _shown(archive) == ("under way", CROSSING_M3S)

    device.say("closed", {"by": "I. Marrow"})
    keep(archive, device)
    assert _story(archive)[1:] == [("the readings changed", FASTER_M3S)]


def test_readings_that_give_no_figure_leave_the_one_that_was_filed(archive: Archive) -> None:
    """A depth struck out: the row says what is wrong, and shows what was filed, with no range."""
    device = crossing()
    keep(archive, device)
    device.say("channels/1/verticals/v2/depth", None, reason="not read")
    keep(archive, device)

    assert _story(archive) == [("first worked out", CROSSING_M3S)]
    assert _shown(archive) == ("to review", CROSSING_M3S)
    row = row_of(archive)
    assert "depth" in row["trouble"]
    assert (row["in_doubt"], row["expanded_percent"]) == (1, None)


def test_an_approval_files_what_was_approved(archive: Archive) -> None:
    """The figure is filed again, with that reason and by whoever approved it."""
    device = crossing()
    keep(archive, device)
    device.review(discharge_m3s=CROSSING_M3S, method_version=METHOD_VERSION)
    keep(archive, device)

    assert _story(archive) == [("first worked out", CROSSING_M3S), ("approved", CROSSING_M3S)]
    assert filed(archive)[1].by == "I. Marrow"
    assert _shown(archive) == ("approved", CROSSING_M3S)

    device.review()
    keep(archive, device)
    assert len(filed(archive)) == 2


@pytest.mark.parametrize("changed", ["reading", "remark"])
def test_an_approved_gauging_keeps_its_figure(archive: Archive, changed: str) -> None:
    """Whatever is said after the approval is shown as such, and files nothing."""
    device = crossing()
    device.review()
    keep(archive, device)
    if changed == "reading":
        device.correct()
    else:
        device.say("remarks", "Cattle upstream.")
    keep(archive, device)

    assert _story(archive) == [("approved", CROSSING_M3S)]
    assert _shown(archive) == ("changed since approval", CROSSING_M3S)


def test_another_approval_files_what_was_approved_then(archive: Archive) -> None:
    """Whoever approves the corrected readings has their figure filed."""
    device = crossing()
    keep(archive, device)
    device.review()
    keep(archive, device)
    device.correct()
    keep(archive, device)
    device.review(by="O. Thessaly")
    keep(archive, device)

    assert _story(archive) == [
        ("first worked out", CROSSING_M3S),
        ("approved", CROSSING_M3S),
        ("approved", FASTER_M3S),
    ]
    assert filed(archive)[2].by == "O. Thessaly"
    assert _shown(archive) == ("approved", FASTER_M3S)


def test_what_was_approved_is_filed_though_a_correction_came_with_it(archive: Archive) -> None:
    """An approval and what was said after it come in one call: the approved figure is filed."""
    device = crossing()
    device.review()
    device.correct()
    keep(archive, device)

    assert _story(archive) == [("approved", CROSSING_M3S)]
    assert _shown(archive) == ("changed since approval", CROSSING_M3S)


def test_a_whole_journal_that_comes_in_any_order_files_what_was_approved(archive: Archive) -> None:
    """The entries that were approved are found by the order in which they were said as well."""
    device = crossing()
    device.review()
    device.correct()
    device.entries.reverse()
    keep(archive, device)

    assert _story(archive) == [("approved", CROSSING_M3S)]


def test_what_is_sent_back_keeps_its_figure_until_it_is_corrected(archive: Archive) -> None:
    """A verdict alone files nothing; the correction that follows does."""
    device = crossing()
    keep(archive, device)
    device.review("sent back")
    keep(archive, device)
    assert _shown(archive) == ("sent back", CROSSING_M3S)
    assert len(filed(archive)) == 1

    device.correct()
    keep(archive, device)
    assert _shown(archive) == ("to review", FASTER_M3S)
    assert _story(archive)[1:] == [("the readings changed", FASTER_M3S)]


def test_a_verdict_on_other_entries_is_none_on_these(archive: Archive) -> None:
    """Who sent back what stood before has not seen what stands now."""
    device = crossing()
    before = state_of(device.entries)
    device.correct()
    device.review("sent back", state=before)
    keep(archive, device)

    assert row_of(archive)["state"] == "to review"


@pytest.mark.parametrize("said", ["nothing", "a remark", "a verdict"])
def test_a_newer_method_files_nothing_by_itself(
    archive: Archive, monkeypatch: pytest.MonkeyPatch, said: str
) -> None:
    """Working out anew, a remark or a verdict is no reason to file what a newer version gives."""
    device = crossing()
    keep(archive, device)
    use_newer_method(monkeypatch)
    if said == "a remark":
        device.say("remarks", "Cattle upstream.")
    elif said == "a verdict":
        device.review("sent back")
    keep(archive, device)
    rework(archive)

    assert _story(archive) == [("first worked out", CROSSING_M3S)]
    assert row_of(archive)["discharge_m3s"] == pytest.approx(CROSSING_M3S)


def test_corrected_readings_are_filed_by_the_newer_method(
    archive: Archive, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The reason says that two things changed, the readings and the method."""
    device = crossing()
    keep(archive, device)
    use_newer_method(monkeypatch)
    device.correct()
    keep(archive, device)

    reason = f"the readings changed; by version {VERSION} of the method, before {METHOD_VERSION}"
    assert _story(archive)[1:] == [(reason, FASTER_M3S * MORE)]
    assert filed(archive)[1].method_version == VERSION


def test_an_approval_of_a_former_method_keeps_the_figure_that_was_looked_at(
    archive: Archive, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Nobody approved what the newer version gives, so that it is not filed."""
    device = crossing()
    keep(archive, device)
    use_newer_method(monkeypatch)
    device.review(discharge_m3s=CROSSING_M3S, method_version=METHOD_VERSION)
    keep(archive, device)

    assert _story(archive) == [("first worked out", CROSSING_M3S)]
    assert _shown(archive) == ("approved", CROSSING_M3S)


def test_an_approval_of_the_newer_method_files_its_figure(
    archive: Archive, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Whoever looked at what the newer version gives has that filed."""
    device = crossing()
    keep(archive, device)
    use_newer_method(monkeypatch)
    device.review(method_version=VERSION)
    keep(archive, device)

    reason = f"approved; by version {VERSION} of the method, before {METHOD_VERSION}"
    assert _story(archive)[1:] == [(reason, CROSSING_M3S * MORE)]
    keep(archive, device)
    rework(archive)
    assert len(filed(archive)) == 2


@pytest.mark.parametrize("approved", [False, True])
def test_a_person_files_anew_with_a_reason(
    archive: Archive, monkeypatch: pytest.MonkeyPatch, approved: bool
) -> None:
    """The former figure stays on record; nothing but what the person files is filed."""
    device = crossing()
    if approved:
        device.review()
    keep(archive, device)
    use_newer_method(monkeypatch)
    before, after = refile(archive, "g1", "O. Thessaly", "Version 2 mends the edges.")
    refresh(archive)
    rework(archive)

    assert before is not None and before.discharge_m3s == pytest.approx(CROSSING_M3S)
    assert after.discharge_m3s == pytest.approx(CROSSING_M3S * MORE)
    assert _story(archive) == [
        ("approved" if approved else "first worked out", CROSSING_M3S),
        ("Version 2 mends the edges.", CROSSING_M3S * MORE),
    ]
    assert filed(archive)[1].by == "O. Thessaly"
    assert row_of(archive)["discharge_m3s"] == pytest.approx(CROSSING_M3S * MORE)


def test_what_cannot_be_filed_anew(archive: Archive) -> None:
    """A gauging that is not there, one without a figure, and a filing without name or reason."""
    empty = Device("g2")
    empty.say("remarks", "Nothing read.")
    keep(archive, crossing(), empty)

    for gauging, by, reason, said in (
        ("g3", "O. Thessaly", "why", "There is no gauging g3"),
        ("g2", "O. Thessaly", "why", "has no figure to file: "),
        ("g1", " ", "why", "by a person and for a reason"),
        ("g1", "O. Thessaly", "\n", "by a person and for a reason"),
    ):
        with pytest.raises(ArchiveTrouble, match=said):
            refile(archive, gauging, by, reason)
    assert len(rows(archive, filings)) == 1


def test_what_is_filed_already_is_not_filed_anew(archive: Archive) -> None:
    """A figure that this version gives by these very entries needs no second filing."""
    keep(archive, crossing())
    with pytest.raises(ArchiveTrouble, match="is filed already"):
        refile(archive, "g1", "O. Thessaly", "to be sure")

    assert len(filed(archive)) == 1


def test_the_reason_of_a_person_is_no_approval(archive: Archive) -> None:
    """Whatever words a person files with, the approval that follows is filed too."""
    device = crossing()
    keep(archive, device)
    device.say("remarks", "Cattle upstream.")
    keep(archive, device)
    refile(archive, "g1", "O. Thessaly", "approved")
    device.review()
    keep(archive, device)

    assert [(one.reason, one.by) for one in filed(archive)] == [
        ("first worked out", None),
        ("approved", "O. Thessaly"),
        ("approved", "I. Marrow"),
    ]


def test_a_figure_is_filed_within_the_transaction_that_keeps_its_row(archive: Archive) -> None:
    """Where the row cannot be kept, no figure is left filed without it."""
    store_fails = {"on": True}

    @event.listens_for(archive.engine, "before_cursor_execute")
    def fail(_: object, __: object, statement: str, *___: object) -> None:
        if store_fails["on"] and statement.lstrip().startswith("INSERT INTO gaugings"):
            raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        keep(archive, crossing())
    assert rows(archive, filings) == []

    store_fails["on"] = False
    refresh(archive)
    assert len(filed(archive)) == 1
