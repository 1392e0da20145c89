"""The report of a survey: what it says, as content composed once, and its map and figures."""
