"""The link that opens the app with a code filled in; the code never reaches a server's log."""

from __future__ import annotations

import io

import segno

__all__ = ["pairing_link", "qr_for_terminal", "qr_svg"]

_PIXELS = 6


def pairing_link(page: str, code: str) -> str:
    """Return the link; page: the address of the app, with a slash at its end.

    What stands behind the # stays in the browser.
    """
    return f"{page}#/pair/{code}"


def qr_svg(link: str) -> str:
    """Return the QR code of a link as an SVG picture, whole as a file would be."""
    picture = io.BytesIO()
    code = segno.make(link, error="m")
    code.save(picture, kind="svg", scale=_PIXELS, dark="#000", light="#fff", xmldecl=False)
    return picture.getvalue().decode("utf-8")


def qr_for_terminal(link: str) -> str:
    """Return the QR code of a link as lines for a terminal, in half blocks."""
    lines = io.StringIO()
    segno.make(link, error="m").terminal(lines, compact=True)
    return lines.getvalue()
