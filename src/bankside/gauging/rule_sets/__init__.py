"""The thresholds that checks and planning go by: named, sourced, and any of them overridable."""
