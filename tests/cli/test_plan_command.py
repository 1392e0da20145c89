"""`bankside plan` as it is typed: what it prints, and what it refuses."""

import json
import re
from collections.abc import Callable
from pathlib import Path

import pytest
from cyclopts import App, CoercionError

from bankside.cli import main
from bankside.cli.plan import plan_command
from bankside.gauging.faults import InputRefused
from bankside.gauging.records import Channel, Gauging, PointReading, Units, Vertical
from bankside.gauging.wire import to_json

Typed = tuple[str, ...]
Lines = Callable[..., list[str]]


def run(*typed: str) -> None:
    """Run the command as the command line does, errors left to the caller."""
    app = App(name="bankside")
    app.command(plan_command, name="plan")
    app(["plan", *typed], result_action="return_value", exit_on_error=False)


@pytest.fixture
def printed(capsys: pytest.CaptureFixture[str]) -> Lines:
    """A function that runs the command and returns its lines."""

    def lines(*typed: str) -> list[str]:
        run(*typed)
        return [line.rstrip() for line in capsys.readouterr().out.splitlines()]

    return lines


@pytest.fixture
def earlier(tmp_path: Path) -> Path:
    """An earlier gauging, faster on the right: as a file."""

    def channel(start: float) -> Channel:
        return Channel(
            verticals=(
                Vertical(tape=start, depth=0.0, edge="left"),
                Vertical(tape=start + 2, depth=1.0, velocity=(PointReading(value=0.5),)),
                Vertical(tape=start + 6, depth=2.0, velocity=(PointReading(value=1.5),)),
                Vertical(tape=start + 8, depth=0.0, edge="right"),
            )
        )

    units = Units(length="ft", velocity="ft/s")
    file = tmp_path / "alder.json"
    file.write_text(to_json(Gauging(units=units, channels=(channel(0),))), encoding="utf-8")
    two = Gauging(units=units, channels=(channel(0), channel(20)))
    (tmp_path / "braided.json").write_text(to_json(two), encoding="utf-8")
    return file


def test_a_plan_on_paper(printed: Lines) -> None:
    """Positions, panel widths and units stand in columns, edges included."""
    lines = printed("2.0", "5.9", "--verticals", "2", "--minimum-spacing", "0.3")

    assert lines[:10] == [
        "2 verticals in 3.9 ft: equal spacing",
        "No unit was given: lengths are taken as ft; --unit m for metres.",
        "",
        "            tape  panel width",
        "  vertical  (ft)         (ft)",
        "─────────────────────────────",
        " left edge   2.0         0.65",
        "         1   3.3         1.30",
        "         2   4.6         1.30",
        "right edge   5.9         0.65",
    ]
    assert "Interval: 1.3 ft" in lines
    assert "Time in the water: about 3 min, with 1 point of 40 s at each vertical" in lines


def test_a_plan_ends_with_a_caution(printed: Lines) -> None:
    """Who plans for feet and who plans for metres reads the wading rule in the own unit."""
    feet = " ".join(printed("2.0", "21.7"))
    metres = " ".join(printed("2.0", "21.7", "--unit", "m"))

    assert (
        "Common field guidance, not a rule of this program: do not wade where depth (ft) × "
        "velocity (ft/s) is 10 or more (about 0.93 m²/s), and never alone; lighter people, cold "
        "water and soft beds call for less; local rules and the crew leader decide."
    ) in feet
    assert "do not wade where depth (m) × velocity (m/s) is 0.93 or more" in metres
    assert "from memory" not in feet


def test_a_unit_that_is_not_said_is_told(
    printed: Lines, capsys: pytest.CaptureFixture[str]
) -> None:
    """Feet are taken, which stands before the figures; whoever says a unit hears nothing of it."""
    said = "No unit was given: lengths are taken as ft; --unit m for metres."

    assert printed("2.0", "21.7")[1] == said
    assert not any("taken as" in line for line in printed("2.0", "21.7", "--unit", "ft"))
    run("2.0", "21.7", "--json")
    plan = json.loads(capsys.readouterr().out)
    assert plan["unit"] == "ft"
    assert plan["remarks"][0] == said


