"""The documents say what the code does."""

import json
import re
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from tests.docs.pages import DOCS, ROOT

import generate
from bankside.cli import main
from bankside.cli.results import as_document
from bankside.gauging.checks.run import ALL_CHECKS
from bankside.gauging.rule_sets import document as rule_file
from bankside.gauging.rule_sets.load import BASE, load_rule_set, shipped_names
from bankside.gauging.rule_sets.thresholds import THRESHOLDS
from bankside.survey.checks.run import SURVEY_CHECKS

FORMATS = DOCS / "formats.md"
FORMS = ("gauging", "survey", "journal")


def test_generated_parts_are_those_of_the_code() -> None:
    """What is printed as recognised, as a threshold or as a check is what the code goes by."""
    parted = [
        document.name
        for document in generate.GENERATED
        if document.read_text(encoding="utf-8") != generate.filled(document)
    ]
    assert parted == [], "run: python docs/generate.py"


def test_every_check_is_in_the_catalogue_with_its_thresholds() -> None:
    """A crew that asks why finds each check by its name, and each figure that it goes by."""
    text = (DOCS / "checks.md").read_text(encoding="utf-8")

    checks = (*ALL_CHECKS, *SURVEY_CHECKS)
    assert [check.name for check in checks if f"### {check.name}\n" not in text] == []
    assert [n for check in checks for n in check.thresholds if f"- `{n}`: " not in text] == []


def test_every_threshold_is_in_the_list_and_has_its_base() -> None:
    """Who writes a rule set finds each threshold that may be set, and what holds without it."""
    text = (DOCS / "rules.md").read_text(encoding="utf-8")
    listed, _, values = text.partition("## What the shipped ones say themselves")

    assert [name for name in THRESHOLDS if f"\n| `{name}` | " not in listed] == []
    assert [name for name in load_rule_set(BASE).own if f"\n| `{name}` | " not in values] == []
    assert [name for name in shipped_names() if f"### {name}\n" not in values] == []


def test_every_key_of_a_rule_set_is_documented() -> None:
    """Who writes a rule set finds what each key of the file and of a value holds."""
    text = (DOCS / "rules.md").read_text(encoding="utf-8")
    own = text.partition("## Your own")[2].partition("\n## ")[0]
    rows = set(re.findall(r"`\.?(\w+)`", " ".join(re.findall(r"^\| (`[^|]+) \|", own, re.M))))

    assert {*rule_file._HEAD, *rule_file._VALUE} <= rows


def _fields(schema: Any) -> Iterator[str]:
    """Give the name of every field of a schema, however deep."""
    if isinstance(schema, dict):
        yield from schema.get("properties", ())
        schema = list(schema.values())
    if isinstance(schema, list):
        for inner in schema:
            yield from _fields(inner)


@pytest.mark.parametrize("form", FORMS)
def test_every_field_of_a_form_is_documented(form: str) -> None:
    """Other programs can look up each field that they read or write, with what it is."""
    schema = json.loads((DOCS / "schema" / f"{form}-1.schema.json").read_text(encoding="utf-8"))
    text = (DOCS / "fields.md").read_text(encoding="utf-8")
    rows = set(re.findall(r"^\|(?: `[^`]+` \|)? `(\w+)` \| \S.* \|$", text, re.MULTILINE))

    assert set(_fields(schema)) - rows == set()
    assert set(FORMS) == {path.name.split("-")[0] for path in (DOCS / "schema").glob("*.json")}


def test_every_key_of_the_json_output_is_documented(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Other programs can look up each key that they are handed."""
    assert main(["compute", "--json", str(ROOT / "demo" / "sheets" / "alder_fork.csv")]) == 0
    document = json.loads(capsys.readouterr().out)
    text = FORMATS.read_text(encoding="utf-8")

    gauging = document["gaugings"][0]
    keys = [*document, *gauging, *gauging["panels"][0], *gauging["filed"]]
    assert [key for key in keys if not re.search(rf"[`.]{key}(\[\])?`", text)] == []
    assert set(document) == set(as_document([], []))


def test_every_key_of_the_findings_is_documented(capsys: pytest.CaptureFixture[str]) -> None:
    """The findings as JSON are documented as the results are."""
    assert main(["check", str(ROOT / "demo" / "sheets" / "tansy_run.csv"), "--json"]) == 0
    document = json.loads(capsys.readouterr().out)
    text = FORMATS.read_text(encoding="utf-8")

    gauging = document["gaugings"][0]
    keys = [*document, *gauging, *gauging["findings"][0]]
    keys += gauging["findings"][0]["thresholds"][0]
    assert [key for key in keys if not re.search(rf"[`.]{key}(\[\])?`", text)] == []


def test_every_key_of_a_plan_is_documented(capsys: pytest.CaptureFixture[str]) -> None:
    """The plan as JSON is documented as the results are."""
    sheet = str(ROOT / "demo" / "sheets" / "alder_fork.csv")
    assert main(["plan", "3.2", "27.1", "--from", sheet, "--json"]) == 0
    plan = json.loads(capsys.readouterr().out)
    text = FORMATS.read_text(encoding="utf-8")

    keys = [*plan, *plan["edges"][0], *plan["verticals"][0]]
    assert [key for key in keys if not re.search(rf"[`.]{key}(\[\])?`", text)] == []


def test_the_readme_fits_a_screen_or_little_more() -> None:
    """The first page says what it is, warns, and sends on; what is long stands elsewhere."""
    readme = (ROOT / "README.md").read_text(encoding="utf-8")

    assert len(readme.splitlines()) <= 60
    assert readme.index("Wading can kill") < readme.index("make demo")


def test_the_change_log_knows_the_version() -> None:
    """The version that is built has its entry."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]

    assert f"## {project['version']}" in (ROOT / "CHANGELOG.md").read_text(encoding="utf-8")


def test_what_changes_nothing_still_stands_in_the_code() -> None:
    """Who explains why no test notices a change explains a line that is there."""
    known = json.loads((DOCS / "mutation.json").read_text(encoding="utf-8"))
    explained = known["changes nothing"] + known["unseen"]

    assert explained
    gone = [
        entry
        for entry in explained
        if entry["was"] not in (ROOT / entry["file"]).read_text(encoding="utf-8")
    ]
    assert gone == []
