"""`bankside rules` as it is typed: what it prints, what it writes, and what it refuses."""

import json
import re
import tomllib
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from bankside.cli import main
from bankside.gauging.rule_sets.load import load_rule_set, shipped_names
from bankside.gauging.rule_sets.thresholds import THRESHOLDS

DOCUMENT = Path(__file__).parents[2] / "docs" / "rules.md"
Lines = Callable[..., list[str]]

CREW = """\
format = "bankside.rules/1"
name = "alder"
title = "Alder Fork crew"
about = "For low water."
based_on = "after-iso-748"

[values]
wade_depth_stop = { value = 6, unit = "ft", source = "permit, p. 3", confidence = "read" }

[values.panel_share_aim]
value = 4
unit = "%"
source = "the crew leader"
confidence = "practice"
checked_by = "the crew leader"
checked_on = 2026-07-14
"""


@pytest.fixture
def crew(tmp_path: Path) -> str:
    """A rule set of a crew, as a file."""
    path = tmp_path / "crew.toml"
    path.write_text(CREW, encoding="utf-8")
    return str(path)


@pytest.fixture
def printed(capsys: pytest.CaptureFixture[str]) -> Lines:
    """A function that runs the command and returns its lines, without the blanks at their ends."""

    def lines(*typed: str) -> list[str]:
        assert main(["rules", *typed]) == 0
        return [line.rstrip() for line in capsys.readouterr().out.splitlines()]

    return lines


@pytest.fixture
def document(capsys: pytest.CaptureFixture[str]) -> Callable[..., Any]:
    """A function that runs the command with --json and returns what it printed."""

    def parsed(*typed: str) -> Any:
        assert main(["rules", *typed, "--json"]) == 0
        return json.loads(capsys.readouterr().out)

    return parsed


def test_the_list_names_every_rule_set(printed: Lines) -> None:
    """Each with its title, and how many values it has from where: 1 of ISO's 5 was read."""
    lines = printed("list")

    assert [line for line in lines if line in shipped_names()] == list(shipped_names())
    place = lines.index("after-iso-748")
    assert lines[place + 1 : place + 3] == [
        "  Starter values after ISO 748 (2007, 2021), verify",
        "  5 values of its own: 1 read, 4 from memory; 0 checked",
    ]
    assert "before calling it the rule of that publication." in " ".join(lines)


def test_the_list_as_json(document: Callable[..., Any]) -> None:
    """The same counts, and on what each stands."""
    listed = {item["name"]: item for item in document("list")["rule_sets"]}

    assert list(listed) == list(shipped_names())
    assert "based_on" not in listed["common-practice"]
    assert listed["after-iso-748"] == {
        "name": "after-iso-748",
        "title": "Starter values after ISO 748 (2007, 2021), verify",
        "based_on": "common-practice",
        "own": {"values": 5, "read": 1, "from_memory": 4, "checked": 0},
    }


def test_a_rule_set_is_shown_own_values_first(printed: Lines, crew: str) -> None:
    """Whoever says a value heads it: the set itself, the one below, the base."""
    lines = printed("show", crew)
    heads = [
        "alder: Alder Fork crew",
        "For low water.",
        "Its own values",
        "From after-iso-748, checked by nobody",
        "From common-practice, checked by nobody",
    ]

    assert [line for line in lines if line in heads] == heads
    (row,) = [line for line in lines if line.startswith("panel_share_aim")]
    assert re.split(r"\s{2,}", row) == [
        "panel_share_aim",
        "4 %",
        "practice",
        "2026-07-14 the crew leader",
        "the crew leader",
    ]
    assert sum(line.startswith("exposure ") for line in lines) == 1
    shown = {line.split()[0] for line in lines if line.split()[:1]} & set(THRESHOLDS)
    assert shown == set(THRESHOLDS)


def test_only_its_own_values(printed: Lines, crew: str) -> None:
    """--own leaves out what comes from below."""
    lines = printed("show", crew, "--own")

    assert {line.split()[0] for line in lines if line.split()[:1]} & set(THRESHOLDS) == {
        "wade_depth_stop",
        "panel_share_aim",
    }
    assert not any(line.startswith("From ") for line in lines)


