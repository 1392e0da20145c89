"""Text files: character set, separator, rows, quotation marks."""

import csv
import io
import time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bankside.gauging.faults import InputRefused
from bankside.sheets.files import grid as grid_module
from bankside.sheets.files.grid import CellValue, Grid
from bankside.sheets.files.separators import SEPARATOR_NAMES
from bankside.sheets.files.text import read_text

ROWS = (("tape", "depth", "velocity"), ("0.4", "0.35", "0.41"), ("0.8", "0.37", "0.44"))


def _read(text: str | bytes, separator: str | None = None, encoding: str | None = None) -> Grid:
    data = text.encode() if isinstance(text, str) else text
    return read_text(data, "flow.csv", separator, encoding)


def _sentences(text: str | bytes, separator: str | None = None, encoding: str | None = None) -> str:
    """What is said when the text is refused, one sentence a line."""
    with pytest.raises(InputRefused) as caught:
        _read(text, separator, encoding)
    return str(caught.value)


def _joined(mark: str) -> str:
    return "\n".join(mark.join(row) for row in ROWS) + "\n"


# Separator


@pytest.mark.parametrize("mark", SEPARATOR_NAMES)
def test_each_separator_is_found(mark: str) -> None:
    """Comma, semicolon, tab, pipe and blanks are told from the lines themselves."""
    grid = _read(_joined(mark))

    assert grid.separator == mark
    assert grid.rows == ROWS
    assert grid.row_numbers == (1, 2, 3)


@pytest.mark.parametrize("mark", SEPARATOR_NAMES)
def test_a_separator_can_be_given_by_sign_or_by_name(mark: str) -> None:
    """The option takes the sign and its name, in the singular or the plural."""
    name = SEPARATOR_NAMES[mark]

    for given_mark in (mark, name, name.upper(), name + "s"):
        assert _read(_joined(mark), given_mark).rows == ROWS
    assert _read(_joined("\t"), "\\t").rows == ROWS
    assert _read(_joined(" "), "space").rows == ROWS


@pytest.mark.parametrize("mark", ["\t", ";", "|", " "])
@pytest.mark.parametrize("head", ["", "tape{0}depth{0}velocity\n"])
def test_decimal_commas_are_no_separators(mark: str, head: str) -> None:
    """Numbers with a decimal comma do not make a comma the separator, with or without a head."""
    lines = [("1,2", "0,35", "0,41"), ("1,6", "0,36", "0,43"), ("2,0", "0,38", "0,44")]
    text = head.format(mark) + "\n".join(mark.join(line) for line in lines)

    grid = _read(text)

    assert grid.separator == mark
    assert grid.rows[-3:] == tuple(lines)


def test_one_line_with_decimal_commas_is_split_at_semicolons() -> None:
    """Even a single row is enough to tell a decimal comma."""
    assert _read("1,2;0,35;0,41").rows == (("1,2", "0,35", "0,41"),)


def test_commas_in_a_head_with_units_do_not_mislead() -> None:
    """Heads such as "Depth, m" hold commas as regularly as the numbers below do."""
    grid = _read("Tape, m;Depth, m;Velocity, m/s\n1,2;0,35;0,41\n1,6;0,36;0,43\n")

    assert grid.rows[0] == ("Tape, m", "Depth, m", "Velocity, m/s")


def test_semicolons_in_remarks_do_not_mislead() -> None:
    """A remark column with semicolons here and there leaves the comma the separator."""
    grid = _read("tape,depth,velocity,remark\n0.4,0.3,0.2,weedy; slow\n0.8,0.3,0.2,\n1.2,0.3,0.2,a")

    assert grid.separator == ","
    assert grid.rows[1][3] == "weedy; slow"


def test_separators_inside_quotation_marks_do_not_count() -> None:
    """Quoted cells may hold any separator and line breaks."""
    grid = _read('tape,remark\n0.4,"a;b|c, d"\n0.8,"two\nlines"\n1.2,"say ""so"""\n')

    assert grid.rows[1:] == (("0.4", "a;b|c, d"), ("0.8", "two\nlines"), ("1.2", 'say "so"'))
    assert grid.row_numbers == (1, 2, 3, 5)


@pytest.mark.parametrize("mark", [",", ";", "\t"])
def test_lines_above_a_table_stay_whole_and_do_not_mislead(mark: str) -> None:
    """Comments, keys and a title say nothing about the separator and are not cut up by it."""
    above = (
        '# stream: Alder Fork, upper; reach\n# a lone " mark\nCrew: A, B; C | D, E, F\n'
        "Gauging sheet\n\nMeter: M, 7\nRod: 1, 2\nBed: sand, silt\nWind: 1, 2\n"
    )

    grid = _read(above + _joined(mark))

    assert grid.separator == mark
    assert grid.rows[:5] == (
        ("# stream: Alder Fork, upper; reach",),
        ('# a lone " mark',),
        ("Crew: A, B; C | D, E, F",),
        ("Gauging sheet",),
        (),
    )
    assert grid.rows[5:9] == (
        ("Meter: M, 7",),
        ("Rod: 1, 2",),
        ("Bed: sand, silt",),
        ("Wind: 1, 2",),
    )
    assert grid.rows[9:] == ROWS
    assert grid.row_numbers == tuple(range(1, 13))


