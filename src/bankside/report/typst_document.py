"""PDF by Typst: tagged, archivable (PDF/A-2a, PDF/UA-1), and the same bytes for the same content.

What people wrote goes in as data and is set as text; nothing of it is ever read as markup.
"""

from __future__ import annotations

import datetime
import json
from collections.abc import Mapping
from importlib import resources
from typing import Any, Final, Literal, get_args

from bankside.gauging.faults import BanksideError
from bankside.note.signs import with_signs
from bankside.report.letters import FAMILY, fonts_folder, in_our_letters

__all__ = ["PAPERS", "Paper", "typst_pdf"]

Paper = Literal["a4", "letter"]
PAPERS: Final[tuple[Paper, ...]] = get_args(Paper)

_SIZES: Final[dict[Paper, str]] = {"a4": "a4", "letter": "us-letter"}
_TEMPLATES = resources.files(__package__) / "templates"

# PDF/A asks for a date. Where the record has none, this stands for it: no clock is ever asked.
_NO_DAY: Final = datetime.date(1970, 1, 1)


def typst_pdf(
    template: str,
    content: Mapping[str, Any],
    pictures: Mapping[str, str],
    *,
    paper: Paper,
    day: datetime.date | None,
) -> bytes:
    """Return a document as PDF.

    template: the name of a template of ours; content: plain dicts, lists and texts for it;
    pictures: SVG by key; day: the date in the file's own record. BanksideError if Typst cannot set
    it, which would be a fault of the template.
    """
    import typst  # heavy: only when a document is made

    stamp = day or _NO_DAY
    data = {
        "content": with_signs(content, in_our_letters),
        "pictures": dict(pictures),
        "paper": _SIZES[paper],
        "font": FAMILY,
        "day": [stamp.year, stamp.month, stamp.day],
    }
    with fonts_folder() as folder, resources.as_file(_TEMPLATES) as templates:
        try:
            pdf = typst.compile(
                str(templates / f"{template}.typ"),
                root=str(templates),
                format="pdf",
                font_paths=typst.Fonts(include_system_fonts=False, font_paths=[str(folder)]),
                sys_inputs={"data": json.dumps(data)},
                pdf_standards=["a-2a", "ua-1"],
                timestamp=0,
            )
        except typst.TypstError as error:
            raise BanksideError(f"The document could not be set as PDF: {error}") from error
    return pdf