def test_a_laxer_limit_for_wading_is_told(printed: Lines, crew: str) -> None:
    """A crew may set it, but nobody overlooks it."""
    caution = "Caution: wade_depth_stop is 6 ft here, more than the 5 ft of common-practice."

    assert caution in printed("show", crew, "--own")
    assert not any("Caution" in line for line in printed("show", "after-florida-ft-1800"))


def test_a_rule_set_that_says_nothing_itself(printed: Lines, tmp_path: Path) -> None:
    """It says on what it stands instead of an empty table."""
    path = tmp_path / "bare.toml"
    path.write_text('format = "bankside.rules/1"\nname = "bare"\ntitle = "Bare"\n', "utf-8")

    said = "It says no values itself; everything comes from common-practice."
    assert said in printed("show", str(path), "--own")


def test_a_rule_set_as_json(document: Callable[..., Any], crew: str) -> None:
    """As written and in SI (6 ft = 1.8288 m); what is not known is absent."""
    own = document("show", crew, "--own")

    assert (own["name"], own["based_on"], own["about"]) == (
        "alder",
        "after-iso-748",
        "For low water.",
    )
    assert set(own["values"]) == {"wade_depth_stop", "panel_share_aim"}
    depth = own["values"]["wade_depth_stop"]
    assert (depth["value"], depth["unit"]) == (6, "ft")
    assert depth["si"] == pytest.approx(1.8288)
    assert "checked_by" not in depth
    assert own["values"]["panel_share_aim"]["checked_on"] == "2026-07-14"
    every = document("show", crew)["values"]
    assert set(every) == set(THRESHOLDS)
    assert every["verticals_by_width"]["value"][1] == [0.5, 6]
    assert "si" not in every["verticals_by_width"]
    assert every["exposure"]["rule_set"] == "after-iso-748"


def test_rule_sets_side_by_side(printed: Lines) -> None:
    """In the unit of the first; 0.75 m are 2.461 ft, and what agrees is left out."""
    lines = printed("compare", "after-usgs-tm-3-a8", "after-epa-wadeable-streams", "after-iso-748")
    rows = {line.split()[0]: re.split(r"\s{2,}", line)[1:] for line in lines if line.split()[:1]}

    assert rows["one_point_deepest"] == ["ft", "2.5", "2.461 (0.75 m)", "2.5"]
    assert rows["weak_velocity"] == ["ft/s", "0.5", "0.4921 (0.15 m/s)", "0.5"]
    assert rows["verticals_least"] == ["25", "15", "20"]
    assert rows["verticals_by_width"][:3] == ["m", "not set", "not set"]
    assert "panel_share_limit" not in rows


def test_a_table_of_widths_is_compared_in_one_unit(printed: Lines, tmp_path: Path) -> None:
    """10 ft are 3.048 m; the same table in another unit is no difference."""
    head = 'format = "bankside.rules/1"\ntitle = "Crew"\n[values.verticals_by_width]\n'
    tail = 'source = "permit"\nconfidence = "read"\n'
    tables = {
        "feet": 'value = [[0, 10], [10, 20]]\nunit = "ft"\n',
        "metres": 'value = [[0, 10], [3.048, 20]]\nunit = "m"\n',
        "more": 'value = [[0, 10], [3, 21]]\nunit = "m"\n',
    }
    for name, value in tables.items():
        text = head.replace("title", f'name = "{name}"\ntitle') + value + tail
        (tmp_path / f"{name}.toml").write_text(text, encoding="utf-8")
    feet, metres, more = (str(tmp_path / f"{name}.toml") for name in tables)

    assert printed("compare", feet, metres) == ["No threshold differs."]
    text = " ".join(" ".join(printed("compare", more, feet)).split())
    assert "10 from 0, 21 from 3 10 from 0, 20 from 3.048 (10 from 0 ft," in text


def test_two_files_of_one_name_are_told_apart(printed: Lines, crew: str, tmp_path: Path) -> None:
    """Where names do not tell which is which, the files do."""
    other = tmp_path / "other.toml"
    other.write_text(CREW.replace("value = 4", "value = 3"), encoding="utf-8")
    heads = "".join("".join(printed("compare", crew, str(other))[:8]).split())

    assert "crew.toml" in heads and "other.toml" in heads


