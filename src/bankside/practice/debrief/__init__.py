"""After a practice gauging: how far off it was, where that came from, and what to do better."""
