"""Which values a country's law sets for a day's hand-arm vibration, as far as it is known here.

The directive sets the least that its member states must ask for; a state may
ask for more, and an employer's own assessment decides at the workplace.
Where nothing is known of a country the directive's values are shown, since
they are widely used, and the reader is told to look at the local rules.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from academy.domain.exposure.vibration import (
    ACTION_VALUE_M_S2,
    LIMIT_VALUE_M_S2,
    points_from_a8,
)
from academy.domain.sentences import Sentence, TradeError

# Bound by Directive 2002/44/EC: the member states, and (from memory: the text
# is marked as relevant to the EEA) Iceland, Liechtenstein and Norway.
BOUND_BY_THE_DIRECTIVE = frozenset(
    [
        "AT",
        "BE",
        "BG",
        "CY",
        "CZ",
        "DE",
        "DK",
        "EE",
        "ES",
        "FI",
        "FR",
        "GR",
        "HR",
        "HU",
        "IE",
        "IS",
        "IT",
        "LI",
        "LT",
        "LU",
        "LV",
        "MT",
        "NL",
        "NO",
        "PL",
        "PT",
        "RO",
        "SE",
        "SI",
        "SK",
    ]
)
# From memory: the directive's values, put into law by each before 2021 and kept.
SAME_VALUES: Mapping[str, str] = {
    "GB": "Control of Vibration at Work Regulations 2005 (the same values)",
}


@dataclass(eq=False)
class UnknownCountry(TradeError):
    """Not two letters of ISO 3166-1."""

    template = "'%(code)s' is no country; choose one from the list"
    code: str


@dataclass(frozen=True, slots=True)
class SetByLaw(Sentence):
    """The values are the law's."""

    template = "The values are those of %(law)s; national rules may ask for more"
    law: str


@dataclass(frozen=True, slots=True)
class WidelyUsed(Sentence):
    """Nothing is known of the country's law."""

    template = (
        "The values are those of Directive 2002/44/EC, which are widely used; no values of this"
        " country are held here, so look at the rules where you work"
    )


@dataclass(frozen=True, slots=True)
class NoCountryStated(Sentence):
    """The shop has not said where it is."""

    template = (
        "The values are those of Directive 2002/44/EC, which are widely used; the owner has not"
        " said in which country this shop is, so look at the rules where you work"
    )


Basis = SetByLaw | WidelyUsed | NoCountryStated


@dataclass(frozen=True, slots=True)
class VibrationValues:
    """The two daily values, A(8) in m/s², and where they come from."""

    action_m_s2: float
    limit_m_s2: float
    basis: Basis

    @property
    def action_points(self) -> float:
        """Return the action value in points."""
        return points_from_a8(self.action_m_s2)

    @property
    def limit_points(self) -> float:
        """Return the limit value in points."""
        return points_from_a8(self.limit_m_s2)


def vibration_values(country: str) -> VibrationValues:
    """Return the values to judge a day by in a country, two letters of ISO 3166-1 or nothing."""
    return VibrationValues(ACTION_VALUE_M_S2, LIMIT_VALUE_M_S2, _basis(country))


def _basis(country: str) -> Basis:
    if not country:
        return NoCountryStated()
    if country in BOUND_BY_THE_DIRECTIVE:
        return SetByLaw("Directive 2002/44/EC, article 3")
    if country in SAME_VALUES:
        return SetByLaw(SAME_VALUES[country])
    return WidelyUsed()


def checked_country(code: str) -> str:
    """Return two capital letters, or nothing; raises UnknownCountry."""
    if code and not (len(code) == 2 and code.isascii() and code.isalpha() and code.isupper()):
        raise UnknownCountry(code)
    return code
