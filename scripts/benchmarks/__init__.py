"""What ``scripts/bench.py`` measures: each module here holds a tuple ``BENCHMARKS``."""
