"""Shops, invitations, signing in and out."""

from __future__ import annotations

from datetime import datetime, timedelta

import pytest
from sqlalchemy import select, update
from sqlalchemy.orm import Session

from academy.domain.people import Role
from academy.keys.links import token_digest
from academy.services import people
from academy.services.actor import Actor, NotAllowed, NotFound
from academy.services.journal import check_journal
from academy.services.people import (
    InvitationUsed,
    NameTaken,
    NoRoleChosen,
    TooManyFailures,
)
from academy.store.database import Database
from academy.store.queries.people import credentials, member, members, shops_of, signed_in
from academy.store.tables.people import Invitation, Membership, Person, Shop
from tests.support.cast import OTHER_SHOP_NAME, SHOP_NAME, Cast, password_hash
from tests.support.clock import NOW, later


def invite(database: Database, owner: Actor, *roles: Role, at: datetime = NOW) -> str:
    """Invite 'Edda Voss' and return the link's token."""
    with database.writing() as session:
        return people.invite_person(
            session, actor=owner, name="Edda Voss", roles=roles or [Role.TRAINEE], now=at
        ).token


def accept(
    database: Database,
    token: str,
    at: datetime = NOW,
    *,
    sign_in_name: str = "edda",
    shop_name: str = "",
) -> Actor:
    """Join with a link."""
    with database.writing() as session:
        return people.accept_invitation(
            session, token=token, name="Edda Voss", sign_in_name=sign_in_name,
            password_hash=password_hash(), now=at, shop_name=shop_name,
        )  # fmt: skip


class TestInvitations:
    def test_an_invited_person_joins_with_the_roles_chosen(
        self, database: Database, cast: Cast
    ) -> None:
        token = invite(database, cast.shop.owner, Role.TRAINEE, Role.SUPERVISOR)
        joined = accept(database, token)
        assert joined.shop_id == cast.shop.shop_id
        assert joined.roles == {Role.TRAINEE, Role.SUPERVISOR}
        with database.reading() as session:
            known = member(session, cast.shop.shop_id, joined.person_id)
            assert known is not None
            assert (known.name, set(known.roles)) == ("Edda Voss", {*joined.roles})
            assert member(session, cast.strangers.shop_id, joined.person_id) is None

    def test_a_link_works_once(self, database: Database, cast: Cast) -> None:
        token = invite(database, cast.shop.owner)
        accept(database, token)
        with pytest.raises(InvitationUsed):
            accept(database, token, sign_in_name="edda2")

    @pytest.mark.parametrize(
        ("wait", "works"),
        [
            (timedelta(days=14), True),
            (timedelta(days=14, seconds=1), False),
            (timedelta(days=400), False),
        ],
        ids=["on the fourteenth day", "a second later", "a year later"],
    )
    def test_a_link_lasts_fourteen_days(
        self, database: Database, cast: Cast, wait: timedelta, works: bool
    ) -> None:
        token = invite(database, cast.shop.owner)
        if works:
            assert accept(database, token, NOW + wait).name == "Edda Voss"
            return
        with pytest.raises(InvitationUsed):
            accept(database, token, NOW + wait)

    @pytest.mark.parametrize("token", ["", "x", "0" * 43, "' OR 1=1 --"])
    def test_a_made_up_link_gets_the_answer_of_a_used_one(
        self, database: Database, cast: Cast, token: str
    ) -> None:
        with pytest.raises(InvitationUsed, match="used up or too old"):
            accept(database, token)

    def test_the_token_itself_is_not_kept(self, database: Database, cast: Cast) -> None:
        token = invite(database, cast.shop.owner)
        with database.reading() as session:
            kept = session.scalars(select(Invitation.token_digest)).one()
        assert kept == token_digest(token) != token

    @pytest.mark.parametrize("who", ["supervisor", "second_supervisor", "trainee"])
    def test_only_an_owner_invites(self, database: Database, cast: Cast, who: str) -> None:
        with pytest.raises(NotAllowed):
            invite(database, getattr(cast.shop, who))

    def test_an_invitation_names_a_role(self, database: Database, cast: Cast) -> None:
        with database.writing() as session, pytest.raises(NoRoleChosen):
            people.invite_person(session, actor=cast.shop.owner, name="Edda", roles=[], now=NOW)

    @pytest.mark.parametrize("name", ["mira", "MIRA", "  Mira "])
    def test_two_people_do_not_sign_in_under_one_name(
        self, database: Database, cast: Cast, name: str
    ) -> None:
        token = invite(database, cast.shop.owner)
        with pytest.raises(NameTaken):
            accept(database, token, sign_in_name=name)
        assert accept(database, token, sign_in_name="edda").name == "Edda Voss"

    def test_joining_stands_in_the_journal(self, database: Database, cast: Cast) -> None:
        before = _size(database, cast)
        accept(database, invite(database, cast.shop.owner))
        assert _size(database, cast) == before + 2


