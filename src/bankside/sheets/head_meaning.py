"""What the head of a column can mean, and which unit it carries, by the documented words alone."""

from __future__ import annotations

import re
import unicodedata
from functools import lru_cache

import attrs

from bankside.sheets.words import FILLER_WORDS, UNIT_WORDS, WORDS

__all__ = ["Head", "Unit", "parse_unit", "read_head", "unknown_words"]

_MEANING = {word: meaning for meaning, words in WORDS.items() for word in words}


@attrs.frozen
class Unit:
    """A unit found in a head or a unit column: its kind ("length", …) and its name ("ft")."""

    kind: str
    name: str


_UNITS = {
    written: Unit(kind, name)
    for kind, names in UNIT_WORDS.items()
    for name, ways in names.items()
    for written in ways
}


# Signs; what is longer is no head, and taking it apart costs the square of its length. Ours, no
# source.
_LONGEST_HEAD = 300
_KINDS = {"tape": "length", "depth": "length", "velocity": "velocity", "rod_setting": "length"}


def parse_unit(text: str) -> Unit | None:
    """Return the unit that `text` is, or None when it is not one ("m/s" → velocity in m/s)."""
    folded = (
        re.sub(r"^in\s+(?=\w)", "", _fold(text))
        .strip(" .()[]")
        .replace("⁻", "-")
        .replace("·", " ")
        .replace("−", "-")
    )
    folded = re.sub(r"\.?\s*/\s*", "/", re.sub(r"\s+", " ", folded))
    return _UNITS.get(folded)


@attrs.frozen
class Head:
    """What the words over a column can mean.

    `roles` lists the possible meanings, best first (empty: not known); `fraction` is the fraction
    of depth below the surface when the head names one; `unit` the unit it carries; `mean` says
    that the head speaks of a mean, so that point columns beside it are the readings; `misfit` is
    the role that the words name where the unit belongs to another kind of quantity.
    """

    text: str
    roles: tuple[str, ...] = ()
    fraction: float | None = None
    unit: Unit | None = None
    mean: bool = False
    misfit: str | None = None


@lru_cache(maxsize=4096)
def read_head(text: str) -> Head:
    """Return what a head can mean, by the documented words alone; a page of text means nothing."""
    if len(text) > _LONGEST_HEAD:
        return Head(text)
    words_part, unit = _split_unit(text)
    fraction = _fraction_in(words_part)
    tokens = [token for word in _words_in(words_part) for token in _known_parts(word)]
    meanings = {_MEANING[token] for token in tokens if token in _MEANING}
    unknown = [t for t in tokens if t not in _MEANING and t not in FILLER_WORDS]
    if "%" in words_part and fraction is None:
        meanings.add("share")
    if fraction is not None and not tokens and "%" not in text:
        return Head(text, ("point",), fraction, unit)
    if unknown or not meanings:
        return Head(text, (), None, unit)
    roles = _roles(meanings, tokens, unit, fraction)
    wanted = _KINDS.get(roles[0]) if roles else None
    if unit is not None and wanted is not None and unit.kind != wanted:
        return Head(text, (), None, unit, False, roles[0])
    if roles[:1] == ("velocity",) and fraction is None and "surface" in meanings:
        fraction = 0.0
    if roles[:1] not in (("velocity",), ("point",)):
        fraction = None
    return Head(text, roles, fraction, unit, "mean" in meanings)


def unknown_words(text: str) -> tuple[str, ...]:
    """Return the words of a head that are not in the documented lists; none of a page of text."""
    if len(text) > _LONGEST_HEAD:
        return ()
    tokens = [token for word in _words_in(_split_unit(text)[0]) for token in _known_parts(word)]
    return tuple(t for t in tokens if t not in _MEANING and t not in FILLER_WORDS)


def _fold(text: str) -> str:
    return unicodedata.normalize("NFKC", text).strip().casefold()


def _split_unit(text: str) -> tuple[str, Unit | None]:
    """Return the head without its unit, and the unit ("Depth (m)", "D ft", "velocity_ms")."""
    plain = unicodedata.normalize("NFKC", text).strip()
    for match in re.finditer(r"[(\[]([^)\]]*)[)\]]", plain):
        unit = parse_unit(match.group(1))
        if unit is not None:
            return plain[: match.start()] + " " + plain[match.end() :], unit
    if "_" in plain and plain.lower().endswith("_ms"):
        return plain[:-3], Unit("velocity", "m/s")
    for match in re.finditer(r"[\s,_;:]+", plain):
        unit = parse_unit(plain[match.end() :])
        if unit is not None and plain[: match.start()].strip():
            return re.sub(r"\b[iI]n$", "", plain[: match.start()]), unit
    return plain, None


