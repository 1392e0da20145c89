"""The document on uncertainty says what was stored."""

from calibration.document import DOCUMENT, filled


def test_generated_parts_are_those_of_the_stored_judgement() -> None:
    """Tables in the document follow from `calibration/results.json` and from the constants."""
    text = DOCUMENT.read_text(encoding="utf-8")

    assert filled(text) == text, "run: python -m calibration.document"


def test_pictures_are_there() -> None:
    """Every picture that the document shows lies beside it."""
    for line in DOCUMENT.read_text(encoding="utf-8").splitlines():
        if line.startswith("!["):
            assert (DOCUMENT.parent / line.partition("(")[2].rstrip(")")).is_file()