class TestANewShop:
    def test_its_first_owner_names_it(self, database: Database) -> None:
        with database.writing() as session:
            shop_id = people.open_shop(session, name="Unnamed", now=NOW)
            token = people.invite_first_owner(session, shop_id, NOW).token
        joined = accept(database, token, shop_name="Edda's Workshop")
        assert joined.roles == {Role.OWNER}
        with database.reading() as session:
            assert session.get_one(Shop, shop_id).name == "Edda's Workshop"

    def test_a_second_link_for_its_owner_ends_the_first(self, database: Database) -> None:
        with database.writing() as session:
            shop_id = people.open_shop(session, name="Unnamed", now=NOW)
            first = people.invite_first_owner(session, shop_id, NOW).token
            second = people.invite_first_owner(session, shop_id, NOW).token
        with pytest.raises(InvitationUsed):
            accept(database, first)
        assert accept(database, second).shop_id == shop_id

    def test_nobody_invited_later_renames_it(self, database: Database, cast: Cast) -> None:
        accept(database, invite(database, cast.shop.owner, Role.OWNER), shop_name="Mine now")
        with database.reading() as session:
            assert session.get_one(Shop, cast.shop.shop_id).name == SHOP_NAME


class TestGuessing:
    def fail(self, session: Session, times: int, every: timedelta = timedelta(0)) -> datetime:
        """Note so many failures for 'mira' and return the moment of the last."""
        at = NOW
        for number in range(times):
            at = NOW + number * every
            people.note_failure(session, "Mira ", at)
        session.flush()
        return at

    def test_four_mistakes_cost_nothing(self, database: Database, cast: Cast) -> None:
        with database.writing() as session:
            self.fail(session, 4)
            people.refuse_guessing(session, "mira", NOW)

    @pytest.mark.parametrize(
        ("failures", "wait"),
        [(5, 15), (6, 30), (7, 60), (8, 120), (10, 480), (12, 1920), (13, 3600), (40, 3600)],
    )
    def test_the_wait_doubles_up_to_an_hour(
        self, database: Database, cast: Cast, failures: int, wait: int
    ) -> None:
        with database.writing() as session:
            last = self.fail(session, failures)
            with pytest.raises(TooManyFailures):
                people.refuse_guessing(session, "mira", last + timedelta(seconds=wait - 1))
            people.refuse_guessing(session, "mira", last + timedelta(seconds=wait))

    def test_however_it_is_typed_it_is_the_same_name(self, database: Database, cast: Cast) -> None:
        with database.writing() as session:
            self.fail(session, 5)
            for name in ("mira", "MIRA", " Mira"):
                with pytest.raises(TooManyFailures, match="wait 1 minutes"):
                    people.refuse_guessing(session, name, NOW)

    def test_nobody_elses_name_is_slowed_down(self, database: Database, cast: Cast) -> None:
        with database.writing() as session:
            self.fail(session, 30)
            people.refuse_guessing(session, "ruth", NOW)

    def test_nobody_is_locked_out_for_good(self, database: Database, cast: Cast) -> None:
        with database.writing() as session:
            last = self.fail(session, 200, timedelta(seconds=10))
            people.refuse_guessing(session, "mira", last + timedelta(hours=1))

    def test_the_names_tried_are_kept_only_as_digests(self, database: Database, cast: Cast) -> None:
        with database.writing() as session:
            self.fail(session, 1)
            rows = session.connection().exec_driver_sql("SELECT * FROM sign_in_failures").all()
        assert len(rows) == 1
        assert "mira" not in repr(rows).casefold()


