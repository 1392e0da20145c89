"""Many gaugings together: whose sites they are, and what they say beside one another."""