def test_key_cells_filled_up_by_a_spreadsheet_are_cells() -> None:
    """A form saved as CSV has its keys and values in cells, padded to the table's width."""
    grid = _read("Stream:,Alder Fork,\nDate: 2026-07-14,,\n" + _joined(","))

    assert grid.rows[:2] == (("Stream:", "Alder Fork"), ("Date: 2026-07-14",))


def test_a_head_that_is_commented_out_is_a_row_of_the_table() -> None:
    """Programs that write a head after a number sign write as many names as there are columns."""
    grid = _read("# tape, depth, velocity\n0.4,0.35,0.41\n0.8,0.37,0.44\n")

    assert grid.rows[0] == ("# tape", "depth", "velocity")


def test_a_column_named_by_a_number_sign_is_no_comment() -> None:
    """The sign "#" is a common head for the number of the vertical."""
    grid = _read("#,tape,depth\n1,0.4,0.35\n2,0.8,0.37\n")

    assert grid.rows[0] == ("#", "tape", "depth")


def test_a_separator_line_is_honoured_and_kept() -> None:
    """A first line "sep=;" decides the separator and is one of the rows."""
    grid = _read("sep=;\n" + "a,b;c,d\ne,f;g,h\n")

    assert grid.rows == (("sep=;",), ("a,b", "c,d"), ("e,f", "g,h"))
    assert grid.row_numbers == (1, 2, 3)


def test_a_given_separator_goes_before_a_separator_line() -> None:
    """What a person says counts more than what the file says."""
    assert _read("sep=;\na,b;c,d\n", ",").rows[1] == ("a", "b;c", "d")


def test_a_strange_separator_line_is_refused() -> None:
    """A separator line with a sign that separates nothing here names the ones that do."""
    assert 'row 1: found "sep=x"' in _sentences("sep=x\naxb\n")


def test_two_separators_that_fit_equally_are_asked_about() -> None:
    """Nothing decides between comma and semicolon here, so the person does."""
    said = _sentences("a,b;c,d\ne,f;g,h\n")

    assert "comma and semicolon" in said
    assert "`--separator comma` or `--separator semicolon`" in said


def test_a_file_of_two_halves_is_asked_about() -> None:
    """Half the lines with one separator and half with another is no chance."""
    said = _sentences(_joined(",") + _joined(";"))

    assert "fit equally well" in said


@pytest.mark.parametrize("text", ["tape\n", "tape\n0.4\n0.8\n", "one\n", "a prose line\nand more"])
def test_a_single_column_is_no_table(text: str) -> None:
    """Without any separator there is nothing to read, and the option is named."""
    assert "`--separator`" in _sentences(text)


def test_a_given_separator_that_does_not_occur_is_refused() -> None:
    """A separator that separates nothing is not the file's."""
    assert "found no pipe" in _sentences(_joined(","), "|")


def test_an_unknown_separator_is_refused() -> None:
    """The option takes five separators and says which."""
    assert 'found "~"' in _sentences(_joined(","), "~")


@pytest.mark.parametrize("text", ["\n\n", "  \n\t\n", "# only: a comment\n", "\ufeff", "sep=;\n"])
def test_a_file_without_a_table_line_is_refused(text: str) -> None:
    """Blank lines and comments are no table."""
    assert "no line with a table" in _sentences(text)


def test_the_first_row_may_be_wider_than_the_others() -> None:
    """A head over remarks that no row has is still a head."""
    assert _read("tape,depth,velocity,remark\n0.4,0.35,0.41\n").rows[0][3] == "remark"


# Blanks


def test_columns_set_with_blanks_are_read() -> None:
    """Runs of blanks separate; a head of several words is split where the blanks are wide."""
    grid = _read("Tape (m)   Water depth   Velocity\n  0.4   0.35\t0.41  \n  0.8   0.37   0.44\n")

    assert grid.rows == (("Tape (m)", "Water depth", "Velocity"), *ROWS[1:])


def test_commas_in_prose_above_columns_set_with_blanks_do_not_mislead() -> None:
    """Two lines with a comma each weigh nothing against a table."""
    table = "".join(f"{tape}.5 0.35 0.41\n" for tape in range(12))
    grid = _read("Measured at dawn, cold\nWater clear, no wind\ntape depth velocity\n" + table)

    assert grid.separator == " "
    assert grid.rows[3] == ("0.5", "0.35", "0.41")


