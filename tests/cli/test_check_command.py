"""`bankside check` as people run it."""

import json
from pathlib import Path
from typing import Any

import pytest

from bankside.cli import main

STRONG = """\
# stream: Alder Fork
# date: 2026-07-14
tape (m),depth (m),velocity (m/s),edge
0,0,0,left
1,0.8,0.9,
2,0.5,0.8,
3,0,0,right
"""
CHECK = "Water too strong to wade"


@pytest.fixture
def sheet(tmp_path: Path) -> Path:
    """A sheet of a stream where the leader has to decide."""
    path = tmp_path / "strong.csv"
    path.write_text(STRONG, encoding="utf-8")
    return path


def _document(capsys: pytest.CaptureFixture[str], *arguments: str) -> dict[str, Any]:
    assert main(["check", *arguments, "--json"]) == 0
    document: dict[str, Any] = json.loads(capsys.readouterr().out)
    return document


def _finding(document: dict[str, Any]) -> dict[str, Any]:
    return next(f for f in document["gaugings"][0]["findings"] if f["check"] == CHECK)


def test_a_finding_names_place_advice_and_rule(
    sheet: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Where, what, what to do and by whose rule are all on the page."""
    assert main(["check", str(sheet)]) == 0

    out = " ".join(capsys.readouterr().out.split())
    assert "EXPLAIN" in out and CHECK in out
    assert "At tape 1 m" in out and "Let the leader decide" in out
    assert "Rule: 0.6 m²/s" in out and "Australian Rainfall & Runoff" in out
    assert "Rule set: common-practice" in out


def test_an_answer_is_written_with_the_record(
    sheet: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The answer is kept in the record, and the next look at it shows the finding as answered."""
    key = _finding(_document(capsys, str(sheet)))["key"]
    kept = tmp_path / "kept.json"
    command = [
        "check",
        str(sheet),
        "--accept",
        f"{key}=leader decided, spotter below",
        "--by",
        "I. Marrow",
    ]

    assert main([*command, "-o", str(kept)]) == 0
    assert "Accepted because: leader decided, spotter below (I. Marrow," in capsys.readouterr().out
    answer = _finding(_document(capsys, str(kept)))["answer"]
    assert (answer["reason"], answer["by"]) == ("leader decided, spotter below", "I. Marrow")


def test_a_key_that_two_gaugings_have_is_refused(
    sheet: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """One answer never lands on two gaugings: what holds for one stream may not for another."""
    other = tmp_path / "other.csv"
    other.write_text(STRONG.replace("Alder Fork", "Quill Brook"), encoding="utf-8")
    key = _finding(_document(capsys, str(sheet)))["key"]
    out = tmp_path / "out.json"

    assert (
        main(["check", str(sheet), str(other), "--accept", f"{key}=leader decided", "-o", str(out)])
        == 2
    )
    assert f'found the key "{key}" in 2 gaugings' in capsys.readouterr().err
    assert not out.exists()


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("--accept", "zzzzz=why", "-o", "OUT"), 'no finding has the key "zzzzz"'),
        (("--accept", "why", "-o", "OUT"), "KEY=REASON"),
        (("--accept", "zzzzz=why"), "--output FILE.json"),
        (("--accept", "zzzzz=a", "--accept", "ZZZZZ=b", "-o", "OUT"), 'the key "zzzzz" 2 times'),
        (("-o", "out.csv"), "one that ends in .json, such as out.json, would be right"),
        (("--by", "I. Marrow"), "must go with --accept"),
        (("--rules", "no-such-rules"), "no-such-rules"),
    ],
)
def test_a_wrong_word_is_one_sentence(
    sheet: Path,
    tmp_path: Path,
    arguments: tuple[str, ...],
    said: str,
    capsys: pytest.CaptureFixture[str],
) -> None:
    """Nothing is written, and what would be right is said."""
    out = tmp_path / "out.json"
    given = [str(out) if word == "OUT" else word for word in arguments]

    assert main(["check", str(sheet), *given]) == 2
    assert said in capsys.readouterr().err
    assert not out.exists()


