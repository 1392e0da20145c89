"""The public functions, from their sources: how each is called, and what its docstring says."""

import ast
from pathlib import Path

SOURCES = Path(__file__).parents[1] / "src"

FUNCTIONS = {
    "Gaugings from files": {
        "bankside.sheets.read": ("read_sheets",),
        "bankside.sheets.answers": ("load_answers",),
        "bankside.gauging.wire": ("from_json", "to_json", "several_from_json", "several_to_json"),
        "bankside.gauging.journal.document": ("journal_from_json", "journal_to_json"),
        "bankside.gauging.journal.record": ("recorded",),
    },
    "One gauging": {
        "bankside.gauging.plan": ("plan_verticals",),
        "bankside.gauging.compute": ("compute",),
        "bankside.gauging.rule_sets.load": (
            "shipped_names",
            "load_rule_set",
            "rule_set_from_toml",
        ),
        "bankside.gauging.checks.run": ("check_gauging",),
        "bankside.gauging.uncertainty": ("uncertainty_budgets", "stated_uncertainty"),
        "bankside.gauging.reconcile": ("reconcile", "reconcile_all"),
    },
    "Documents": {
        "bankside.report.note_documents": ("make_note", "note_pdf", "note_html"),
        "bankside.report.workbook": ("gauging_workbook",),
    },
    "Many gaugings": {
        "bankside.survey.document": ("survey_from_json", "survey_to_json"),
        "bankside.survey.visits": ("visit_of", "visits_of"),
        "bankside.exchange.data": ("survey_data",),
        "bankside.exchange.write": ("written_as",),
        "bankside.archive.archive": ("create_archive", "open_archive"),
        "bankside.archive.taking": ("take_file",),
    },
}
"""What for → module → the functions that a program of one's own begins with."""


def python_blocks() -> dict[str, str]:
    """Return the generated parts on the functions of Bankside and of its kernel."""
    parts = []
    for title, modules in FUNCTIONS.items():
        parts.append(f"### {title}")
        parts += [_entry(module, name) for module, names in modules.items() for name in names]
    kernel = sorted((SOURCES / "bankside" / "kernel").glob("[a-z]*.py"))
    return {
        "functions": "\n\n".join(parts),
        "kernel": "\n\n".join(part for path in kernel if (part := _kernel_module(path))),
    }


def _entry(module: str, name: str) -> str:
    tree = _parsed(SOURCES.joinpath(*module.split(".")).with_suffix(".py"))
    function = _functions(tree)[name]
    called = f"from {module} import {name}\n\n{_signature(function)}"
    return f"#### {name}\n\n```python\n{called}\n```\n\n{ast.get_docstring(function)}"


def _kernel_module(path: Path) -> str:
    """Return the part of a module of the kernel; empty where it has no public function."""
    tree = _parsed(path)
    public = [one for name, one in _functions(tree).items() if not name.startswith("_")]
    if not public:
        return ""
    entries = (
        f"#### {one.name}\n\n```python\n{_signature(one)}\n```\n\n{ast.get_docstring(one)}"
        for one in public
    )
    about = ast.get_docstring(tree)
    return "\n\n".join((f"### bankside.kernel.{path.stem}", str(about), *entries))


def _parsed(path: Path) -> ast.Module:
    return ast.parse(path.read_text(encoding="utf-8"))


def _functions(tree: ast.Module) -> dict[str, ast.FunctionDef]:
    return {one.name: one for one in tree.body if isinstance(one, ast.FunctionDef)}


def _signature(function: ast.FunctionDef) -> str:
    """Return how a function is called, an argument a line where there are several."""
    taken = ast.unparse(function.args).replace("'", '"').replace("=", " = ")
    given = f" -> {ast.unparse(function.returns)}" if function.returns else ""
    line = f"{function.name}({taken}){given}"
    if len(line) <= 88:
        return line
    return f"{function.name}(\n    {_folded(taken)},\n){given}"


def _folded(taken: str) -> str:
    """Break a list of arguments at the commas that stand in no brackets."""
    depth = 0
    text = ""
    for sign in taken:
        depth += (sign in "([{") - (sign in ")]}")
        text += ",\n   " if sign == "," and depth == 0 else sign
    return text
