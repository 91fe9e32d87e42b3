"""Measuring: readings, their statistics, gauges, removal with its uncertainty, decisions."""
