"""Short drills: find the error on a sheet, read a rod, read a tape, set the meter."""