def test_strict_ends_with_one_while_a_grave_finding_is_open(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A script can see that somebody has to look, and an answer settles it."""
    sheet = tmp_path / "stop.csv"
    sheet.write_text(STRONG.replace("0.8,0.9", "1.1,0.9"), encoding="utf-8")
    kept = tmp_path / "kept.json"

    assert main(["check", str(sheet), "--strict"]) == 1
    capsys.readouterr()
    open_ones = [
        f["key"]
        for f in _document(capsys, str(sheet))["gaugings"][0]["findings"]
        if f["severity"] in ("stop", "fix now")
    ]
    accept = [word for key in open_ones for word in ("--accept", f"{key}=from the bridge")]
    assert (
        main(["check", str(sheet), *accept, "--by", "I. Marrow", "-o", str(kept), "--strict"]) == 0
    )


def test_a_rule_set_of_ones_own_goes_before(
    sheet: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A local value overrides the shipped one, and the finding names its source."""
    rules = tmp_path / "ours.toml"
    rules.write_text(
        'format = "bankside.rules/1"\nname = "alder"\ntitle = "Alder basin"\n[values]\n'
        'wade_product_stop = { value = 0.5, unit = "m2/s", source = "Alder basin safety plan", '
        'confidence = "read" }\n'
        'wade_product_caution = { value = 0.4, unit = "m2/s", source = "Alder basin safety plan", '
        'confidence = "read" }\n',
        encoding="utf-8",
    )

    finding = _finding(_document(capsys, str(sheet), "--rules", str(rules)))
    assert finding["severity"] == "stop"
    assert finding["thresholds"][0]["source"] == "Alder basin safety plan"


def test_a_level_hides_what_is_below_and_says_so(
    sheet: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Nothing is dropped silently."""
    assert main(["check", str(sheet), "--level", "stop"]) == 0

    out = capsys.readouterr().out
    assert CHECK not in out and "below the level asked for are not shown" in out


def test_a_rule_set_that_nobody_knows_is_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A protocol named on the sheet is not taken for another one."""
    sheet = tmp_path / "named.csv"
    sheet.write_text(f"# protocol: Alder basin 2019\n{STRONG}", encoding="utf-8")

    assert main(["check", str(sheet)]) == 0
    out = " ".join(capsys.readouterr().out.split())
    assert 'names the rule set "Alder basin 2019", which is not known here' in out


def test_what_to_do_next_is_told_to_a_target(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Twelve verticals of a smooth stream are not at ± 8 %; the acts stand in JSON as well."""
    inner = [f"{i},{0.5 if 2 < i < 11 else 0.3},0.4," for i in range(1, 13)]
    path = tmp_path / "smooth.csv"
    head = "tape (m),depth (m),velocity (m/s),edge"
    path.write_text("\n".join([head, "0,0,0,left", *inner, "13,0,0,right", ""]), encoding="utf-8")

    assert main(["check", str(path), "--unfinished", "--target", "8"]) == 0
    out = " ".join(capsys.readouterr().out.split())
    assert "WHAT TO DO NEXT, TO ± 8 % (19 IN 20)" in out
    assert "Read a vertical at tape" in out
    asked = _document(capsys, str(path), "--unfinished", "--target", "8")["gaugings"][0]["next"]
    assert asked["target"] == 8.0 and asked["acts"][0]["words"] in out
    assert "next" not in _document(capsys, str(path), "--unfinished")["gaugings"][0]


def test_where_somebody_is_called_out_nothing_is_told_to_do(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """1.1 m²/s is beyond what anybody wades: out, and no act."""
    path = tmp_path / "out.csv"
    path.write_text(STRONG.replace("1,0.8,0.9", "1,1.0,1.1"), encoding="utf-8")

    assert main(["check", str(path), "--target", "8"]) == 0
    out = " ".join(capsys.readouterr().out.split())
    assert "Nothing can be said yet" in out and "Read a vertical" not in out
