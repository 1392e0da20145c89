"""The words people write over their columns, and what they mean.

The lists below are documentation as well as code: `docs/formats.md` prints them. They hold the
trade's usual words, in English and in the few other languages in which sheets reach a survey
office. A head that is not in the lists is not guessed at; the reader asks for it.
"""

from __future__ import annotations

__all__ = [
    "FILLER_WORDS",
    "READING_ROLES",
    "UNIT_WORDS",
    "WORDS",
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