class TestSessions:
    def begin(self, database: Database, actor: Actor) -> str:
        with database.writing() as session:
            return people.start_session(
                session, person_id=actor.person_id, shop_id=actor.shop_id, now=NOW
            )

    def is_in(self, database: Database, token: str) -> bool:
        with database.reading() as session:
            return signed_in(session, token_digest(token)) is not None

    def test_a_token_opens_its_own_session(self, database: Database, cast: Cast) -> None:
        token = self.begin(database, cast.shop.supervisor)
        with database.reading() as session:
            here = signed_in(session, token_digest(token))
        assert here is not None
        assert here.person_id == cast.shop.supervisor.person_id
        assert here.roles == {Role.SUPERVISOR, Role.TRAINEE}
        assert (here.shop_name, here.demo) == (SHOP_NAME, False)
        assert (here.started_at, here.last_seen_at) == (NOW, NOW)

    def test_the_digest_in_the_database_opens_nothing(self, database: Database, cast: Cast) -> None:
        token = self.begin(database, cast.shop.owner)
        assert not self.is_in(database, token_digest(token))

    def test_signing_out_ends_that_session_and_no_other(
        self, database: Database, cast: Cast
    ) -> None:
        phone, tablet = (self.begin(database, cast.shop.trainee) for _ in range(2))
        with database.writing() as session:
            people.end_session(session, phone, later(minutes=1))
        assert not self.is_in(database, phone)
        assert self.is_in(database, tablet)

    def test_signing_out_everywhere_ends_all_of_ones_own(
        self, database: Database, cast: Cast
    ) -> None:
        own = [self.begin(database, cast.shop.trainee) for _ in range(2)]
        other = self.begin(database, cast.shop.owner)
        with database.writing() as session:
            people.end_all_sessions(session, cast.shop.trainee.person_id, NOW)
        assert [self.is_in(database, token) for token in (*own, other)] == [False, False, True]

    def test_a_leaver_has_no_session_and_stays_on_record(
        self, database: Database, cast: Cast
    ) -> None:
        token = self.begin(database, cast.shop.trainee)
        self.leave(database, cast.shop.trainee)
        assert not self.is_in(database, token)
        with database.reading() as session:
            assert list(shops_of(session, cast.shop.trainee.person_id)) == []
            left = [m.person_id for m in members(session, cast.shop.shop_id)]
            assert cast.shop.trainee.person_id not in left
            assert session.get(Person, cast.shop.trainee.person_id) is not None

    def leave(self, database: Database, actor: Actor) -> None:
        with database.writing() as session:
            session.execute(
                update(Membership)
                .where(Membership.shop_id == actor.shop_id, Membership.person_id == actor.person_id)
                .values(left_at=NOW)
            )

    def test_being_seen_moves_the_session_on(self, database: Database, cast: Cast) -> None:
        token = self.begin(database, cast.shop.trainee)
        with database.writing() as session:
            people.touch_session(session, token, later(minutes=5))
        with database.reading() as session:
            here = signed_in(session, token_digest(token))
        assert here is not None
        assert (here.started_at, here.last_seen_at) == (NOW, later(minutes=5))

    def test_a_session_moves_to_another_shop_of_ones_own(
        self, database: Database, cast: Cast
    ) -> None:
        owner, other_shop = cast.shop.owner, cast.strangers.shop_id
        token = self.begin(database, owner)
        with database.writing() as session:
            people.join_shop(session, other_shop, owner.person_id, [Role.TRAINEE], NOW)
            people.choose_shop(session, token=token, actor=owner, shop_id=other_shop)
        with database.reading() as session:
            here = signed_in(session, token_digest(token))
            assert here is not None
            assert (here.shop_name, set(here.roles)) == (OTHER_SHOP_NAME, {Role.TRAINEE})
            assert [s.name for s in shops_of(session, owner.person_id)] == [
                OTHER_SHOP_NAME,
                SHOP_NAME,
            ]

    def test_a_session_moves_to_no_shop_of_strangers(self, database: Database, cast: Cast) -> None:
        token = self.begin(database, cast.shop.owner)
        with database.writing() as session, pytest.raises(NotFound):
            people.choose_shop(
                session, token=token, actor=cast.shop.owner, shop_id=cast.strangers.shop_id
            )


def test_a_password_is_checked_under_the_name_however_it_is_typed(
    database: Database, cast: Cast
) -> None:
    with database.reading() as session:
        for typed in ("mira", " MIRA "):
            known = credentials(session, people.sign_in_key(typed))
            assert known is not None
            assert known.person_id == cast.shop.trainee.person_id
        assert credentials(session, people.sign_in_key("nobody")) is None


def _size(database: Database, cast: Cast) -> int:
    with database.reading() as session:
        return check_journal(session, cast.shop.shop_id).entries
