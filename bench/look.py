"""What a look at an unfinished or finished gauging costs, as the page asks for it after each entry.

A section of 27 verticals with two points each, every fourth figure read back and written again:
about 200 entries. What is printed is processor time on this machine; a browser's Python takes
about twice as long on the same processor, a phone several times.
"""

import json
from statistics import median
from time import process_time
from typing import Any

from bankside.bank import answer

VERTICALS = 25
ROUNDS = 40


def entries() -> list[dict[str, Any]]:
    """The journal of the whole gauging."""
    said: list[tuple[str, Any]] = [("units/length", "ft"), ("units/velocity", "ft/s")]
    for place in range(VERTICALS + 2):
        where = f"channels/1/verticals/v{place}"
        said.append((f"{where}/tape", str(place)))
        if place in (0, VERTICALS + 1):
            said += [(f"{where}/edge", "right" if place else "left"), (f"{where}/depth", "0")]
            continue
        deep = place * (VERTICALS + 1 - place) / 100
        said.append((f"{where}/depth", f"{1 + deep:.2f}"))
        said += [
            (f"{where}/readings/r{point}", {"value": f"{speed + deep:.2f}", "fraction": at})
            for point, at, speed in ((1, 0.2, 0.8), (2, 0.8, 0.5))
        ]
    said += [pair for i, pair in enumerate(said) if i % 2 and "/edge" not in pair[0]]
    made: list[dict[str, Any]] = []
    last: dict[str, str] = {}
    for number, (what, value) in enumerate(said, 1):
        entry = {
            "id": f"e{number}",
            "gauging": "bench",
            "device": "bench",
            "sequence": number,
            "at": f"2026-07-14T10:{number // 60 % 60:02}:{number % 60:02}-07:00",
            "what": what,
            "value": value,
        }
        if what in last:
            entry["replaces"] = [last[what]]
        last[what] = f"e{number}"
        made.append(entry)
    return made


def milliseconds(request: dict[str, Any]) -> float:
    """The median processor time of an ask."""
    text = json.dumps(request)
    times = []
    for _ in range(ROUNDS):
        start = process_time()
        reply = answer(text)
        times.append(process_time() - start)
    assert json.loads(reply)["ok"]
    return 1000 * median(times)


def main() -> None:
    """Print what each ask takes."""
    journal = entries()
    print(f"{len(journal)} entries, {VERTICALS + 2} verticals")
    for name, request in {
        "look": {"ask": "look", "entries": journal},
        "look, beside the last visit": {"ask": "look", "entries": journal, "earlier": journal},
        "look, half-way": {"ask": "look", "entries": journal[: len(journal) // 3]},
        "note": {"ask": "note", "entries": journal},
        "record": {"ask": "record", "entries": journal},
    }.items():
        print(f"{name:30} {milliseconds(request):6.1f} ms")


if __name__ == "__main__":
    main()
