"""What a phone carries: nothing but our parts and two small packages, no clock, no files."""

import ast
import json
import subprocess
import sys
from pathlib import Path

import pytest

from .entering import demo, entered

PACKAGE = Path(__file__).parents[2] / "src" / "bankside"
CARRIED = ("bank", "note", "gauging", "kernel")
# Carried as well, and loaded when somebody practises.
LATER = ("practice",)
CLOCKS = {"now", "today", "utcnow", "time", "time_ns", "monotonic", "perf_counter", "localtime"}
# cattrs stands on typing_extensions; attr is the older name of attrs.
PACKAGES = {"attr", "attrs", "cattr", "cattrs", "typing_extensions", "bankside"}

LOADED = """
import sys
before = set(sys.modules)
import bankside.bank
print(*sorted(set(sys.modules) - before))
"""
OPENED = """
import json, sys
from bankside.bank import answer
requests = json.loads(sys.stdin.read())
opened = []
for time in ("first", "again"):
    if time == "again":
        sys.addaudithook(lambda event, args: event == "open" and opened.append(str(args[0])))
    for request in requests:
        reply = json.loads(answer(json.dumps(request)))
        assert reply["ok"], reply
# Where the version of the package is looked up.
print(json.dumps([name for name in opened if ".dist-info" not in name and name not in sys.path]))
"""


def _run(script: str, given: str = "") -> str:
    run = subprocess.run(
        [sys.executable, "-c", script],
        input=given,
        capture_output=True,
        text=True,
        check=True,
        timeout=60,
    )
    return run.stdout


def test_the_bank_loads_only_what_a_phone_carries() -> None:
    """Our four parts, attrs and cattrs, and the standard library."""
    loaded = _run(LOADED).split()

    outside = {name.split(".")[0] for name in loaded} - sys.stdlib_module_names
    assert outside <= PACKAGES
    parts = {name.split(".")[1] for name in loaded if name.startswith("bankside.")}
    assert parts == set(CARRIED)


@pytest.mark.parametrize(
    "path",
    [path for part in (*CARRIED, *LATER) for path in sorted((PACKAGE / part).rglob("*.py"))],
    ids=str,
)
def test_nothing_that_a_phone_carries_asks_a_clock(path: Path) -> None:
    """The only time there is comes with the request."""
    called = {
        node.func.attr
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute)
    }

    assert called.isdisjoint(CLOCKS)


def test_no_file_is_read_once_the_rule_sets_are() -> None:
    """Asked a second time nothing is opened, but where the version of the package is written."""
    entries = entered(demo("alder_fork.csv")).entries
    requests = [
        {"ask": "about"},
        {"ask": "look", "entries": entries, "earlier": entries},
        {"ask": "note", "entries": entries},
        {"ask": "record", "entries": entries},
        {"ask": "wade", "earlier": entries, "rule_set": "after-iso-748"},
        {"ask": "rod", "depth": "1.0", "unit": "m", "rule_set": "after-iso-748"},
        {"ask": "plan", "left": "0", "right": "5", "unit": "m", "resolution": "0.05"},
    ]

    assert json.loads(_run(OPENED, json.dumps(requests))) == []
