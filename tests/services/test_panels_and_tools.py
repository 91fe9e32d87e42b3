"""What comes off a section by closed records, prepared defects, gauge studies, tools; on both databases."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from uuid import UUID, uuid4

import pytest

from academy.domain.practical.stages import PracticalKind, Stage
from academy.domain.practical.steps import StepBody
from academy.domain.workshop.machines import Machine
from academy.services import gauge_studies, panels, tools
from academy.services.actor import NotAllowed, NotFound
from academy.store.database import Database
from academy.store.queries.gauge_studies import study
from academy.store.queries.panels import sections_left
from academy.store.queries.tools import machines, product, set_up
from tests.support.cast import Cast
from tests.support.clock import NOW, later
from tests.support.course import a_course
from tests.support.journey import PanelSession, a_signed_practical
from tests.support.panel_work import readings


def test_each_closed_record_uses_up_the_budget_until_the_section_retires(
    database: Database, cast: Cast
) -> None:
    """110.0 to 105.5 and again: 9.0 µm of a budget of 8."""
    worked: dict[Stage, StepBody] = {Stage.AFTER: readings(["109.5", "105.5"])}
    with database.writing() as session:
        for day in (0, 1):
            a_signed_practical(
                session, cast.shop, a_course(), later(days=day), worked, kind=PracticalKind.COACHED
            )
            first, second = sections_left(session, cast.shop.shop_id)
            assert first.state.retired is (day == 1)
        assert first.state.spots_um[:3] == (1.0, 9.0, 0.0)
        assert (first.state.left_um, len(first.sessions)) == (-1.0, 2)
        assert second.state.used_um == 0


def test_an_open_practical_has_used_nothing_yet(database: Database, cast: Cast) -> None:
    with database.writing() as session:
        at_panel = PanelSession(session, cast.shop, a_course())
        at_panel.open()
        at_panel.work()
        assert sections_left(session, cast.shop.shop_id)[0].state.used_um == 0
        at_panel.close()
        assert sections_left(session, cast.shop.shop_id)[0].state.used_um == 0.8


def test_a_prepared_section_is_fresh_until_somebody_works_on_it(
    database: Database, cast: Cast
) -> None:
    section_id = cast.shop.bench.section_ids[0]
    new = panels.NewDefect(uuid4(), section_id, "swirls", "dry wash", 1)
    with database.writing() as session:
        for _ in range(2):
            panels.prepare_defect(session, actor=cast.shop.supervisor, new=new, now=NOW)
        session.flush()
        (first, _second) = sections_left(session, cast.shop.shop_id)
        assert (first.prepared, len(first.defects)) == (True, 1)
        a_signed_practical(session, cast.shop, a_course(), later(days=1))
        assert not sections_left(session, cast.shop.shop_id)[0].prepared
        with pytest.raises(NotFound):
            panels.prepare_defect(session, actor=cast.strangers.supervisor, new=new, now=NOW)
        with pytest.raises(NotAllowed):
            panels.prepare_defect(session, actor=cast.shop.trainee, new=new, now=NOW)


def a_study(cast: Cast, **overrides: object) -> gauge_studies.NewStudy:
    fields: dict[str, object] = {
        "id": uuid4(),
        "gauge_id": cast.shop.bench.gauge_id,
        "people": (cast.shop.supervisor.person_id, cast.shop.trainee.person_id),
        "sections": cast.shop.bench.section_ids,
        "repeats": 2,
    }
    return gauge_studies.NewStudy(**(fields | overrides))  # type: ignore[arg-type]


def test_a_study_asks_everybody_in_turn_and_then_answers(database: Database, cast: Cast) -> None:
    new, asked = a_study(cast), []
    with database.writing() as session:
        gauge_studies.begin_study(session, actor=cast.shop.supervisor, new=new, now=NOW)
        for first in ("100", "102", "101", "103"):
            found = study(session, cast.shop.shop_id, new.id)
            assert found is not None
            assert gauge_studies.answer_of(found) is None
            assert found.next_turn is not None
            asked.append(found.next_turn.person)
            gauge_studies.record_round(
                session, actor=cast.shop.supervisor, study_id=new.id, round_id=uuid4(),
                readings_um=(Decimal(first), Decimal(first) + 20), now=NOW,
            )  # fmt: skip
        found = study(session, cast.shop.shop_id, new.id)
        assert found is not None
        answer = gauge_studies.answer_of(found)
    assert asked == ["Jonas Pell", "Mira Holt"] * 2
    assert answer is not None
    assert answer.repeatability_um == pytest.approx(0.5**0.5)


def test_a_study_needs_several_of_everything_and_nothing_of_strangers(
    database: Database, cast: Cast
) -> None:
    one = cast.shop.supervisor.person_id
    twice: tuple[UUID, ...] = (one, one)
    with database.writing() as session:
        for wrong in (
            a_study(cast, people=(one,)),
            a_study(cast, people=twice),
            a_study(cast, sections=cast.shop.bench.section_ids[:1]),
            a_study(cast, repeats=1),
        ):
            with pytest.raises(gauge_studies.StudyOutOfBounds):
                gauge_studies.begin_study(session, actor=cast.shop.owner, new=wrong, now=NOW)
        for theirs in (
            a_study(cast, gauge_id=cast.strangers.bench.gauge_id),
            a_study(cast, sections=cast.strangers.bench.section_ids),
            a_study(cast, people=(one, cast.strangers.trainee.person_id)),
        ):
            with pytest.raises(NotFound):
                gauge_studies.begin_study(session, actor=cast.shop.owner, new=theirs, now=NOW)


def test_a_set_up_names_its_machine_and_a_sheet_is_read_by_each_person(
    database: Database, cast: Cast
) -> None:
    shop, machine_id, product_id, set_up_id, sheet_id = cast.shop, *(uuid4() for _ in range(4))
    with database.writing() as session:
        machine = tools.NewMachine("DA 1", Machine.FREE_SPINNING, 125, Decimal("15"))
        tools.add_machine(
            session, actor=shop.owner, machine_id=machine_id, machine=machine, now=NOW
        )
        tools.add_product(
            session, actor=shop.owner, product_id=product_id, label="Polish A", purpose="haze",
            now=NOW,
        )  # fmt: skip
        session.flush()
        sheet = tools.NewSheet(sheet_id, product_id, date(2025, 1, 31), "https://sheets.example/1")
        tools.add_sheet(session, actor=shop.owner, new=sheet, now=NOW)
        saved = tools.NewSetUp("One step", machine_id, 125, "foam", "Polish A", "4", product_id)
        tools.save_set_up(session, actor=shop.owner, set_up_id=set_up_id, set_up=saved, now=NOW)
        session.flush()
        for _ in range(2):
            tools.acknowledge_sheet(session, actor=shop.trainee, sheet_id=sheet_id, now=NOW)
            session.flush()
        found = set_up(session, shop.shop_id, set_up_id)
        assert found is not None
        assert (found.machine, found.product_id) == ("DA 1", product_id)
        for actor, read in ((shop.trainee, True), (shop.supervisor, False)):
            row = product(session, shop.shop_id, actor.person_id, product_id)
            assert row is not None
            assert row.sheet is not None
            assert row.sheet.read is read
        assert machines(session, shop.shop_id)[0].throw_mm == 15
        assert machines(session, cast.strangers.shop_id) == []
        with pytest.raises(NotFound):
            tools.acknowledge_sheet(
                session, actor=cast.strangers.trainee, sheet_id=sheet_id, now=NOW
            )
        with pytest.raises(NotFound):
            tools.save_set_up(
                session, actor=cast.strangers.owner, set_up_id=uuid4(), set_up=saved, now=NOW
            )
