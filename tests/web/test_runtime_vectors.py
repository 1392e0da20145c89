"""The engine of the app in a browser, held to the figures that the same Python gives elsewhere."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page, expect

VECTORS = Path(__file__).parents[1] / "vectors"
# Only the app's own files, as it fetches them; what is not the app's is handed over as text.
RUN = """
async ({ pyodide, python, runner, vectors }) => {
  const { loadPyodide } = await import(new URL(pyodide + "pyodide.mjs", location.href));
  const engine = await loadPyodide({ indexURL: new URL(pyodide, location.href).href });
  const archive = await (await fetch(python)).arrayBuffer();
  engine.unpackArchive(archive, "zip", { extractDir: "/bankside" });
  engine.FS.writeFile("/bankside/runner.py", runner);
  engine.pyimport("sys").path.insert(0, "/bankside");
  const run = engine.pyimport("runner").run_to_text;
  return vectors.map((text) => run(text));
}
"""


@pytest.fixture(scope="module")
def outcomes(app: Path, served: str, browser: Any) -> dict[str, dict[str, Any]]:
    """What the engine in a browser gives for each file of vectors."""
    place = json.loads((app / "files.json").read_text(encoding="utf-8"))["engine_place"]
    names = ["kernel.json", "gaugings.json", "folds.json"]
    page: Page = browser.new_page()
    page.goto(served)
    expect(page.get_by_role("heading", level=1)).to_be_visible()
    told = page.evaluate(
        RUN,
        {
            "pyodide": place["pyodide"],
            "python": place["python"],
            "runner": (VECTORS / "runner.py").read_text(encoding="utf-8"),
            "vectors": [(VECTORS / name).read_text(encoding="utf-8") for name in names],
        },
    )
    page.close()
    return {name: json.loads(text) for name, text in zip(names, told, strict=True)}


@pytest.mark.parametrize(
    ("name", "least"), [("kernel.json", 700), ("gaugings.json", 200), ("folds.json", 50)]
)
def test_the_browser_gives_what_the_vectors_hold(
    outcomes: dict[str, dict[str, Any]], name: str, least: int
) -> None:
    """To the last bit, but for the stated units in the last place where a library is asked."""
    assert outcomes[name]["differences"] == []
    assert outcomes[name]["compared"] >= least
