"""What an owner decides for the shop, and the defaults of a shop that has decided nothing."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from zoneinfo import ZoneInfo, available_timezones

from academy.domain.metrology.budget import CAP_UM, FLOOR_UM, Budget
from academy.domain.metrology.verification import Combine
from academy.domain.sentences import TradeError

REMEASURE_DAYS = 14  # common practice, no source: two working weeks to come back to a panel


@dataclass(eq=False)
class UnknownTimeZone(TradeError):
    """Nobody knows the zone."""

    template = "There is no time zone '%(name)s'; write it as Europe/Berlin or America/Chicago"
    name: str


@dataclass(frozen=True, slots=True)
class ShopPolicy:
    """The owner's figures.

    ``car_cap_um`` and ``car_floor_um`` are for customers' cars.  They stand
    apart from the budgets of practice sections, which are there to be used.
    ``country``, two letters of ISO 3166-1, says whose vibration values hold.
    """

    time_zone: str = "UTC"
    combine: Combine = Combine.ROOT_SUM_SQUARE
    remeasure_days: int = REMEASURE_DAYS
    car_cap_um: Decimal = Decimal(CAP_UM)
    car_floor_um: Decimal = Decimal(FLOOR_UM)
    country: str = ""

    @property
    def zone(self) -> ZoneInfo:
        """Return the shop's clock."""
        return ZoneInfo(self.time_zone)

    def car_budget(self, clear_um: Decimal | None = None) -> Budget:
        """Return the budget of a customer's car; a known clear coat can only lower the cap."""
        return Budget(self.car_cap_um, self.car_floor_um, clear_um)


def checked_time_zone(name: str) -> str:
    """Return the name of a time zone that exists; raises UnknownTimeZone."""
    if name not in available_timezones():
        raise UnknownTimeZone(name)
    return name
