"""The documents say what the code does."""

import importlib.util
import json
import re
import tomllib
from pathlib import Path
from types import ModuleType

import pytest

from bankside.cli import app, main
from bankside.cli.results import as_document
from bankside.gauging.checks.run import ALL_CHECKS
from bankside.survey.checks.run import SURVEY_CHECKS

ROOT = Path(__file__).parents[1]
FORMATS = ROOT / "docs" / "formats.md"
OF_THE_ROOT = [ROOT / f"{name}.md" for name in ("README", "CONTRIBUTING", "SECURITY")]
DOCUMENTS = [*OF_THE_ROOT, *sorted((ROOT / "docs").glob("*.md"))]


def _generate() -> ModuleType:
    spec = importlib.util.spec_from_file_location("generate", ROOT / "docs" / "generate.py")
    assert spec is not None and spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def test_generated_parts_are_those_of_the_code() -> None:
    """What is printed as recognised, as a threshold or as a check is what the code goes by."""
    generate = _generate()

    parted = [
        document.name
        for document in generate.GENERATED
        if document.read_text(encoding="utf-8") != generate.filled(document)
    ]
    assert parted == [], "run: python docs/generate.py"


def test_every_check_is_in_the_catalogue_with_its_thresholds() -> None:
    """A crew that asks why finds each check by its name, and each figure that it goes by."""
    text = (ROOT / "docs" / "checks.md").read_text(encoding="utf-8")

    checks = (*ALL_CHECKS, *SURVEY_CHECKS)
    assert [check.name for check in checks if f"### {check.name}\n" not in text] == []
    assert [n for check in checks for n in check.thresholds if f"- `{n}`: " not in text] == []


@pytest.mark.parametrize("document", DOCUMENTS, ids=lambda path: path.name)
def test_links_lead_somewhere(document: Path) -> None:
    """Every link to a file of the project has that file at its end."""
    targets = re.findall(r"\]\(([^)#:]+)(?:#[^)]*)?\)", document.read_text(encoding="utf-8"))

    paths = re.findall(r"`((?:src|tests|docs|demo|bench)/[\w./-]+)`", document.read_text("utf-8"))

    assert [t for t in targets if not (document.parent / t).exists()] == []
    assert [path for path in paths if not (ROOT / path).exists()] == []


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


def test_the_readme_names_every_command() -> None:
    """A newcomer meets each command on the first page."""
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    commands = [name for name in app if not name.startswith("-")]

    assert [name for name in commands if f"bankside {name}" not in readme] == []


def test_the_change_log_knows_the_version() -> None:
    """The version that is built has its entry."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]

    assert f"## {project['version']}" in (ROOT / "CHANGELOG.md").read_text(encoding="utf-8")
