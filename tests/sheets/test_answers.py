"""Answers that are kept in a file and used again."""

from pathlib import Path

import attrs
import pytest

from bankside.gauging.faults import InputRefused
from bankside.sheets.answers import CHOICES, COLUMN_NAMES, Answers, load_answers, save_answers

FULL = Answers(
    columns={"tape": ("A",), "depth": ("D ft",), "ignore": ("E", "notes by")},
    units={"tape": "ft", "discharge": "ft3/s"},
    rating=("2.20,0.03,0.5", "2.25,0.005"),
    separator=";",
    encoding="utf-16",
    sheet="June",
    decimal="comma",
    date_order="day-first",
    century="1900",
    empty_velocity="zero",
    same_tape="repeated",
    tape_restart="channels",
    empty_edge="sloping",
    first_bank="left",
    time_zone="-07:00",
)


def _refused(folder: Path, text: str) -> list[str]:
    path = folder / "answers.toml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(InputRefused) as caught:
        load_answers(path)
    return [str(fault) for fault in caught.value.faults]


@pytest.mark.parametrize("answers", [FULL, Answers(), Answers(columns={"depth": ('a "b"\n(m)',)})])
def test_answers_come_back_as_they_were_kept(tmp_path: Path, answers: Answers) -> None:
    """Writing and reading answers changes nothing, whatever signs a head holds."""
    path = tmp_path / "answers.toml"
    save_answers(answers, path)
    assert load_answers(path) == answers


def test_every_answer_is_in_this_test() -> None:
    """The full set above leaves out no field, so that a new one cannot be forgotten."""
    empty = Answers()
    for field in attrs.fields(Answers):
        assert getattr(FULL, field.name) != getattr(empty, field.name), field.name


@pytest.mark.parametrize("question", CHOICES)
def test_every_choice_can_be_kept(tmp_path: Path, question: str) -> None:
    """Every documented choice is accepted, and nothing else is."""
    path = tmp_path / "answers.toml"
    for choice in CHOICES[question]:
        path.write_text(f'{question} = "{choice}"\n', encoding="utf-8")
        assert getattr(load_answers(path), question) == choice
    (told,) = _refused(tmp_path, f'{question} = "perhaps"\n')
    assert all(choice in told for choice in CHOICES[question])


def test_every_column_name_can_be_answered(tmp_path: Path) -> None:
    """Every documented name of a column is accepted in a file of answers."""
    path = tmp_path / "answers.toml"
    save_answers(Answers(columns={name: ("A",) for name in COLUMN_NAMES}), path)
    assert set(load_answers(path).columns) == set(COLUMN_NAMES)


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("tape_restrat = 'sort'\n", "tape_restrat: is no answer"),
        ("[columns]\ndeph = 'B'\n", "'deph'"),
        ("[columns]\ndepth = 3\n", "found 3 for depth"),
        ("columns = 'B'\n", "a table of names"),
        ("[units]\ntape = ['ft']\n", "for tape"),
        ("rating = '0.5,0.03'\n", "a list of texts"),
        ("sheet = 3\n", "a text would be right"),
        ("this is no TOML\n", "could not be read as a TOML file"),
    ],
)
def test_answers_that_are_none(tmp_path: Path, text: str, told: str) -> None:
    """A slip in a file of answers is named with its key, never passed over."""
    (fault,) = _refused(tmp_path, text)
    assert fault.startswith("answers.toml") and told in fault


@pytest.mark.parametrize(
    "text",
    ["empty_edge = ['sloping']\n", "decimal = {}\n", "[[columns]]\n", "units = 3\n"],
)
def test_answers_of_the_wrong_kind(tmp_path: Path, text: str) -> None:
    """A list, a table or a number where a text belongs is a sentence, no crash."""
    assert len(_refused(tmp_path, text)) == 1


def test_all_slips_are_told_at_once(tmp_path: Path) -> None:
    """Two slips are two sentences."""
    assert len(_refused(tmp_path, "decimal = 'dot'\ncolour = 'red'\n")) == 2


def test_a_file_that_is_not_there(tmp_path: Path) -> None:
    """A missing file of answers is told by its name."""
    with pytest.raises(InputRefused, match=r"none\.toml"):
        load_answers(tmp_path / "none.toml")
