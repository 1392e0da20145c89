"""Work through an invented day and season: plan, read sheets, compute, check, explain, write.

Alder Fork, Quill Brook and Tansy Run lie in no atlas; the crew is invented as well. The commands
shown are the ones that anybody would type, run one after another.
"""

import shlex
import sys
from contextlib import chdir
from pathlib import Path

from bankside.cli import main

HERE = Path(__file__).parent
OUT = HERE.parent / "out"
FEET = HERE / "sheets" / "alder_fork.csv"
METRES = HERE / "sheets" / "quill_brook.xlsx"
SLIPPED = HERE / "sheets" / "tansy_run.csv"
SURVEY = HERE / "survey"
RULES = "after-usgs-tm-3-a8"
EDGES = ("3.2", "27.1", "--unit", "ft")

NEXT = """
Look first at:
  out/alder_fork_sheet.pdf                            what a crew takes along
  out/Alder_Fork_above_the_footbridge_2026-07-14.pdf  the note of a gauging
  out/marrowmere.pdf                                  the report of the season

Go on with: make app, which opens the season in the browser; docs/tutorial.md, with sheets to
put right; or a sheet of your own: .venv/bin/bankside compute SHEET"""


def run(title: str, *arguments: str | Path) -> None:
    """Show one command and run it; stop the demonstration if it fails."""
    typed = [str(argument).removeprefix(f"{HERE.parent}/") for argument in arguments]
    print(f"\n{'=' * 78}\n{title}\n\n$ bankside {shlex.join(typed)}\n", flush=True)
    with chdir(HERE.parent):
        code = main(typed)
    if code:
        sys.exit(code)


def demonstrate() -> None:
    """Run every step; what is written goes to `out/`."""
    OUT.mkdir(exist_ok=True)
    run(
        "Alder Fork: the edges of water are at 3.2 and 27.1 ft. Where to stand?",
        *("plan", *EDGES, "--verticals", "25", "--minimum-spacing", "0.5"),
    )
    sheet = OUT / "alder_fork_sheet.pdf"
    run(
        "The sheet to take along: those positions, and room to write in the rain",
        *("sheet", *EDGES, "--verticals", "25", "--minimum-spacing", "0.5"),
        *("--stream", "Alder Fork", "--site", "above the footbridge", "-o", sheet, "--replace"),
    )
    run("The sheet that came back, in feet, with a total of its own", "compute", FEET)
    run(
        "Next time, stand closer where more water flowed; slow water keeps a few verticals",
        *("plan", *EDGES, "--verticals", "22", "--rule", "equal-flow", "--from", FEET),
    )
    run(
        "Quill Brook, in metres: two channels, counts of a rotating meter, a bank too undercut to "
        "measure at, and the office's own total",
        *("compute", METRES),
    )
    records, table = OUT / "two_gaugings.json", OUT / "alder_fork_tidy.csv"
    run(
        "Both gaugings as records that keep everything",
        *("convert", FEET, METRES, "--output", records, "--replace"),
    )
    run(
        "Alder Fork as a tidy table",
        *("convert", FEET, "--output", table, "--replace"),
    )
    run("What was written reads back to the same figures", "compute", records)
    run(
        "Tansy Run, still in the water: a decimal point has slipped. What do the checks say?",
        *("check", SLIPPED, "--level", "explain"),
    )
    run("And Alder Fork, by values after another publication", "check", FEET, "--rules", RULES)
    run(
        "A note of each gauging to print and sign: Letter for feet, A4 for metres",
        *("report", FEET, METRES, "--output-folder", OUT, "--replace"),
    )
    run(
        "The same as workbooks: every figure a live formula, down to the readings",
        *("report", FEET, METRES, "--workbook", "--output-folder", OUT, "--replace"),
    )
    archive = OUT / "season.db"
    for old in OUT.glob("season.db*"):
        old.unlink()
    run("An archive for the office, in one file", "archive", "init", archive)
    run(
        "A whole season taken in, every byte kept: three crews, sheets in feet and metres, "
        "journals of telephones with their photos",
        *("archive", "import", archive, SURVEY, "--by", "A. Hollins"),
    )
    run("Every checksum and every figure, worked out anew", "archive", "verify", archive)
    run("Who measured Alder Fork?", "archive", "list", archive, "--search", "alder fork")
    run(
        "The season's report: map, sections at one scale, duplicates, balances, every note",
        *("survey", "report", "--archive", archive, "--survey", "marrowmere-2026"),
        *("--positions", SURVEY / "points.gpx", "--tables", OUT / "marrowmere_tables"),
        *("--output", OUT / "marrowmere.pdf", "--replace"),
    )
    package = OUT / "marrowmere.gpkg"
    run(
        "The same for a map program",
        *("convert", *sorted(SURVEY.glob("*/*.[cj]s*")), *sorted(SURVEY.glob("*/*.xlsx"))),
        *("--survey", SURVEY / "survey.json", "-o", package, "--replace"),
    )
    print(f"\n{'=' * 78}\nWhat lies in out/ now\n")
    for written in sorted(
        {records, table, archive, package, *OUT.glob("*.pdf"), *OUT.glob("*.xlsx")}
    ):
        print(f"{written.relative_to(HERE.parent)}: {written.stat().st_size / 1000:,.0f} kB")
    print(NEXT)


if __name__ == "__main__":
    demonstrate()
