"""Say which changes to the code no test noticed, after `make mutation`.

What survived is held against `docs/mutation.json`, where every change that changes nothing has its
reason, and every one that a user could see has why no test looks: whatever survives and stands in
neither list is a test that is missing, and fails the run. `--write` puts the counts of the modules
that were tried to those of the others in `docs/mutation.json`, and all of them with the reasons
into `docs/mutation.md`; so parts may be tried one by one, or in several places, and nothing
measured is lost.
"""

import argparse
import difflib
import json
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

HERE = Path(__file__).parent.parent
MUTANTS = HERE / "mutants"
KNOWN = HERE / "docs" / "mutation.json"
DOCUMENT = HERE / "docs" / "mutation.md"

# What mutmut writes for a mutant: how the tests ended, or that none of them runs the function.
_SURVIVED = (0, 33)
_UNSEEN = None
_LEAST_KILLED_PERCENT = 90.0

_BEGIN, _END = "<!-- mutants: begin -->\n", "<!-- mutants: end -->\n"


class Mutant(NamedTuple):
    """A change to one line: what stood there, and what stood there instead."""

    file: str
    function: str
    was: str
    became: str


class Module(NamedTuple):
    """What became of the mutants of one file; `missing` have not been tried yet."""

    file: str
    total: int
    missing: int
    survived: list[Mutant]


def _change(lines: list[str], spans: dict[str, list[int]], name: str) -> tuple[str, str]:
    """Return the lines that a mutant has otherwise than the original."""
    function = name.rpartition("__mutmut_")[0]
    texts = [
        [line.replace(one, function) for line in lines[spans[one][0] - 1 : spans[one][1]]]
        for one in (f"{function}__mutmut_orig", name)
    ]
    parted = [line.replace(function, function.removeprefix("x_")) for line in difflib.ndiff(*texts)]
    was = [line[2:].strip() for line in parted if line.startswith("- ")]
    became = [line[2:].strip() for line in parted if line.startswith("+ ")]
    return " ".join(was), " ".join(became)


def modules() -> Iterator[Module]:
    """Give each file whose mutants were tried."""
    for meta in sorted(MUTANTS.glob("src/**/*.py.meta")):
        ended = json.loads(meta.read_text("utf-8"))["exit_code_by_key"]
        if not ended:
            continue
        mutated = meta.with_suffix("")
        lines = mutated.read_text("utf-8").splitlines()
        spans = json.loads(mutated.with_suffix(".py.spans").read_text("utf-8"))["spans"]
        file = mutated.relative_to(MUTANTS).as_posix()
        survived = []
        for key, code in ended.items():
            if code in _SURVIVED:
                name = key.rpartition(".")[2]
                function = name.rpartition("__mutmut_")[0].replace("xǁ", "").removeprefix("x_")
                survived.append(
                    Mutant(file, function.replace("ǁ", "."), *_change(lines, spans, name))
                )
        missing = sum(code is _UNSEEN for code in ended.values())
        yield Module(file, len(ended), missing, survived)


def _line(mutant: Mutant) -> int:
    """Return on which line of its file the function has what was changed; 0 where it is gone."""
    found, inside = 0, False
    head = f"def {mutant.function.rpartition('.')[2]}("
    for number, line in enumerate((HERE / mutant.file).read_text("utf-8").splitlines(), 1):
        inside = inside or line.strip().startswith(head)
        if inside and line.strip() and mutant.was.startswith(line.strip()):
            found = number
            break
    return found


class Counted(NamedTuple):
    """What became of the mutants of one file, in figures: `same` change nothing, `unseen` might."""

    file: str
    mutants: int
    killed: int
    same: int
    unseen: int


class Known(NamedTuple):
    """What `docs/mutation.json` holds: what was counted, and why the rest survives."""

    counted: dict[str, Counted]
    same: dict[Mutant, str]
    unseen: dict[Mutant, str]


def _known() -> Known:
    stored = json.loads(KNOWN.read_text("utf-8"))
    counted = [Counted(**entry) for entry in stored["measured"]]
    same, unseen = (
        {Mutant(*(entry[field] for field in Mutant._fields)): entry["why"] for entry in stored[key]}
        for key in ("changes nothing", "unseen")
    )
    return Known({one.file: one for one in counted if (HERE / one.file).exists()}, same, unseen)


