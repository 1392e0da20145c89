"""The journal of a gauging: entries that are appended and never changed, and what they come to."""
