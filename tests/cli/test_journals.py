"""Journals of the app on the command line: read, united, and held against what they say."""

import json
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import pytest

from bankside.cli import main

V = "channels/1/verticals"
OPEN = "The gauging was not closed where it was recorded: it may be unfinished."


def _entry(device: str, sequence: int, what: str, value: Any, *replaces: str) -> dict[str, Any]:
    return {
        "id": f"{device}{sequence}",
        "gauging": "g-alder-fork",
        "device": device,
        "sequence": sequence,
        "at": f"2026-07-14T10:{sequence:02}:00-07:00",
        "what": what,
        "value": value,
        **({"replaces": list(replaces)} if replaces else {}),
    }


def _crossing() -> list[dict[str, Any]]:
    """0.31 m³/s by hand: half-widths of 1 m, 1·0.4·0.2 + 1·0.5·0.3 + 1·0.4·0.2."""
    said: list[tuple[str, Any]] = [
        ("units/length", "m"),
        ("units/velocity", "m/s"),
        ("site/stream", "Alder Fork"),
        ("site/name", "above the footbridge"),
        ("start_bank", "left"),
        (f"{V}/l/tape", "1.0"),
        (f"{V}/l/edge", "left"),
        (f"{V}/l/depth", "0"),
    ]
    for key, tape, depth, velocity in (
        ("v1", "2.0", "0.40", "0.20"),
        ("v2", "3.0", "0.50", "0.30"),
        ("v3", "4.0", "0.40", "0.20"),
    ):
        said += [
            (f"{V}/{key}/tape", tape),
            (f"{V}/{key}/depth", depth),
            (f"{V}/{key}/readings/r1", {"value": velocity, "fraction": 0.6}),
        ]
    said += [(f"{V}/r/tape", "5.0"), (f"{V}/r/edge", "right"), (f"{V}/r/depth", "0")]
    return [_entry("a", n, what, value) for n, (what, value) in enumerate(said, 1)]


def _closed() -> list[dict[str, Any]]:
    entries = _crossing()
    return [*entries, _entry("a", len(entries) + 1, "closed", {"by": "I. Marrow"})]


def _write(path: Path, entries: Sequence[dict[str, Any]], **more: Any) -> Path:
    gauging = entries[0]["gauging"]
    document = {"format": "bankside.journal/1", "gauging": gauging, "entries": entries, **more}
    path.write_text(json.dumps(document), encoding="utf-8")
    return path


def _computed(capsys: pytest.CaptureFixture[str], *paths: Path) -> dict[str, Any]:
    assert main(["compute", "--json", *map(str, paths)]) == 0
    document: dict[str, Any] = json.loads(capsys.readouterr().out)
    return document


