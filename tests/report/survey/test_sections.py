"""The sections of a survey at one scale."""

import re

import attrs
import pytest

from bankside.gauging.records import Channel, Site
from bankside.report.canvas import drawing_style, new_figure
from bankside.report.survey.sections import SiteSection, sections_of, sections_part
from bankside.report.survey.sections_picture import (
    _draw,
    common_scale,
    draw_sections,
    sections_in_rows,
)

from ...note.gaugings import FEET, METRES, channel, plain
from .surveys import demo_material, small, three

WIDTH = 180.0


def sections() -> tuple[SiteSection, ...]:
    """Those of the demonstration."""
    return sections_of(demo_material())


def test_every_gauged_site_has_its_section_in_order() -> None:
    """The last finished gauging is drawn, the others of the site over it."""
    found = {section.site: section for section in sections()}

    assert len(found) == 18 and "SB-03" not in found
    assert list(found)[:3] == ["SB-02", "SB-01", "MW-05"] and list(found)[-1] == "MW-01"
    assert "2026-07-29" in found["AF-01"].words and "0.654 m³/s" in found["AF-01"].words
    assert len(found["AF-01"].earlier) == 1
    assert found["TR-02"].earlier == ()  # the other gauging there is unfinished


def test_feet_and_metres_are_drawn_alike() -> None:
    """The same figures called in feet make a section 0.3048 times as large, in metres."""
    in_feet, in_metres = (
        sections_of(small(attrs.evolve(plain(units), site=Site(id="upper"))))[0]
        for units in (FEET, METRES)
    )

    assert in_feet.width == pytest.approx(0.3048 * in_metres.width)
    deep = [max(v.depth for v in one.channels[0].verticals) for one in (in_feet, in_metres)]
    assert deep[0] == pytest.approx(0.3048 * deep[1])


def test_a_section_begins_at_its_left_edge() -> None:
    """Whichever way the tape ran, the left bank is at zero and the places go up."""
    for section in sections():
        tapes = [vertical.tape for vertical in section.channels[0].verticals]
        assert tapes[0] == 0 and tapes == sorted(tapes)
        assert section.channels[0].first_bank == "left"


def test_a_tape_from_the_right_bank_is_turned_about() -> None:
    """Two gaugings of one bed, one with its tape from the right bank, make the same section."""
    tape = channel(6).verticals
    deep = tuple(attrs.evolve(v, depth=0.9) if v.tape == 1.5 else v for v in tape)
    turned = tuple(
        attrs.evolve(v, tape=10.0 - v.tape)  # the right edge is now at the lowest position
        for v in deep
    )
    one, other = (
        sections_of(small(attrs.evolve(plain(), channels=(Channel(some),), site=Site(id="upper"))))[
            0
        ].channels[0]
        for some in (deep, turned)
    )

    assert [v.tape for v in other.verticals] == pytest.approx([v.tape for v in one.verticals])
    assert [v.depth for v in other.verticals] == [v.depth for v in one.verticals]
    assert one.verticals[1].depth == 0.9


def test_a_tape_from_the_other_bank_shows_as_a_mirror() -> None:
    """QB-01 was deepest left of its middle at first, right of it with the tape turned about."""
    section = next(one for one in sections() if one.site == "QB-01")
    (_, earlier), last = section.earlier[0], section.channels[0]
    deepest = [
        max(channel.verticals, key=lambda v: v.depth).tape / channel.width
        for channel in (earlier[0], last)
    ]

    assert deepest[0] < 0.4 and deepest[1] > 0.6


def test_all_have_one_scale_on_paper() -> None:
    """A metre across, a metre of depth and a metre a second are as long in every section."""
    found = sections()
    scale = common_scale(found)
    seen = set()
    with drawing_style():
        for section in found:
            figure = new_figure(WIDTH, 40.0, laid_out=False)
            _draw(figure, section, scale, 0.0, 40.0)
            for axes in figure.axes:
                left, right = axes.get_xlim()
                place = axes.get_position()
                seen.add((round(place.width * WIDTH / (right - left), 6), axes.get_ylim()))

    assert len({across for across, _ in seen}) == 1
    assert {across for across, _ in seen} == {round(scale.mm_per_m, 6)}
    assert len({limits for _, limits in seen}) == 2  # one of depths, one of velocities


def test_rows_hold_all_sections_and_fit_the_page() -> None:
    """None is left out, and nothing runs over the edge of the paper."""
    found = sections()
    scale = common_scale(found)
    rows = sections_in_rows(found, scale)

    assert [section for row in rows for section in row] == list(found)
    widest = max(found, key=lambda section: section.width)
    assert 0.8 * WIDTH < 1.12 * widest.width * scale.mm_per_m + 14 <= WIDTH + 0.01
    for row in rows:
        assert sum(1.12 * s.width * scale.mm_per_m + 14 for s in row) <= WIDTH + 0.1


def test_how_much_depths_are_exaggerated_is_said_and_true() -> None:
    """Depths are drawn so many times larger than widths as the text says."""
    found = sections()
    scale = common_scale(found)
    rows = sections_in_rows(found, scale)
    said = re.search(r"drawn ([0-9.]+) times", sections_part(rows, scale.exaggeration).sentences[0])
    with drawing_style():
        figure = new_figure(WIDTH, 40.0, laid_out=False)
        _draw(figure, found[0], scale, 0.0, 40.0)
        bed = figure.axes[0]
        low, high = bed.get_ylim()
        down = bed.get_position().height * 40.0 / (low - high)

    assert said is not None
    assert float(said[1]) == pytest.approx(down / scale.mm_per_m, abs=0.05)


def test_pictures_are_the_same_every_time() -> None:
    """Equal sections give equal bytes, and every picture says what it shows."""
    found = sections()
    scale = common_scale(found)
    rows = sections_in_rows(found, scale)

    assert draw_sections(rows[0], scale, "svg") == draw_sections(rows[0], scale, "svg")
    pictures = sections_part(rows, scale.exaggeration).pictures
    assert len(pictures) == len(rows)
    assert "deepest" in pictures[0].description and "SB-02" in pictures[0].description


def test_a_survey_without_a_discharge_has_no_sections() -> None:
    """It is said instead."""
    assert sections_of(small()) == ()
    assert sections_part([], 1.0).sentences == ("No site gives a section.",)
    assert len(sections_of(three())) == 3
