"""Why very small marks dull a dark panel, and what the eye can tell apart."""

from __future__ import annotations

from math import exp, pi, radians, tan

# The usual acuity of a healthy eye; light scattered by finer marks is still seen.
EYE_RESOLVES_ARCMIN = 1.0
GREEN_LIGHT_NM = 550.0


def specular_loss(roughness_nm: float, wavelength_nm: float = GREEN_LIGHT_NM) -> float:
    """Return the share of mirror reflection lost to roughness, ``1 − exp(−(4 π σ/λ)²)``.

    At normal incidence, σ the root-mean-square roughness, small against the
    wavelength (H. E. Bennett & J. O. Porteus 1961, J. Opt. Soc. Am. 51, 123).
    """
    return 1.0 - exp(-((4.0 * pi * roughness_nm / wavelength_nm) ** 2))


def smallest_width_um(distance_m: float, acuity_arcmin: float = EYE_RESOLVES_ARCMIN) -> float:
    """Return the width the eye just tells apart at a distance, ``d tan(1′)``, in micrometres."""
    return distance_m * 1e6 * tan(radians(acuity_arcmin / 60.0))
