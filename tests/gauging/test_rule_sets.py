"""Rule sets of one's own: how they stand on each other, and what is refused."""

import datetime
import math
from collections.abc import Callable
from pathlib import Path

import pytest

from bankside.gauging.faults import InputRefused
from bankside.gauging.rule_sets.load import (
    BASE,
    load_rule_set,
    rule_set_from_toml,
)
from bankside.gauging.rule_sets.order import AT_MOST
from bankside.gauging.rule_sets.rule_set import Threshold
from bankside.gauging.rule_sets.thresholds import THRESHOLDS, UNITS

HEAD = 'format = "bankside.rules/1"\nname = "crew"\ntitle = "Alder Fork crew"\n'
Write = Callable[[str, str], str]


def _value(value: object, unit: str = "%", more: str = "") -> str:
    return f'{{ value = {value}, unit = "{unit}", source = "permit", confidence = "read"{more} }}'


@pytest.fixture
def write(tmp_path: Path) -> Write:
    """A function that puts a file into a folder and returns its path."""

    def put(name: str, text: str) -> str:
        path = tmp_path / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
        return str(path)

    return put


def _refused(text: str) -> list[str]:
    with pytest.raises(InputRefused) as refused:
        rule_set_from_toml(text, "crew.toml")
    return [str(fault) for fault in refused.value.faults]


@pytest.mark.parametrize(
    ("value", "unit", "si", "words"),
    [
        (2.5, "ft", 0.762, "2.5 ft"),
        (0.75, "m", 0.75, "0.75 m"),
        (18, "in", 0.4572, "18 in"),
        (0.3048006, "m", 0.3048006, "0.3048006 m"),
        (1234567, "mm", 1234.567, "1234567 mm"),
    ],
)
def test_a_length_is_kept_as_written(value: float, unit: str, si: float, words: str) -> None:
    """1 ft = 0.3048 m exactly, 12 in to the foot; the words keep every digit and the unit."""
    text = f"{HEAD}[values]\none_point_deepest = {_value(value, unit)}\nhalf_depth_below = " + (
        _value(0, "m")
    )
    threshold = rule_set_from_toml(text)["one_point_deepest"]

    assert threshold.si == pytest.approx(si, rel=1e-12)
    assert threshold.words() == words


@pytest.mark.parametrize(
    ("name", "unit", "si"),
    [
        ("velocity_stop", "ft/s", 0.3048),
        ("velocity_stop", "cm/s", 0.01),
        ("wade_product_stop", "ft2/s", 0.09290304),
        ("duration_longest", "min", 60.0),
        ("bed_area", "%", 1.0),
        ("froude", "1", 1.0),
    ],
)
def test_one_of_a_unit_in_si(name: str, unit: str, si: float) -> None:
    """A square foot is 0.09290304 m², a minute 60 s; percent and plain numbers stay."""
    threshold = Threshold(name, 1.0, unit, "definition", "read", "crew")

    assert threshold.si == pytest.approx(si, rel=1e-12)


def test_steps_may_be_in_feet() -> None:
    """10 ft is 3.048 m."""
    steps = Threshold("verticals_by_width", ((0, 10), (10, 20)), "ft", "permit", "read", "crew")

    assert (steps.step_for(3.04), steps.step_for(3.05)) == (10, 20)
    assert steps.words() == "10 from 0 ft, 20 from 10 ft"
    with pytest.raises(TypeError, match="is a table"):
        _ = steps.si
    with pytest.raises(TypeError, match="is a number"):
        load_rule_set(BASE)["exposure"].step_for(1.0)


def test_a_crew_overrides_any_value() -> None:
    """What it sets goes before; the rest comes from the base, and each says who said it."""
    rules = rule_set_from_toml(f"{HEAD}[values]\npanel_share_aim = {_value(4)}")

    assert rules.based_on == BASE
    assert set(rules.own) == {"panel_share_aim"}
    assert rules.si("panel_share_aim") == 4
    assert rules["panel_share_limit"].rule_set == BASE
    assert rules.get("verticals_by_width") is None


