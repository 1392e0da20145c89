"""Write the lists in the documents from the code, so that they cannot part from it.

`python docs/generate.py` rewrites the documents of `GENERATED`; the tests hold them against this.
"""

import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from pathlib import Path
from typing import get_args

import attrs

from bankside.archive.roles import ROLES, may
from bankside.bank.reasons.practising import PRACTISING
from bankside.bank.reasons.reason import Reason
from bankside.bank.why import REASONS
from bankside.gauging.checks.finding import Check
from bankside.gauging.checks.run import ALL_CHECKS
from bankside.gauging.journal.sayable import SAYABLE
from bankside.gauging.rule_sets.load import BASE, load_rule_set, shipped_names
from bankside.gauging.rule_sets.rule_set import Confidence, RuleSet
from bankside.gauging.rule_sets.thresholds import THRESHOLDS, UNITS
from bankside.practice.crew import CAREFUL, Crew
from bankside.practice.parameters import Range
from bankside.practice.section_type import SectionType
from bankside.practice.section_types import SECTION_TYPES
from bankside.server.api.route import Route
from bankside.server.api.routes import ROUTES
from bankside.server.guard import READS
from bankside.sheets.answers import CHOICES, COLUMN_NAMES
from bankside.sheets.preface import KEYS
from bankside.sheets.words import FILLER_WORDS, UNIT_WORDS, WORDS
from bankside.survey.checks.finding import SurveyCheck
from bankside.survey.checks.run import SURVEY_CHECKS
from from_docstrings import python_blocks
from from_parser import command_blocks
from from_schemas import field_blocks

HERE = Path(__file__).parent


def format_blocks() -> dict[str, str]:
    """Return the generated parts of the formats by their names."""
    words = "\n".join(f"| {name} | {', '.join(ways)} |" for name, ways in WORDS.items())
    units = "\n".join(
        f"| {kind} | {name} | {', '.join(f'`{way}`' for way in ways)} |"
        for kind, names in UNIT_WORDS.items()
        for name, ways in names.items()
    )
    keys = "\n".join(f"| {name} | {', '.join(ways)} |" for name, ways in KEYS.items())
    answers = "\n".join(
        f"| `--{name.replace('_', '-')}` | {', '.join(f'`{c}`' for c in choices)} |"
        for name, choices in CHOICES.items()
    )
    said = "\n".join(
        f"| `{pattern}` | {thing.reader.shape} | {thing.words} |"
        for pattern, thing in SAYABLE.items()
    )
    return {
        "words": f"| meaning | words |\n|---|---|\n{words}\n\nPassed over: "
        f"{', '.join(sorted(FILLER_WORDS))}.",
        "column names": ", ".join(f"`{name}`" for name in COLUMN_NAMES) + ".",
        "units": f"| kind | unit | written as |\n|---|---|---|\n{units}",
        "keys": f"| tells | keys |\n|---|---|\n{keys}",
        "answers": f"| option | answers |\n|---|---|\n{answers}",
        "said": f"| what | value | what it is |\n|---|---|---|\n{said}",
    }


def rule_blocks() -> dict[str, str]:
    """Return the generated parts on the rule sets by their names."""
    rule_sets = [load_rule_set(name) for name in shipped_names()]
    words = get_args(Confidence)
    shipped = "\n".join(
        f"| [`{r.name}`](#{r.name}) | {len(r.own)} | "
        + " | ".join(str(sum(t.confidence == word for t in r.own.values())) for word in words)
        + f" | {sum(t.checked_by is not None for t in r.own.values())} |"
        for r in rule_sets
    )
    thresholds = "\n".join(
        f"| `{name}` | {kind.meaning} | {', '.join(map('`{}`'.format, UNITS[kind.dimension]))} |"
        for name, kind in THRESHOLDS.items()
    )
    return {
        "shipped rule sets": f"| rule set | own values | {' | '.join(words)} | checked |\n"
        f"|---|{'---|' * (len(words) + 2)}\n{shipped}",
        "thresholds": f"| threshold | meaning | units |\n|---|---|---|\n{thresholds}",
        "values": "\n\n".join("\n".join(_values(rule_set)) for rule_set in rule_sets),
    }


def _values(rule_set: RuleSet) -> Iterator[str]:
    below = "" if rule_set.name == BASE else f" Based on `{rule_set.based_on}`."
    yield from (f"### {rule_set.name}", "", f"{rule_set.title}.{below}", "")
    yield from (rule_set.about.strip(), "")
    yield from ("| threshold | value | confidence | source |", "|---|---|---|---|")
    for value in rule_set.own.values():
        yield f"| `{value.name}` | {value.words()} | {value.confidence} | {value.source} |"


def check_blocks() -> dict[str, str]:
    """Return the generated parts of the catalogue of checks by their names."""
    return {
        "checks": "\n\n".join(_entry(check) for check in ALL_CHECKS),
        "survey checks": "\n\n".join(_entry(check) for check in SURVEY_CHECKS),
    }