def test_advice_keeps_to_the_published_minimum(printed: Lines) -> None:
    """25 verticals in 6 ft crowd: fewer are proposed, none closer than the 0.3 ft named below."""
    text = " ".join(line.strip() for line in printed("0", "6", "--verticals", "25"))

    assert "19 verticals would be 0.3 ft apart throughout." in text
    assert "29 verticals" not in text
    assert "published minimum: 0.3 ft (0.09 m) for a small rotating meter" in text


def test_a_target_that_cannot_be_met_is_explained(printed: Lines) -> None:
    """The remark stands in full, wrapped and not cut."""
    text = " ".join(line.strip() for line in printed("3.2", "5.6", "--minimum-spacing", "0.3"))

    assert (
        "- For 25 verticals in 2.4 ft a vertical every 0.092 ft would be needed; "
        "the minimum spacing of 0.3 ft allows 7."
    ) in text


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        (("0", "30", "--depth", "2.5"), "with 2 points of 40 s"),
        (("0", "30", "--depth", "2.4"), "with 1 point of 40 s"),
        (("0", "30", "--depth", "0.9", "--unit", "m"), "with 2 points of 40 s"),
        (("0", "30", "--depth", "3", "--points", "1"), "with 1 point of 40 s"),
        (
            ("0", "30", "--exposure", "60", "--points", "2"),
            "about 1 h 0 min, with 2 points of 60 s",
        ),
    ],
)
def test_time_follows_depth_and_points(printed: Lines, typed: Typed, said: str) -> None:
    """A depth asks for two points from 2.5 ft on; points that are said go before it."""
    assert any(said in line for line in printed(*typed))


def test_tape_steps_follow_the_unit(printed: Lines) -> None:
    """A tape in feet is read to 0.1, one in metres to 0.05, unless it is said otherwise."""

    def first_tape(*typed: str) -> str:
        row = next(line for line in printed(*typed) if line.split()[:1] == ["1"])
        return str(row.split()[1])

    assert first_tape("0", "1.13", "--verticals", "3") == "0.30"
    assert first_tape("0", "1.13", "--verticals", "3", "--unit", "m") == "0.30"
    assert first_tape("0", "1.13", "--verticals", "3", "--tape-resolution", "0.01") == "0.28"


def test_a_tape_may_begin_on_the_right_bank(capsys: pytest.CaptureFixture[str]) -> None:
    """RIGHT below LEFT counts down."""
    run("8.0", "2.0", "--verticals", "2", "--json")
    plan = json.loads(capsys.readouterr().out)

    assert [vertical["tape"] for vertical in plan["verticals"]] == [6.0, 4.0]
    assert [edge["bank"] for edge in plan["edges"]] == ["left", "right"]


def test_a_plan_as_json(capsys: pytest.CaptureFixture[str]) -> None:
    """Tenths stay tenths, and what is not known is not there."""
    run("3.0", "3.9", "--verticals", "8", "--json")
    out = capsys.readouterr().out
    plan = json.loads(out)

    assert plan["format"] == "bankside.plan/1"
    assert '"tape": 3.3,' in out
    assert "share_expected" not in out
    assert sum(part["panel_width"] for part in plan["edges"] + plan["verticals"]) == pytest.approx(
        0.9
    )


