"""Write the files of the invented survey anew: `python demo/survey/make.py`.

Everything follows from fixed seeds: run again, it writes the same files. The true discharges stand
in no file; `making/basin.py` works them out.
"""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path

from bankside.survey.document import survey_to_json
from making.journals import journal_file, journal_name
from making.reading import Measured, measured
from making.sheets import north_sheet, one_table, south_workbook
from making.survey_file import survey, waypoints
from making.visits import IN_ONE_TABLE, JOURNALS, NORTH_SHEETS, SOUTH_SHEETS

HERE = Path(__file__).parent


def make(folder: Path) -> None:
    """Write the survey, its waypoints, and the files of the three crews into a folder."""
    _write(folder / "survey.json", survey_to_json(survey()))
    _write(folder / "points.gpx", waypoints())
    for one in map(measured, NORTH_SHEETS):
        _write(folder / "north" / f"{_stem(one)}.csv", north_sheet(one))
    south = [measured(visit) for visit in SOUTH_SHEETS]
    (folder / "south").mkdir(parents=True, exist_ok=True)
    south_workbook(south[:4], folder / "south" / "20_to_22_july.xlsx")
    south_workbook(south[4:], folder / "south" / "23_and_24_july.xlsx")
    # The name of a journal counts its entries: what had another name before would stay beside it.
    for before in (folder / "west").glob("*.bankside.json"):
        before.unlink()
    for one in map(measured, JOURNALS):
        _write(folder / "west" / journal_name(one), journal_file(one))
    table = one_table([measured(visit) for visit in IN_ONE_TABLE])
    _write(folder / "west" / "29_july.csv", table)


def _stem(one: Measured) -> str:
    number = "" if one.visit.number == 1 else f"_{one.visit.number}"
    return f"{one.site.id.lower()}_{one.started:%m%d}{number}"


def _write(path: Path, text: str) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, encoding="utf-8", newline="\n")


def main(arguments: Sequence[str]) -> None:
    """Write into the folder that is named, beside this script if none is."""
    make(Path(arguments[0]) if arguments else HERE)


if __name__ == "__main__":
    main(sys.argv[1:])
