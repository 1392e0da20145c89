"""Whatever comes in, a reply goes out: JSON text without anything that JSON has not."""

import json
import math
import random
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bankside.bank import answer
from bankside.bank.answering import ASKS
from bankside.gauging.journal.sayable import SAYABLE

from .entering import Pad, ask, demo, entered

_SCALARS = (
    st.none()
    | st.booleans()
    | st.integers(-(10**6), 10**6)
    | st.floats(allow_nan=False)
    | st.text(max_size=6)
    | st.sampled_from(["1.05", "-0", "1e308", "left", "ft", "9" * 50, "\ud800", "0.0"])
)
JSON = st.recursive(
    _SCALARS,
    lambda inner: (
        st.lists(inner, max_size=4) | st.dictionaries(st.text(max_size=5), inner, max_size=4)
    ),
    max_leaves=8,
)
WHATS = [
    pattern.replace("<c>", channel).replace("<k>", key).replace("<r>", "r1")
    for pattern in SAYABLE
    for channel in ("1", "2")
    for key in ("v1", "v2", "v3")
]
FIGURES = st.sampled_from(["0", "1", "2.5", "-3", "0.02", "1e5", "99999999999", ".5", "4.0", "x"])
# What makes a section, said often enough that some gaugings come to a discharge.
SECTION = st.tuples(
    st.sampled_from(["v1", "v2", "v3", "v4"]),
    st.sampled_from(["tape", "depth", "edge", "readings/r1", "dry", "angle"]),
    st.sampled_from(["0", "1", "2.5", "4.0", "0.02", "left", "right", "ft", True, None])
    | st.fixed_dictionaries({"value": FIGURES}, optional={"fraction": st.sampled_from([0.2, 0.6])}),
).map(lambda said: (f"channels/1/verticals/{said[0]}/{said[1]}", said[2]))
VALUES = (
    JSON
    | FIGURES
    | st.sampled_from(["left", "right", "ft", "m", "ft/s", "m/s", "sloping", "steep"])
    | st.booleans()
    | st.fixed_dictionaries({"value": FIGURES}, optional={"fraction": st.floats(0, 1)})
)
UNITS = (("units/length", "ft"), ("units/velocity", "ft/s"))


def _replied(text: str) -> dict[str, Any]:
    """The reply, which is no accident of ours."""

    def refuse(constant: str) -> None:
        raise AssertionError(constant)

    reply: dict[str, Any] = json.loads(answer(text), parse_constant=refuse)
    assert isinstance(reply["ok"], bool)
    if not reply["ok"]:
        assert reply["faults"]
        for fault in reply["faults"]:
            assert "a fault of Bankside itself" not in fault["message"], fault
    return reply


@pytest.mark.parametrize(
    "text",
    [
        "",
        "{",
        "null",
        "[]",
        '"look"',
        "NaN",
        "1e999",
        '{"ask": NaN}',
        '{"ask": "dance"}',
        '{"ask": ["look"]}',
        '{"ask": "look", "ask": "about"}',
        '{"ask": "look"}',
        '{"ask": "look", "entries": {}}',
        '{"ask": "look", "entries": [], "now": "today"}',
        '{"ask": "about", "about": 1}',
        "[" * 100_000,
        '{"ask": "look", "entries": ' + "[" * 5_000 + "]" * 5_000 + "}",
        '{"ask": "plan", "left": "' + "9" * 5_000 + '"}',
        '{"ask": "rod", "depth": "1e400", "unit": "m"}',
    ],
)
def test_a_request_that_means_nothing_is_refused(text: str) -> None:
    """With a sentence that says what would be right."""
    reply = _replied(text)

    # A list of lists is no entry: a view with faults, as for any damaged entry.
    assert not reply["ok"] or reply["faults"]


def test_what_is_no_text_is_refused_too() -> None:
    """A page in another state may hand over anything."""
    reply = json.loads(answer(None))  # type: ignore[arg-type]

    assert not reply["ok"]


@settings(max_examples=150)
@given(JSON)
def test_any_json_has_a_reply(document: Any) -> None:
    """Never an exception, never a number that JSON has not."""
    _replied(json.dumps(document))


@settings(max_examples=300)
@given(
    st.sampled_from(sorted(ASKS)),
    st.dictionaries(
        st.sampled_from(
            "entries earlier now finished left right unit resolution verticals rule start exposure "
            "minimum_spacing rule_set depth rotor".split()
        ),
        VALUES,
        max_size=8,
    ),
)
def test_any_members_have_a_reply(asked: str, members: dict[str, Any]) -> None:
    """Every ask with members of any kind."""
    _replied(json.dumps({"ask": asked, **members}))


@settings(max_examples=300)
@given(st.lists(SECTION | st.tuples(st.sampled_from(WHATS), VALUES), max_size=40), st.booleans())
def test_any_entries_have_a_view(said: list[tuple[str, Any]], with_units: bool) -> None:
    """Sound entries that say anything about anything: a view, a note or why not, a record."""
    pad = Pad().say_all(iter(UNITS if with_units else ())).say_all(iter(said))

    for asked in ("look", "note", "record"):
        reply = _replied(json.dumps({"ask": asked, "entries": pad.entries}))
        assert asked != "look" or reply["ok"]
    _replied(json.dumps({"ask": "wade", "earlier": pad.entries}))


@pytest.mark.parametrize("sheet", ["alder_fork.csv", "tansy_run.csv", "quill_brook.xlsx"])
def test_a_damaged_journal_has_a_view(sheet: str) -> None:
    """Entries lost, doubled, out of order and with odd values: sixty times."""
    rng = random.Random(sheet)
    entries = entered(demo(sheet)).entries
    odd = [None, True, 7, -1.5, "", "1e309", "0", "-2", "9" * 30, [], {}, {"value": "x"}, "left"]
    for _ in range(60):
        damaged = [dict(entry) for entry in entries if rng.random() < 0.97]
        rng.shuffle(damaged)
        for entry in rng.sample(damaged, rng.randint(0, 6)):
            entry[rng.choice(["value", "what", "sequence", "id", "at", "replaces"])] = rng.choice(
                odd
            )
        request = {"ask": "look", "entries": damaged, "earlier": entries[: rng.randint(0, 40)]}
        assert _replied(json.dumps(request))["ok"]


def test_huge_figures_give_no_infinity() -> None:
    """Readings that overflow when multiplied are told, and no figure is infinite."""
    huge = "9" * 300
    pad = Pad().say_all(iter(UNITS))
    for key, tape in (("a", "0"), ("b", huge), ("c", "1" + "0" * 305)):
        where = f"channels/1/verticals/{key}"
        pad.say(f"{where}/tape", tape).say(f"{where}/depth", huge)
        pad.say(f"{where}/readings/r1", {"value": huge, "fraction": 0.6})

    reply = ask(ask="look", entries=pad.entries, earlier=pad.entries)

    assert reply["result"] is None
    assert all(
        math.isfinite(v[name]) for v in reply["verticals"] for name in ("tape", "depth") if v[name]
    )


def test_a_reply_is_plain_ascii() -> None:
    """Half of a surrogate pair in a name crosses to the page by its number."""
    pad = Pad().say_all(iter(UNITS)).say("site/stream", "Alder \ud800 Fork ³")

    text = answer(json.dumps({"ask": "look", "entries": pad.entries}))

    assert text.isascii()