def test_a_value_says_who_checked_it() -> None:
    """Both who and when are kept."""
    checked = ', checked_by = "the crew leader", checked_on = 2026-07-14'
    rules = rule_set_from_toml(f"{HEAD}[values]\nbed_area = {_value(2, more=checked)}")

    assert rules["bed_area"].checked_by == "the crew leader"
    assert rules["bed_area"].checked_on == datetime.date(2026, 7, 14)


def test_a_rule_set_may_stand_on_a_shipped_one() -> None:
    """Its values lie between one's own and the base's."""
    rules = rule_set_from_toml(f'{HEAD}based_on = "after-iso-748"\n')

    assert rules.based_on == "after-iso-748"
    assert rules["exposure"].rule_set == "after-iso-748"
    assert rules["bed_area"].rule_set == BASE
    assert rules.own == {}


def test_a_file_may_stand_on_a_file_beside_it(write: Write) -> None:
    """A relative path is looked up beside the file that names it, however deep that one lies."""
    write("season.toml", HEAD.replace("crew", "season") + f"[values]\nbed_area = {_value(2)}\n")
    write(
        "crews/alder.toml",
        HEAD.replace("crew", "alder")
        + f'based_on = "../season.toml"\n[values]\npanel_share_aim = {_value(4)}\n',
    )
    path = write("crews/today.toml", HEAD + 'based_on = "alder.toml"\n')
    rules = load_rule_set(path)

    assert rules.based_on == "alder"
    assert (rules.si("panel_share_aim"), rules["panel_share_aim"].rule_set) == (4, "alder")
    assert (rules.si("bed_area"), rules["bed_area"].rule_set) == (2, "season")
    assert rules["exposure"].rule_set == BASE


@pytest.mark.parametrize(
    ("name", "base"), [("after-iso-748", "common-practice"), ("crew", "season.toml")]
)
def test_a_name_belongs_to_one_rule_set(name: str, base: str, write: Write) -> None:
    """Who says a value is told by name, so no name is taken twice: neither shipped nor below."""
    write("season.toml", HEAD)
    path = write("x.toml", f'{HEAD.replace("crew", name)}based_on = "{base}"\n')
    with pytest.raises(InputRefused) as refused:
        load_rule_set(path)

    (fault,) = refused.value.faults
    assert fault.path == "name"
    assert fault.message == (
        f'name must not be that of a shipped rule set or of one below (got "{name}")'
    )


def test_a_byte_order_mark_is_no_fault(tmp_path: Path) -> None:
    """Some editors put one before the text."""
    path = tmp_path / "crew.toml"
    path.write_bytes(b"\xef\xbb\xbf" + HEAD.encode())

    assert load_rule_set(str(path)).name == "crew"


@pytest.mark.parametrize(
    "files", [("a.toml",), ("a.toml", "b.toml"), ("a.toml", "b.toml", "c.toml")]
)
def test_rule_sets_that_go_round_are_refused(files: tuple[str, ...], write: Write) -> None:
    """However long the way round, it is told once, with the files on it."""
    for file, following in zip(files, (*files[1:], files[0]), strict=True):
        text = f'{HEAD.replace("crew", file)}based_on = "./{following}"\n'
        path = write(file, text)
    with pytest.raises(InputRefused) as refused:
        load_rule_set(str(Path(path).with_name(files[0])))

    (fault,) = refused.value.faults
    assert fault.path == "based_on"
    assert fault.message == (
        f"based_on must not lead back to where it began ({' → '.join((*files, files[0]))})"
    )


