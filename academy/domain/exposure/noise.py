"""Noise: a day's dose by three rules that do not agree with one another.

NIOSH recommends 85 dBA for 8 hours and halves the time for each 3 dB.
OSHA permits 90 dBA and halves it for each 5 dB.  The European directive
takes the energy mean over 8 hours.  Never mix a level of one with a table
of another; where the law differs, local law decides.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum
from math import exp2, log10

from academy.domain.sentences import TradeError

WORKING_DAY_H = 8.0

# Directive 2003/10/EC, article 3: daily levels.  The limit counts the
# protection worn, the action values do not.
LOWER_ACTION_LEX_DBA = 80.0
UPPER_ACTION_LEX_DBA = 85.0
LIMIT_LEX_DBA = 87.0


@dataclass(eq=False)
class NoTimeInNoise(TradeError):
    """A day without noise has no level: its logarithm does not exist."""

    template = "no time was spent in noise, so the day has no mean level"


@dataclass(frozen=True, slots=True)
class NoiseExposure:
    """An A-weighted level at the ear and how long it lasted."""

    level_dba: float
    hours: float


class DoseRule(Enum):
    """A rule that counts a day as a dose: criterion level for 8 hours and exchange rate."""

    NIOSH = (85.0, 3.0, 10.0)
    OSHA = (90.0, 5.0, 16.61)

    @property
    def criterion_dba(self) -> float:
        """The level that is the full dose in 8 hours."""
        return self.value[0]

    @property
    def exchange_db(self) -> float:
        """The rise in level that halves the time."""
        return self.value[1]

    @property
    def twa_factor(self) -> float:
        """The factor of the logarithm as the rule prints it (exactly it would be exchange/log10 2)."""
        return self.value[2]


@dataclass(frozen=True, slots=True)
class NoiseDose:
    """A dose, 100 % being the most a day may hold, and the same as an 8-hour level."""

    dose_percent: float
    twa_dba: float


def allowed_hours(rule: DoseRule, level_dba: float) -> float:
    """Return the time in which a level is the full dose, ``8/2^((L − criterion)/exchange)`` hours.

    NIOSH 98-126 (1998), section 1.1; 29 CFR 1910.95 appendix A, table G-16a.
    OSHA's coarser table G-16 differs from this formula at 92, 97 and 102 dBA.
    """
    return WORKING_DAY_H / exp2((level_dba - rule.criterion_dba) / rule.exchange_db)


def daily_dose(rule: DoseRule, exposures: Sequence[NoiseExposure]) -> NoiseDose:
    """Return the dose ``D = 100 Σ C/T`` and its 8-hour level, every level counting.

    NIOSH ``TWA = 10.0 log10(D/100) + 85``, OSHA ``TWA = 16.61 log10(D/100) + 90``.
    No threshold is applied: OSHA's dosimeters leave out what lies below 80
    or 90 dBA, so theirs may read lower.  Raises NoTimeInNoise.
    """
    share = sum(exposure.hours / allowed_hours(rule, exposure.level_dba) for exposure in exposures)
    if not share > 0.0:
        raise NoTimeInNoise
    return NoiseDose(100.0 * share, rule.twa_factor * log10(share) + rule.criterion_dba)


def lex_8h_dba(exposures: Sequence[NoiseExposure]) -> float:
    """Return the daily exposure level, ``10 log10(Σ T 10^(L/10)/8)``.

    Directive 2003/10/EC, article 2, by reference to ISO 1999.  Not the same as
    NIOSH's level: 3 dB is not exactly a doubling of energy.  Raises NoTimeInNoise.
    """
    energies = (exposure.hours * 10.0 ** (exposure.level_dba / 10.0) for exposure in exposures)
    mean_energy = sum(energies) / WORKING_DAY_H
    if not mean_energy > 0.0:
        raise NoTimeInNoise
    return 10.0 * log10(mean_energy)


def protected_dba_from_snr(level_dbc: float, snr_db: float, real_world_db: float = 4.0) -> float:
    """Return the level under a protector from its SNR and the C-weighted level.

    4 dB are taken off the protection for how it is really worn.  70 to 80
    dBA at the ear is wanted; less cuts the wearer off from warnings.
    """
    return level_dbc - (snr_db - real_world_db)


def protected_dba_from_nrr(twa_dba: float, nrr_db: float) -> float:
    """Return the level under a protector from its NRR, ``TWA − (NRR − 7)`` (29 CFR 1910.95 appendix B)."""
    return twa_dba - (nrr_db - 7.0)
