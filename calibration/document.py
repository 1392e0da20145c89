"""Put the tables and pictures of what was stored into `docs/uncertainty.md`."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from pathlib import Path

from calibration.judge import RESULTS
from calibration.pictures import draw_pictures
from calibration.tables import blocks

__all__ = ["DOCUMENT", "filled", "put_in"]

DOCUMENT = Path(__file__).parents[1] / "docs" / "uncertainty.md"
PICTURES = DOCUMENT.parent / "uncertainty"


def filled(text: str) -> str:
    """Return the document with every generated part put in anew; ValueError as `put_in`."""
    return put_in(text, blocks(json.loads(RESULTS.read_text(encoding="utf-8"))))


def put_in(text: str, parts: Mapping[str, str]) -> str:
    """Return a document with these generated parts; ValueError where one has not one place."""
    for name, block in parts.items():
        pattern = rf"<!-- generated: {re.escape(name)} -->\n.*?<!-- end -->"
        new = f"<!-- generated: {name} -->\n{block}\n<!-- end -->"
        text, count = re.subn(pattern, new.replace("\\", r"\\"), text, flags=re.DOTALL)
        if count != 1:
            raise ValueError(f"the document must have one place for {name!r} (has {count})")
    return text


def main() -> None:
    """Write document and pictures."""
    DOCUMENT.write_text(filled(DOCUMENT.read_text(encoding="utf-8")), encoding="utf-8")
    draw_pictures(json.loads(RESULTS.read_text(encoding="utf-8")), PICTURES)


if __name__ == "__main__":
    main()