def test_a_long_way_down_is_refused(write: Write) -> None:
    """Twenty files on one another are enough; more are told, not run into."""
    for number in range(21):
        path = write(
            f"{number}.toml",
            f"{HEAD.replace('crew', f'crew {number}')}"
            + (f'based_on = "{number - 1}.toml"\n' if number else ""),
        )
    assert load_rule_set(path.replace("20.toml", "19.toml")).name == "crew 19"
    with pytest.raises(InputRefused, match="based_on must not lead through more than 20 files"):
        load_rule_set(path)


def test_the_faults_of_both_files_are_told(write: Write) -> None:
    """What is wrong with the file below is told with that file's name, in the same go."""
    below = write("season.toml", HEAD.replace("crew", "season").replace("rules/1", "rules/2"))
    path = write("crew.toml", HEAD + 'based_on = "season.toml"\nvalues = 3\n')
    with pytest.raises(InputRefused) as refused:
        load_rule_set(path)

    assert [str(fault) for fault in refused.value.faults] == [
        f"{path}, values: values must be a table (got 3)",
        f'{below}, format: format must be "bankside.rules/1" (got "bankside.rules/2")',
    ]


def test_a_text_without_a_file_stands_on_no_file(write: Write) -> None:
    """What comes over a wire cannot make this machine read its files."""
    path = write("season.toml", HEAD.replace("crew", "season"))
    (said,) = _refused(f"{HEAD}based_on = '{path}'\n")

    assert said.startswith("crew.toml, based_on: based_on must be the name of a shipped rule set")


@pytest.mark.parametrize(("lower", "upper"), AT_MOST)
def test_a_threshold_above_its_upper_one_is_refused(lower: str, upper: str) -> None:
    """Both are named, with their values and who says each."""
    base = load_rule_set(BASE)[upper]
    above = math.ceil(base.si * 2 + 1)
    unit = next(unit for unit, factor in UNITS[THRESHOLDS[upper].dimension].items() if factor == 1)
    said = _refused(f"{HEAD}[values]\n{lower} = {_value(above, unit)}")

    assert all(line.startswith(f"crew.toml, values: {lower} ({above}") for line in said)
    shown = f'{upper} ({base.words()}, said by "{BASE}")'
    assert any(line.endswith(f'said by "crew") must not be above {shown}') for line in said)


def test_a_lowered_limit_takes_its_aim_along() -> None:
    """A crew that lowers the limit below the aim it inherits is told so."""
    assert _refused(f"{HEAD}[values]\npanel_share_limit = {_value(4)}") == [
        'crew.toml, values: panel_share_aim (5 %, said by "common-practice") must not be above '
        'panel_share_limit (4 %, said by "crew")'
    ]


def test_equal_thresholds_in_two_units_are_in_order() -> None:
    """12 in are 1 ft, whatever the last bit says."""
    text = (
        f"{HEAD}[values]\nwade_depth_caution = {_value(1, 'ft')}\n"
        f"wade_depth_stop = {_value(12, 'in')}"
    )

    assert rule_set_from_toml(text).si("wade_depth_stop") == pytest.approx(0.3048)


