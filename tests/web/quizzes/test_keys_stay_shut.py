"""What is on a form of one's own is told on no page of the site until it is handed in."""

from __future__ import annotations

from collections.abc import Iterator
from random import Random
from typing import Any
from uuid import UUID, uuid4

import pytest
from werkzeug.routing import Rule

from academy.domain.assessment.forms import Form, laid_out
from academy.domain.assessment.frozen import DrawnForm, drawn_form_from_frozen
from academy.domain.assessment.key import right_response
from academy.domain.assessment.progress import Purpose
from academy.domain.curriculum.questions import Question
from academy.services.actor import Actor
from academy.services.sitting_rows import NewSitting, write_sitting
from academy.store.tables.examinations import Dispute
from academy.store.tables.study import Answer, Sitting
from tests.support.clock import NOW, later
from tests.web.quizzes.conftest import Site
from tests.web.quizzes.test_examination_pages import an_examination
from tests.web.quizzes.test_nothing_tells_the_key import CONDITIONS, plain, secrets_of, told_by


def a_form(
    site: Site,
    person: Actor,
    purpose: Purpose,
    questions: list[Question],
    *,
    begun: bool = True,
    on_paper: bool = False,
) -> UUID:
    """Write an open sitting of somebody that holds these questions."""
    made, chance = uuid4(), Random(7)
    examined = purpose is Purpose.EXAMINATION
    form = DrawnForm(Form(tuple(laid_out(q, chance) for q in questions)), (), 7)
    by = site.cast.shop.second_supervisor
    with site.database.writing() as session:
        new = NewSitting(
            made,
            person.shop_id,
            person.person_id,
            purpose,
            questions[0].module_id if purpose.decides_module else "",
            scheme_id="single-step-polishing" if examined else None,
            opened_by=by.person_id if examined else None,
            examination=CONDITIONS | {"on_paper": on_paper} if examined else None,
        )
        stored = write_sitting(session, new, form, NOW)
        stored.begun_at = NOW if examined and begun and not on_paper else None
    return made


def answer_and_hand_in(site: Site, name: str, made: UUID) -> None:
    """Answer every question right and hand in."""
    with site.database.writing() as session:
        stored = next(s for s in session.query(Sitting) if s.id == made)
        items = drawn_form_from_frozen(stored.form).form.questions
        for number, item in enumerate(items, 1):
            question = item.question
            session.add(
                Answer(
                    shop_id=stored.shop_id, id=uuid4(), sitting_id=made, number=number,
                    question_id=question.id, response=right_response(question), answered_at=NOW,
                )
            )  # fmt: skip
    assert site.client(name).post(f"/sittings/{made}/hand-in").status_code == 303


