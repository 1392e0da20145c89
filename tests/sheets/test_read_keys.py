"""Keys of lines around a table: however they are written, and none lost that is nearly known."""

from pathlib import Path

import pytest

from bankside.gauging.records import CrewMember, StageReading
from bankside.sheets.names import name_line, names_in
from bankside.sheets.write import left_out, to_csv

from .building import SECTION, gauging_of, lines_of, metric, read, read_one, text_sheet


@pytest.mark.parametrize(
    "key",
    [
        "Gage Ht",
        "Gage ht.",
        "GAGE HT START",
        "gage ht end",
        "G.H.",
        "G. H.",
        "G.H. start",
        "GH",
        "Gage heights",
        "gage_height",
        "Stages",
    ],
)
@pytest.mark.parametrize("line", ["{}: 0.52\n", "{},0.52\n", "{}:,0.52\n", "# {}: 0.52\n"])
def test_the_stage_under_its_many_keys(tmp_path: Path, key: str, line: str) -> None:
    """Capitals, dots, a colon and a plural make no other key."""
    item = read_one(text_sheet(tmp_path, metric(above=line.format(key))))
    assert gauging_of(item).stage == (StageReading(0.52),)
    assert (gauging_of(item).remarks, item.notes) == (None, ())


def test_the_name_of_a_station(tmp_path: Path) -> None:
    """The station of a line is the site."""
    gauging = gauging_of(read_one(text_sheet(tmp_path, metric(above="Station name: Low Ford\n"))))
    assert gauging.site.name == "Low Ford"


@pytest.mark.parametrize(
    "line",
    ["Weather: clear", "Water temp: 12 C", "Measurement no: 41", "Measurement number: 41"],
)
def test_other_keys_stay_remarks(tmp_path: Path, line: str) -> None:
    """What has no place in the record is a remark, word for word, and nothing is said of it."""
    item = read_one(text_sheet(tmp_path, metric(above=f"{line}\n")))
    assert (gauging_of(item).remarks, item.notes) == (line, ())


@pytest.mark.parametrize(
    ("line", "meant"),
    [
        ("Gage hieght: 0.52", "stage"),
        ("Gage hieght,0.52", "stage"),
        ("Strat time: 10:05", "start"),
        ("Timezone offset from UTC is -7", None),
        ("Recoder: Wren", "recorder"),
    ],
)
def test_a_key_that_is_nearly_known_is_told(tmp_path: Path, line: str, meant: str | None) -> None:
    """A slip in a key costs no reading silently: a note names the line and the key."""
    item = read_one(text_sheet(tmp_path, metric(above=f"{line}\n")))
    assert gauging_of(item).remarks == line.replace(",", " ")
    if meant is None:
        assert item.notes == ()
    else:
        (note,) = item.notes
        assert "row 1" in note and f"if it is the {meant}" in note


@pytest.mark.parametrize(
    ("above", "told"),
    [
        ("Stage: high\n", 'The stage "high" on row 1'),
        ("Stage: 0.52 ft\n", 'The stage "0.52 ft" on row 1'),
        ("Start: early\n", 'The start "early" on row 1'),
        ("Total: about a lot\n", 'The total discharge "about a lot" on row 1'),
        ("Meter: propeller\nMeter: cups\n", 'The meter "cups" on row 2'),
    ],
)
def test_a_known_key_that_is_not_understood_is_told(tmp_path: Path, above: str, told: str) -> None:
    """Every line with a known key that became a remark has its note, with the row."""
    item = read_one(text_sheet(tmp_path, metric(above=above)))
    assert gauging_of(item).remarks is not None
    assert any(note.startswith(told) for note in item.notes), item.notes


@pytest.mark.parametrize(
    ("text", "names"),
    [
        ("Wren, Alder", ("Wren", "Alder")),
        ("J. Wren, A. Alder & M. Quill", ("J. Wren", "A. Alder", "M. Quill")),
        ("JW, AA", ("JW", "AA")),
        ("J.W., A.A.", ("J.W.", "A.A.")),
        ("Mora, A.", ("Mora, A.",)),
        ("Mora, A. B., Quill, J.", ("Mora, A. B.", "Quill, J.")),
        ("Mora, Ash; Quill, June", ("Mora, Ash", "Quill, June")),
        ("Mora, Ash;", ("Mora, Ash",)),
    ],
)
def test_names_on_a_line(text: str, names: tuple[str, ...]) -> None:
    """Initials belong to the surname before them; a semicolon parts people whose names hold one."""
    assert names_in(text) == names


@pytest.mark.parametrize("name", ["Mora, A.", "Mora, Ash", "Wren & Sons", "Quill/Alder", "Wren"])
def test_a_name_comes_back_as_it_was_written(tmp_path: Path, name: str) -> None:
    """Whatever stands in a name but a semicolon, one person stays one person."""
    assert names_in(name_line(name)) == (name,)
    sheet = metric(above="Leader: " + name_line(name) + "\nCrew: Wren\n")
    gauging = gauging_of(read_one(text_sheet(tmp_path, sheet)))
    assert gauging.crew == (CrewMember("Wren"), CrewMember(name, "leader"))
    again = gauging_of(read_one(text_sheet(tmp_path, to_csv([gauging]), "again.csv")))
    assert again == gauging and left_out([gauging]) == ()


@pytest.mark.parametrize(
    ("above", "told"),
    [
        ("Latitude: 46.1\nLongitude: 7.2\nAccuracy: good\n", 'The accuracy "good"'),
        ("Accuracy: 3\n", 'The accuracy "3"'),
        ("Waypoint: 12\n", 'The label "12"'),
    ],
)
def test_what_is_told_of_a_position_is_not_lost(tmp_path: Path, above: str, told: str) -> None:
    """An accuracy that is none, and what stands without a position, is a remark with a note."""
    item = read_one(text_sheet(tmp_path, metric(above=above)))
    assert gauging_of(item).remarks is not None
    (note,) = item.notes
    assert note.startswith(told)


def test_a_line_over_several_gaugings_is_told(tmp_path: Path) -> None:
    """A start above two gaugings is that of neither: it is kept, and a note says why."""
    heads = "site,tape (m),depth (m),velocity (m/s)\n"
    rows = [(site, *station) for site in ("low ford", "mill") for station in SECTION]
    reading = read(text_sheet(tmp_path, f"Start: 10:05\n{heads}{lines_of(rows)}"))
    for item in reading.gaugings:
        assert gauging_of(item).started is None
        assert any("row 1 stands over several gaugings" in note for note in item.notes)