GOOD = _value(5)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (
            "",
            [
                'crew.toml, format: format must be "bankside.rules/1" (got nothing)',
                "crew.toml, name: name must be a text (got nothing)",
                "crew.toml, title: title must be a text (got nothing)",
            ],
        ),
        (
            HEAD + 'titel = "x"\n',
            [
                "crew.toml: a key must be one of format, name, title, about, based_on, values "
                '(got "titel"); did you mean "title"?'
            ],
        ),
        (
            HEAD + "about = 3\nbased_on = [1]\n",
            [
                "crew.toml, about: about must be a text (got 3)",
                "crew.toml, based_on: based_on must be a text (got a list of 1)",
            ],
        ),
        (
            HEAD.replace("crew", BASE),
            [
                "crew.toml, name: name must not be that of a shipped rule set or of one below "
                '(got "common-practice")'
            ],
        ),
        (
            HEAD + f"[values]\npanel_share = {GOOD}\n",
            [
                'crew.toml, values: no check goes by a threshold of the name "panel_share"; did '
                'you mean "panel_share_aim"?'
            ],
        ),
        (
            HEAD + f'[values]\n"zz\\nzz" = {GOOD}\n',
            ['crew.toml, values: no check goes by a threshold of the name "zz zz"'],
        ),
        (
            HEAD + "[values]\npanel_share_aim = 5\n",
            [
                "crew.toml, values.panel_share_aim: a threshold must be a table such as "
                '{ value = 10, unit = "%", source = "…", confidence = "read" } (got 5)'
            ],
        ),
        (
            HEAD + '[values.exposure]\nvalue = -1\nunit = "h"\nconfidence = "sure"\nby = "x"\n',
            [
                "crew.toml, values.exposure: a key must be one of value, unit, source, confidence, "
                'checked_by, checked_on (got "by")',
                'crew.toml, values.exposure.unit: unit must be "s" or "min" (got "h")',
                "crew.toml, values.exposure.value: value must be a number of 0 or more (got -1)",
                "crew.toml, values.exposure.source: source must be a text (got nothing)",
                'crew.toml, values.exposure.confidence: confidence must be "read" or "memory high" '
                'or "memory medium" or "memory low" or "practice" or "computed" (got "sure")',
            ],
        ),
        (
            HEAD + "[values]\nbed_area = " + _value(5, more=', checked_by = "the crew leader"'),
            [
                "crew.toml, values.bed_area: checked_by and checked_on must be given together, or "
                "neither"
            ],
        ),
        (
            HEAD
            + "[values]\nbed_area = "
            + _value(5, more=', checked_by = "", checked_on = 2026-07-14T10:00:00Z'),
            [
                'crew.toml, values.bed_area.checked_by: checked_by must be a text (got "")',
                "crew.toml, values.bed_area.checked_on: checked_on must be a date such as "
                "2026-07-14 (got 2026-07-14T10:00:00+00:00)",
            ],
        ),
    ],
)
def test_everything_wrong_is_told_at_once(text: str, said: list[str]) -> None:
    """A sentence for each fault, with the file, the place, what was found, what would be right."""
    assert _refused(text) == said


@pytest.mark.parametrize(
    "value", ["nan", "inf", "-inf", "-0.1", '"10"', "true", "[1]", "1" + 400 * "0"]
)
def test_a_value_that_is_no_number_is_refused(value: str) -> None:
    """NaN, infinite, negative, a text, a list or beyond all measure: none compares."""
    (said,) = _refused(f"{HEAD}[values]\nduration_longest = {_value(value, 'min')}")

    assert said.startswith(
        "crew.toml, values.duration_longest.value: value must be a number of 0 or more (got "
    )


@pytest.mark.parametrize("value", ["20.5", "-1", "nan", "inf", "true", '"20"'])
def test_a_number_of_things_is_whole(value: str) -> None:
    """There is no half vertical."""
    (said,) = _refused(f"{HEAD}[values]\nverticals_least = {_value(value, '1')}")

    assert "value must be a whole number of 0 or more" in said


@pytest.mark.parametrize(
    "value",
    [
        "5",
        "[]",
        "[5]",
        "[[0]]",
        "[[0, 5, 6]]",
        "[[0.5, 5]]",
        "[[0, 5], [0, 6]]",
        "[[0, 5], [2, 6], [1, 7]]",
        "[[0, nan]]",
        "[[0, 5.5]]",
        "[[0, 5], [inf, 6]]",
        '[["0", 5]]',
        "[[0, -5]]",
    ],
)
def test_steps_rise_from_zero(value: str) -> None:
    """Widths begin at 0 and rise, so that every width has one number."""
    (said,) = _refused(f"{HEAD}[values]\nverticals_by_width = {_value(value, 'm')}")

    assert "value must be pairs of a width and a whole number, widths rising from 0" in said


