"""What can be measured on a screen: contrast of every text, sizes of targets, and its width."""

from __future__ import annotations

from pathlib import Path

from playwright.sync_api import Page

AXE = Path(__file__).parents[2] / "web" / "node_modules" / "axe-core" / "axe.min.js"

# The sizes of targets are measured below, by a larger measure than that of axe.
_COMPLAINTS = """async () => {
  const rules = { "color-contrast-enhanced": { enabled: true } };
  const { violations, passes } = await axe.run(document, { rules });
  if (passes.length < 10) throw new Error("axe looked at next to nothing");
  return violations.flatMap(({ id, nodes }) => nodes.map(({ target }) => `${id}: ${target}`));
}"""

# Of WCAG 2.2: relative luminance and contrast ratio, from the colours that the browser computed.
_FAINT = """(least) => {
  const colour = (text) => {
    const [r, g, b, a = 1] = text.match(/[\\d.]+/g).map(Number);
    return { r, g, b, a };
  };
  const over = (top, under) => {
    const mixed = (part) => top[part] * top.a + under[part] * (1 - top.a);
    return { r: mixed("r"), g: mixed("g"), b: mixed("b"), a: 1 };
  };
  const luminance = ({ r, g, b }) => {
    const [red, green, blue] = [r, g, b].map((part) => {
      const share = part / 255;
      return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
    });
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
  };
  const ratio = (one, other) => {
    const [low, high] = [luminance(one), luminance(other)].sort((a, b) => a - b);
    return (high + 0.05) / (low + 0.05);
  };
  /** What lies under an element: one colour, or several where it is drawn in parts. */
  const grounds = (element) => {
    const layers = [];
    for (let at = element; at; at = at.parentElement) {
      const { backgroundColor, backgroundImage, opacity } = getComputedStyle(at);
      if (opacity !== "1") throw new Error(`${at.className} lets shine through what is under it`);
      const drawn = backgroundImage.match(/rgba?\\([^)]+\\)/g)?.map(colour) ?? [];
      const plain = colour(backgroundColor);
      if (plain.a > 0 || drawn.length > 0) layers.push(plain.a > 0 ? [plain, ...drawn] : drawn);
      if (plain.a === 1) break;
    }
    let found = layers.pop() ?? [{ r: 255, g: 255, b: 255, a: 1 }];
    for (const layer of layers.reverse()) {
      found = layer.flatMap((top) => found.map((under) => over(top, under)));
    }
    return found;
  };
  /** What lies under the corners and the middle of a text in a picture; a halo lies under all. */
  const drawn = (text, picture) => {
    const { stroke, strokeWidth, paintOrder } = getComputedStyle(text);
    if (paintOrder.startsWith("stroke") && parseFloat(strokeWidth) > 0) return [colour(stroke)];
    const box = text.getBoundingClientRect();
    const before = [...picture.querySelectorAll("rect, path, polygon, circle")].filter(
      (shape) => shape.compareDocumentPosition(text) & Node.DOCUMENT_POSITION_FOLLOWING &&
        getComputedStyle(shape).fill.startsWith("rgb"),
    );
    return [[0.5, 0.5], [0.02, 0.3], [0.98, 0.3], [0.02, 0.7], [0.98, 0.7]].flatMap(([x, y]) => {
      const at = new DOMPoint(box.left + x * box.width, box.top + y * box.height);
      const top = before.findLast((shape) =>
        shape.isPointInFill(at.matrixTransform(shape.getScreenCTM().inverse())));
      return top ? [colour(getComputedStyle(top).fill)] : grounds(picture);
    });
  };
  const faint = new Set();
  let seen = 0;
  const hold = (words, ink, under) => {
    if (ink.a === 0) return;
    seen += 1;
    const least_found = Math.min(...under.map((ground) => ratio(over(ink, ground), ground)));
    if (least_found < least) faint.add(`${least_found.toFixed(2)} for ${words.slice(0, 50)}`);
  };
  const shown = (element) =>
    element.checkVisibility({ visibilityProperty: true }) &&
    !element.closest(".unseen, option, datalist");
  const top = document.querySelector("dialog[open]") ?? document.body;
  const texts = document.createTreeWalker(top, NodeFilter.SHOW_TEXT);
  while (texts.nextNode()) {
    const words = texts.currentNode.data.trim();
    const element = texts.currentNode.parentElement;
    if (words === "" || !shown(element) || element.closest("style, script, noscript")) continue;
    const picture = element.closest("svg");
    if (picture) hold(words, colour(getComputedStyle(element).fill), drawn(element, picture));
    else hold(words, colour(getComputedStyle(element).color), grounds(element));
  }
  for (const field of top.querySelectorAll("input, textarea, select")) {
    if (!shown(field) || ["radio", "checkbox", "file"].includes(field.type)) continue;
    hold(`the text of ${field.id}`, colour(getComputedStyle(field).color), grounds(field));
    if (field.placeholder) {
      const ink = colour(getComputedStyle(field, "::placeholder").color);
      hold(field.placeholder, ink, grounds(field));
    }
  }
  if (seen < 5) throw new Error("there is next to nothing to read");
  return [...faint];
}"""

