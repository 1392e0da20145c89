"""Every screen for everybody: what axe finds, contrast, sizes of targets, nothing sideways."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

import pytest
from playwright.sync_api import Page

from .browsing import Faults, picture
from .conftest import ContextMaker
from .crew_phone import without_computing
from .desk_archive import DeskOffice
from .every_desk_screen import every_desk_screen
from .every_screen import choose_look, every_screen, office_screens
from .measured import complaints, faint, sideways, small
from .office import Office

Measure = Callable[[Page], list[str]]

# Half the width and height of a desk's window, as a browser's zoom of 200 % leaves it.
ZOOMED: dict[str, Any] = {"viewport": {"width": 640, "height": 400}, "device_scale_factor": 2}
NARROW: dict[str, Any] = {"viewport": {"width": 320, "height": 568}}
ON_ITS_SIDE: dict[str, Any] = {"viewport": {"width": 800, "height": 360}}

MEASURES: dict[str, Measure] = {
    "axe": complaints,
    "contrast": faint,
    "size": small,
    "width": sideways,
}


EYES = pytest.mark.parametrize(
    ("name", "device", "options", "look", "more"),
    [
        ("phone_light", "phone", {}, "light", ()),
        ("phone_dark", "phone", {}, "dark", ("left",)),
        ("phone_on_its_side", "phone", ON_ITS_SIDE, "light", ()),
        ("narrow_largest", "phone", NARROW, "dark", ("largest",)),
        ("tablet", "tablet", {}, "dark", ()),
        ("desktop", "desktop", {}, "light", ()),
        ("zoomed", "desktop", ZOOMED, "light", ()),
    ],
)


@EYES
def test_every_screen_can_be_seen_read_and_pressed(
    new_context: ContextMaker,
    served: str,
    faults: Faults,
    name: str,
    device: str,
    options: dict[str, Any],
    look: str,
    more: tuple[str, ...],
) -> None:
    """On every screen axe finds nothing, contrast is 7:1 and targets are 44 pixels, keys 60."""
    faults.expect("QuotaExceededError")
    page = new_context(device, **options).new_page()
    choose_look(page, served, look, *more)
    seen, found = _measured(page, name, every_screen(page, served))

    assert seen > 40, "the tour has lost screens"
    assert not found, "\n".join(found)


@EYES
def test_every_screen_of_a_paired_phone_can_be_seen_read_and_pressed(
    new_context: ContextMaker,
    office: Office,
    faults: Faults,
    name: str,
    device: str,
    options: dict[str, Any],
    look: str,
    more: tuple[str, ...],
) -> None:
    """What an office adds is held to the same: pairing, sync, sites of surveys, reviews."""
    faults.expect("reading 'waiting'")
    context = without_computing(new_context(device, service_workers="block", **options))
    page = context.new_page()
    choose_look(page, office.address, look, *more)
    seen, found = _measured(page, f"{name}_paired", office_screens(page, office))

    assert seen == 10, "the tour has lost screens"
    assert not found, "\n".join(found)


@pytest.mark.parametrize(
    ("name", "device", "options", "look", "more"),
    [
        ("desk_desktop", "desktop", {}, "light", ()),
        ("desk_tablet", "tablet", {}, "dark", ("metres",)),
        ("desk_zoomed", "desktop", ZOOMED, "light", ("largest",)),
    ],
)
def test_every_screen_of_the_desk_can_be_seen_read_and_pressed(
    new_context: ContextMaker,
    desk_office: DeskOffice,
    faults: Faults,
    name: str,
    device: str,
    options: dict[str, Any],
    look: str,
    more: tuple[str, ...],
) -> None:
    """At a desk axe finds nothing either, contrast is 7:1 and targets are 44 pixels."""
    faults.expect("404")
    page = new_context(device, **options).new_page()
    choose_look(page, desk_office.address, look, *more)
    seen, found = _measured(page, name, every_desk_screen(page, desk_office))

    assert seen == 17, "the tour has lost screens"
    assert not found, "\n".join(found)


def _measured(page: Page, name: str, screens: Iterator[str]) -> tuple[int, list[str]]:
    """Return how many screens there were, and all that was found on them."""
    seen = 0
    found: list[str] = []
    for screen in screens:
        seen += 1
        for what, measure in MEASURES.items():
            found += [f"{screen}, {what}: {fault}" for fault in measure(page)]
        picture(page, f"{name}/{screen}")
    return seen, found
