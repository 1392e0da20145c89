"""What a page at the stream asks and is told: JSON text in, JSON text out."""

from bankside.bank.answering import answer

__all__ = ["answer"]
