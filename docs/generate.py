"""Write the lists in `docs/formats.md` from the code, so that they cannot part from it.

`python docs/generate.py` rewrites the file; the tests hold it against this.
"""

import re
from pathlib import Path

from bankside.sheets.answers import CHOICES, COLUMN_NAMES
from bankside.sheets.preface import KEYS
from bankside.sheets.words import FILLER_WORDS, UNIT_WORDS, WORDS

FORMATS = Path(__file__).parent / "formats.md"


def blocks() -> dict[str, str]:
    """Return the generated parts by their names."""
    words = "\n".join(f"| {name} | {', '.join(ways)} |" for name, ways in WORDS.items())
    units = "\n".join(
        f"| {kind} | {name} | {', '.join(f'`{way}`' for way in ways)} |"
        for kind, names in UNIT_WORDS.items()
        for name, ways in names.items()
    )
    keys = "\n".join(f"| {name} | {', '.join(ways)} |" for name, ways in KEYS.items())
    answers = "\n".join(
        f"| `--{name.replace('_', '-')}` | {', '.join(f'`{c}`' for c in choices)} |"
        for name, choices in CHOICES.items()
    )
    return {
        "words": f"| meaning | words |\n|---|---|\n{words}\n\nPassed over: "
        f"{', '.join(sorted(FILLER_WORDS))}.",
        "column names": ", ".join(f"`{name}`" for name in COLUMN_NAMES) + ".",
        "units": f"| kind | unit | written as |\n|---|---|---|\n{units}",
        "keys": f"| tells | keys |\n|---|---|\n{keys}",
        "answers": f"| option | answers |\n|---|---|\n{answers}",
    }


def filled(text: str) -> str:
    """Return the text with every generated part put in anew."""
    for name, block in blocks().items():
        pattern = rf"<!-- generated: {name} -->\n.*?<!-- end -->"
        new = f"<!-- generated: {name} -->\n{block}\n<!-- end -->"
        text, count = re.subn(pattern, lambda _, new=new: new, text, flags=re.DOTALL)
        if count != 1:
            raise ValueError(f"{FORMATS.name} must have one place for {name!r} (has {count})")
    return text


if __name__ == "__main__":
    FORMATS.write_text(filled(FORMATS.read_text(encoding="utf-8")), encoding="utf-8")
