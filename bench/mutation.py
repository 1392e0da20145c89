"""Say which changes to the code no test noticed, after `make mutation`.

What survived is held against `docs/mutation.json`, where every change that changes nothing has its
reason: whatever survives and is not explained there is a test that is missing, and fails the run.
`--write` puts the counts of the run and the reasons into `docs/mutation.md`.
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
REASONS = HERE / "docs" / "mutation.json"
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


def _percent(killed: int, total: int) -> str:
    return f"{100.0 * killed / total:.1f} %"


def _tables(tried: list[Module], reasons: dict[Mutant, str]) -> str:
    rows = [
        "| module | mutants | killed | | change nothing | unseen |",
        "|---|--:|--:|--:|--:|--:|",
    ]
    for module in tried:
        same = sum(mutant in reasons for mutant in module.survived)
        killed = module.total - len(module.survived)
        rows.append(
            f"| `{module.file.removeprefix('src/bankside/')}` | {module.total} | {killed} "
            f"| {_percent(killed, module.total)} | {same} | {len(module.survived) - same} |"
        )
    total, left = sum(m.total for m in tried), sum(len(m.survived) for m in tried)
    same = sum(mutant in reasons for m in tried for mutant in m.survived)
    rows.append(
        f"| all | {total} | {total - left} | {_percent(total - left, total)} | {same} "
        f"| {left - same} |"
    )
    rows += ["", "| file, line | was | became | why nothing changes |", "|---|---|---|---|"]
    for mutant, why in sorted(reasons.items(), key=lambda item: (item[0].file, _line(item[0]))):
        place = f"{mutant.file.removeprefix('src/bankside/')}, {_line(mutant)}"
        was, became = (text.replace("|", "\\|") for text in (mutant.was, mutant.became))
        rows.append(f"| `{place}` | `{was}` | `{became}` | {why} |")
    return "\n".join(rows) + "\n"


def main() -> int:
    """Print what the last run came to; 1 where something survived that nobody explained."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--write", action="store_true", help="put the figures into the document")
    write = parser.parse_args().write
    tried = [module for module in modules() if module.missing < module.total]
    if not tried:
        sys.exit("No mutants were tried yet: run make mutation.")
    reasons = {
        Mutant(*(entry[field] for field in Mutant._fields)): entry["why"]
        for entry in json.loads(REASONS.read_text("utf-8"))
    }
    survived = [mutant for module in tried for mutant in module.survived]
    for module in tried:
        killed = module.total - module.missing - len(module.survived)
        untried = f", {module.missing} not tried" if module.missing else ""
        print(f"{module.file}: {killed} of {module.total} killed{untried}")
    unseen = [mutant for mutant in survived if mutant not in reasons]
    for mutant in unseen:
        place = f"{mutant.file}:{_line(mutant)} {mutant.function}"
        print(f"\nNo test noticed: {place}\n  - {mutant.was}\n  + {mutant.became}")
    files = {module.file for module in tried if not module.missing}
    for mutant in set(reasons) - set(survived):
        if mutant.file in files:
            print(f"\nExplained, yet it does not survive: {mutant}")
    total = sum(module.total - module.missing for module in tried)
    print(f"\n{total - len(survived)} of {total} killed, {_percent(total - len(survived), total)}")
    if write:
        before, _, rest = DOCUMENT.read_text("utf-8").partition(_BEGIN)
        after = rest.partition(_END)[2]
        DOCUMENT.write_text(before + _BEGIN + _tables(tried, reasons) + _END + after, "utf-8")
    enough = 100.0 * (total - len(survived)) >= _LEAST_KILLED_PERCENT * total
    return 0 if enough and not unseen else 1


if __name__ == "__main__":
    sys.exit(main())