def _keep(known: Known) -> None:
    """Store what is known, an entry a line, so that what two people measured can be merged."""
    parts = {
        "measured": [one._asdict() for _, one in sorted(known.counted.items())],
        "changes nothing": _entries(known.same),
        "unseen": _entries(known.unseen),
    }
    texts = []
    for key, entries in parts.items():
        lines = ",".join(f"\n    {json.dumps(entry, ensure_ascii=False)}" for entry in entries)
        texts.append(f'  "{key}": [{lines}\n  ]')
    KNOWN.write_text("{\n" + ",\n".join(texts) + "\n}\n", "utf-8")


def _entries(reasons: dict[Mutant, str]) -> list[dict[str, str]]:
    return [{**mutant._asdict(), "why": why} for mutant, why in _in_order(reasons)]


def _in_order(reasons: dict[Mutant, str]) -> list[tuple[Mutant, str]]:
    return sorted(reasons.items(), key=lambda item: (item[0].file, _line(item[0]), item[0]))


def _count(module: Module, known: Known) -> Counted:
    same = sum(mutant in known.same for mutant in module.survived)
    left = len(module.survived)
    return Counted(module.file, module.total, module.total - left, same, left - same)


def _percent(killed: int, total: int) -> str:
    return f"{100.0 * killed / total:.1f} %"


def _row(name: str, counted: Counted) -> str:
    return (
        f"| {name} | {counted.mutants} | {counted.killed} "
        f"| {_percent(counted.killed, counted.mutants)} | {counted.same} | {counted.unseen} |"
    )


def _reasons(reasons: dict[Mutant, str], heading: str) -> list[str]:
    if not reasons:
        return []
    rows = ["", f"| file, line | was | became | {heading} |", "|---|---|---|---|"]
    for mutant, why in _in_order(reasons):
        place = f"{mutant.file.removeprefix('src/bankside/')}, {_line(mutant)}"
        was, became = (text.replace("|", "\\|") for text in (mutant.was, mutant.became))
        rows.append(f"| `{place}` | `{was}` | `{became}` | {why} |")
    return rows


def _tables(known: Known) -> str:
    rows = [
        "| module | mutants | killed | | change nothing | unseen |",
        "|---|--:|--:|--:|--:|--:|",
    ]
    counted = [one for _, one in sorted(known.counted.items())]
    for one in counted:
        rows.append(_row(f"`{one.file.removeprefix('src/bankside/')}`", one))
    sums = [sum(figures) for figures in list(zip(*counted, strict=True))[1:]]
    rows.append(_row("all", Counted("", *sums)))
    rows += _reasons(known.same, "why nothing changes")
    rows += _reasons(known.unseen, "why no test looks")
    return "\n".join(rows) + "\n"


def _write(tried: list[Module], known: Known) -> None:
    known.counted.update(
        (module.file, _count(module, known)) for module in tried if not module.missing
    )
    _keep(known)
    before, _, rest = DOCUMENT.read_text("utf-8").partition(_BEGIN)
    after = rest.partition(_END)[2]
    DOCUMENT.write_text(before + _BEGIN + _tables(known) + _END + after, "utf-8")


def main() -> int:
    """Print what the last run came to; 1 where something survived that nobody explained."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--write", action="store_true", help="put the figures into the document")
    write = parser.parse_args().write
    tried = [module for module in modules() if module.missing < module.total]
    known = _known()
    if write:
        _write(tried, known)
    if not tried:
        sys.exit("No mutants were tried yet: run make mutation.")
    survived = [mutant for module in tried for mutant in module.survived]
    few = False
    for module in tried:
        total = module.total - module.missing
        killed = total - len(module.survived)
        few = few or 100.0 * killed < _LEAST_KILLED_PERCENT * total
        untried = f", {module.missing} not tried" if module.missing else ""
        print(f"{module.file}: {killed} of {total} killed, {_percent(killed, total)}{untried}")
    new = [mutant for mutant in survived if mutant not in {**known.same, **known.unseen}]
    for mutant in new:
        place = f"{mutant.file}:{_line(mutant)} {mutant.function}"
        print(f"\nNo test noticed: {place}\n  - {mutant.was}\n  + {mutant.became}")
    files = {module.file for module in tried if not module.missing}
    for mutant in {*known.same, *known.unseen} - set(survived):
        if mutant.file in files:
            print(f"\nExplained, yet it does not survive: {mutant}")
    total = sum(module.total - module.missing for module in tried)
    print(f"\n{total - len(survived)} of {total} killed, {_percent(total - len(survived), total)}")
    return 1 if few or new else 0


if __name__ == "__main__":
    sys.exit(main())