def test_equal_shares_of_an_earlier_flow(printed: Lines, earlier: Path) -> None:
    """An earlier gauging places the verticals and adds a column of shares to expect."""
    lines = printed("10", "26", "--rule", "equal-flow", "--from", str(earlier), "--verticals", "12")
    rows = [line.split() for line in lines if line.split()[:1] and line.split()[0].isdigit()]
    shares = [float(row[3]) for row in rows if len(row) == 4]

    assert lines[0] == "12 verticals in 16 ft: closer where the earlier gauging found more water"
    assert "expected" in lines[3]
    assert len(shares) == 12
    assert sum(shares) == pytest.approx(100.0, abs=0.6)
    assert max(shares) < 12.0


def test_a_target_is_held_against_an_earlier_gauging(printed: Lines, earlier: Path) -> None:
    """A remark says how many verticals are likely to do, or that none are; usually for 8 %."""
    usual = " ".join(printed("10", "26", "--from", str(earlier)))
    wide = " ".join(printed("10", "26", "--from", str(earlier), "--target", "60"))
    wide = " ".join(wide.split())

    assert "(19 in 20)" in usual and "± 8 %" in usual
    assert "For ± 60 % (19 in 20) about" in wide and "as likely as not" in wide
    assert "(19 in 20)" not in " ".join(printed("10", "26"))


def test_a_target_is_held_against_soundings(printed: Lines) -> None:
    """Before the first velocity: by depths alone, in the unit of the tape."""
    depths = "12:0.6, 14:1.2, 16:1.8, 18:2, 20:1.8, 22:1.2, 24:0.6"

    told = " ".join(printed("10", "26", "--soundings", depths, "--target", "30"))

    assert "by 7 soundings alone, as likely as not; slow pools and weed" in " ".join(told.split())


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("12:0.6, 14", '--soundings: found "14"; a tape position and a depth in ft, such as 3.2'),
        ("12:0.6, 14:deep", '--soundings: found "14:deep"; a tape position and a depth in ft'),
        ("12:0.6, 14:1, 16:1", "soundings must be 5 or more (got 3)"),
        ("9:1, 12:1, 14:1, 16:1, 18:1", "the edges of water at 10 and 26 ft (got 9 ft)"),
    ],
)
def test_soundings_that_are_none_are_refused(typed: str, said: str) -> None:
    """With what was found, and what would be right."""
    with pytest.raises(InputRefused, match=re.escape(said)):
        run("10", "26", "--soundings", typed)


def test_soundings_go_without_an_earlier_gauging(earlier: Path) -> None:
    """One number of verticals is told, by what is known better."""
    with pytest.raises(InputRefused, match="--soundings must stand without --from"):
        run("10", "26", "--soundings", "12:1", "--from", str(earlier))


@pytest.mark.parametrize("typed", ["0", "-5", "101", "much"])
def test_a_target_is_a_percentage(typed: str, earlier: Path) -> None:
    """Above 0 and up to 100."""
    with pytest.raises(CoercionError, match="a percentage such as 5 would be right"):
        run("10", "26", "--from", str(earlier), "--target", typed)


def test_a_channel_of_an_earlier_gauging(printed: Lines, earlier: Path) -> None:
    """Of several channels one is named, counted from 1."""
    braided = str(earlier.with_name("braided.json"))

    with pytest.raises(InputRefused, match=r"braided\.json: found 2 channels; say which one"):
        run("10", "26", "--from", braided)
    assert printed("10", "26", "--from", braided, "--from-channel", "2")
    with pytest.raises(InputRefused, match="has no channel 3; it has 2"):
        run("10", "26", "--from", braided, "--from-channel", "3")
    with pytest.raises(InputRefused, match="has no channel 0; it has 2"):
        run("10", "26", "--from", braided, "--from-channel", "0")