def test_a_missing_cell_between_blanks_is_refused_with_its_row() -> None:
    """Between blanks nobody can tell which value is missing, so none is moved to its column."""
    said = _sentences("tape depth velocity\n0.4 0.35 0.41\n0.8 0.44\n1.2 0.3 0.4\n1.6 0.1\n")

    assert [line.split(":")[0] for line in said.splitlines()] == [
        "flow.csv, row 3",
        "flow.csv, row 5",
    ]
    assert "found 2 values where the table has 3" in said


def test_lines_of_words_below_a_table_with_blanks_are_kept() -> None:
    """Keys, totals and remarks below such a table are rows like any other."""
    grid = _read("tape depth velocity\n0.4 0.35 0.41\n0.8 0.4 0.4\nTotal 0.123\nStage: 1.3 ft\n")

    assert grid.rows[3:] == (("Total", "0.123"), ("Stage: 1.3 ft",))


# Rows


def test_cells_are_stripped_texts_and_empty_ones_are_none() -> None:
    """Nothing becomes a number here; white space around a text is not part of it."""
    grid = _read("a, b ,c\n 1.50,\N{NO-BREAK SPACE},x y\n,,\n")

    assert grid.rows == (("a", "b", "c"), ("1.50", None, "x y"), ())


def test_blank_lines_are_rows() -> None:
    """Row numbers are line numbers, and no line is left out."""
    grid = _read("\na,b\n\n1,2\n,\n3,4")

    assert grid.rows == ((), ("a", "b"), (), ("1", "2"), (), ("3", "4"))
    assert grid.row_numbers == (1, 2, 3, 4, 5, 6)


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_every_kind_of_line_end_is_read(end: str) -> None:
    """Files come from every system; the old end mark after the last line is dropped."""
    grid = _read(_joined(",").replace("\n", end) + "\x1a")

    assert grid.rows == ROWS


def test_errors_of_a_spreadsheet_saved_as_text_are_errors() -> None:
    """A cell with #N/A holds no value, and its row is neither a comment nor empty."""
    grid = _read("a,b\n#N/A,2\n3,#div/0!\n")

    assert grid.rows[1:] == ((None, "2"), ("3", None))
    assert grid.cell_errors == {(1, 0): "#N/A", (2, 1): "#DIV/0!"}


def test_an_unclosed_quotation_mark_is_refused_where_it_opened() -> None:
    """The row is the one to mend, not the last of the file."""
    said = _sentences('a,b\n1,2\n3,"4\n5,6\n7,8\n')

    assert said.startswith("flow.csv, row 3: found a quotation mark that is never closed")


def test_an_unclosed_quotation_mark_swallows_no_rows() -> None:
    """A mark closed by one of a later row is refused too, not read as one long cell."""
    said = _sentences('a,b,c\n1,"weedy,2\n3,4,5\n6,"slow",7\n')

    assert said.startswith("flow.csv, row 2: found text after a closing quotation mark")


def test_a_line_inside_quotation_marks_is_no_comment() -> None:
    """A number sign at the start of a line says nothing while a cell is open."""
    assert _read('a,b\n"x\n# y",1\n').rows[1] == ("x\n# y", "1")
    assert _read('"\n#",""\n', ",").rows == (("#",),)


def test_a_mark_for_inches_inside_a_cell_is_text() -> None:
    """A quotation mark that opens no cell is a sign like any other."""
    assert _read('a,b\n1,5" pipe\n2,3"\n').rows[1] == ("1", '5" pipe')


def test_an_endless_cell_is_refused_with_its_row() -> None:
    """A quotation mark that swallows more than any cell holds is found before the end."""
    said = _sentences('a,b\n1,"' + "x,y\n" * 50_000)

    assert said.startswith("flow.csv, row 2: found a cell of more than 100,000 characters")


def test_too_many_rows_and_columns_are_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    """Sizes beyond any sheet are refused, with the limit and the row where it is passed."""
    monkeypatch.setattr(grid_module, "MAX_ROWS", 3)
    monkeypatch.setattr(grid_module, "MAX_COLUMNS", 4)
    monkeypatch.setattr(grid_module, "MAX_CELLS", 7)

    assert "row 4: found more than 3 rows; at most 3 are read" in _sentences("a,b\n1,2\n3,4\n5\n")
    assert "row 1: found 5 columns; at most 4 are read" in _sentences("a,b,c,d,e\n1,2,3,4,5\n")
    assert "row 2: found 8 cells or more; at most 7" in _sentences("a,b,c,d\n1,2,3,4\n")


