"""Why the app shows a figure or goes by a rule: two sentences and a source for each, by its key."""
