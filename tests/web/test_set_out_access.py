"""The form and the plan for every hand and eye: names, contrast, sizes, keys, narrow screens."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from .browsing import picture
from .conftest import ContextMaker
from .setting_out import (
    PARTS,
    add,
    decide,
    name_the_site,
    read_the_edges,
    saved,
    start,
    to,
    type_in,
)

AXE = Path(__file__).parents[2] / "web" / "node_modules" / "axe-core" / "axe.min.js"

_FAULTS = """async () => {
  const rules = { "color-contrast-enhanced": { enabled: true }, "target-size": { enabled: true } };
  const { violations, passes } = await axe.run(document, { rules });
  const looked = passes.map(({ id }) => id);
  return {
    contrast: looked.includes("color-contrast-enhanced"),
    faults: violations.flatMap(({ id, nodes }) => nodes.map(({ html }) => `${id}: ${html}`)),
  };
}"""

_CRAMPED = """() => {
  const wide = document.documentElement.clientWidth;
  const faults = [];
  if (document.documentElement.scrollWidth > wide) {
    faults.push(`the page is ${document.documentElement.scrollWidth} wide`);
  }
  const controls = "button, a, select, textarea, summary, label, input";
  for (const one of document.querySelectorAll(controls)) {
    const box = one.getBoundingClientRect();
    const label = one.tagName === "LABEL" && one.querySelector("input") === null;
    const within = one.matches("[type=radio], [type=checkbox]");
    if (!one.checkVisibility() || one.matches(".unseen, .skip") || label || within) continue;
    const words = one.textContent.trim() || one.getAttribute("aria-label") || one.tagName;
    if (Math.min(box.width, box.height) < 44) faults.push(`${words} is ${box.width}×${box.height}`);
    if (box.right > wide) faults.push(`${words} ends at ${box.right}`);
  }
  return faults;
}"""


def looked_at(page: Page) -> list[str]:
    """What axe finds, contrast of 7:1 included; it must have looked at contrast at all."""
    page.evaluate(AXE.read_text(encoding="utf-8"))
    found: dict[str, Any] = page.evaluate(_FAULTS)
    assert found["contrast"]
    faults: list[str] = found["faults"]
    return faults


def set_out(page: Page, served: str) -> None:
    """Fill in what other parts and the plan depend on."""
    start(page, served)
    name_the_site(page)
    add(page, "J. Ostrander", "Recorder", "Leader")
    decide(page, safe=True)
    read_the_edges(page)


def wanted(page: Page, served: str, look: str, text: str) -> None:
    """Choose a look and a size of text in the settings."""
    page.goto(f"{served}#/settings")
    page.get_by_role("radio", name=look).check()
    page.get_by_role("radio", name=text, exact=True).check()


@pytest.mark.parametrize("look", ["light", "dark"])
def test_every_screen_passes_axe_with_a_contrast_of_7_to_1(
    page: Page, served: str, look: str
) -> None:
    """Names, roles, contrast of 7:1 and sizes hold on every screen, in both looks."""
    wanted(page, served, look, "usual")
    faults = {"settings": looked_at(page)}
    set_out(page, served)
    for part in (*PARTS, "none"):
        to(page, "set-out", part)
        faults[part] = looked_at(page)
    to(page, "plan")
    page.get_by_role("button", name="Lay out the verticals").click()
    page.get_by_text("The positions one by one").click()
    page.get_by_role("listitem").get_by_role("button").first.click()
    faults["plan"] = looked_at(page)
    page.goto(f"{served}#/")
    expect(page.get_by_role("article")).to_be_visible()
    page.get_by_role("button", name="Start a new gauging").click()
    faults["list"] = looked_at(page)

    assert {name: found for name, found in faults.items() if found} == {}


@pytest.mark.parametrize(
    ("width", "height", "text"),
    [(320, 568, "usual"), (320, 568, "largest"), (740, 360, "large"), (1280, 800, "usual")],
)
def test_nothing_is_cramped_or_beyond_the_screen(
    new_context: ContextMaker, served: str, width: int, height: int, text: str
) -> None:
    """From 320 pixels on nothing scrolls sideways, and no target is smaller than 44 pixels."""
    page = new_context(viewport={"width": width, "height": height}).new_page()
    wanted(page, served, "light", text)
    faults = {"settings": page.evaluate(_CRAMPED)}
    set_out(page, served)
    for part in (*PARTS, "none"):
        to(page, "set-out", part)
        faults[part] = page.evaluate(_CRAMPED)
    to(page, "plan")
    faults["wishes"] = page.evaluate(_CRAMPED)
    page.get_by_role("button", name="Lay out the verticals").click()
    page.get_by_text("The positions one by one").click()
    page.get_by_role("listitem").get_by_role("button").first.click()
    faults["plan"] = page.evaluate(_CRAMPED)
    picture(page, f"plan_{width}_{text}", full_page=True)
    page.goto(f"{served}#/")
    expect(page.get_by_role("article")).to_be_visible()
    faults["list"] = page.evaluate(_CRAMPED)

    assert {name: found for name, found in faults.items() if found} == {}


def test_a_gauging_is_set_out_with_keys_alone(desktop: Page, served: str) -> None:
    """Without a pointer a person starts, types, goes from part to part and to the next step."""
    page = desktop
    page.goto(served)
    page.get_by_role("button", name="Start a new gauging").press("Enter")
    page.get_by_role("radio", name="feet").press("Space")
    page.get_by_role("button", name="Start", exact=True).press("Enter")
    expect(page.get_by_role("heading", name="Set out")).to_be_focused()
    type_in(page, "Stream", "Quill Brook")
    page.get_by_role("button", name="Next: Who does what").press("Enter")
    # "Next: Who does what" stands there for a moment more.
    head = page.get_by_role("button", name=re.compile("^Who does what"))
    expect(head).to_be_focused()
    expect(head).to_have_attribute("aria-expanded", "true")
    page.keyboard.press("Tab")
    expect(page.get_by_role("button", name="Add somebody")).to_be_focused()
    page.get_by_role("link", name="Plan", exact=True).press("Enter")

    expect(page.get_by_role("heading", name="Plan")).to_be_focused()
    steps = page.get_by_role("navigation", name="Steps of the gauging")
    expect(steps.locator("[aria-current=step]")).to_have_text("Plan")
    saved(page)
