"""The words people write over their columns, and what they mean.

The lists below are documentation as well as code: `docs/formats.md` prints them. They hold the
trade's usual words, in English and in the few other languages in which sheets reach a survey
office. A head that is not in the lists is not guessed at; the reader asks for it.
"""

from __future__ import annotations

import re
import unicodedata
from functools import lru_cache

import attrs

__all__ = [
    "FILLER_WORDS",
    "READING_ROLES",
    "UNIT_WORDS",
    "WORDS",
    "Head",
    "Unit",
    "parse_unit",
    "read_head",
    "unknown_words",
]

READING_ROLES = ("tape", "depth", "velocity", "counts")
"""The roles that make a row of words the head of a table of verticals."""

WORDS: dict[str, tuple[str, ...]] = {
    "tape": (
        "tape",
        "station",
        "sta",
        "stn",
        "chainage",
        "offset",
        "loc",
        "location",
        "position",
        "pos",
        "lateral",
        "tagline",
        "tag",
        "x",
    ),
    "distance": ("distance", "dist", "abstand", "distancia", "entfernung", "abscisse"),
    "depth": ("depth", "dep", "d", "tiefe", "wassertiefe", "prof", "profondeur", "profundidad"),
    "velocity": (
        "velocity",
        "velocities",
        "vel",
        "v",
        "speed",
        "geschwindigkeit",
        "fliessgeschwindigkeit",
        "vitesse",
        "velocidad",
    ),
    "width": (
        "width",
        "w",
        "interval",
        "spacing",
        "increment",
        "breite",
        "largeur",
        "anchura",
        "ancho",
    ),
    "area": ("area", "a", "fläche", "flaeche"),
    "discharge": (
        "discharge",
        "q",
        "flow",
        "durchfluss",
        "abfluss",
        "débit",
        "debit",
        "caudal",
    ),
    "total": (
        "total",
        "sum",
        "summe",
        "somme",
        "suma",
        "gesamt",
        "gesamtabfluss",
        "gesamtdurchfluss",
    ),
    "mean": ("mean", "avg", "average", "ave", "mittel", "mittlere", "moyenne", "media"),
    "counts": ("revolutions", "revs", "rev", "counts", "count", "clicks", "umdrehungen"),
    "time": ("time", "t", "zeit", "temps", "tiempo", "duration", "clock"),
    "seconds": ("seconds", "secs", "sec", "exposure"),
    "fraction": ("fraction", "method", "observation", "obs", "point", "pt", "proportion"),
    "angle": ("angle", "winkel"),
    "wall": ("wall",),
    "rod": ("rod",),
    "setting": ("setting", "set"),
    "factor": ("factor",),
    "filed": ("filed",),
    "coefficient": ("coefficient", "coeff", "coef", "cosine", "cos"),
    "site": ("site", "messstelle", "sitio"),
    "stream": ("stream", "river", "creek", "brook", "fluss", "gewässer", "rivière", "río"),
    "date": ("date", "datum", "fecha"),
    "channel": ("channel", "chan", "braid", "branch"),
    "bank": (
        "bank",
        "edge",
        "left",
        "right",
        "linken",
        "rechten",
        "links",
        "rechts",
        "gauche",
        "droite",
        "lew",
        "rew",
        "ufer",
        "rive",
        "lb",
        "rb",
    ),
    "remark": (
        "remarks",
        "remark",
        "notes",
        "note",
        "comments",
        "comment",
        "bemerkung",
        "remarque",
        "observations",
    ),
    "unit": ("unit", "units", "einheit", "unité", "unidad"),
    "last": ("last", "previous", "prev", "preceding"),
    "next": ("next", "following"),
    "latitude": ("latitude", "lat"),
    "longitude": ("longitude", "lon", "long"),
    "share": ("percent", "pct", "share"),
    "surface": ("surface",),
    "number": ("number", "num", "no", "nr", "id", "code", "name", "yr", "year", "vertical"),
}
"""Meaning → the words that carry it, lower case."""

FILLER_WORDS = frozenset(
    "of the from for each cell panel subsection section at in to per water initial init ip m "
    "wetted hor horizontal length vom measured and line de la le der dem von".split()
)
"""Words that add nothing to a head."""

_MEANING = {word: meaning for meaning, words in WORDS.items() for word in words}

UNIT_WORDS: dict[str, dict[str, tuple[str, ...]]] = {
    "length": {
        "m": ("m", "metre", "metres", "meter", "meters"),
        "ft": ("ft", "feet", "foot"),
        "cm": ("cm", "centimetres", "centimeters"),
        "mm": ("mm",),
        "in": ("in", "inch", "inches"),
    },
    "velocity": {
        "m/s": ("m/s", "m/sec", "ms-1", "m s-1", "m.s-1", "m*s-1", "mps"),
        "ft/s": (
            "ft/s",
            "ft/sec",
            "f/s",
            "fps",
            "ft s-1",
            "feet/s",
            "feet/sec",
            "feet/second",
            "feet per second",
        ),
        "cm/s": ("cm/s", "cm/sec", "cm s-1", "cms-1"),
    },
    "discharge": {
        "m3/s": ("m3/s", "m3/sec", "m^3/s", "m3 s-1", "m3s-1", "cumec", "cumecs", "cms", "m3s"),
        "ft3/s": ("ft3/s", "ft3/sec", "ft^3/s", "ft3 s-1", "cfs", "cu ft/s", "cu.ft/s", "ft3s"),
        "L/s": ("l/s", "l/sec", "lps", "l s-1", "ls-1"),
    },
    "area": {
        "m2": ("m2", "m^2", "sq m", "sq.m"),
        "ft2": ("ft2", "ft^2", "sq ft", "sq.ft"),
        "cm2": ("cm2",),
    },
    "time": {"s": ("s", "sec", "secs", "seconds", "second")},
    "angle": {"deg": ("deg", "degrees", "°")},
    "percent": {"%": ("%", "percent", "pct")},
}
"""Kind of unit → unit → the ways in which it is written, lower case."""


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


# What is longer is no head, and taking it apart would cost the square of its length.
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
