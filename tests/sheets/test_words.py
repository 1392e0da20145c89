"""The words over columns: every documented word, and heads as people put them together."""

import pytest

from bankside.sheets.head_meaning import Unit, parse_unit, read_head
from bankside.sheets.words import FILLER_WORDS, UNIT_WORDS, WORDS


def test_no_word_has_two_meanings() -> None:
    """Every word stands under one meaning, and none is a filler as well."""
    listed = [word for words in WORDS.values() for word in words]
    assert len(set(listed)) == len(listed)
    assert not set(listed) & FILLER_WORDS


def test_words_are_written_lower_case() -> None:
    """The lists hold folded words, so that capitals never matter."""
    for words in WORDS.values():
        assert all(word == word.casefold().strip() for word in words)


@pytest.mark.parametrize(
    "written",
    [
        (way, kind, name)
        for kind, names in UNIT_WORDS.items()
        for name, ways in names.items()
        for way in ways
    ],
)
def test_every_documented_unit_is_read(written: tuple[str, str, str]) -> None:
    """Every way of writing a unit is that unit, in capitals and brackets too."""
    way, kind, name = written
    for text in (way, way.upper(), f"({way})", f"[{way}]", f" {way} "):
        assert parse_unit(text) == Unit(kind, name), text


@pytest.mark.parametrize("text", ["", "furlong", "m/h", "1", "ms", "m/s/s"])
def test_what_is_no_unit(text: str) -> None:
    """What is in no list is no unit."""
    assert parse_unit(text) is None


@pytest.mark.parametrize(
    ("text", "unit"),
    [
        ("m³/s", "m3/s"),
        ("m²", "m2"),
        ("ft³/s", "ft3/s"),
        ("m · s⁻¹", "m/s"),
        ("m s⁻¹", "m/s"),
        ("m / s", "m/s"),
        ("Ft./s", "ft/s"),
        ("cm/s.", "cm/s"),
    ],
)
def test_units_as_they_are_typeset(text: str, unit: str) -> None:
    """Raised figures, dots and blanks in a unit are the typist's."""
    found = parse_unit(text)
    assert found is not None and found.name == unit


@pytest.mark.parametrize(
    ("text", "role"),
    [
        ("Tape", "tape"),
        ("Distance from initial point (ft)", "tape"),
        ("Dist. from left bank", "tape"),
        ("Lat. Loc (m)", "tape"),
        ("Tag line (m)", "tape"),
        ("x", "tape"),
        ("Abstand", "tape"),
        ("Depth of water", "depth"),
        ("D", "depth"),
        ("Tiefe", "depth"),
        ("profondeur", "depth"),
        ("Vel.", "velocity"),
        ("Mean velocity", "velocity"),
        ("vitesse moyenne", "velocity"),
        ("Speed (m/s)", "velocity"),
        ("Revs", "counts"),
        ("No. of revolutions", "counts"),
        ("Time (s)", "seconds"),
        ("Exposure", "seconds"),
        ("Seconds", "seconds"),
        ("Cell width", "width"),
        ("Distance to next", "width"),
        ("Dist from last (m)", "width"),
        ("Interval", "width"),
        ("Breite", "width"),
        ("Area (m2)", "area"),
        ("AreaVelocity for each cell", "discharge"),
        ("Q", "discharge"),
        ("Débit (l/s)", "discharge"),
        ("Abfluss", "discharge"),
        ("Width x depth x velocity", "discharge"),
        ("Total Q", "total"),
        ("Sum Area Velocity", "total"),
        ("Sum (L/s)", "total"),
        ("% of total", "share"),
        ("Percent flow", "share"),
        ("Site", "site"),
        ("Site name", "site"),
        ("SITEYR", "site"),
        ("River", "stream"),
        ("Date", "date"),
        ("Datum", "date"),
        ("Channel", "channel"),
        ("SumFlowChannelNum", "channel"),
        ("LEW/REW", "edge"),
        ("Bank", "edge"),
        ("Remarks", "remark"),
        ("Observations", "remark"),
        ("Angle (°)", "angle"),
        ("Angle coefficient", "angle_coefficient"),
        ("cos", "angle_coefficient"),
        ("Wall factor", "wall_factor"),
        ("Method", "fraction"),
        ("Obs. depth", "fraction"),
        ("Length unit", "length_unit"),
        ("Depth units", "depth_unit"),
        ("velocity unit", "velocity_unit"),
        ("Latitude", "latitude"),
        ("lon", "longitude"),
        ("Filed width", "width"),
        ("filed total", "total"),
        ("No.", "number"),
        ("Dist from initial pt (ft)", "tape"),
        ("Dist. from init. point (ft)", "tape"),
        ("Distance from I.P. (ft)", "tape"),
        ("Dist from IP, ft", "tape"),
        ("Sta. (ft)", "tape"),
        ("Stn (ft)", "tape"),
        ("Velocity at pt (ft/s)", "velocity"),
        ("Vel. at point (fps)", "velocity"),
        ("Obs depth", "fraction"),
        ("Obs. pt", "fraction"),
    ],
)
def test_what_a_head_means(text: str, role: str) -> None:
    """Heads put together from documented words mean what a person takes them for."""
    assert read_head(text).roles[:1] == (role,)


@pytest.mark.parametrize(
    "text",
    [
        "",
        "Weather",
        "rod reading",
        "Mean depth",
        "Temperature (C)",
        "pH",
        "m",
        "velocity head loss",
    ],
)
def test_what_a_head_does_not_mean(text: str) -> None:
    """A head with a word in no list means nothing; nor does a mean depth, which no one reads."""
    assert read_head(text).roles == ()


@pytest.mark.parametrize("text", ["Station", "Sta.", "Stn", "Location", "Loc"])
def test_words_with_two_readings_keep_both(text: str) -> None:
    """A station is a place on the tape or on the stream: the values decide."""
    assert read_head(text).roles == ("tape", "site")


def test_time_may_be_a_clock_time_or_an_exposure() -> None:
    """The head "Time" alone is either; with its unit it is an exposure."""
    assert read_head("Time").roles == ("clock", "seconds")
    assert read_head("Time (sec)").roles == ("seconds",)


@pytest.mark.parametrize(
    ("text", "fraction"),
    [
        ("V 0.2", 0.2),
        ("V0.6 (m/s)", 0.6),
        ("Velocity at .8 depth", 0.8),
        ("V 60%", 0.6),
        ("v 0,4", 0.4),
        ("velocity 0.60", 0.6),
        ("Surface velocity", 0.0),
        ("Velocity", None),
        ("Depth 0.6", 0.6),
        ("Velocity 10.6", None),
    ],
)
def test_the_fraction_of_the_depth_in_a_head(text: str, fraction: float | None) -> None:
    """The point at which a velocity was read is found in its head, and nowhere else."""
    assert read_head(text).fraction == fraction


@pytest.mark.parametrize(
    ("text", "unit"),
    [
        ("Depth (ft)", "ft"),
        ("Depth [cm]", "cm"),
        ("Depth, m", "m"),
        ("Depth_mm", "mm"),
        ("Depth in inches", "in"),
        ("Depth in m", "m"),
        ("velocity_ms", "m/s"),
        ("Velocity (m/s) mean", "m/s"),
        ("Q (cfs)", "ft3/s"),
        ("Depth", None),
        ("Depth (rod)", None),
    ],
)
def test_the_unit_in_a_head(text: str, unit: str | None) -> None:
    """A unit stands in brackets or at the end of a head."""
    found = read_head(text).unit
    assert (found and found.name) == unit
