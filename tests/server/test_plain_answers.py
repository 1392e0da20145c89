"""At a desk nobody is told of options of the command line."""

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

from bankside.server.desk.plain_answers import settles, without_options

SHEETS = Path(__file__).parents[2] / "src" / "bankside" / "sheets"


@pytest.mark.parametrize(
    ("said", "plain"),
    [
        (
            'or say --column tape="…" --column depth="…" by head or letter, and where no head '
            "gives the unit --unit tape=m --unit velocity=m/s (or ft, ft/s)",
            "or say a column as “tape”, a column as “depth” by head or letter, and where no head "
            "gives the unit tape in m, velocity in m/s (or ft, ft/s)",
        ),
        ("--column velocity@0.2=AB would be right", "column AB as “velocity@0.2” would be right"),
        ("say --column NAME=C.", "say what column C holds."),
        (
            "say --date-order day-first or month-first",
            "say “date order: day-first” or month-first",
        ),
        ("as said by --empty-edge.", "as said by the answer “empty edge”."),
        ("or `--separator`, would be right", "or the answer “separator”, would be right"),
        ("found a JPEG image", "found a JPEG image"),
    ],
)
def test_an_option_is_told_as_the_page_calls_the_answer(said: str, plain: str) -> None:
    """In the words of its button or its field; what names no option is as it was."""
    assert without_options(said) == plain
    assert settles(said) == (said != plain)


def test_no_sentence_of_the_readers_keeps_an_option() -> None:
    """Whatever the readers of sheets say, be it in a part of a sentence."""
    found = [said for path in SHEETS.rglob("*.py") for said in _texts(path) if settles(said)]

    assert len(found) > 20
    assert [said for said in found if "--" in without_options(said)] == []


def _texts(path: Path) -> Iterator[str]:
    tree = ast.parse(path.read_text(encoding="utf-8"))
    for node in ast.walk(tree):
        if isinstance(node, ast.JoinedStr):
            yield "".join(
                part.value if isinstance(part, ast.Constant) else "{}" for part in node.values
            )
        elif isinstance(node, ast.Constant) and isinstance(node.value, str):
            yield node.value
