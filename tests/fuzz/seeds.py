"""Small sound files of every kind that is read: `python -m tests.fuzz.seeds` makes them anew.

They lie in the folder `corpus`, so that a run begins with the same files on every machine.
"""

from __future__ import annotations

import json
import tempfile
from collections.abc import Mapping
from pathlib import Path

from bankside.exchange.data import SurveyData
from bankside.exchange.members import write_zip
from bankside.exchange.write import OPEN_FORMS, written_as
from bankside.gauging.journal.document import Journal, journal_to_json
from bankside.gauging.wire import several_to_json
from bankside.sheets.write import to_csv, write_xlsx
from bankside.survey.document import survey_to_json

from ..archive.building import crossing
from ..broken.test_fuzz import SHEET
from ..broken.workbooks import ods, old_workbook
from ..exchange.building import FIRST, SECOND, SURVEY

__all__ = ["CORPUS", "seeds"]

CORPUS = Path(__file__).parent / "corpus"
_ROW = "<table:table-row>{}</table:table-row>"
_TEXT = '<table:table-cell office:value-type="string"><text:p>{}</text:p></table:table-cell>'
_FIGURE = '<table:table-cell office:value-type="float" office:value="{0}"/>'
_HEADS = ("tape (m)", "depth (m)", "velocity (m/s)")
_READINGS = ((0, 0, 0), (1, 0.3, 0.2), (2, 0.5, 0.4), (3, 0, 0))


def seeds() -> Mapping[str, bytes]:
    """Return the name of each file and what is in it."""
    data = SurveyData(SURVEY, (FIRST, SECOND))
    made = {
        "sheet.csv": SHEET,
        "tidy.csv": to_csv([FIRST]).encode(),
        "old.xls": old_workbook({}),
        "sheet.ods": ods(
            _ROW.format("".join(map(_TEXT.format, _HEADS)))
            + "".join(_ROW.format("".join(map(_FIGURE.format, row))) for row in _READINGS)
        ),
        "record.json": several_to_json([FIRST, SECOND]).encode(),
        "survey.json": survey_to_json(SURVEY).encode(),
        "journal.json": journal_to_json(Journal("g1", tuple(crossing("g1").entries))).encode(),
    }
    with tempfile.TemporaryDirectory() as folder:
        write_xlsx([SECOND], Path(folder) / "sheet.xlsx")
        for form, kind in OPEN_FORMS.items():
            path = Path(folder) / f"{form}{kind.suffix}"
            files = written_as(data, form).files
            if kind.in_parts:
                write_zip(files, path)
            else:
                path.write_bytes(files[""])
        made |= {path.name: path.read_bytes() for path in sorted(Path(folder).iterdir())}
    made["points.gpx"] = (
        b'<gpx version="1.1" xmlns="http://www.topografix.com/GPX/1/1"><wpt lon="-1.2" lat="45.6">'
        b"<ele>812</ele><name>AF-01</name></wpt></gpx>"
    )
    feature = {
        "type": "Feature",
        "properties": {"name": "AF-01"},
        "geometry": {"type": "Point", "coordinates": [-1.2, 45.6]},
    }
    points = {"type": "FeatureCollection", "features": [feature]}
    return {**made, "points.geojson": json.dumps(points).encode()}


if __name__ == "__main__":
    CORPUS.mkdir(exist_ok=True)
    for name, content in seeds().items():
        (CORPUS / name).write_bytes(content)