def _entry(check: Check | SurveyCheck) -> str:
    base = load_rule_set(BASE)
    lines = [
        f"### {check.name}",
        "",
        check.trigger,
        "",
        f"- Raises: {', '.join(check.severities)}.",
        f"- To do: {check.remedy}",
        f"- Source: {check.source}.",
    ]
    for name in check.thresholds:
        threshold = base.get(name)
        value = (
            "not set; a rule set may"
            if threshold is None
            else f"{threshold.words()} ({threshold.confidence}: {threshold.source})"
        )
        lines.append(f"- `{name}`: {value}.")
    return "\n".join(lines)


def server_blocks() -> dict[str, str]:
    """Return the generated part on what the server of an office answers, and whom."""
    heads = ("request", "nobody", *ROLES, "a page of another site", "by another name")
    rows = "\n".join(
        f"| `{route.method} {route.path}` | {' | '.join(_answers(route))} | {route.about} |"
        for route in ROUTES
    )
    head = f"| {' | '.join(heads)} | what it is for |\n|{'---|' * (len(heads) + 1)}"
    return {"routes": f"{head}\n{rows}"}


def _answers(route: Route) -> Iterator[str]:
    """Yield what nobody, each role, another site's page and another name's caller get."""
    yield "yes" if route.who is None else "401"
    for role in ROLES:
        yield "yes" if route.who is None or may(role, route.who) else "403"
    yield "yes" if route.method in READS else "403"
    yield "421"


def practice_blocks() -> dict[str, str]:
    """Return the generated parts on simulated streams and the crew that measures them."""
    types = "\n".join(f"| {kind.name} | {kind.about} |" for kind in SECTION_TYPES.values())
    drawn = [field for field in attrs.fields(SectionType) if "about" in field.metadata]
    habits = "\n".join(
        f"| `{field.name}` | {field.metadata['about']} | {field.metadata['range'].unit} | "
        f"{getattr(CAREFUL, field.name):g} | {_bounds(field.metadata['range'])} | "
        f"{field.metadata['range'].source} |"
        for field in attrs.fields(Crew)
        if "range" in field.metadata
    )
    rows = "\n".join(_usual(field) for field in drawn)
    heads = " | ".join(SECTION_TYPES)
    own = "\n".join(row for field in drawn if (row := _own(field)))
    return {
        "section types": f"| type | what it is |\n|---|---|\n{types}",
        "parameters": "| parameter | meaning | unit | drawn from | source |\n"
        f"|---|---|---|---|---|\n{rows}",
        "own ranges": f"| parameter | {heads} |\n|---|{'---|' * len(SECTION_TYPES)}\n{own}",
        "habits": "| habit | meaning | unit | careful crew | drawn from | source |\n"
        f"|---|---|---|---|---|---|\n{habits}",
    }


def _usual(field: "attrs.Attribute[Range]") -> str:
    """Return the row of a parameter of sections, with the range that most types have."""
    some = next(getattr(kind, field.name) for kind in SECTION_TYPES.values())
    bounds = "each its own" if field.default is attrs.NOTHING else _bounds(field.default)
    about = field.metadata["about"]
    return f"| `{field.name}` | {about} | {some.unit} | {bounds} | {some.source} |"


def _own(field: "attrs.Attribute[Range]") -> str | None:
    """Return the row of a parameter with the types that have a range of their own, if any has."""
    ranges = [getattr(kind, field.name) for kind in SECTION_TYPES.values()]
    cells = ["" if drawn == field.default else _bounds(drawn) for drawn in ranges]
    return f"| `{field.name}` | {' | '.join(cells)} |" if any(cells) else None


def _bounds(drawn: Range) -> str:
    low, high = (f"{bound:g}".replace("-", "−") for bound in (drawn.low, drawn.high))
    return low if low == high else f"{low} to {high}"


def why_blocks() -> dict[str, str]:
    """Return the generated parts on why the app shows what it shows."""
    return {"reasons": _reasons(REASONS), "reasons of practice": _reasons(PRACTISING)}


def _reasons(reasons: Iterable[Reason]) -> str:
    rows = "\n".join(
        f"| {reason.name} | {reason.purpose} {reason.grounds} | {reason.source} | "
        f"{', '.join(map('`{}`'.format, reason.thresholds))} |"
        for reason in reasons
    )
    return f"| what | why | source | thresholds |\n|---|---|---|---|\n{rows}"


GENERATED: Mapping[Path, Callable[[], dict[str, str]]] = {
    HERE / "checks.md": check_blocks,
    HERE / "commands.md": command_blocks,
    HERE / "fields.md": field_blocks,
    HERE / "formats.md": format_blocks,
    HERE / "practice.md": practice_blocks,
    HERE / "python.md": python_blocks,
    HERE / "rules.md": rule_blocks,
    HERE / "server.md": server_blocks,
    HERE / "why.md": why_blocks,
}
"""Document → what gives its generated parts."""


def filled(document: Path) -> str:
    """Return the text of a document with every generated part put in anew."""
    text = document.read_text(encoding="utf-8")
    for name, block in GENERATED[document]().items():
        pattern = rf"<!-- generated: {name} -->\n.*?<!-- end -->"
        new = f"<!-- generated: {name} -->\n{block}\n<!-- end -->"
        text, count = re.subn(pattern, lambda _, new=new: new, text, flags=re.DOTALL)
        if count != 1:
            raise ValueError(f"{document.name} must have one place for {name!r} (has {count})")
    return text


if __name__ == "__main__":
    for document in GENERATED:
        document.write_text(filled(document), encoding="utf-8")
