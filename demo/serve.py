"""Open the app with the archive of the invented survey: the office's desk, and the bank.

The archive is made once, in `out/`, from the sheets and journals in `demo/survey`; what is done in
it stays. Remove it to begin anew.
"""

import sys
from pathlib import Path

from bankside.cli import main

HERE = Path(__file__).parent
ARCHIVE = HERE.parent / "out" / "marrowmere.db"


def serve(*arguments: str) -> int:
    """Make the archive if there is none, then serve it until it is stopped."""
    if not ARCHIVE.exists():
        ARCHIVE.parent.mkdir(exist_ok=True)
        for step in (("init", str(ARCHIVE)), ("import", str(ARCHIVE), str(HERE / "survey"))):
            code = main(["archive", *step])
            if code:
                return code
    return main(["serve", "--archive", str(ARCHIVE), "--open", *arguments])


if __name__ == "__main__":
    sys.exit(serve(*sys.argv[1:]))
