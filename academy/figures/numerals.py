"""How a figure writes its numbers: the digits that mean something, and a true minus."""

from __future__ import annotations

import math

# Keeps a number and its unit on one line.
TIED = "\N{NO-BREAK SPACE}"


def written(value: float, decimals: int = 1) -> str:
    """Write a number with at most ``decimals`` decimals, without trailing noughts."""
    text = f"{value:.{decimals}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    text = "0" if text == "-0" else text
    return text.replace("-", "\N{MINUS SIGN}")


def significant(value: float, digits: int = 3) -> str:
    """Write a number with ``digits`` significant digits, never in powers of ten."""
    if value == 0:
        return "0"
    decimals = digits - 1 - math.floor(math.log10(abs(value)))
    return written(round(value, decimals), max(decimals, 0))


def measured(value: float, unit: str, decimals: int = 1) -> str:
    """Write a number with its unit."""
    return f"{written(value, decimals)}{TIED}{unit}"


def between(low: float, high: float, unit: str, decimals: int = 1) -> str:
    """Write a range with its unit; one number where both ends are the same."""
    if low == high:
        return measured(low, unit, decimals)
    return f"{written(low, decimals)}{TIED}to{TIED}{measured(high, unit, decimals)}"
