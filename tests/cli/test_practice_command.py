"""`bankside practice`: the debrief and the record of who is ready, printed and as documents."""

from __future__ import annotations

import datetime
import json
from pathlib import Path

import pytest

from bankside.cli import main
from bankside.gauging.json_text import parsed, written
from bankside.gauging.wire import to_json
from bankside.practice.debrief.debrief import debrief
from bankside.practice.readiness.requirements import Requirements, requirements_from_document
from bankside.practice.session.act import Act, Session
from bankside.practice.session.document import Practice, practice_to_document
from bankside.practice.session.practice_streams import PRACTICE_STREAMS
from bankside.practice.session.reach import make_reach

from ..practice.trainee import Trainee, practise, waited
from ..report.documents import pdf_text
from ..survey.building import gauging as real_gauging

KINDS = ("easy run", "cobble riffle", "undercut bank")
MARK = "Practice on a simulated stream: no real water was measured."
TOUCHES_REAL_WATER = "decided by local rules"


def session(stream: str, seed: int, person: str, trainee: Trainee | None = None) -> Practice:
    """A session with its record."""
    made, _, record = practise(stream, seed, trainee)
    return Practice(made, person, record, day=datetime.date(2026, 5, 1 + seed))


def kept(folder: Path, name: str, practice: Practice) -> Path:
    """The file of a session."""
    path = folder / f"{name}.json"
    path.write_text(written(practice_to_document(practice)), encoding="utf-8")
    return path


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Ann gauged three streams well and stayed out of two; Ben held his meter facing wrong."""
    for seed, stream in enumerate(KINDS):
        kept(tmp_path, f"ann-{seed}", session(stream, seed, "Ann Ash"))
    out = Session("after rain", 3, (Act("stay out"),))
    kept(tmp_path, "ann-3", Practice(out, "Ann Ash", day=datetime.date(2026, 5, 4)))
    waits, record = waited(4)
    kept(tmp_path, "ann-4", Practice(waits, "Ann Ash", record, day=datetime.date(2026, 5, 5)))
    wrong = Trainee(hold={"facing": 40.0}, verticals=10)
    for seed, stream in enumerate(KINDS[:2]):
        kept(tmp_path, f"ben-{seed}", session(stream, seed, "Ben Birch", wrong))
    return tmp_path


def practice(*arguments: object) -> int:
    """Run the command."""
    return main(["practice", *map(str, arguments)])


def test_every_stream_is_listed(capsys: pytest.CaptureFixture[str]) -> None:
    """With what it teaches."""
    assert practice("streams") == 0

    out = " ".join(capsys.readouterr().out.split())
    assert all(f"{name}: {one.about}" in out for name, one in PRACTICE_STREAMS.items())


def test_the_debrief_of_who_stayed_out_is_printed(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """No discharge, no section: that it was right, and what the water was."""
    seed = next(n for n in range(50) if make_reach("after rain", n).signs.brown)
    stayed = Practice(Session("after rain", seed, (Act("stay out"),)), "Ann Ash")
    kept(tmp_path, "stayed", stayed)
    assert practice("debrief", tmp_path / "stayed.json") == 0

    flat = " ".join(capsys.readouterr().out.split())
    assert "How it ended: stayed out" in flat
    assert "You stayed out, and that was right" in flat
    assert "brown" in flat and TOUCHES_REAL_WATER in flat
    assert "True discharge" not in flat
    assert practice("debrief", tmp_path / "stayed.json", "-o", tmp_path / "stayed.pdf") == 0
    assert (tmp_path / "stayed.pdf").read_bytes().startswith(b"%PDF")


def test_a_debrief_is_printed(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The mark first, then the error, its sources, and what to do."""
    assert practice("debrief", folder / "ben-0.json") == 0

    out = capsys.readouterr().out
    flat = " ".join(out.split())
    assert out.startswith("PRACTICE · Debrief: easy run 0\n")
    assert MARK in flat and TOUCHES_REAL_WATER in flat
    wrong = session("easy run", 0, "Ben", Trainee(hold={"facing": 40.0}, verticals=10))
    found = debrief(wrong)
    assert f"Off by: {found.percent:+.1f} %" in flat
    assert "Handling the meter" in flat
    assert "did not face the flow" in flat


