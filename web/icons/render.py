"""Draw the app's icons anew from public/icons/icon.svg: `python web/icons/render.py`.

Needs Chromium, which is found on the path or named by the variable CHROMIUM.
"""

from __future__ import annotations

import os
import shutil
import sys
from pathlib import Path

from playwright.sync_api import sync_playwright

ICONS = Path(__file__).parents[1] / "public" / "icons"
SOURCE = ICONS / "icon.svg"

PICTURES = (
    ("icon-192.png", 192, 0.22),
    ("icon-512.png", 512, 0.22),
    # A launcher cuts these to its own shape, so they have no corners of their own.
    ("icon-maskable-512.png", 512, 0.0),
    ("apple-touch-icon.png", 180, 0.0),
)
"""File, side in pixels, radius of the corners as a part of the side."""


def main() -> int:
    """Draw every picture; return 1, with the reason on stderr, if there is no Chromium."""
    chromium = os.environ.get("CHROMIUM") or shutil.which("chromium")
    if chromium is None:
        print("Found no Chromium; CHROMIUM may name one.", file=sys.stderr)
        return 1
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=chromium, args=["--no-sandbox"])
        for name, side, radius in PICTURES:
            page = browser.new_page(viewport={"width": side, "height": side})
            page.set_content(
                f"<style>body {{ margin: 0 }} svg {{ display: block; width: {side}px; "
                f"border-radius: {radius * side}px }}</style>{SOURCE.read_text(encoding='utf-8')}"
            )
            page.screenshot(path=ICONS / name, omit_background=True)
            page.close()
        browser.close()
    return 0


if __name__ == "__main__":
    sys.exit(main())