def test_a_comparison_as_json(document: Callable[..., Any]) -> None:
    """Values stand in the order of the rule sets; what is not set is null."""
    found = document("compare", "common-practice", "after-iso-748")

    assert [item["name"] for item in found["rule_sets"]] == ["common-practice", "after-iso-748"]
    assert set(found["differences"]) == {"exposure", "verticals_by_width"}
    assert [value["si"] for value in found["differences"]["exposure"]] == [40, 30]
    assert found["differences"]["verticals_by_width"][0] is None


@pytest.mark.parametrize("name", shipped_names())
def test_a_starter_is_a_rule_set(name: str, tmp_path: Path) -> None:
    """It changes nothing by itself; with its comments taken away it says what is below."""
    path = tmp_path / "crew.toml"
    assert main(["rules", "start", name, "-o", str(path)]) == 0
    started, below = load_rule_set(str(path)), load_rule_set(name)
    text = path.read_text(encoding="utf-8")
    (tmp_path / "all.toml").write_text(re.sub(r"(?m)^# (\w+ = \{)", r"\1", text), encoding="utf-8")
    own = load_rule_set(str(tmp_path / "all.toml")).own

    assert (started.name, started.based_on, dict(started.own)) == ("crew", name, {})
    assert started.values == below.values
    assert set(own) == set(THRESHOLDS)
    for key, value in below.values.items():
        said = (own[key].value, own[key].unit, own[key].source, own[key].confidence)
        assert said == (value.value, value.unit, value.source, value.confidence)
    assert all(f"# {kind.meaning}; unit: " in text for kind in THRESHOLDS.values())


def test_a_starter_may_stand_on_a_file(crew: str, tmp_path: Path) -> None:
    """The path of the one below is as seen from the new file; checks are handed on."""
    folder = tmp_path / "season 2"
    folder.mkdir()
    path = folder / "today.toml"
    assert main(["rules", "start", crew, "--output", str(path)]) == 0

    assert tomllib.loads(path.read_text(encoding="utf-8"))["based_on"] == "../crew.toml"
    assert load_rule_set(str(path)).based_on == "alder"
    said = 'checked_by = "the crew leader", checked_on = 2026-07-14 }'
    assert said in path.read_text(encoding="utf-8")


@pytest.mark.parametrize("stem", ["after-iso-748", "common-practice", "our-common-practice"])
def test_a_starter_takes_no_name_that_is_there(stem: str, tmp_path: Path) -> None:
    """The file may be called like a shipped rule set, the rule set in it may not."""
    path = tmp_path / f"{stem}.toml"
    assert main(["rules", "start", "common-practice", "-o", str(path)]) == 0

    assert load_rule_set(str(path)).name not in shipped_names()


def test_a_starter_goes_to_the_screen(capsys: pytest.CaptureFixture[str]) -> None:
    """Without a file it is printed, and is the same."""
    assert main(["rules", "start", "after-iso-748"]) == 0

    assert tomllib.loads(capsys.readouterr().out)["name"] == "our-rules"


def test_every_key_of_the_json_is_documented(document: Callable[..., Any], crew: str) -> None:
    """Other programs can look up each key that they are handed."""
    text = DOCUMENT.read_text(encoding="utf-8")
    listed, shown = document("list"), document("show", crew)
    compared = document("compare", crew, "common-practice")

    item = listed["rule_sets"][1]
    value = shown["values"]["panel_share_aim"]
    keys = {*listed, *item, *item["own"], *shown, *value, *compared}
    assert [key for key in sorted(keys) if not re.search(rf"[`.]{key}(\[\])?`", text)] == []


def test_the_example_in_the_document_is_a_rule_set(tmp_path: Path) -> None:
    """Whoever copies it has a file that loads."""
    (example,) = re.findall(r"```toml\n(.*?)```", DOCUMENT.read_text(encoding="utf-8"), re.DOTALL)
    path = tmp_path / "crew.toml"
    path.write_text(example, encoding="utf-8")

    assert set(load_rule_set(str(path)).own) == {"panel_share_aim", "wade_depth_stop"}
