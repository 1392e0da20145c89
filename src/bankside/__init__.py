"""Bankside: discharge by the velocity-area method, from the sheet to a figure that stands up."""
