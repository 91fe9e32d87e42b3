"""The people of the tests, all invented: one shop, and a second one with strangers in it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from uuid import UUID, uuid4

from sqlalchemy.orm import Session

from academy.domain.people import Role
from academy.keys.passwords import hash_password
from academy.services import people, workshop
from academy.services.actor import Actor, Proof
from academy.store.queries.workshop import sections
from academy.store.tables.people import Person
from tests.support.clock import NOW
from tests.support.panel_work import a_gauge, a_panel

PASSWORD = "seven quiet lamps on the bench"
SHOP_NAME = "Quay Lane Workshop"
OTHER_SHOP_NAME = "Mill Road Workshop"


@dataclass(frozen=True, slots=True)
class Bench:
    """A shop's gauge and two sections of a steel panel."""

    gauge_id: UUID
    section_ids: tuple[UUID, ...]


@dataclass(frozen=True, slots=True)
class ShopPeople:
    """Everybody of one shop.  The supervisor is in training too."""

    shop_id: UUID
    owner: Actor
    supervisor: Actor
    second_supervisor: Actor
    trainee: Actor
    bench: Bench

    @property
    def everybody(self) -> tuple[Actor, ...]:
        """Return all of them."""
        return (self.owner, self.supervisor, self.second_supervisor, self.trainee)


@dataclass(frozen=True, slots=True)
class Cast:
    """The people of the shop, and the strangers next door."""

    shop: ShopPeople
    strangers: ShopPeople

    @property
    def names(self) -> tuple[str, ...]:
        """Return every name a person or a shop goes by."""
        people = (*self.shop.everybody, *self.strangers.everybody)
        return (*(actor.name for actor in people), SHOP_NAME, OTHER_SHOP_NAME)


def settle(session: Session) -> Cast:
    """Open both shops and let everybody join; each signs in by first name with PASSWORD."""
    names = ("Ruth Ansell", "Jonas Pell", "Greta Lindqvist", "Mira Holt")
    others = ("Piet Okker", "Sanna Viik", "Umar Dasgupta", "Noel Farrow")
    return Cast(_a_shop(session, SHOP_NAME, names), _a_shop(session, OTHER_SHOP_NAME, others))


def proof_of(actor: Actor) -> Proof:
    """Return the proof that somebody has just given their password."""
    return Proof(actor.person_id, NOW)


@cache
def password_hash() -> str:
    """Return the hash of PASSWORD, computed once."""
    return hash_password(PASSWORD)


def _a_shop(session: Session, name: str, names: tuple[str, ...]) -> ShopPeople:
    shop_id = people.open_shop(session, name=name, now=NOW)
    owner = _join(session, shop_id, names[0], Role.OWNER)
    supervisor = _join(session, shop_id, names[1], Role.SUPERVISOR, Role.TRAINEE)
    second = _join(session, shop_id, names[2], Role.SUPERVISOR)
    trainee = _join(session, shop_id, names[3], Role.TRAINEE)
    return ShopPeople(shop_id, owner, supervisor, second, trainee, _a_bench(session, supervisor))


def _join(session: Session, shop_id: UUID, name: str, *roles: Role) -> Actor:
    person = Person(
        id=uuid4(),
        name=name,
        sign_in_name=name.split()[0].casefold(),
        password_hash=password_hash(),
        created_at=NOW,
    )
    session.add(person)
    session.flush()
    people.join_shop(session, shop_id, person.id, roles, NOW)
    return Actor(person.id, shop_id, name, frozenset(roles))


def _a_bench(session: Session, supervisor: Actor) -> Bench:
    workshop.add_panel(session, actor=supervisor, panel_id=uuid4(), panel=a_panel(), now=NOW)
    gauge_id = workshop.add_gauge(
        session, actor=supervisor, gauge_id=uuid4(), gauge=a_gauge(), now=NOW
    )
    session.flush()
    return Bench(gauge_id, tuple(row.id for row in sections(session, supervisor.shop_id)))
