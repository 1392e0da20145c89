"""Rule sets that cannot be read, and commands about them that cannot be understood."""

from pathlib import Path

import pytest

from .cases import run

HEAD = b'format = "bankside.rules/1"\nname = "crew"\ntitle = "Crew"\n'
FILES = [
    ("empty", b"", ('format must be "bankside.rules/1" (got nothing)',), 3),
    ("not TOML", b"share: 10", ("must be TOML", "line 1"), 1),
    ("not UTF-8", b"# \xff", ("byte (number 3)", "UTF-8"), 1),
    ("a workbook", b"PK\x03\x04" + bytes(range(256)), ("UTF-8",), 1),
    ("another format", HEAD.replace(b"/1", b"/9"), ('(got "bankside.rules/9")',), 1),
    ("unknown threshold", HEAD + b"[values]\nshare = 1", ("no check goes by", '"share"'), 1),
    ("not a number", HEAD + b"[values.froude]\nvalue = nan", ("values.froude.value", "nan"), 4),
    ("based on itself", HEAD + b'based_on = "crew.toml"', ("crew.toml → crew.toml",), 1),
    ("based on nothing", HEAD + b'based_on = "b.toml"', ('"b.toml": found no such file',), 1),
    ("based on a folder", HEAD + b'based_on = ".toml"', ("based_on",), 1),
    (
        "aim above limit",
        HEAD
        + b'[values.panel_share_aim]\nvalue = 12\nunit = "%"\nsource = "a"\nconfidence = "read"',
        ("panel_share_aim (12 %", '"crew"', "panel_share_limit (10 %", '"common-practice"'),
        1,
    ),
]


@pytest.mark.parametrize(
    ("content", "says", "count"),
    [pytest.param(*case[1:], id=str(case[0])) for case in FILES],
)
@pytest.mark.parametrize(
    "command", [("show",), ("show", "--json"), ("compare", "common-practice"), ("start",)]
)
def test_a_broken_rule_set_is_refused(
    command: tuple[str, ...],
    content: bytes,
    says: tuple[str, ...],
    count: int,
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
) -> None:
    """A sentence a fault, each beginning with the file, and nothing is printed or written."""
    path = tmp_path / "crew.toml"
    path.write_bytes(content)
    code, out, lines = run(capsys, "rules", *command, path)

    assert (code, out) == (2, "")
    assert len(lines) == count, lines
    assert all(line.startswith(str(path)) for line in lines)
    assert any(all(part in line for part in says) for line in lines), lines
    assert list(tmp_path.iterdir()) == [path]


COMMANDS = [
    (("show",), ("RULES is missing", "bankside rules show --help")),
    (("compare", "common-practice"), ("SECOND is missing", "bankside rules compare --help")),
    (("show", "common-practise"), ('"common-practise"', 'did you mean "common-practice"?')),
    (("list", "x"), ('"x"',)),
    (("shw",), ('"shw"',)),
    (("show", "common-practice", "--no-own"), ("--no-own",)),
    (("start", "common-practice", "-o", "crew.txt"), ("crew.txt: ", ".toml")),
    (("start", "common-practice", "-o", "nowhere/crew.toml"), ("crew.toml", "cannot be written")),
]


@pytest.mark.parametrize(("words", "says"), COMMANDS)
def test_a_command_about_rules_that_cannot_be_understood(
    words: tuple[str, ...],
    says: tuple[str, ...],
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    """One line says what was not understood, or what would be right."""
    monkeypatch.chdir(tmp_path)
    code, out, lines = run(capsys, "rules", *words)

    assert (code, out) == (2, "")
    (line,) = lines
    assert all(part in line for part in says), line
    assert list(tmp_path.iterdir()) == []


def test_a_starter_replaces_nothing_unasked(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """What a leader has edited is written over only with --replace."""
    path = tmp_path / "crew.toml"
    path.write_text("kept", encoding="utf-8")
    code, _, lines = run(capsys, "rules", "start", "common-practice", "-o", path)

    assert code == 2 and "is there already" in lines[0]
    assert path.read_text(encoding="utf-8") == "kept"
    assert run(capsys, "rules", "start", "common-practice", "-o", path, "--replace")[0] == 0
    assert path.read_text(encoding="utf-8").startswith("# A rule set of your own.")
