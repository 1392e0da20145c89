"""Several crews that gauge one flow: how well each repeats itself, and how far crews differ."""
