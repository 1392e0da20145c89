"""Work through an invented day: plan, read two sheets, compute, explain, write.

Alder Fork and Quill Brook lie in no atlas; the crew is invented as well. The commands shown are
the ones that anybody would type, run one after another.
"""

import shlex
import sys
from pathlib import Path

from bankside.cli import main

HERE = Path(__file__).parent
OUT = HERE.parent / "out"
FEET = str(HERE / "sheets" / "alder_fork.csv")
METRES = str(HERE / "sheets" / "quill_brook.xlsx")

STEPS = (
    (
        "Alder Fork: the edges of water are at 3.2 and 27.1 ft. Where to stand?",
        "plan 3.2 27.1 --unit ft --verticals 25 --minimum-spacing 0.5",
    ),
    ("The sheet that came back, in feet, with a total of its own", f"compute {FEET}"),
    (
        "Next time, let every vertical stand for about the same share of the flow",
        f"plan 3.2 27.1 --unit ft --verticals 22 --rule equal-flow --from {FEET}",
    ),
    (
        "Quill Brook, in metres: two channels, counts of a rotating meter, a bank too undercut to "
        "measure at, and the office's own total",
        f"compute {METRES}",
    ),
    ("Both gaugings as records that keep everything", f"convert {FEET} {METRES} --to json"),
    ("Alder Fork as a tidy table", f"convert {FEET} --to csv"),
)


def run(title: str, command: str, output: Path | None = None) -> None:
    """Show one command and run it; stop the demonstration if it fails."""
    arguments = shlex.split(command)
    if output is not None:
        output.parent.mkdir(exist_ok=True)
        arguments += ["--output", str(output), "--replace"]
    shown = [a.replace(f"{HERE.parent}/", "") for a in arguments]
    print(f"\n{'=' * 78}\n{title}\n\n$ bankside {shlex.join(shown)}\n", flush=True)
    code = main(arguments)
    if code:
        sys.exit(code)
    if output is not None:
        print(f"wrote {output.relative_to(HERE.parent)}, {output.stat().st_size} bytes")


def demonstrate() -> None:
    """Run every step; what is written goes to `out/`."""
    names = {"json": "two_gaugings.json", "csv": "alder_fork_tidy.csv"}
    for title, command in STEPS:
        form = command.rpartition("--to ")[2] if "--to" in command else None
        run(title, command, None if form is None else OUT / names[form])
    run("What was written reads back to the same figures", f"compute {OUT / names['json']}")


if __name__ == "__main__":
    demonstrate()