def test_compute_reads_a_journal(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The export of the app is computed like a sheet, and a closed one has nothing to add."""
    path = _write(tmp_path / "alder.bankside.json", _closed())
    (gauging,) = _computed(capsys, path)["gaugings"]

    assert gauging["discharge_m3s"] == pytest.approx(0.31, rel=1e-12)
    assert (gauging["stream"], gauging["file"]) == ("Alder Fork", "alder.bankside.json")
    assert not [note for note in gauging["notes"] if "entries" in note or "closed" in note]


def test_an_open_gauging_is_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A crew may still be in the water."""
    path = _write(tmp_path / "alder.bankside.json", _crossing())
    assert main(["compute", str(path)]) == 0

    assert OPEN in " ".join(capsys.readouterr().out.split())


def test_a_vertical_on_its_way_keeps_no_discharge_back(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """What the app showed in the water comes out; when all is over, the vertical lacks a depth."""
    entries = _crossing()
    bare = _entry("a", len(entries) + 1, f"{V}/v4/tape", "4.5")
    shown = {"discharge_m3s": 0.31, "method_version": "1", "version": "0.1.0"}
    path = _write(tmp_path / "alder.bankside.json", [*entries, bare], shown=shown)
    (gauging,) = _computed(capsys, path)["gaugings"]

    assert gauging["discharge_m3s"] == pytest.approx(0.31, rel=1e-12)
    assert "Nothing was read yet at tape 4.5 m: left out of the figures." in gauging["notes"]
    assert not [note for note in gauging["notes"] if "was shown" in note]

    closed = _entry("a", len(entries) + 2, "closed", {"by": "I. Marrow"})
    _write(path, [*entries, bare, closed], shown=shown)
    assert main(["compute", str(path)]) == 2
    assert (
        "alder.bankside.json, channels[0].verticals[4].depth (tape 4.5): "
        in capsys.readouterr().err
    )


def test_what_the_file_says_beside_its_entries(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A record or a discharge that the entries do not give is told, and the entries are gone by."""
    record = {
        "format": "bankside.gauging/1",
        "units": {"length": "m", "velocity": "m/s"},
        "channels": [],
    }
    shown = {"discharge_m3s": 0.35, "method_version": "1", "version": "0.1.0"}
    path = _write(tmp_path / "alder.bankside.json", _closed(), record=record, shown=shown)
    (gauging,) = _computed(capsys, path)["gaugings"]
    notes = " ".join(gauging["notes"])

    assert gauging["discharge_m3s"] == pytest.approx(0.31, rel=1e-12)
    assert "The record in alder.bankside.json is not what its entries give" in notes
    assert "0.35 m³/s was shown, but its entries give 0.31 m³/s" in notes


def test_check_reads_a_journal(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The checks look at what the crew called."""
    path = _write(tmp_path / "alder.bankside.json", _crossing())
    assert main(["check", str(path)]) == 0
    out = " ".join(capsys.readouterr().out.split())

    assert "Too few verticals" in out
    assert OPEN in out


def test_report_reads_a_journal(tmp_path: Path) -> None:
    """The note of a journal has its corrections, and what is to be said of the journal."""
    entries = _crossing()
    again = _entry("a", len(entries) + 1, f"{V}/v1/depth", "0.45", "a10") | {"reason": "misheard"}
    path = _write(tmp_path / "alder.bankside.json", [*entries, again])
    target = tmp_path / "note.html"
    assert main(["report", str(path), "--html", "-o", str(target)]) == 0
    text = " ".join(target.read_text(encoding="utf-8").split())

    assert "depth at tape 2.0" in text
    assert "misheard" in text
    assert OPEN in text


def test_convert_writes_the_record_of_a_journal(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """What comes out is read as the same gauging, and what was assumed is told beside it."""
    path = _write(tmp_path / "alder.bankside.json", _crossing())
    assert main(["convert", str(path), "--to", "json"]) == 0
    captured = capsys.readouterr()
    record = json.loads(captured.out)

    assert (record["format"], record["id"]) == ("bankside.gauging/1", "g-alder-fork")
    assert captured.err.splitlines() == [f"alder.bankside.json, above the footbridge: {OPEN}"]

    again = tmp_path / "alder.json"
    again.write_text(captured.out, encoding="utf-8")
    (gauging,) = _computed(capsys, again)["gaugings"]
    assert gauging["discharge_m3s"] == pytest.approx(0.31, rel=1e-12)


def test_exports_of_one_gauging_are_united(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Two devices that read a part each make one gauging, in whatever order they are given."""
    entries = _closed()
    here = _write(tmp_path / "here.bankside.json", [e for e in entries if "v2" not in e["what"]])
    there = _write(tmp_path / "there.bankside.json", [e for e in entries if "v3" not in e["what"]])
    for paths in ([here, there], [there, here]):
        document = _computed(capsys, *paths)
        (gauging,) = document["gaugings"]
        names = [path.name for path in paths]

        assert gauging["discharge_m3s"] == pytest.approx(0.31, rel=1e-12)
        assert f"The entries of 2 files are united: {', '.join(names)}." in gauging["notes"]
        assert [file["file"] for file in document["files"]] == names
        assert [file["rows"]["used"] for file in document["files"]] == [5, 0]
        (note,) = document["files"][1]["notes"]
        assert note.startswith(f"Its entries are united with those of {names[0]}")


def test_what_was_shown_is_held_against_the_entries_of_its_own_file(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A device that knew half of a gauging showed what its half gave, and that is no difference."""
    entries = _closed()
    # Without v2: half-widths of 1.5 m, 1.5·0.4·0.2 twice = 0.24 m³/s.
    shown = {"discharge_m3s": 0.24, "method_version": "1", "version": "0.1.0"}
    half = [e for e in entries if "v2" not in e["what"]]
    here = _write(tmp_path / "here.bankside.json", half, shown=shown)
    there = _write(tmp_path / "there.bankside.json", entries, shown=shown)
    (gauging,) = _computed(capsys, here, there)["gaugings"]
    told = [note for note in gauging["notes"] if "was shown" in note]

    assert [note.split(" was written")[0] for note in told] == ["When there.bankside.json"]


def test_what_two_devices_say_differently_is_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The last in order is taken, and nobody has to find out by chance that there was another."""
    entries = _closed()
    number = len(entries) + 1
    one = _entry("a", number, f"{V}/v1/depth", "0.45", "a10")
    other = _entry("b", number, f"{V}/v1/depth", "0.40", "a10")
    here = _write(tmp_path / "here.bankside.json", [*entries, one])
    there = _write(tmp_path / "there.bankside.json", [*entries, other])
    (gauging,) = _computed(capsys, here, there)["gaugings"]

    assert gauging["discharge_m3s"] == pytest.approx(0.31, rel=1e-12)
    assert any('"0.45" and "0.40" were both said' in note for note in gauging["notes"])


def test_exports_that_contradict_each_other(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """One id with two contents is told with both files, and nothing is computed."""
    entries = _closed()
    changed = [entry | {"value": "0.41"} if entry["id"] == "a10" else entry for entry in entries]
    here = _write(tmp_path / "here.bankside.json", entries)
    there = _write(tmp_path / "there.bankside.json", changed)
    assert main(["compute", str(here), str(there)]) == 2
    (line,) = capsys.readouterr().err.splitlines()

    assert line.startswith("here.bankside.json and there.bankside.json: ")
    assert '(got two different ones with the id "a10")' in line


def test_two_gaugings_stay_two(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Only entries of one gauging are united."""
    other = [entry | {"gauging": "g-quill-brook"} for entry in _closed()]
    here = _write(tmp_path / "here.bankside.json", _closed())
    there = _write(tmp_path / "there.bankside.json", other)

    assert len(_computed(capsys, here, there)["gaugings"]) == 2


def test_a_journal_beside_a_sheet(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Files of every kind go together, in the order given."""
    journal = _write(tmp_path / "alder.bankside.json", _closed())
    sheet = tmp_path / "quill.csv"
    sheet.write_text("tape (m),depth (m),velocity (m/s)\n0,0,0\n1,0.5,0.4\n2,0,0\n", "utf-8")
    gaugings = _computed(capsys, sheet, journal)["gaugings"]

    assert [gauging["file"] for gauging in gaugings] == ["quill.csv", "alder.bankside.json"]


def test_a_fault_is_told_with_its_entry_and_its_file(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Of several files it is the one in which the entry stands, counted as it stands there."""
    entries = _closed()
    wrong = [_entry("b", 40, "stage/s", {"value": "1,32"})]
    here = _write(tmp_path / "here.bankside.json", entries)
    there = _write(tmp_path / "there.bankside.json", [*entries[:3], *wrong])
    sound = _write(
        tmp_path / "other.bankside.json", [e | {"gauging": "g-quill-brook"} for e in entries]
    )
    assert main(["compute", str(here), str(there), str(sound)]) == 2
    first, hint = capsys.readouterr().err.splitlines()
    assert first == (
        "there.bankside.json, entries[3] (stage/s): value of the stage must be a figure as "
        'called, typed with a decimal point, such as "1.05" (got "1,32")'
    )
    assert "--keep-going" in hint

    assert main(["compute", str(here), str(there), str(sound), "--keep-going", "--json"]) == 0
    (gauging,) = json.loads(capsys.readouterr().out)["gaugings"]
    assert gauging["file"] == "other.bankside.json"