_SMALL = """({ key, apart, control }) => {
  const top = document.querySelector("dialog[open]") ?? document.body;
  const boxOf = (one) => {
    const covered = one.matches("[type=radio], [type=checkbox], [type=file]");
    return ((covered && one.closest("label")) || one).getBoundingClientRect();
  };
  const named = (one) =>
    [
      one.tagName.toLowerCase(),
      (one.getAttribute("aria-label") ?? one.textContent ?? "").trim().slice(0, 40),
    ].join(" ");
  const targets = [...top.querySelectorAll("a[href], button, input, select, textarea, summary")]
    .filter((one) => one.checkVisibility() && !one.matches(".unseen, .skip"));
  const faults = [];
  for (const one of targets) {
    const { width, height } = boxOf(one);
    const least = one.closest(".keypad") || one.matches(".say") ? key : control;
    if (Math.min(width, height) < least - 0.5) {
      faults.push(`${named(one)} is ${width.toFixed(0)} × ${height.toFixed(0)}`);
    }
  }
  const keys = [...top.querySelectorAll(".keypad button, button.say")];
  for (const [i, one] of keys.entries()) {
    for (const other of keys.slice(i + 1)) {
      const [a, b] = [one.getBoundingClientRect(), other.getBoundingClientRect()];
      const across = Math.max(a.left - b.right, b.left - a.right);
      const down = Math.max(a.top - b.bottom, b.top - a.bottom);
      if (Math.max(across, down) < apart - 0.5) {
        faults.push(`${named(one)} is too near ${named(other)}`);
      }
    }
  }
  if (targets.length === 0) throw new Error("there is nothing to press");
  return faults;
}"""

_SIDEWAYS = """() => {
  const found = [];
  for (const one of [document.documentElement, ...document.querySelectorAll("dialog[open]")]) {
    if (one.scrollWidth > one.clientWidth) {
      const wide = [...one.querySelectorAll("*")].filter((part) =>
        part.checkVisibility() && part.getBoundingClientRect().right > one.clientWidth + 1 &&
        !part.closest(".scroll, .skip, .unseen"));
      const widest = wide[0]?.outerHTML.slice(0, 120);
      found.push(`${one.scrollWidth} wide in ${one.clientWidth}: ${widest}`);
    }
  }
  return found;
}"""


def complaints(page: Page) -> list[str]:
    """What axe finds, by all rules that it has on by itself, and by that for a contrast of 7:1."""
    if not page.evaluate("'axe' in window"):
        page.evaluate(AXE.read_text(encoding="utf-8"))
    found: list[str] = page.evaluate(_COMPLAINTS)
    return found


def faint(page: Page, least: float = 7) -> list[str]:
    """Texts with less contrast than so many to 1: all that are shown, in fields and pictures too.

    What is disabled and what stands in an empty field count as every other text.
    """
    found: list[str] = page.evaluate(_FAINT, least)
    return found


def small(page: Page, key: float = 60, apart: float = 8, control: float = 44) -> list[str]:
    """Targets smaller than so many pixels, keys of the keypad by their own measure and distance."""
    found: list[str] = page.evaluate(_SMALL, {"key": key, "apart": apart, "control": control})
    return found


def sideways(page: Page) -> list[str]:
    """Whether the page, or what is opened over it, has to be scrolled sideways, and what for."""
    found: list[str] = page.evaluate(_SIDEWAYS)
    return found
