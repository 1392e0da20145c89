"""What a reader of the record alone would not see of its journal, a sentence each."""

from collections.abc import Iterator

from bankside.gauging.journal.fold import Folded
from bankside.gauging.journal.words import thing_of, words_of

__all__ = ["notes"]


def notes(folded: Folded) -> Iterator[str]:
    """Yield what two devices say differently, and what has no place in the record."""
    for said in folded.values():
        if said.conflict:
            listed = " and ".join(
                dict.fromkeys(f'"{words_of(entry.value)}"' for entry in said.heads)
            )
            thing = thing_of(folded, said.what, said.value)
            yield (
                f"{thing[0].upper()}{thing[1:]}: {listed} were both said, and neither replaces the "
                f'other; "{words_of(said.value)}" is taken until someone says which is right.'
            )
    label, position = folded.get("site/label"), folded.get("site/position")
    placed = position is not None and position.value is not None
    if label is not None and label.value is not None and not placed:
        yield f'The label "{words_of(label.value)}" enters the record only with a position.'