def test_a_long_file_is_read_in_seconds() -> None:
    """As many rows as are read at all take no time to speak of."""
    text = "tape,depth,velocity,remark\n" + "0.4,0.35,0.41,weedy\n" * 199_999
    begun = time.process_time()

    grid = _read(text)

    assert len(grid.rows) == 200_000
    assert time.process_time() - begun < 10


@given(
    st.sampled_from([",", ";", "\t", "|"]),
    st.lists(
        st.lists(st.text("ab1.,;|\t\n \"'#:é", max_size=6), min_size=2, max_size=4),
        min_size=1,
        max_size=6,
    ),
)
def test_what_a_csv_writer_wrote_is_read_again(mark: str, table: list[list[str]]) -> None:
    """Any quoted cells come back as they were, apart from white space around them.

    An apostrophe before another one, a tab or a line break is the guard of spreadsheets, and no
    part of the text.
    """
    stream = io.StringIO()
    csv.writer(stream, delimiter=mark, quoting=csv.QUOTE_ALL).writerows(table)
    wanted = [
        [
            (text[1:] if text[:2] in ("''", "'\t", "'\n") else text) or None
            for text in map(str.strip, row)
        ]
        for row in table
    ]

    grid = _read(stream.getvalue(), mark)

    padded: list[list[CellValue]] = [
        [*got, *[None] * (len(want) - len(got))]
        for got, want in zip(grid.rows, wanted, strict=True)
    ]
    assert padded == wanted


@given(st.text(max_size=200) | st.binary(max_size=200))
def test_any_text_gives_a_grid_or_a_sentence(content: str | bytes) -> None:
    """Nothing but the one error leaves the reader, and every row has its number."""
    data = content.encode("utf-8", "replace") if isinstance(content, str) else content
    try:
        grid = _read(data)
    except InputRefused:
        return

    assert len(grid.rows) == len(grid.row_numbers)
    assert list(grid.row_numbers) == sorted(set(grid.row_numbers))


# Character set


@pytest.mark.parametrize(
    ("encoding", "bom", "found"),
    [
        ("utf-8", b"", "utf-8"),
        ("utf-8", b"\xef\xbb\xbf", "utf-8-sig"),
        ("utf-16-le", b"\xff\xfe", "utf-16-le"),
        ("utf-16-be", b"\xfe\xff", "utf-16-be"),
        ("utf-16-le", b"", "utf-16-le"),
        ("utf-16-be", b"", "utf-16-be"),
        ("windows-1252", b"", "windows-1252"),
    ],
)
def test_character_sets_are_told_and_recorded(encoding: str, bom: bytes, found: str) -> None:
    """BOM, pattern of NULs, valid UTF-8, and last Windows-1252: the one used is in the grid."""
    grid = _read(bom + "Böschung;tiefe\n1,2;0,3\n".encode(encoding))

    assert grid.encoding == found
    assert grid.rows[0] == ("Böschung", "tiefe")


@pytest.mark.parametrize("encoding", ["latin-1", "utf-8", "utf-8-sig", "cp437", "utf-16"])
def test_a_given_character_set_is_used(encoding: str) -> None:
    """What a person says about the character set is taken as said."""
    grid = _read("Böschung;tiefe\n1,2;0,3\n".encode(encoding), encoding=encoding)

    assert grid.encoding == encoding
    assert grid.rows[0] == ("Böschung", "tiefe")


@pytest.mark.parametrize("encoding", ["nonsense", "a\0b", ""])
def test_an_unknown_character_set_is_refused(encoding: str) -> None:
    """A name that is no character set is answered with some that are."""
    assert "`--encoding`" in _sentences("a,b\n", encoding=encoding)


@pytest.mark.parametrize("encoding", ["zlib", "rot13", "base64", "undefined", "idna", "punycode"])
def test_a_codec_for_other_things_gets_a_sentence(encoding: str) -> None:
    """Python's other codecs are no way to read a table."""
    assert _sentences(b"\xff\xfe,b\n\x9c1,2\n", encoding=encoding).startswith("flow.csv")


def test_bytes_that_are_no_text_in_a_given_character_set_are_placed() -> None:
    """The sentence says about where the first wrong byte is."""
    said = _sentences(b"a,b\n1,\xff\n", encoding="utf-8")

    assert "number 7, near row 2" in said
    assert "utf-8" in said


def test_bytes_that_are_no_text_at_all_are_refused() -> None:
    """Windows-1252 is the last that is tried, and it has gaps."""
    assert "windows-1252" in _sentences(b"a,b\n1,\x81\xff\n")


@pytest.mark.parametrize("rubbish", ["\x00", "\x01", "\x1b", "\x7f"])
def test_control_signs_are_binary_data(rubbish: str) -> None:
    """A text file holds no control signs; the sentence says in which row the first one is."""
    assert "row 2: found binary data" in _sentences(f"a,b\n1,{rubbish}2\n")
