"""The vectors that hold runtimes to one another, run by CPython and by what Numba compiles."""

import ast
import copy
import json
import math
import sys
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from ..vectors import runner
from .compiled import compiled_functions, public_functions

FOLDER = Path(__file__).parents[1] / "vectors"


def _read(name: str) -> Any:
    return json.loads((FOLDER / name).read_text(encoding="utf-8"))


@pytest.mark.parametrize(
    ("name", "least"), [("kernel.json", 700), ("gaugings.json", 200), ("folds.json", 50)]
)
def test_cpython_gives_what_the_vectors_hold(name: str, least: int) -> None:
    """To the last bit, but for the stated units in the last place where a library is asked."""
    text = (FOLDER / name).read_text(encoding="utf-8")

    found = runner.run(text)

    assert found.differences == []
    assert found.compared >= least
    assert json.loads(runner.run_to_text(text)) == {
        "compared": found.compared,
        "differences": [],
    }


def test_numba_gives_what_the_vectors_hold() -> None:
    """The compiled kernel on the same calls, arrays in the place of lists."""
    compiled = compiled_functions()

    found = runner.run_kernel(
        _read("kernel.json"), lambda name: compiled[name.rpartition(".")[2]], np.array
    )

    assert found.differences == []


def test_every_public_function_has_vectors_and_every_refusal_a_message() -> None:
    """A function that is added to the kernel gets calls, so that no runtime runs it unseen."""
    calls = _read("kernel.json")["calls"]

    results = {call["function"].rpartition(".")[2] for call in calls if "result" in call}
    assert results == set(public_functions())
    assert all(call["message"] for call in calls if "raises" in call)


@pytest.mark.parametrize(
    ("function", "steps", "seen"),
    [
        ("section.panel_width", 1, True),
        ("section.panel_width", 0, False),
        ("vertical.normal_velocity", 2, False),
        ("vertical.normal_velocity", 3, True),
    ],
)
def test_a_result_that_is_off_is_seen(function: str, steps: int, seen: bool) -> None:
    """One unit in the last place, or one more than the budget."""
    vectors = _read("kernel.json")
    call = next(
        call
        for call in vectors["calls"]
        if call["function"] == function and float.fromhex(call["result"]) > 0
    )
    value = float.fromhex(call["result"])
    call["result"] = (value + steps * math.ulp(value)).hex()

    differences = runner.run_kernel(vectors).differences

    assert len(differences) == (1 if seen else 0)
    assert all(text.startswith(function) for text in differences)


def test_a_gauging_that_is_off_or_lacks_a_figure_is_seen() -> None:
    """One bit of one discharge, and an uncertainty that nobody expected."""
    vectors = _read("gaugings.json")
    first = next(one for one in vectors["gaugings"] if one["name"] == "points")
    changed = copy.deepcopy(vectors)
    changed["gaugings"] = [copy.deepcopy(first)]
    figures = changed["gaugings"][0]["figures"]
    way = figures["mid-section, half-width"]
    value = float.fromhex(way["discharge_m3s"])
    way["discharge_m3s"] = math.nextafter(value, math.inf).hex()
    del figures["uncertainty"]["iso-748"]

    differences = runner.run_gaugings(changed).differences

    assert [text.split(": ")[:2] for text in differences] == [
        ["points, mid-section, half-width", "discharge_m3s"],
        ["points, uncertainty", "iso-748"],
    ]


def test_a_refusal_that_turns_into_a_result_is_seen() -> None:
    """And words that change."""
    vectors = _read("kernel.json")
    refused = [call for call in vectors["calls"] if "raises" in call]
    vectors["calls"] = refused[:2]
    refused[0]["message"] = "other words"
    refused[1].pop("raises")
    refused[1].pop("message")
    refused[1]["result"] = "0x1.0p+0"

    assert len(runner.run_kernel(vectors).differences) == 2


def test_the_vectors_say_that_they_prove_nothing() -> None:
    """Who finds the files learns where the proof is."""
    for name in ("kernel.json", "gaugings.json"):
        assert "they prove no formula" in _read(name)["about"]


def test_the_runner_runs_as_text_with_bankside_alone() -> None:
    """A browser loads it so: without a file, and without anything but our package."""
    text = (FOLDER / "runner.py").read_text(encoding="utf-8")
    roots = {
        (node.module or "" if isinstance(node, ast.ImportFrom) else name.name).split(".")[0]
        for node in ast.walk(ast.parse(text))
        if isinstance(node, ast.Import | ast.ImportFrom)
        for name in node.names
    }
    assert roots <= {"bankside", *sys.stdlib_module_names}

    namespace: dict[str, Any] = {"__name__": "runner"}
    exec(text, namespace)
    outcome = namespace["run_to_text"]((FOLDER / "gaugings.json").read_text(encoding="utf-8"))

    assert json.loads(outcome)["differences"] == []


def test_a_file_of_another_kind_is_refused() -> None:
    """A runner of another age must not pass what it does not know."""
    with pytest.raises(ValueError, match="no vectors known here"):
        runner.run('{"format": "bankside.vectors.other/1"}')
