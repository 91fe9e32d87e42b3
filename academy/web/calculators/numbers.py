"""How a calculated number is written on a page: as many digits as mean something."""

from __future__ import annotations

from decimal import Decimal

from babel.numbers import format_decimal

from academy.web.language import gettext as _
from academy.web.language import locale

DIGITS = 4
SMALLEST_PLAIN, LARGEST_PLAIN = 1e-4, 1e9
_RAISED = str.maketrans("-0123456789", "⁻⁰¹²³⁴⁵⁶⁷⁸⁹")


def plain_number(number: Decimal | int) -> str:
    """Return a number with all its digits, nothing between thousands, and a true minus sign."""
    places = max(0, -int(number.as_tuple().exponent)) if isinstance(number, Decimal) else 0
    pattern = "0." + "0" * places if places else "0"
    written = str(format_decimal(number, pattern, locale=locale()))
    return written.replace("-", "\N{MINUS SIGN}")


def rounded_number(value: float) -> str:
    """Return a number with four significant digits; very small and large ones with a power of ten."""
    if isinstance(value, int):
        return plain_number(value)
    if value and not SMALLEST_PLAIN <= abs(value) < LARGEST_PLAIN:
        mantissa, _e, power = f"{value:.{DIGITS - 2}e}".partition("e")
        return (
            f"{plain_number(Decimal(mantissa))}\u2009×\u200910{str(int(power)).translate(_RAISED)}"
        )
    exact = Decimal(f"{value:.{DIGITS}g}")
    whole = exact == exact.to_integral_value()
    return plain_number(exact.quantize(Decimal(1)) if whole else exact.normalize())


def share_number(value: float) -> str:
    """Return a share in percent with two decimals; a share that only rounds to all or nothing says so."""
    rounded = Decimal(f"{value * 100:.2f}")
    if rounded == 100 and value < 1:
        return _("more than %(share)s %%", share=plain_number(Decimal("99.99")))
    if rounded == 0 and value > 0:
        return _("less than %(share)s %%", share=plain_number(Decimal("0.01")))
    return f"{plain_number(rounded)}\N{NO-BREAK SPACE}%"