@pytest.mark.parametrize("unit", ["[1]", "{ }", "3", '"ft"'])
def test_a_unit_of_another_kind_is_refused(unit: str) -> None:
    """A share is in percent, whatever stands there."""
    text = f'[values]\nbed_area = {{ value = 3, unit = {unit}, source = "a", confidence = "read" }}'
    (said,) = _refused(HEAD + text)

    assert said.startswith('crew.toml, values.bed_area.unit: unit must be "%" (got ')


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("name = ", "at end of document"),
        (HEAD + HEAD, "at line 4"),
        ("a = " + 5000 * "9", "digits"),
        ("a = " + 5000 * "[" + 5000 * "]", "nested too deeply"),
        ("\x00", "is not"),
    ],
)
def test_a_text_that_is_no_toml(text: str, says: str) -> None:
    """One sentence, with the line where there is one."""
    (said,) = _refused(text)

    assert said.startswith("crew.toml: the text must be TOML, but it is not: ")
    assert says in said


@pytest.mark.parametrize(
    ("name", "says"),
    [
        ("nowhere.toml", "found no such file; a TOML file of thresholds would be right"),
        ("folder.toml", "found a folder or a device; a TOML file of thresholds would be right"),
        ("latin.toml", "found a byte (number 4) that is no UTF-8; UTF-8 would be right"),
        ("large.toml", "found more than 1,048,576 bytes; a TOML file of thresholds is smaller"),
        ("null\0.toml", "found no such file"),
        ("n" * 300 + ".toml", "could not be opened"),
    ],
)
def test_a_file_that_cannot_be_read(name: str, says: str, tmp_path: Path) -> None:
    """One sentence with the file, asked for itself or named by another as what it is based on."""
    (tmp_path / "folder.toml").mkdir()
    (tmp_path / "latin.toml").write_bytes(b"# a\xe9")
    (tmp_path / "large.toml").write_bytes(b"#" * (1024 * 1024 + 1))
    crew = tmp_path / "crew.toml"
    crew.write_text(HEAD + f'based_on = "{name}"\n'.replace("\0", "\\u0000"), encoding="utf-8")
    with pytest.raises(InputRefused) as itself:
        load_rule_set(str(tmp_path / name))
    with pytest.raises(InputRefused) as below:
        load_rule_set(str(crew))

    (fault,) = itself.value.faults
    assert fault.file == str(tmp_path / name) and fault.message.startswith(says)
    (fault,) = below.value.faults
    assert (fault.file, fault.path) == (str(crew), "based_on")
    assert says in fault.message


@pytest.mark.parametrize("name", ["", "comon-practice", "crew", "../crew"])
def test_a_name_that_is_none(name: str, write: Write) -> None:
    """The shipped names are listed, and the nearest is proposed."""
    with pytest.raises(InputRefused) as asked:
        load_rule_set(name)
    with pytest.raises(InputRefused) as below:
        load_rule_set(write("x.toml", f'{HEAD}based_on = "{name}"\n'))

    near = '; did you mean "common-practice"?' if name.startswith("comon") else ""
    for refused, what in ((asked, "a rule set"), (below, "based_on")):
        (fault,) = refused.value.faults
        assert fault.message.startswith(f'{what} must be one of "common-practice", "after-')
        assert fault.message.endswith(f'or the path of a .toml file (got "{name}"){near}')


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ('exposure = { value = 2e5, unit = "min"', "exposure.value: value must be at most 166667"),
        ('froude = { value = 1e308, unit = "1"', "froude.value: value must be at most 10000"),
        (
            'repeated_depths = { value = 1, unit = "1"',
            "must be a whole number of 2 or more (got 1)",
        ),
    ],
)
def test_a_value_that_no_stream_needs_is_refused(line: str, said: str) -> None:
    """A slip of the pen is met when the file is read, not when a sheet is printed by it."""
    (refused,) = _refused(
        f'{HEAD}[values]\n{line}, source = "the crew", confidence = "practice" }}'
    )

    assert said in refused