_FRACTION = re.compile(
    r"(?<![\d.])0?[.,](?P<tenth>[2-8])(?:0)?(?!\d)|(?<!\d)(?P<percent>[2-8]0)\s*%"
)


def _fraction_in(text: str) -> float | None:
    found = _FRACTION.search(text)
    if found is None:
        return None
    return int(found["tenth"] or found["percent"][0]) / 10.0


def _words_in(text: str) -> list[str]:
    """Split a head into lower-case words: at blanks, signs, figures, and capitals inside words."""
    joined = re.sub(r"\b([A-Za-z])\.(?=[A-Za-z]\b)", r"\1", _FRACTION.sub(" ", text))  # "I.P."
    spaced = re.sub(r"(?<=[a-zà-ÿ])(?=[A-Z])", " ", joined)
    return [word for word in re.split(r"[^a-zà-ÿ]+", _fold(spaced)) if word]


def _known_parts(word: str) -> list[str]:
    """Cut a word written together ("siteyr") into known words, or leave it whole."""
    if word in _MEANING or word in FILLER_WORDS:
        return [word]
    for cut in range(len(word) - 2, 1, -1):
        left, right = word[:cut], word[cut:]
        if len(left) > 2 and left in _MEANING and (right in _MEANING or right in FILLER_WORDS):
            return [left, right]
    return [word]


def _roles(
    meanings: set[str], tokens: list[str], unit: Unit | None, fraction: float | None
) -> tuple[str, ...]:
    """Return the roles that a set of meanings allows, most specific first."""
    has = meanings.__contains__
    kind = unit.kind if unit is not None else None
    things = meanings - {"number", "mean"}
    if has("channel") and (has("number") or things == {"channel"}):
        return ("channel",)
    if has("unit"):
        if has("velocity"):
            return ("velocity_unit",)
        if has("discharge"):
            return ("discharge_unit",)
        return ("depth_unit",) if has("depth") else ("length_unit",)
    if has("filed"):
        filed = ("width", "area", "discharge", "total")
        return tuple(role for role in filed if has(role))[:1]
    if has("wall"):
        return ("wall_factor",) if has("factor") else ()
    if has("factor"):
        return ()
    if has("rod") or has("setting"):
        return ("rod_setting",) if {"rod", "setting"} <= meanings else ()
    if has("share"):
        return ("share",)
    if kind == "velocity" and not meanings & {"area", "depth", "distance", "width", "tape"}:
        return ("velocity",)
    if (has("velocity") and has("area")) or {"width", "depth", "velocity"} <= meanings:
        return ("total",) if has("total") else ("discharge",)
    if has("discharge"):
        return ("total",) if has("total") else ("discharge",)
    if has("last") or has("next") or has("width"):
        return ("width",)
    if has("fraction") and not has("distance"):
        if kind == "length":
            return ()
        return ("fraction",)
    if has("velocity"):
        return ("velocity",)
    if has("area"):
        return ("area",)
    if has("depth"):
        if fraction is not None:
            # "0.2 D" over velocities; the caller decides when no column names them plainly.
            return ("point",)
        return () if has("mean") else ("depth",)
    return _other_roles(meanings, things, kind, tokens)


def _other_roles(
    meanings: set[str], things: set[str], kind: str | None, tokens: list[str]
) -> tuple[str, ...]:
    """Return the roles of heads that are neither a reading of depth or velocity nor a product."""
    has = meanings.__contains__
    if has("counts"):
        return ("counts",)
    if has("seconds") or (has("time") and kind == "time"):
        return ("seconds",)
    if has("time"):
        return ("clock", "seconds") if things == {"time"} else ()
    if has("coefficient"):
        return ("angle_coefficient",)
    if has("angle"):
        return ("angle",)
    if has("distance") or (has("tape") and (kind == "length" or has("bank") or has("latitude"))):
        return ("tape",)
    if has("tape"):
        # "Station" and "Location" name either a place on the tape or a place on the stream.
        either = {"station", "stn", "sta", "location", "loc"} & set(tokens)
        return ("tape", "site") if either else ("tape",)
    for role, meaning in (
        ("site", "site"),
        ("stream", "stream"),
        ("date", "date"),
        ("edge", "bank"),
        ("remark", "remark"),
        ("latitude", "latitude"),
        ("longitude", "longitude"),
    ):
        if has(meaning):
            return (role,)
    if has("total"):
        return ("total",) if kind == "discharge" else ()
    return ("number",) if has("number") else ()