@pytest.mark.parametrize(
    ("typed", "sentences"),
    [
        (
            ("3,2", "abc"),
            [
                'LEFT: found "3,2"; a length in ft such as 3.2 would be right',
                'RIGHT: found "abc"; a length in ft such as 3.2 would be right',
            ],
        ),
        (("1", "nan"), ['RIGHT: found "nan"; a length in ft such as 3.2 would be right']),
        (("1", "1e3"), ['RIGHT: found "1e3"; a length in ft such as 3.2 would be right']),
        (
            ("1", "9", "--unit", "m", "--tape-resolution", ""),
            ['--tape-resolution: found ""; a length in m such as 3.2 would be right'],
        ),
        (("1", "9", "--verticals", "0"), ["verticals must be 1 to 500 in number (got 0)"]),
        (("1", "9", "--depth", "-1"), ["a depth must be a length of at least 0 (got -1)"]),
        (
            ("1", "9", "--exposure", "3601"),
            ["exposure, moving and crossing must each take 0 to 3600 seconds"],
        ),
        (
            ("1", "9", "--rule", "equal-flow"),
            ["equal shares of flow need an earlier gauging of the site"],
        ),
        (("1", "9", "--from-channel", "1"), ["--from-channel must go with --from"]),
        (
            ("1", "9", "--from", "nowhere.json"),
            ["nowhere.json: found no such file; the path of a table would be right"],
        ),
    ],
)
def test_input_that_cannot_be_planned_with(typed: Typed, sentences: list[str]) -> None:
    """Every refusal is a sentence that names what was typed."""
    with pytest.raises(InputRefused) as refused:
        run(*typed)

    assert str(refused.value).splitlines() == sentences


def test_a_crew_may_start_from_the_right_bank(printed: Lines) -> None:
    """Listed from the right edge, and numbered from there."""
    lines = printed("2.0", "5.9", "--verticals", "2", "--start", "right")

    assert [line.split() for line in lines[6:10]] == [
        ["right", "edge", "5.9", "0.65"],
        ["1", "4.6", "1.30"],
        ["2", "3.3", "1.30"],
        ["left", "edge", "2.0", "0.65"],
    ]


SHEET = """\
# stream: Alder Fork
# date: 2026-07-14
tape (ft),depth (ft),velocity (ft/s),edge
0.4,0,,left
2.4,0.8,0.5,
4.4,1.2,1.5,
6.4,1.0,0.9,right
"""


def test_an_earlier_gauging_may_be_a_sheet(printed: Lines, tmp_path: Path) -> None:
    """A sheet serves as well as a record; the plan names it, and a steep edge has its share."""
    file = tmp_path / "alder.csv"
    file.write_text(SHEET, encoding="utf-8")
    lines = printed("0.4", "6.4", "--from", str(file), "--verticals", "5")

    assert "Earlier gauging: Alder Fork, 2026-07-14, alder.csv" in lines
    rows = [line.split() for line in lines[6:13]]
    assert rows[0] == ["left", "edge", "0.4", "0.5"]
    assert rows[-1][:4] == ["right", "edge", "6.4", "0.5"]
    assert float(rows[-1][4]) > 0
    assert sum(float(row[-1]) for row in rows[1:]) == pytest.approx(100.0, abs=0.3)


def test_a_sheet_with_a_fault_is_refused_as_it_is_when_computing(tmp_path: Path) -> None:
    """The row and the column of a cell that cannot be read are named."""
    file = tmp_path / "alder.csv"
    file.write_text(SHEET.replace("1.5", "fast"), encoding="utf-8")

    with pytest.raises(InputRefused, match=r'alder\.csv, row 6, column C .*: found "fast"'):
        run("0.4", "6.4", "--from", str(file))


def test_a_sheet_of_several_gaugings_is_asked_about(tmp_path: Path) -> None:
    """A plan rests on one gauging; a season's sheet is refused in one sentence with its names."""
    file = tmp_path / "season.csv"
    rows = [
        f"{site},{tape},{depth},0.4"
        for site in "ABCDEFG"
        for tape, depth in ((0, 0), (1, 0.5), (2, 0))
    ]
    heads = "site,tape (m),depth (m),velocity (m/s)"
    file.write_text("\n".join([heads, *rows]), encoding="utf-8")

    with pytest.raises(InputRefused) as refused:
        run("0", "2", "--from", str(file))
    assert str(refused.value) == (
        "season.csv: found 7 gaugings (A, B, C, D, E and 2 more); a file with one gauging would be "
        "right"
    )


