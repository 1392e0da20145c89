"""Which figures and rules a screen shows, and whether each is told why, and with which source."""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from playwright.sync_api import Page, expect

# What lies on top: the panel that was opened last, else the screen.
_TOP = """() => {
  const top = [...document.querySelectorAll("dialog[open]")].at(-1)
    ?? document.querySelector("main");"""

# What takes or shows a figure by its very form, and every text that has a figure with a unit.
_UNMARKED = (
    _TOP
    + r"""
  const units = "%|°|ft|m|cm|mm|s|min|ft²|m²|ft/s|m/s|ft²/s|m²/s|ft³/s|m³/s";
  const figure = new RegExp(`(^|[^\\w.])[±+−-]?\\d+(\\.\\d+)?\\s?(${units})(?![\\w²³/])`);
  const forms = "input[inputmode=decimal], input[inputmode=numeric], input[type=range], " +
    "output, dt, [role=timer]";
  const unseen = "[hidden], [aria-live], dialog:not([open])";
  const told = (one) => one.closest("[data-why]")?.dataset.why?.trim() || one.closest(unseen);
  const name = (one) => one.labels?.[0]?.textContent ?? one.textContent;
  const found = [...top.querySelectorAll(forms)].filter((one) => !told(one)).map(name);
  const walk = document.createTreeWalker(top, NodeFilter.SHOW_TEXT);
  while (walk.nextNode()) {
    const { parentElement, data } = walk.currentNode;
    if (figure.test(data) && !told(parentElement)) found.push(data);
  }
  return found.map((text) => text.replace(/\s+/g, " ").trim());
}"""
)

# The keys that are marked there, and whether a key of the glass tells them.
_SHOWN = (
    _TOP
    + """
  const marks = [...top.querySelectorAll("[data-why]")].filter((one) =>
    !one.closest("[hidden]") && one.closest("dialog") === (top.matches("dialog") ? top : null));
  const keys = marks.flatMap((one) => one.dataset.why.split(";").map((key) => key.trim()));
  return {
    keys: [...new Set(keys)].filter((key) => key !== ""),
    told: top.querySelector("button.key") !== null,
  };
}"""
)

_OPEN = f"""{_TOP}
  top.querySelector("button.key").click();
}}"""

_TOLD = """(dialog) => [...dialog.querySelectorAll("details")].map((one) => [
  one.dataset.reason,
  one.querySelector("summary").textContent,
  one.querySelector(".words").textContent,
  one.querySelector(".source").textContent,
])"""

# Names of facts that are no figure and no rule.
_PLAIN = {"Crew", "Meter", "Serial number"}

_LOCKED = "dialog.locked[open]"


@dataclass
class Reasons:
    """What was met on the screens so far, and all that was missing there."""

    met: set[str] = field(default_factory=set)
    faults: list[str] = field(default_factory=list)

    def look(self, page: Page, screen: str) -> None:
        """Hold a screen to it: every figure is marked, and every mark has its reason."""
        for text in set(page.evaluate(_UNMARKED)) - _PLAIN:
            self.faults.append(f"{screen}: nothing says why: {text}")
        if page.locator(_LOCKED).count() > 0:
            # Nothing but unlocking answers there; the screen beneath says why.
            return
        shown = page.evaluate(_SHOWN)
        if not shown["told"]:
            self.faults += [f"{screen}: no key tells {key}" for key in shown["keys"]]
            return
        # A screen with nothing new needs no second look: the list is made of these very marks.
        if not set(shown["keys"]) <= self.met:
            self._open(page, screen, shown["keys"])

    def _open(self, page: Page, screen: str, keys: list[str]) -> None:
        page.evaluate(_OPEN)
        dialog = page.locator("dialog.why[open]")
        expect(dialog.get_by_text("Thresholds are those of")).to_be_visible()
        told = {key: rest for key, *rest in dialog.evaluate(_TOLD)}
        self.faults += [f"{screen}: no reason for {key}" for key in keys if key not in told]
        for key, (name, words, source) in told.items():
            self._judge(screen, key, name, words, source)
        self.met |= set(told)
        page.keyboard.press("Escape")
        expect(page.locator("dialog.why[open]")).to_have_count(0)

    def _judge(self, screen: str, key: str, name: str, words: str, source: str) -> None:
        sentences = len(re.findall(r"[.?!](?=\s|$)", words))
        # A finding has the words of the catalogue of checks, which are one sentence or more each.
        enough = sentences >= 2 if key.startswith("check: ") else sentences == 2
        said = source.removeprefix("Source:").strip(" .")
        if not (name.strip() and enough and said):
            self.faults.append(f"{screen}: {key} is told badly: {name}: {words} {source}")
