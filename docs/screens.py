"""Join pictures of the app to the one in the README: `make test`, then `python docs/screens.py`.

The browser tests leave a picture of every screen in `out/screens`; they show invented streams.
"""

import sys
from pathlib import Path

from PIL import Image

SCREENS = Path(__file__).parents[1] / "out" / "screens"
JOINED = Path(__file__).parent / "app.png"

SHOWN = ("phone_light/set_out_left", "reading_ft", "leaving_ft")
WIDTH, HEIGHT, GAP, GROUND, COLOURS = 412, 839, 16, "#ffffff", 96


def main() -> int:
    """Write the picture; return 1, with a sentence, if there is nothing to join."""
    missing = [name for name in SHOWN if not (SCREENS / f"{name}.png").is_file()]
    if missing:
        print(f"{SCREENS} has no {missing[0]}.png: make test takes the pictures.", file=sys.stderr)
        return 1
    joined = Image.new("RGB", (len(SHOWN) * (WIDTH + GAP) - GAP, HEIGHT), GROUND)
    for place, name in enumerate(SHOWN):
        screen = Image.open(SCREENS / f"{name}.png").convert("RGB")
        joined.paste(
            screen.resize((WIDTH, HEIGHT), Image.Resampling.LANCZOS), (place * (WIDTH + GAP), 0)
        )
    joined.quantize(COLOURS).save(JOINED, optimize=True)
    return 0


if __name__ == "__main__":
    sys.exit(main())
