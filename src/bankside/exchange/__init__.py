"""Open formats: what a survey and its gaugings become for other programs, and back."""
