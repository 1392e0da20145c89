"""Every command line that the documents show is one that the program takes."""

import re
import shlex
from pathlib import Path

import pytest
from tests.docs.pages import DOCS, PAGES, command_lines, name, prose, text_of

from bankside.cli import app
from from_parser import arguments_of, leaves

COMMANDS = list(leaves(app))
LINES = [
    pytest.param(line, id=f"{name(page)}:{line[:60]}")
    for page in PAGES
    for line in dict.fromkeys(command_lines(page))
]
_OPERATORS = frozenset("|>&;")
_SELF = {"--help", "-h", "--version"}


def options(words: tuple[str, ...]) -> set[str]:
    """Return the options of a command."""
    return {name for one in arguments_of(words) for name in one.names if name.startswith("-")}


def words_of(line: str) -> list[str]:
    """Return the words of a command line up to a pipe, a redirection, or a remark."""
    reader = shlex.shlex(line, posix=True, punctuation_chars="|>&;")
    reader.commenters = "#"
    reader.whitespace_split = True
    words: list[str] = []
    for word in reader:
        if _OPERATORS.issuperset(word):
            break
        words.append(word)
    return words


def test_there_are_command_lines() -> None:
    """The tests below have something to hold."""
    assert len(LINES) > 100


@pytest.mark.parametrize("line", LINES)
def test_a_command_line_is_understood(line: str) -> None:
    """A line that people copy from a document is taken by the parser, word for word."""
    words = words_of(line)
    if _SELF.isdisjoint(words) and words[0].islower():
        app.parse_args(words, exit_on_error=False, print_error=False)


@pytest.mark.parametrize("page", PAGES, ids=name)
def test_what_is_mentioned_is_there(page: Path) -> None:
    """A command in the middle of a sentence is one, and has the options beside it."""
    wrong = []
    for said in re.findall(r"`bankside\s([^`]+)`", prose(page)):
        words = [word.rstrip(",.;:") for word in said.split()]
        if not words[0].islower() or words[0].startswith("-"):
            continue
        command = next((one for one in COMMANDS if list(one) == words[: len(one)]), None)
        if command is None:
            wrong += [said] * (words[0] not in app)
            continue
        named = [word.partition("=")[0] for word in words if re.match(r"--?[a-z]", word)]
        wrong += [said for option in named if option not in options(command) | _SELF]

    assert wrong == []


@pytest.mark.parametrize("page", PAGES, ids=name)
def test_an_option_that_is_mentioned_is_one(page: Path) -> None:
    """An option in the middle of a sentence belongs to some command."""
    known = _SELF.union(*map(options, COMMANDS))
    said = re.findall(r"`(--?[a-z][^`]*)`", prose(page))
    named = [word.partition("=")[0] for one in said for word in one.split()]

    assert [word for word in named if re.match(r"--?[a-z]", word) and word not in known] == []


@pytest.mark.parametrize("command", COMMANDS, ids=" ".join)
def test_every_command_and_option_is_documented(command: tuple[str, ...]) -> None:
    """Each command has its section, with every argument and option that its parser takes."""
    text = text_of(DOCS / "commands.md")
    section = re.search(
        rf"^### bankside {' '.join(command)}\n(.*?)(?=^##|\Z)", text, re.DOTALL | re.MULTILINE
    )
    assert section is not None
    shared = text[text.index("## Options that several commands share") :]
    reach = section[1] + (shared if "Also takes the options of" in section[1] else "")

    arguments = [one for one in arguments_of(command) if one.names != ("*",)]
    assert [n for one in arguments for n in one.names if f"`{n}`" not in reach] == []
    assert [one.names for one in arguments if not one.parameter.help] == []


def test_every_command_has_a_page_that_uses_it() -> None:
    """A newcomer meets each command in a page that says what it is for."""
    used = {word for page in (DOCS / "howto").glob("*.md") for word in _used(page)}

    assert {words[0] for words in COMMANDS} <= used


def _used(page: Path) -> set[str]:
    return set(re.findall(r"bankside ([a-z]+)", text_of(page)))
