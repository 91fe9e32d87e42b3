"""The desk in a real browser: several records signed, one objected to, decided, amended, signed again."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from random import Random
from uuid import UUID, uuid4

import pytest
from playwright.sync_api import Page, expect
from sqlalchemy import delete, update

from academy.content.library import CourseLibrary
from academy.domain.curriculum.course import Course
from academy.domain.people import Role
from academy.domain.practical.record import record
from academy.domain.practical.second_judgement import drawn
from academy.domain.practical.stages import PracticalKind
from academy.domain.practical.steps import Judgement, Step, StepBody
from academy.services import practical as service
from academy.services.closing import close_practical
from academy.services.signing import sign_practical
from academy.settings import PROJECT, read_settings
from academy.store.database import Database, open_database
from academy.store.queries.practicals import stored_practical
from academy.store.schema import upgrade
from academy.store.tables.people import Membership, MembershipRole
from academy.web.app import create_app
from tests.browser.conftest import PageFor, served
from tests.browser.hands import sign_in
from tests.browser.looking import access_faults, small_targets, width_px
from tests.support.cast import PASSWORD, Cast, proof_of, settle
from tests.support.morning import verify_for_the_day
from tests.support.panel_work import good_bodies

DRAWN = next(str(n) for n in range(1000) if drawn(Random(str(n))))


@dataclass(frozen=True)
class Site:
    """A shop being served, with its database behind it."""

    address: str
    database: Database
    cast: Cast
    course: Course

    def worked(self, *, missed: bool = False) -> UUID:
        """Return a practical with everything recorded, still open; ``missed``: a critical criterion is not met."""
        task = self.course.task("single-step-polishing")
        assert task is not None
        now, shop, practical_id = datetime.now(UTC), self.cast.shop, uuid4()
        new = service.NewPractical(
            practical_id, shop.trainee.person_id, shop.bench.section_ids[0],
            shop.bench.gauge_id, PracticalKind.ASSESSED,
        )  # fmt: skip
        met = {c.id: not (missed and c.critical) for c in task.criteria if not c.measured}
        with self.database.writing() as session:
            service.open_practical(session, actor=shop.supervisor, new=new, task=task, now=now)
            session.flush()
            stored = stored_practical(session, shop.shop_id, practical_id)
            assert stored is not None
            grown = stored.practical
            for stage in grown.stages:
                body: StepBody = good_bodies(task)[stage]
                if isinstance(body, Judgement):
                    body = Judgement(met)
                step = Step(uuid4(), stage, body, now, shop.supervisor.person_id)
                grown = record(grown, step)
                service.add_step(session, shop.shop_id, grown, step)
        return practical_id

    def close(self, practical_id: UUID) -> None:
        """Close a practical at the panel."""
        with self.database.writing() as session:
            close_practical(
                session, actor=self.cast.shop.supervisor, practical_id=practical_id,
                now=datetime.now(UTC),
            )  # fmt: skip

    def page_of(self, practical_id: UUID) -> str:
        """Return the address of a practical."""
        return f"{self.address}/practicals/{practical_id}"


@pytest.fixture
def site(tmp_path: Path) -> Iterator[Site]:
    library = CourseLibrary(PROJECT / "content")
    settings = read_settings({"ACADEMY_INSTANCE": str(tmp_path)})
    database = open_database(settings.database_url)
    upgrade(database)
    with database.writing() as session:
        cast = settle(session)
        verify_for_the_day(session, cast.shop, datetime.now(UTC))
    with served(create_app(settings, database=database, library=library)) as address:
        yield Site(address, database, cast, library.course)
    database.close()


def test_closed_signed_by_both_objected_to_decided_and_amended(
    site: Site, page_for: PageFor
) -> None:
    """One record agreed, one objected to: the decision asks for an amendment, and both sign that."""
    agreed, wrong = site.worked(), site.worked(missed=True)
    site.close(wrong)
    supervisor, trainee, second = page_for(360, touch=True), page_for(320, touch=True), page_for()
    sign_in(supervisor, site.address, "jonas", PASSWORD)
    sign_in(trainee, site.address, "mira", PASSWORD)
    sign_in(second, site.address, "greta", PASSWORD)

    supervisor.goto(site.page_of(agreed))
    supervisor.get_by_label("not here", exact=True).check()
    supervisor.get_by_role("button", name="Close the record").click()
    expect(supervisor.locator("main")).to_contain_text("say why")
    supervisor.get_by_label("here, and has seen it").check()
    supervisor.get_by_role("button", name="Close the record").click()
    expect(supervisor.locator("main")).to_contain_text("the trainee was there")

    stale = page_for()
    sign_in(stale, site.address, "jonas", PASSWORD)
    stale.goto(f"{site.address}/practicals/desk")
    supervisor.get_by_role("link", name="Sign at the desk").click()
    expect(supervisor.locator("article.job-card")).to_have_count(2)
    _looks_right(supervisor)
    _sign(supervisor, "a wrong guess", 2)
    expect(supervisor.locator("main")).to_contain_text("do not belong together")
    expect(supervisor.locator("input[name=record]:checked")).to_have_count(2)
    _sign(supervisor, PASSWORD, 2)
    expect(supervisor.locator("body")).to_contain_text("2 records are signed")

    trainee.goto(f"{site.address}/practicals/desk")
    _looks_right(trainee)
    card = trainee.locator("article.job-card", has_text="not yet competent")
    card.get_by_role("link", name="I do not agree").click()
    expect(trainee.locator("main")).to_contain_text("Greta Lindqvist")
    _looks_right(trainee)
    trainee.get_by_label("What is wrong with it").fill("the hose was over my shoulder all the time")
    trainee.get_by_role("button", name="Object to this record").click()
    expect(trainee.locator("main")).to_contain_text("does not count")

    # the trainee countersigns the other one on the supervisor's device
    supervisor.goto(f"{site.address}/practicals/desk")
    supervisor.get_by_role("link", name="Mira Holt").click()
    expect(supervisor.locator("article.job-card")).to_have_count(1)
    _sign(supervisor, PASSWORD, 1)
    expect(supervisor.locator("body")).to_contain_text("One record is signed")

    second.goto(f"{site.address}/practicals/objections")
    second.locator("main").get_by_role("link", name="Mira Holt objects").click()
    second.get_by_label("Upheld, to be amended").check()
    second.get_by_label("Why", exact=True).fill("the photograph shows the hose over the shoulder")
    second.get_by_role("button", name="Decide").click()
    expect(second.locator("main")).to_contain_text("counts again once it is amended")
    # whoever assessed it decides nothing
    supervisor.goto(second.url)
    expect(supervisor.get_by_role("button", name="Decide")).to_have_count(0)

    supervisor.goto(site.page_of(wrong))
    supervisor.get_by_role("link", name="Amend this record").click()
    _looks_right(supervisor)
    for met in supervisor.locator("input[value=met]").all():
        met.check()
    supervisor.get_by_label("Why it is amended").fill("the objection was right")
    supervisor.get_by_role("button", name="Amend the record").click()
    expect(supervisor.locator("main")).to_contain_text("Superseded")

    # a desk opened before the amendment signs nothing
    _sign(stale, PASSWORD, 2)
    expect(stale.locator("main")).to_contain_text("amended since you opened the page")

    for page in (supervisor, trainee):
        page.goto(f"{site.address}/practicals/desk")
        _sign(page, PASSWORD, 1)
        expect(page.locator("body")).to_contain_text("One record is signed")
    trainee.goto(site.page_of(wrong))
    expect(trainee.locator("main")).to_contain_text("Mira Holt, seen and agreed")
    expect(trainee.locator("main")).to_contain_text("the objection was right")
    trainee.get_by_text("Superseded:").click()
    expect(trainee.locator("details[open]")).to_contain_text("not yet competent")
    _looks_right(trainee)


def test_another_shops_person_finds_nothing_of_it(site: Site, page_for: PageFor) -> None:
    practical_id = site.worked(missed=True)
    site.close(practical_id)
    stranger = page_for()
    sign_in(stranger, site.address, "sanna", PASSWORD)
    for address in (
        f"/practicals/{practical_id}/amendment",
        f"/practicals/{practical_id}/objection",
        f"/practicals/{practical_id}/plan",
        f"/practicals/desk/{site.cast.shop.trainee.person_id}",
    ):
        answer = stranger.goto(site.address + address)
        assert answer is not None
        assert answer.status == 404, address
    stranger.goto(f"{site.address}/practicals/desk")
    expect(stranger.locator("main")).to_contain_text("Nothing waits")


def test_a_drawn_practical_is_judged_again_by_somebody_who_has_not_seen_how(
    site: Site, page_for: PageFor
) -> None:
    practical_id = site.worked()
    site.close(practical_id)
    shop = site.cast.shop
    with site.database.writing() as session:
        sign_practical(
            session, actor=shop.supervisor, practical_id=practical_id,
            proof=proof_of(shop.supervisor), course=site.course, now=datetime.now(UTC), seed=DRAWN,
        )  # fmt: skip
    owner, second = page_for(), page_for(320, touch=True)
    sign_in(owner, site.address, "ruth", PASSWORD)
    sign_in(second, site.address, "greta", PASSWORD)
    second.goto(f"{site.address}/practicals/")
    expect(second.locator("main")).to_contain_text("waits to be judged again")
    expect(second.locator("main")).not_to_contain_text("competent")
    second.goto(site.page_of(practical_id))
    expect(second.get_by_role("heading", name="Outcome")).to_have_count(0)
    expect(second.get_by_role("heading", name="Record and signatures")).to_have_count(0)
    second.get_by_role("button", name="Show how it was judged").click()
    expect(second.get_by_role("heading", name="Outcome")).to_have_count(1)

    owner.goto(f"{site.address}/practicals/second-judgements")
    owner.locator("main").get_by_role("link", name="Single-step polishing").click()
    expect(owner.get_by_role("heading", name="Outcome")).to_have_count(0)
    _looks_right(owner)
    for answer in owner.locator("input[value=met]").all():
        answer.check()
    owner.locator("input[value='cannot be seen from the record']").first.check()
    owner.get_by_role("button", name="Keep my judgement").click()
    expect(owner.locator("main")).to_contain_text("Judged again by Ruth Ansell")
    expect(owner.locator("main")).to_contain_text("of 6 criteria")
    owner.goto(f"{site.address}/practicals/second-judgements")
    _looks_right(owner)


def test_a_new_supervisor_judges_the_reference_panel_before_assessing(
    site: Site, page_for: PageFor
) -> None:
    """What was agreed stays hidden until the last panel is judged."""
    shop = site.cast.shop
    with site.database.writing() as session:
        session.execute(
            update(Membership)
            .where(Membership.person_id == shop.second_supervisor.person_id)
            .values(joined_at=datetime.now(UTC))
        )
        # Greta was not yet here when the owner wrote down what the only supervisor saw
        session.execute(
            delete(MembershipRole).where(
                MembershipRole.person_id == shop.second_supervisor.person_id
            )
        )
    owner = page_for(320, touch=True)
    sign_in(owner, site.address, "ruth", PASSWORD)
    owner.goto(f"{site.address}/practicals/references/new?task=single-step-polishing")
    owner.get_by_label("What you call it").fill("just enough")
    owner.get_by_label("Section").select_option(index=1)
    owner.get_by_label("Jonas Pell").check()
    owner.locator("input[name=criterion-marks-gone][value=met]").check()
    owner.locator("input[name=criterion-no-new-marks][value=not-met]").check()
    owner.get_by_role("button", name="Keep the reference panel").click()
    expect(owner.locator("main")).to_contain_text("the shop's first supervisor")
    _looks_right(owner)
    with site.database.writing() as session:
        session.add(
            MembershipRole(
                shop_id=shop.shop_id,
                person_id=shop.second_supervisor.person_id,
                role=Role.SUPERVISOR,
            )
        )
    greta = page_for()
    sign_in(greta, site.address, "greta", PASSWORD)
    greta.goto(f"{site.address}/practicals/references")
    expect(greta.locator("main")).to_contain_text("1 of 1 are left")
    greta.get_by_role("link", name="just enough").click()
    _looks_right(greta)
    greta.locator("input[name=criterion-marks-gone][value=met]").check()
    greta.locator("input[name=criterion-no-new-marks][value=met]").check()
    greta.get_by_role("button", name="Keep my judgement").click()
    expect(greta.locator("main")).to_contain_text("1 of 2 criteria")
    expect(greta.locator("main")).to_contain_text("agreed: not met; you: met")
    _looks_right(greta)


def _sign(page: Page, password: str, records: int) -> None:
    boxes = page.locator("input[name=record]")
    expect(boxes).to_have_count(records)
    for box in boxes.all():
        box.check()
    page.locator("input[name=password]").fill(password)
    page.get_by_role("button", name="Sign the records ticked").click()


def _looks_right(page: Page) -> None:
    assert access_faults(page) == [], page.url
    size = page.viewport_size
    assert size is not None
    assert width_px(page) <= size["width"], page.url
    assert small_targets(page) == [], page.url