def test_kept_answers_settle_what_a_sheet_asks(printed: Lines, tmp_path: Path) -> None:
    """A sheet without units is refused, and taken with the answers kept from computing it."""
    file, kept = tmp_path / "alder.csv", tmp_path / "answers.toml"
    bare = SHEET.replace(" (ft)", "").replace(" (ft/s)", "")
    file.write_text(bare, encoding="utf-8")
    kept.write_text('[units]\ntape = "ft"\ndepth = "ft"\nvelocity = "ft/s"\n', encoding="utf-8")

    with pytest.raises(InputRefused, match="--unit"):
        run("0.4", "6.4", "--from", str(file))
    assert printed("0.4", "6.4", "--from", str(file), "--answers", str(kept))
    with pytest.raises(InputRefused, match="--answers must go with --from"):
        run("0.4", "6.4", "--answers", str(kept))


def test_a_sheet_on_which_nothing_was_measured(tmp_path: Path) -> None:
    """A dry section is no gauging to plan from."""
    file = tmp_path / "dry.csv"
    file.write_text("tape (m),depth (m),velocity (m/s)\n0,0,\n1,0,\n2,0,\n", encoding="utf-8")

    with pytest.raises(InputRefused, match="nothing was measured"):
        run("0", "2", "--from", str(file))


@pytest.mark.parametrize(
    ("typed", "line"),
    [
        (("0", "x"), 'RIGHT: found "x"; a length in ft such as 3.2 would be right'),
        (
            ("0", "5", "--verticals", "x"),
            'Invalid value for --verticals: found "x"; a whole number such as 12 would be right',
        ),
        (
            ("0", "5", "--verticals", "2.5"),
            'Invalid value for --verticals: found "2.5"; a whole number such as 12 would be right',
        ),
        (
            ("0", "5", "--exposure", "nan"),
            'Invalid value for --exposure: found "nan"; seconds such as 40 would be right',
        ),
        ((), "LEFT is missing or has no value; bankside plan --help shows what is needed."),
        (("0",), "RIGHT is missing or has no value; bankside plan --help shows what is needed."),
        (
            ("0", "5", "--rule", "z"),
            'Invalid value "z" for --rule. Choose from: "equal", "cell-centres", '
            '"skip-first-cell", "equal-flow".',
        ),
    ],
)
def test_what_is_typed_wrong_is_one_line(
    capsys: pytest.CaptureFixture[str], typed: Typed, line: str
) -> None:
    """Exit code 2, one clear line on stderr, nothing on stdout."""
    assert main(["plan", *typed]) == 2
    out, err = capsys.readouterr()

    assert err.splitlines() == [line]
    assert out == ""


@pytest.mark.parametrize("content", [b"\xff\xfe\x00", b"{", b"[]"])
def test_a_file_that_holds_no_gauging(tmp_path: Path, content: bytes) -> None:
    """What cannot be read as a gauging is refused with the name of the file."""
    file = tmp_path / "odd.json"
    file.write_bytes(content)

    with pytest.raises(InputRefused, match=r"odd\.json"):
        run("1", "9", "--from", str(file))


def test_an_earlier_gauging_that_cannot_be_computed(tmp_path: Path) -> None:
    """Faults of the earlier gauging are told with its file and their place in it."""
    units = Units(length="ft", velocity="ft/s")
    empty = Gauging(units=units, channels=(Channel(verticals=()),))
    file = tmp_path / "begun.json"
    file.write_text(to_json(empty), encoding="utf-8")

    with pytest.raises(InputRefused, match=r"begun\.json, channels\[0\]\.verticals: "):
        run("1", "9", "--from", str(file))
