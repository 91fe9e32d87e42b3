"""Before submission no byte of a page or reply tells a key, a reason, a mark or an explanation."""

from __future__ import annotations

import re
from html import unescape
from random import Random
from uuid import UUID, uuid4

import pytest
from flask.testing import FlaskClient

from academy.domain.assessment.forms import Form, laid_out
from academy.domain.assessment.frozen import DrawnForm
from academy.domain.assessment.key import right_response
from academy.domain.assessment.progress import Purpose
from academy.domain.curriculum.course import Course
from academy.domain.curriculum.kinds import Interaction
from academy.domain.curriculum.questions import Question
from academy.services.sitting_rows import NewSitting, write_sitting
from academy.store.tables.study import Sitting
from academy.web.quizzes.shown import typed_again
from tests.support.clock import NOW
from tests.web.quizzes.conftest import Site, hidden

CONDITIONS = {
    "minutes": 600,
    "language": "en",
    "on_paper": False,
    "extra_time_percent": 0,
    "reader": False,
    "interpreter": False,
    "larger_print": False,
}


def plain(html: str) -> str:
    """Return the words of some HTML."""
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", html)).split())


def open_texts(question: Question) -> str:
    """Return everything a candidate may read of a question."""
    parts = [question.stem_html, question.figure_html]
    parts += [option.text_html for option in (*question.options, *question.partners)]
    parts += [region.label for region in question.regions]
    for decision in question.decisions:
        parts += [decision.stem_html, *(option.text_html for option in decision.options)]
    return plain(" ".join(parts))


def secrets_of(question: Question) -> list[str]:
    """Return every text that may only be read after submission."""
    known = [question.explanation_html, question.rating_reason]
    known += [option.reason_html for option in question.options]
    known += [option.reason_html for d in question.decisions for option in d.options]
    words = [plain(text) for text in known]
    shown = open_texts(question)
    return [text for text in words if len(text) > 15 and text not in shown]


def everything(course: Course) -> list[Question]:
    """Return every question of the course."""
    return [question for module in course.modules for question in module.questions]


def in_parts(course: Course) -> list[list[Question]]:
    """Return every question of the course in forms short enough to be read again on each page."""
    asked = everything(course)
    return [asked[at : at + 12] for at in range(0, len(asked), 12)]


def a_sitting_of(site: Site, purpose: Purpose, questions: list[Question]) -> UUID:
    """Write a sitting that holds these questions."""
    made = uuid4()
    chance = Random(7)
    form = DrawnForm(Form(tuple(laid_out(q, chance) for q in questions)), (), 7)
    examined = purpose is Purpose.EXAMINATION
    trainee, by = site.cast.shop.trainee, site.cast.shop.supervisor
    with site.database.writing() as session:
        new = NewSitting(
            made,
            trainee.shop_id,
            trainee.person_id,
            purpose,
            "" if examined else site.course.modules[0].id,
            scheme_id="single-step-polishing" if examined else None,
            opened_by=by.person_id if examined else None,
            examination=CONDITIONS if examined else None,
        )
        write_sitting(session, new, form, NOW).begun_at = NOW if examined else None
    return made


def told_by(page: str, question: Question) -> list[str]:
    """Return what a page tells of a question that it must not."""
    words = plain(page)
    told = [text for text in secrets_of(question) if text in words]
    told += re.findall(r"data-(?:right|key|marks|correct)\b[^>]*", page)
    return told


@pytest.mark.parametrize("purpose", [Purpose.QUIZ, Purpose.EXAMINATION])
def test_no_page_of_a_sitting_tells_a_key_over_every_question(site: Site, purpose: Purpose) -> None:
    """Each question of the course is shown, answered wholly right, and shown again."""
    client, told = site.client("mira"), []
    secrets_met = 0
    for questions in in_parts(site.course):
        made = a_sitting_of(site, purpose, questions)
        for position, question in enumerate(questions, 1):
            secrets_met += len(secrets_of(question))
            pages = pages_of(client, f"/sittings/{made}/questions/{position}", question)
            told += [(question.id, found) for page in pages if (found := told_by(page, question))]
        around = client.get(f"/sittings/{made}/hand-in").text
        told += [(q.id, found) for q in questions if (found := told_by(around, q))]
        assert client.post(f"/sittings/{made}/hand-in").status_code == 303
    assert told == []
    assert secrets_met > 1000, "the search has to have something to look for"


def pages_of(client: FlaskClient, address: str, question: Question) -> list[str]:
    """Return every byte a candidate gets for a question before handing in."""
    before = client.get(address)
    assert before.status_code == 200
    sent = {"answer_id": str(uuid4()), "seen_number": hidden(before.text, "seen_number")}
    if question.interaction is Interaction.SCENARIO:
        sent |= {"decision": hidden(before.text, "decision"), "answer": "1"}
    else:
        sent |= typed_again(question, right_response(question))
    reply = client.post(address, data=sent)
    assert reply.status_code == 303, question.id
    after, refused = client.get(address), client.post(address, data={})
    return [before.text, reply.text, str(reply.headers), after.text, refused.text]


def test_a_right_and_a_wrong_answer_get_the_same_page(site: Site) -> None:
    """What differs after answering is what was answered and what is new in every page."""
    client = site.client("mira")
    questions = [q for q in everything(site.course) if q.interaction is Interaction.CHOICE][::9]
    made = a_sitting_of(site, Purpose.QUIZ, questions)
    for position, question in enumerate(questions, 1):
        address = f"/sittings/{made}/questions/{position}"
        pages = []
        for option in question.options:
            seen = hidden(client.get(address).text, "seen_number")
            sent = {"answer": str(option.number), "answer_id": str(uuid4()), "seen_number": seen}
            client.post(address, data=sent)
            pages.append(re.sub(r' checked|value="[^"]*"', "", client.get(address).text))
        assert len(set(pages)) == 1, question.id


def test_the_printed_paper_tells_no_key(site: Site) -> None:
    """Every question of the course on one paper, searched byte by byte; its key is apart."""
    made = a_sitting_of(site, Purpose.EXAMINATION, everything(site.course))
    with site.database.writing() as session:
        stored = session.get_one(Sitting, (site.cast.shop.shop_id, made))
        stored.begun_at = None
        stored.examination = CONDITIONS | {"on_paper": True}
    page = site.client("jonas").get(f"/examinations/{made}/paper")
    assert page.status_code == 200
    words = plain(page.text)
    key = plain(site.client("jonas").get(f"/examinations/{made}/key").text)
    for name in ("Mira Holt", made.hex[:8]):
        assert name in words, "the paper and its key are known by the same marks"
        assert name in key
    assert all(f"Question {n}: " in key for n in range(1, len(everything(site.course)) + 1))
    assert [q.id for q in everything(site.course) if any(x in words for x in secrets_of(q))] == []
    for name, status in (("jonas", 200), ("mira", 403), ("ruth", 403), ("sanna", 404)):
        assert site.client(name).get(f"/examinations/{made}/key").status_code == status, name


def test_the_search_finds_what_it_looks_for_in_a_result(site: Site) -> None:
    """After submission the same search finds reasons: it can fail."""
    questions = in_parts(site.course)[0]
    made = a_sitting_of(site, Purpose.QUIZ, questions)
    client = site.client("mira")
    assert client.post(f"/sittings/{made}/hand-in").status_code == 303
    result = client.get(f"/sittings/{made}/result").text
    assert all(told_by(result, question) for question in questions)
