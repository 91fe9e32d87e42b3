"""How many readings show a change of a given size."""

from __future__ import annotations

import math


def readings_needed(
    sd_um: float, resolve_um: float, *, power: float = 0.8, paired: bool = False
) -> int:
    """Return the readings needed on each side (paired: pairs) to see a change of `resolve_um`.

    n = ⌈c·((z₀.₉₇₅ + z_power)·s/δ)²⌉ with c = 2 for two independent means and
    1 for pairs, where `sd_um` is the standard deviation of the differences.
    The usual two-sided 5 % normal formula; it is a little short for very small
    n, where Student's t is wider.  Known: computed.
    """
    from scipy.special import ndtri

    z = float(ndtri(0.975)) + float(ndtri(power))
    return max(1, math.ceil((1 if paired else 2) * (z * sd_um / resolve_um) ** 2))