@pytest.fixture
def asked(site: Site) -> list[Question]:
    """Return six questions of one module, of every interaction that it has."""
    bank = sorted(site.course.modules[0].questions, key=lambda q: q.interaction)
    return bank[:: max(1, len(bank) // 6)][:6]


OPEN = [
    pytest.param(Purpose.QUIZ, True, id="the quiz of the module"),
    pytest.param(Purpose.EXAMINATION, True, id="an examination that runs"),
    pytest.param(Purpose.EXAMINATION, False, id="an examination that nobody has begun"),
    pytest.param(Purpose.REFRESHER, True, id="five questions"),
]


@pytest.mark.parametrize(("purpose", "begun"), OPEN)
def test_an_earlier_result_stays_shut_until_the_other_form_is_handed_in(
    site: Site, asked: list[Question], purpose: Purpose, begun: bool
) -> None:
    mira, client = site.cast.shop.trainee, site.client("mira")
    earlier = a_form(site, mira, Purpose.QUIZ, asked)
    answer_and_hand_in(site, "mira", earlier)
    address = f"/sittings/{earlier}/result"
    assert client.get(address).status_code == 200
    now_open = a_form(site, mira, purpose, asked[:2], begun=begun)
    shut = client.get(address)
    assert shut.status_code == 422
    assert "Hand in first" in shut.text
    assert not any(told_by(shut.text, question) for question in asked)
    if not begun:
        client.post(f"/sittings/{now_open}/begin")
    answer_and_hand_in(site, "mira", now_open)
    assert client.get(address).status_code == 200


def test_a_form_opened_in_another_shop_shuts_it_too(site: Site, asked: list[Question]) -> None:
    mira, strangers = site.cast.shop.trainee, site.cast.strangers
    earlier = a_form(site, mira, Purpose.QUIZ, asked)
    answer_and_hand_in(site, "mira", earlier)
    there = Actor(mira.person_id, strangers.shop_id, "", mira.roles)
    a_form(site, there, Purpose.QUIZ, asked[:1])
    assert site.client("mira").get(f"/sittings/{earlier}/result").status_code == 422


@pytest.mark.parametrize(("purpose", "begun"), OPEN)
def test_practice_says_nothing_of_a_question_that_is_being_asked(
    site: Site, asked: list[Question], purpose: Purpose, begun: bool
) -> None:
    mira = site.cast.shop.trainee
    practised = a_form(site, mira, Purpose.PRACTICE, asked[:1])
    a_form(site, mira, purpose, asked, begun=begun)
    page = site.client("mira").get(f"/sittings/{practised}/questions/1")
    assert page.status_code == 422
    assert not told_by(page.text, asked[0])


@pytest.mark.parametrize("name", ["jonas", "ruth"])
def test_who_decides_or_supervises_reads_no_key_while_being_asked(
    site: Site, asked: list[Question], name: str
) -> None:
    """Neither on a dispute's page, nor the key of somebody's paper, nor a question's figures."""
    shop = site.cast.shop
    person, mira = shop.supervisor if name == "jonas" else shop.owner, shop.trainee
    paper = a_form(site, mira, Purpose.EXAMINATION, asked, on_paper=True)
    closed = a_form(site, mira, Purpose.QUIZ, asked)
    dispute = uuid4()
    with site.database.writing() as session:
        session.add(
            Dispute(
                shop_id=mira.shop_id, id=dispute, sitting_id=closed, question_id=asked[0].id,
                question_digest=asked[0].digest, raised_by=mira.person_id, raised_at=NOW,
                reason="two are right",
            )
        )  # fmt: skip
    own = f"/examinations/{paper}/key" if name == "jonas" else f"/questions/quality/{asked[0].id}"
    client, pages = site.client(name), [f"/disputes/{dispute}", own]
    assert [client.get(page).status_code for page in pages] == [200, 200]
    a_form(site, person, Purpose.EXAMINATION, asked, begun=False)
    for page in pages:
        shut = client.get(page)
        assert shut.status_code == 422, page
        assert not any(told_by(shut.text, question) for question in asked)


def test_lessons_and_search_are_shut_while_one_is_examined_and_open_again_after(
    site: Site,
) -> None:
    made, client = an_examination(site), site.client("mira")
    module = site.course.modules[0]
    shut = [
        f"/course/{module.id}",
        f"/course/{module.id}/{module.lessons[0].id}",
        "/glossary",
        "/search?q=cord",
    ]
    assert {client.get(page).status_code for page in shut} == {200}
    client.post(f"/sittings/{made}/begin")
    assert {client.get(page).status_code for page in shut} == {422}
    assert client.get("/").status_code == 200
    assert {site.client("jonas").get(page).status_code for page in shut} == {200}
    site.moment.now = later(minutes=5)
    client.post(f"/sittings/{made}/hand-in")
    assert {client.get(page).status_code for page in shut} == {200}


def addresses(site: Site, rule: Rule, known: dict[str, list[str]]) -> Iterator[str]:
    """Yield the addresses of a view, for everything there is to put into them."""
    names = sorted(rule.arguments)
    if any(name not in known for name in names):
        return
    spread = max((len(known[name]) for name in names), default=1)
    with site.app.test_request_context():
        for n in range(spread):
            values: dict[str, Any] = {name: known[name][n % len(known[name])] for name in names}
            yield site.app.url_for(rule.endpoint, **values)


@pytest.mark.parametrize("name", ["mira", "jonas", "ruth"])
@pytest.mark.parametrize(("purpose", "begun"), OPEN)
def test_no_page_of_the_whole_site_tells_what_is_being_asked(
    site: Site, asked: list[Question], name: str, purpose: Purpose, begun: bool
) -> None:
    """Every address that can be opened, byte by byte, for each role."""
    shop = site.cast.shop
    person = {"mira": shop.trainee, "jonas": shop.supervisor, "ruth": shop.owner}[name]
    other = shop.supervisor if name == "mira" else shop.trainee
    earlier = a_form(site, person, Purpose.QUIZ, asked)
    answer_and_hand_in(site, name, earlier)
    practised = a_form(site, person, Purpose.PRACTICE, asked)
    papers = [a_form(site, other, Purpose.EXAMINATION, asked, on_paper=True)]
    now_open = a_form(site, person, purpose, asked, begun=begun)
    module = site.course.modules[0]
    known = {
        "sitting_id": [str(made) for made in (earlier, practised, now_open)],
        "examination_id": [str(made) for made in papers],
        "question_id": [question.id for question in asked],
        "position": ["1", "2", "3", "4", "5", "6"],
        "module_id": [module.id],
        "lesson_id": [lesson.id for lesson in module.lessons],
        "task_id": [task.id for task in site.course.tasks],
        "scheme_id": [scheme.id for scheme in site.course.schemes],
        "person_id": [str(person.person_id)],
    }
    rules = [r for r in site.app.url_map.iter_rules() if "GET" in (r.methods or ())]
    looked = {
        address
        for rule in rules
        if rule.endpoint not in {"static", "people.sign_out"}
        for address in addresses(site, rule, known)
    } | {f"/search?q={question.id}" for question in asked}
    client = site.client(name)
    pages = {address: plain(client.get(address).text) for address in sorted(looked)}
    hidden = [text for question in asked for text in secrets_of(question)]
    told = [(at, text) for at, words in pages.items() for text in hidden if text in words]
    assert told == []
    assert len(hidden) > 15
    assert len(pages) > 45, "the walk has to go somewhere"


def test_the_walk_would_find_it(site: Site, asked: list[Question]) -> None:
    """The same texts stand in the result once nothing is open: the search can fail."""
    made = a_form(site, site.cast.shop.trainee, Purpose.QUIZ, asked)
    answer_and_hand_in(site, "mira", made)
    words = plain(site.client("mira").get(f"/sittings/{made}/result").text)
    assert all(any(text in words for text in secrets_of(question)) for question in asked)
