"""What was said, as corrections and notes call it: the depth at tape 12.3, and what stood there."""

from collections.abc import Mapping

from bankside.gauging.fields import Text
from bankside.gauging.journal.entry import Entry
from bankside.gauging.journal.fold import Folded
from bankside.gauging.journal.sayable import READING, VERTICAL, sayable
from bankside.gauging.journal.values import comparable

__all__ = ["changed", "in_record", "thing_of", "vertical_words", "words_of"]

_TAKEN_OUT = "taken out"


def in_record(text: str) -> str:
    """Return a text that any file can hold: half a character is spelled by its number."""
    return text.encode("utf-8", "backslashreplace").decode("utf-8")


def words_of(value: object) -> str:
    """Return a value in words, figures as they were typed."""
    if value is None:
        return _TAKEN_OUT
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, dict):
        others = [f"{in_record(k)} {words_of(found)}" for k, found in value.items() if k != "value"]
        figure = [words_of(value["value"])] if "value" in value else []
        return ", ".join([*figure, *others]) or "blank"
    if isinstance(value, list):
        return "; ".join(words_of(item) for item in value) or "blank"
    text = in_record(str(value))
    return text if Text().holds(text) else "blank"


def thing_of(folded: Folded, what: str, value: object = None) -> str:
    """Return how people call what was said something about, such as depth at tape 12.3.

    value: what was said, where it tells at which fraction of the depth a velocity was read.
    """
    known = sayable(what)
    if known is None:
        return what
    thing, keys = known
    if not thing.pattern.startswith("channels/"):
        return thing.words
    channel = _channel(folded, keys[0])
    if not thing.pattern.startswith(VERTICAL):
        return thing.words + channel
    name = thing.words
    if thing.pattern == READING and isinstance(value, dict) and "fraction" in value:
        name = f"{name} at {words_of(value['fraction'])} of the depth"
    place = f"channels/{keys[0]}/verticals/{keys[1]}"
    if thing.pattern == f"{VERTICAL}/tape":
        return name + channel
    return f"{name} at {_tape(folded, place)}{channel}"


def changed(was: Mapping[str, object], now: Mapping[str, object]) -> tuple[str, str, str]:
    """Return which member of an object changed, if but one, what was there and what is there now.

    The first is a text to go behind what the object is called, empty for its `value`.
    """
    apart = [
        key
        for key in dict.fromkeys([*was, *now])
        if key not in was or key not in now or comparable(was[key]) != comparable(now[key])
    ]
    if len(apart) > 1:
        return "", _members(was, apart), _members(now, apart)
    key = apart[0]
    member = "" if key == "value" else f" ({in_record(key)})"
    return member, _member(was, key), _member(now, key)


def _members(value: Mapping[str, object], keys: list[str]) -> str:
    return ", ".join(f"{in_record(key)} {_member(value, key)}" for key in keys)


def _member(value: Mapping[str, object], key: str) -> str:
    return words_of(value[key]) if key in value else "nothing"


def vertical_words(folded: Folded, tape: Entry, until: Entry) -> tuple[str, str]:
    """Return how a vertical was called by its tape position, and what stood there until an entry.

    tape: the entry that said its tape position.
    """
    place = tape.what.removesuffix("/tape")
    stood = []
    for what, said in folded.items():
        before = [entry.value for entry in said.history if entry.order < until.order]
        known = sayable(what)
        if known is None or not what.startswith(f"{place}/") or what == tape.what:
            continue
        if before and before[-1] is not None:
            stood.append(f"{known[0].words} {words_of(before[-1])}")
    channel = _channel(folded, tape.what.split("/")[1])
    return f"vertical at tape {words_of(tape.value)}{channel}", ", ".join(stood) or "nothing read"


def _tape(folded: Folded, place: str) -> str:
    """Return where a vertical stands, by the last tape position that was said."""
    said = folded.get(f"{place}/tape")
    values = [] if said is None else [e.value for e in said.history if e.value is not None]
    return f"tape {words_of(values[-1])}" if values else "a vertical without a tape position"


def _channel(folded: Folded, key: str) -> str:
    """Return in which channel, where there is more than one."""
    keys = dict.fromkeys(what.split("/")[1] for what in folded if what.startswith("channels/"))
    if len(keys) < 2:
        return ""
    name = folded.get(f"channels/{key}/name")
    known = name is not None and isinstance(name.value, str)
    return f", channel {words_of(name.value) if known and name is not None else key}"
