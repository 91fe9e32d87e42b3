"""Gauges and whether they may be read from, panels and what is left on them, machines and products."""
