"""The picture of the section: what is drawn where, and the same bytes every time."""

import io
from xml.etree import ElementTree

import attrs
import pytest
from PIL import Image

from bankside.gauging.compute import compute
from bankside.gauging.records import Channel, Gauging, PointReading, Vertical
from bankside.report.canvas import new_figure
from bankside.report.section_drawing import DrawnChannel, SectionDrawing, section_drawing
from bankside.report.section_figure import _draw_bed, _name_banks, draw_section, section_rows

from .gaugings import ENDLESS, FEET, HOSTILE, bare, channel, named, plain


def drawing_of(gauging: Gauging, *how: str) -> SectionDrawing:
    """What is drawn of a gauging."""
    return section_drawing(gauging, compute(gauging, *how))  # type: ignore[arg-type]


def with_channels(*channels: Channel) -> Gauging:
    """A gauging of these channels."""
    return attrs.evolve(plain(), channels=channels)


def test_panels_reach_half_way_to_their_neighbours() -> None:
    """By the half-width rule the panels of 1, 1.5, 2 … meet at 1.25, 1.75 …, from edge to edge."""
    (one,) = drawing_of(with_channels(channel(3))).channels

    assert [(p.start, p.end) for p in one.panels] == [
        (1.0, 1.25),
        (1.25, 1.75),
        (1.75, 2.25),
        (2.25, 2.75),
        (2.75, 3.0),
    ]


@pytest.mark.parametrize(
    ("how", "first"),
    [(("mid-section", "triangular"), (1.0, 1.75)), (("mean-section",), (1.0, 1.5))],
    ids=["triangular", "mean-section"],
)
def test_panels_follow_the_method(how: tuple[str, ...], first: tuple[float, float]) -> None:
    """By the triangular rule the first panel begins at the bank; by mean-section between."""
    (one,) = drawing_of(with_channels(channel(3)), *how).channels
    carrying = [panel for panel in one.panels if panel.share]

    assert (carrying[0].start, carrying[0].end) == first


def test_depths_and_velocities_are_in_the_units_called() -> None:
    """In feet the picture shows what was called, not what was computed with."""
    (one,) = drawing_of(plain(FEET)).channels

    # Back from metres a depth is a few 1e-16 off what was called.
    assert one.verticals[4].depth == pytest.approx(0.74)
    assert one.verticals[4].velocity == pytest.approx(0.59)
    assert one.verticals[4].fractions == (0.6,)


@pytest.mark.parametrize(
    ("banks", "first", "mirrored", "order"),
    [
        (("left", "right"), "left", False, ["Channel 1", "Channel 2"]),
        (("right", "left"), "right", True, ["Channel 2", "Channel 1"]),
    ],
)
def test_the_left_bank_is_on_the_left(
    banks: tuple[str, str], first: str, mirrored: bool, order: list[str]
) -> None:
    """Whoever faces downstream sees the left bank on the left, wherever the tape begins."""
    gauging = with_channels(channel(4, banks=banks), channel(3, 20.0, banks=banks))
    channels = drawing_of(gauging).channels

    assert {(one.first_bank, one.mirrored) for one in channels} == {(first, mirrored)}
    assert [one.title for one in channels] == order


def test_an_unnamed_bank_is_not_guessed() -> None:
    """Where no edge is named the picture says so; where one is, the other follows from it."""
    (nameless,) = drawing_of(bare()).channels
    first, *others = channel(4).verticals
    half = Channel((attrs.evolve(first, edge=None, bank=None), *others))

    assert nameless.first_bank is None
    assert drawing_of(with_channels(half)).channels[0].first_bank == "left"


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
    _draw_bed(axes, one, 1.0)
    _name_banks(axes, one, " bank")
    lines = [[(float(x), float(y)) for x, y in line.get_xydata()] for line in axes.lines]  # type: ignore[union-attr]
    return {text.get_text() for text in axes.texts}, lines


def test_what_was_not_measured_is_told_apart() -> None:
    """A sounding without a velocity is drawn, but not as a measured vertical."""
    verticals = list(channel(5).verticals)
    verticals[3] = attrs.evolve(verticals[3], velocity=())
    (one,) = drawing_of(with_channels(Channel(tuple(verticals)))).channels

    assert [v.measured for v in one.verticals] == [False, True, True, False, True, True, False]


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
