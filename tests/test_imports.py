"""Which part may import which: from cli and server down to gauging and kernel."""

import ast
import re
import subprocess
import sys
import tomllib
from collections.abc import Iterator
from functools import cache
from importlib.metadata import packages_distributions
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
PACKAGE = ROOT / "src" / "bankside"

# The parts of the package, each with the other parts that it may import.
PARTS: dict[str, set[str]] = {
    "kernel": set(),
    "gauging": {"kernel"},
    "practice": {"gauging", "kernel"},
    "bulk": {"practice", "gauging", "kernel"},
    "sheets": {"gauging", "kernel"},
    "note": {"gauging", "kernel"},
    "bank": {"note", "practice", "gauging", "kernel"},
    "survey": {"gauging", "kernel"},
    "exchange": {"survey", "gauging", "kernel"},
    "report": {"exchange", "survey", "note", "practice", "gauging", "kernel"},
    "intake": {"exchange", "sheets", "survey", "gauging", "kernel"},
    "archive": {"intake", "practice", "sheets", "survey", "gauging", "kernel"},
    "server": {
        *("archive", "intake", "exchange", "report", "sheets", "survey"),
        *("note", "gauging", "kernel"),
    },
    "cli": {
        *("server", "archive", "bulk", "intake", "exchange", "report", "sheets", "survey"),
        *("note", "practice", "gauging", "kernel"),
    },
    "__main__": {"cli"},
}
# Parts that a telephone carries may import these and no more from outside the package.
OUTSIDE: dict[str, frozenset[str]] = {
    "kernel": frozenset({"math"}),
    "gauging": frozenset({"attrs", "cattrs"}) | sys.stdlib_module_names,
    "practice": frozenset({"attrs", "cattrs"}) | sys.stdlib_module_names,
    "note": frozenset({"attrs"}) | sys.stdlib_module_names,
    "bank": frozenset({"attrs", "cattrs"}) | sys.stdlib_module_names,
}
# Compiler and arrays are an extra of their own, for one part alone.
OUTSIDE["bulk"] = (
    frozenset({"attrs", "dask", "distributed", "numba", "numpy", "pyarrow"})
    | sys.stdlib_module_names
)
HEAVY = {"dask", "llvmlite", "numba", "openpyxl", "pandas", "scipy"}
# Pictures and the server need these; whoever prints tables does not wait for them.
LATE = {
    *("alembic", "lxml", "matplotlib", "numpy", "psycopg", "pyarrow", "pyogrio", "sqlalchemy"),
    *("starlette", "typst", "uvicorn"),
}


def _imported(tree: ast.Module, module: str, is_package: bool) -> Iterator[tuple[int, str]]:
    """Every module that the source names, wherever in it, as (line, absolute dotted name)."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            for alias in node.names:
                yield node.lineno, alias.name
        elif isinstance(node, ast.ImportFrom):
            base = node.module or ""
            if node.level:
                up = node.level - 1 if is_package else node.level
                parent = module.split(".")[: -up or None]
                base = ".".join([*parent, base] if base else parent)
            # `from bankside import kernel` names a part only in its second half.
            for alias in node.names:
                yield node.lineno, f"{base}.{alias.name}" if base == "bankside" else base


def _part(dotted: str) -> str | None:
    """The part of Bankside that a dotted name lies in; "" for the root, None for outside."""
    first, *rest = dotted.split(".")
    if first != "bankside":
        return None
    return rest[0] if rest else ""


def _faults(source: str, module: str, is_package: bool, outside: frozenset[str]) -> list[str]:
    """What the source of one module imports and may not, one sentence each."""
    own = _part(module)
    found = []
    for line, name in _imported(ast.parse(source), module, is_package):
        part = _part(name)
        if part is None:
            allowed = name.split(".")[0] in outside
        else:
            allowed = part == own or part in PARTS.get(own or "", set())
        if not allowed:
            found.append(f"{module}, line {line}: imports {name}")
    return found


@cache
def _runtime_modules() -> frozenset[str]:
    """The names under which the declared run-time dependencies are imported."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    declared = {
        _normal(re.split(r"[^\w.-]", line, maxsplit=1)[0]) for line in project["dependencies"]
    }
    return frozenset(
        module
        for module, owners in packages_distributions().items()
        if declared & {_normal(owner) for owner in owners}
    )


def _normal(distribution: str) -> str:
    return re.sub(r"[-_.]+", "-", distribution).lower()


def _module_name(path: Path) -> str:
    parts = path.relative_to(PACKAGE.parent).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


SOURCES = sorted(PACKAGE.rglob("*.py"))


@pytest.mark.parametrize("path", SOURCES, ids=_module_name)
def test_a_module_imports_only_what_its_part_may(path: Path) -> None:
    """Imports go one way, and from outside only to what the part may lean on."""
    module = _module_name(path)
    outside = OUTSIDE.get(_part(module) or "", _runtime_modules() | sys.stdlib_module_names)

    assert _faults(path.read_text(encoding="utf-8"), module, path.stem == "__init__", outside) == []


def test_every_part_has_its_place_in_the_order() -> None:
    """A part that is added says at once what it may import; one that goes leaves no entry."""
    folders = {path.parent.name for path in PACKAGE.glob("*/__init__.py")}

    assert set(PARTS) - {"__main__"} == folders


def test_no_heavy_module_is_a_run_time_dependency() -> None:
    """Compilers and array libraries serve tests and archives; a plain install has none."""
    assert HEAVY.isdisjoint(_runtime_modules())


def test_the_command_line_starts_without_heavy_modules() -> None:
    """Nothing loads an array library by a back way; pictures and the server wait to be asked."""
    commands = "bankside.cli, bankside.cli.compute, bankside.cli.convert"
    script = f"import sys, {commands}; print(*sys.modules)"
    run = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, text=True, check=True, timeout=60
    )

    assert (HEAVY | LATE).isdisjoint(run.stdout.split())


@pytest.mark.parametrize(
    ("source", "module", "fault"),
    [
        ("import numpy as np", "bankside.kernel.section", "numpy"),
        ("from bankside.gauging import records", "bankside.kernel.section", "bankside.gauging"),
        ("from bankside import sheets", "bankside.gauging.wire", "bankside.sheets"),
        ("from ..sheets import grid", "bankside.gauging.wire", "bankside.sheets"),
        ("def f():\n    import bankside.cli", "bankside.sheets.grid", "bankside.cli"),
        ("from .. import cli", "bankside.sheets.grid", "bankside.cli"),
        ("import os", "bankside.kernel.section", "os"),
    ],
)
def test_a_wrong_import_is_seen(source: str, module: str, fault: str) -> None:
    """The check itself finds imports that are relative, nested or of the whole package."""
    faults = _faults(source, module, is_package=False, outside=frozenset({"math"}))

    assert [text.rsplit(" ", 1)[1] for text in faults] == [fault]


@pytest.mark.parametrize(
    ("source", "module", "is_package"),
    [
        ("import math", "bankside.kernel.section", False),
        ("from bankside.kernel.section import panel_width", "bankside.kernel.edge", False),
        ("from .section import panel_width", "bankside.kernel", True),
        ("from ..kernel import section", "bankside.gauging.compute", False),
    ],
)
def test_a_right_import_passes(source: str, module: str, is_package: bool) -> None:
    """The check lets through what the order allows."""
    assert _faults(source, module, is_package, outside=frozenset({"math"})) == []
