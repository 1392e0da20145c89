"""Join pictures of the app to those in the documents: `make test`, then `python docs/screens.py`.

The browser tests leave a picture of every screen in `out/screens`; they show invented streams.
"""

import sys
from dataclasses import dataclass
from pathlib import Path

from PIL import Image

SCREENS = Path(__file__).parents[1] / "out" / "screens"
GAP, GROUND, COLOURS = 16, "#ffffff", 96


@dataclass(frozen=True)
class Joined:
    """A picture of screens side by side, each scaled to the same size in pixels."""

    name: str
    shown: tuple[str, ...]
    size: tuple[int, int]


PICTURES = (
    Joined("app.png", ("phone_light/set_out_left", "reading_ft", "leaving_ft"), (412, 839)),
    Joined("desk.png", ("desk_desktop/desk_survey", "desk_desktop/desk_gauging"), (960, 600)),
)


def main() -> int:
    """Write the pictures; return 1, with a sentence, where there is nothing to join."""
    return max([_write(picture) for picture in PICTURES])


def _write(picture: Joined) -> int:
    missing = [name for name in picture.shown if not (SCREENS / f"{name}.png").is_file()]
    if missing:
        print(f"{SCREENS} has no {missing[0]}.png: make test takes the pictures.", file=sys.stderr)
        return 1
    width, height = picture.size
    joined = Image.new("RGB", (len(picture.shown) * (width + GAP) - GAP, height), GROUND)
    for place, name in enumerate(picture.shown):
        screen = Image.open(SCREENS / f"{name}.png").convert("RGB")
        scaled = screen.resize(picture.size, Image.Resampling.LANCZOS)
        joined.paste(scaled, (place * (width + GAP), 0))
    joined.quantize(COLOURS).save(Path(__file__).parent / picture.name, optimize=True)
    return 0


if __name__ == "__main__":
    sys.exit(main())
