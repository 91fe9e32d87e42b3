"""The logbook: practice work, drills, what was to change, and the day at machines."""