@pytest.mark.parametrize("suffix", [".pdf", ".html"])
def test_every_document_of_practice_is_marked(
    suffix: str, folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """In the head, before the figures, and at the foot; equal sessions give equal bytes."""
    paths = [folder / f"{name}{suffix}" for name in ("debrief", "again", "ready")]
    assert practice("debrief", folder / "ann-1.json", "-o", paths[0]) == 0
    assert practice("debrief", folder / "ann-1.json", "-o", paths[1]) == 0
    assert practice("readiness", folder, "-o", paths[2]) == 0
    capsys.readouterr()

    assert paths[0].read_bytes() == paths[1].read_bytes()
    for path in (paths[0], paths[2]):
        content = path.read_bytes()
        text = content.decode() if suffix == ".html" else pdf_text(content, folder)
        flat = " ".join(text.split())
        assert "PRACTICE · Debrief" in flat or "PRACTICE · Who is ready" in flat
        assert MARK in flat
        assert flat.count("PRACTICE ·") >= 2
        assert TOUCHES_REAL_WATER in flat


def test_who_is_ready_is_printed(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Ann is; Ben is told in friendly words what is still to come."""
    assert practice("readiness", folder) == 0

    flat = " ".join(capsys.readouterr().out.split())
    assert "Ann Ash" in flat and "3 of 5" in flat
    assert "3 streams more to gauge for the first time." in flat


def test_everybody_gets_a_paper(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A certificate for who is ready, a way on for who is not; lines to sign on both."""
    papers = folder / "papers"
    assert practice("readiness", folder, "--certificates", papers) == 0
    capsys.readouterr()

    ann, ben = (
        " ".join(pdf_text(path.read_bytes(), folder).split()) for path in sorted(papers.iterdir())
    )
    assert "PRACTICE · Certificate of practice" in ann
    assert "Ann Ash gauged 3 practice streams of 3 kinds" in ann
    assert "and stayed or came out rightly at 2" in ann
    assert "PRACTICE · On the way" in ben
    assert "Certificate" not in ben
    assert "Handling the meter" in ben
    for text in (ann, ben):
        assert MARK in text and TOUCHES_REAL_WATER in text and "signature" in text


def test_papers_as_pages_hold_every_try(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A second try at a stream does not count, and stands there all the same."""
    kept(folder, "ann-again", session("easy run", 0, "Ann Ash"))
    assert practice("readiness", folder, "--certificates", folder / "pages", "--html") == 0
    capsys.readouterr()

    ann, ben = (path.read_text(encoding="utf-8") for path in sorted((folder / "pages").iterdir()))
    assert "streams that were gauged again" in ann
    assert "streams that were gauged again" not in ben
    for page in (ann, ben):
        assert MARK in page and page.count("PRACTICE ·") >= 2


def test_a_leader_asks_for_other_things(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The file to begin with is what is asked for if nothing is said."""
    assert practice("requirements") == 0
    text = capsys.readouterr().out
    assert requirements_from_document(parsed(text)) == Requirements()

    asked = json.loads(text) | {"streams": 2, "kinds": 1, "gauged": 1, "must": []}
    asked |= {"within_percent": 60, "leader": "Cy Fir"}
    path = folder / "asked.json"
    path.write_text(json.dumps(asked), encoding="utf-8")
    assert practice("readiness", folder, "--requirements", path) == 0
    flat = " ".join(capsys.readouterr().out.split())
    assert "Leader: Cy Fir" in flat
    assert "still to come" not in flat and "more to gauge" not in flat


def test_what_is_no_session_is_refused(
    folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A gauging of real water is no practice; all faults are told at once, nothing is written."""
    real = tmp_path / "real.json"
    real.write_text(to_json(real_gauging(1.0, id_="real")), encoding="utf-8")
    broken = tmp_path / "broken.json"
    broken.write_text("{", encoding="utf-8")

    assert practice("readiness", folder, "-o", folder / "out.pdf") == 2
    err = capsys.readouterr().err
    assert "real.json, format: format must be" in err
    assert "broken.json" in err
    assert not (folder / "out.pdf").exists()
    assert practice("debrief", tmp_path / "none.json") == 2
    assert "could not be read" in capsys.readouterr().err
    assert practice("readiness", tmp_path / "nothing") == 2


def test_nothing_is_written_over(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Before anything is worked out; with --replace it is."""
    target = folder / "out.pdf"
    target.write_text("mine", encoding="utf-8")

    assert practice("debrief", folder / "ann-0.json", "-o", target) == 2
    assert target.read_text(encoding="utf-8") == "mine"
    assert practice("debrief", folder / "ann-0.json", "-o", target, "--replace") == 0
    assert practice("debrief", folder / "ann-0.json", "-o", folder / "out.xlsx") == 2
    assert ".pdf" in capsys.readouterr().err


def test_a_session_is_no_gauging(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """No command for real water reads a practice session."""
    assert main(["compute", str(folder / "ann-0.json")]) == 2
    assert "bankside.practice/1" in capsys.readouterr().err
