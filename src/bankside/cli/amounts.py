"""How many of a thing there are, in words: the one place for "1 file" and "2 files"."""

__all__ = ["amount", "amount_or_no"]


def amount(count: int, one: str, several: str | None = None) -> str:
    """Return so many of a thing: "1 gauging", "30 gaugings"; `several` where no s is added."""
    return f"{count} {one if count == 1 else several or f'{one}s'}"


def amount_or_no(count: int, one: str, several: str | None = None) -> str:
    """Return so many of a thing within a sentence: "no gaugings" where there is none."""
    return amount(count, one, several) if count else f"no {several or f'{one}s'}"
