"""The picture of the section: what is drawn where, and the same bytes every time."""

import io
from xml.etree import ElementTree

import attrs
import pytest
from PIL import Image

from bankside.gauging.records import Channel, Gauging, PointReading, Vertical
from bankside.note.section_drawing import (
    DrawnChannel,
    section_rows,
)
from bankside.report.canvas import new_figure
from bankside.report.section_figure import draw_section
from bankside.report.section_parts import draw_bed, name_banks

from ..note.gaugings import ENDLESS, HOSTILE, bare, channel, named, plain
from ..note.sections import drawing_of, with_channels


@pytest.mark.parametrize(
    ("banks", "mirrored"), [(("left", "right"), False), (("right", "left"), True)]
)
def test_an_edge_that_was_not_measured_stays_open(banks: tuple[str, str], mirrored: bool) -> None:
    """Where the last vertical has water and is no edge, no bank is drawn and none is named."""
    verticals = channel(5, banks=banks).verticals
    cut, whole = (
        drawing_of(with_channels(Channel(some))).channels[0] for some in (verticals[:-2], verticals)
    )

    assert cut.mirrored == mirrored
    assert (cut.unmeasured, whole.unmeasured) == ((False, True), (False, False))
    labels, _ = _drawn(cut)
    assert (
        labels
        == ({"edge not measured", "left bank"}, {"edge not measured", "right bank"})[mirrored]
    )
    assert not _has_wall(cut) and _has_wall(whole)
    assert _drawn(whole)[0] == {"left bank", "right bank"}


def _has_wall(one: DrawnChannel) -> bool:
    """Whether an upright line bounds the water at the last vertical."""
    end = one.verticals[-1].tape
    return any([tape for tape, _ in line] == [end, end] for line in _drawn(one)[1])


def _drawn(one: DrawnChannel) -> tuple[set[str], list[list[tuple[float, float]]]]:
    """The words in the picture of the bed, and its lines."""
    axes = new_figure(100, 50).add_subplot()
    draw_bed(axes, one, 1.0)
    name_banks(axes, one, " bank")
    lines = [[(float(x), float(y)) for x, y in line.get_xydata()] for line in axes.lines]  # type: ignore[union-attr]
    return {text.get_text() for text in axes.texts}, lines


def test_many_channels_are_drawn_in_rows() -> None:
    """Three stand side by side; the seventh begins the third row, and none is left out."""
    drawing = drawing_of(with_channels(*(channel(3, 5.0 * place) for place in range(7))))

    assert [len(row) for row in section_rows(drawing)] == [3, 3, 1]
    root = ElementTree.fromstring(draw_section(drawing, "svg"))
    height = float((root.get("height") or "").removesuffix("pt"))
    assert height == pytest.approx(3 * 56 / 25.4 * 72, rel=1e-3)


def _upstream() -> Gauging:
    back = tuple(
        attrs.evolve(v, velocity=(PointReading(-0.3, 0.6),)) if v.tape > 2.6 and v.depth else v
        for v in channel(5).verticals
    )
    return with_channels(Channel(back))


def _still() -> Gauging:
    still = tuple(
        attrs.evolve(v, velocity=(PointReading(0.0, 0.6),)) if v.depth else v
        for v in channel(5).verticals
    )
    return with_channels(Channel(still))


def _two() -> Gauging:
    ends = (
        Vertical(tape=0, depth=0.4, edge="left", bank="steep", velocity=(PointReading(0.2, 0.6),)),
        Vertical(tape=1, depth=0, edge="right"),
    )
    return with_channels(Channel(ends))


@pytest.mark.parametrize(
    "gauging",
    [
        plain(),
        bare(),
        plain(count=60),
        named(HOSTILE),
        named(ENDLESS),
        _upstream(),
        _still(),
        _two(),
    ],
    ids=["plain", "bare", "sixty", "hostile", "endless", "upstream", "still", "two"],
)
def test_every_section_can_be_drawn_twice_the_same(gauging: Gauging) -> None:
    """No section, name or flow stops the picture, it is sound SVG, and it comes out the same."""
    drawing = drawing_of(gauging)
    svg = draw_section(drawing, "svg")

    root = ElementTree.fromstring(svg)
    assert root.tag == "{http://www.w3.org/2000/svg}svg"
    assert svg == draw_section(drawing, "svg")


def test_the_picture_as_png() -> None:
    """The same picture in dots, 180 mm wide at 200 to the inch, black and white alone."""
    data = draw_section(drawing_of(plain()), "png")
    image = Image.open(io.BytesIO(data)).convert("RGB")

    assert image.width == pytest.approx(180 / 25.4 * 200, abs=1)
    greys = image.getcolors(maxcolors=1 << 24) or []
    assert all(max(colour) - min(colour) <= 2 for _, colour in greys if isinstance(colour, tuple))
    assert data == draw_section(drawing_of(plain()), "png")
