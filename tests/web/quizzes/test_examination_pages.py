"""Examinations, papers, practice and disputes through their pages, from opening to the decision."""

from __future__ import annotations

import re
from uuid import UUID, uuid4

import pytest

from academy.domain.assessment.forms import Form, FormQuestion
from academy.domain.assessment.frozen import DrawnForm, drawn_form_from_frozen
from academy.domain.assessment.key import right_response
from academy.domain.assessment.progress import Purpose
from academy.domain.curriculum.kinds import Interaction
from academy.domain.curriculum.scenario import best_path, path_taken
from academy.services.sitting_rows import NewSitting, write_sitting
from academy.store.queries.study import newest_answer_number
from academy.store.tables.study import Sitting
from academy.web.quizzes.shown import typed_again
from tests.support.clock import NOW, later
from tests.support.journey import sit
from tests.web.quizzes.conftest import Site, hidden


def an_examination(site: Site, **more: str) -> str:
    """Open an examination through the form and return its id."""
    made = str(uuid4())
    sent = {
        "examination_id": made,
        "trainee_id": str(site.cast.shop.trainee.person_id),
        "scheme_id": "single-step-polishing",
    }
    assert site.client("jonas").post("/examinations/new", data=sent | more).status_code == 303
    return made


def test_the_time_is_shown_on_each_page_and_ends_by_the_servers_clock(site: Site) -> None:
    made, client = an_examination(site, extra_time_percent="50"), site.client("mira")
    begin = client.get(f"/sittings/{made}", follow_redirects=True).text
    assert "60 minutes" in begin
    assert "50 % more time" in begin
    page = client.post(f"/sittings/{made}/begin", follow_redirects=True).text
    assert "60 minutes were left" in page
    assert "10:30" in page
    assert "10:30" in client.get(f"/sittings/{made}/hand-in").text
    site.moment.now = later(minutes=61)
    address = f"/sittings/{made}/questions/1"
    late = client.get(address).text
    assert "time of this examination is up" in late
    assert "Save the answer" not in late
    assert client.post(f"/sittings/{made}/hand-in").status_code == 303
    assert "Not passed yet" in client.get(f"/sittings/{made}/result").text


def test_one_that_is_never_handed_in_is_closed_from_the_supervisors_page(site: Site) -> None:
    made = an_examination(site)
    site.client("mira").post(f"/sittings/{made}/begin")
    jonas = site.client("jonas")
    assert "Close it" not in jonas.get(f"/examinations/{made}").text
    assert jonas.post(f"/examinations/{made}/close").status_code == 422
    site.moment.now = later(minutes=41)
    assert "time is up" in jonas.get("/examinations").text
    assert "Close it" in jonas.get(f"/examinations/{made}").text
    assert jonas.post(f"/examinations/{made}/close").status_code == 303
    assert "not passed yet" in jonas.get(f"/examinations/{made}").text


@pytest.mark.parametrize(
    ("address", "statuses"),
    [
        ("/examinations", {"ruth": 200, "jonas": 200, "mira": 403, "sanna": 200}),
        ("/examinations/{id}", {"ruth": 200, "jonas": 200, "mira": 403, "sanna": 404}),
        ("/sittings/{id}", {"ruth": 404, "jonas": 404, "mira": 303, "noel": 404}),
        ("/sittings/{id}/begin", {"greta": 404, "mira": 200, "noel": 404}),
        ("/sittings/{id}/result", {"greta": 404, "mira": 303, "noel": 404}),
        ("/disputes", {"ruth": 200, "jonas": 200, "mira": 403}),
        ("/experience", {"ruth": 403, "jonas": 200, "mira": 403}),
    ],
)
def test_who_opens_which_page(site: Site, address: str, statuses: dict[str, int]) -> None:
    made = an_examination(site)
    for name, status in statuses.items():
        reply = site.client(name).get(address.replace("{id}", made))
        assert reply.status_code == status, (name, address)
        assert status == 200 or "Mira Holt:" not in reply.text


@pytest.mark.parametrize("second", ["greta", "ruth"])
def test_two_people_enter_a_paper_and_a_difference_is_shown(site: Site, second: str) -> None:
    """The second reader is another supervisor, or the owner of a shop that has one supervisor."""
    made = an_examination(site, on_paper="yes", adjusted="larger_print")
    assert 'class="larger-print"' in site.client("jonas").get(f"/examinations/{made}/paper").text
    with site.database.reading() as session:
        stored = session.get_one(Sitting, (site.cast.shop.shop_id, UUID(made)))
        items = drawn_form_from_frozen(stored.form).form.questions
    right: dict[str, object] = {}
    for position, item in enumerate(items, 1):
        question, response = item.question, right_response(item.question)
        if question.interaction is Interaction.SCENARIO:
            names = {d.id: f"turn-{place}" for place, d in enumerate(question.decisions, 1)}
            typed = {names[d]: str(option) for d, option in response["choices"].items()}
        else:
            typed = typed_again(question, response)
        right |= {f"q{position}-{name}": value for name, value in typed.items()}
    other = {name: value for name, value in right.items() if not name.startswith("q2-")}
    jonas, other_reader = site.client("jonas"), site.client(second)
    assert jonas.post(f"/examinations/{made}/enter", data=right).status_code == 303
    differing = other_reader.post(f"/examinations/{made}/enter", data=other)
    assert differing.status_code == 422
    assert "differ at question 2;" in differing.text
    assert other_reader.post(f"/examinations/{made}/enter", data=right).status_code == 303
    assert "passed" in jonas.get(f"/examinations/{made}").text


def test_practice_says_at_once_what_was_right_and_that_it_is_not_counted(site: Site) -> None:
    client, module = site.client("mira"), site.course.modules[0]
    sent = {"practice_id": str(uuid4())}
    page = client.post(f"/course/{module.id}/practice", data=sent, follow_redirects=True)
    assert "practice, not counted" in page.text
    made = sent["practice_id"]
    with site.database.reading() as session:
        stored = session.get_one(Sitting, (site.cast.shop.shop_id, UUID(made)))
        items = drawn_form_from_frozen(stored.form).form.questions
    place = next(n for n, i in enumerate(items, 1) if not i.question.decisions)
    question = items[place - 1].question
    answer = typed_again(question, right_response(question)) | {"seen_number": "0"}
    address = f"/sittings/{made}/questions/{place}"
    reply = client.post(address, data=answer, follow_redirects=True).text
    assert "Taught under" in reply
    assert "practice, not counted" in reply
    assert "Save the answer" not in reply


def test_a_stale_window_is_shown_the_answer_that_stands(site: Site) -> None:
    """Answered on the phone after the desk's page was opened: the desk sees the phone's answer."""
    client, module = site.client("mira"), site.course.modules[0]
    made = str(uuid4())
    client.post(f"/course/{module.id}/sittings", data={"sitting_id": made})
    with site.database.reading() as session:
        stored = session.get_one(Sitting, (site.cast.shop.shop_id, UUID(made)))
        items = drawn_form_from_frozen(stored.form).form.questions
    place, item = next(
        (n, i) for n, i in enumerate(items, 1) if i.question.interaction is Interaction.CHOICE
    )
    address = f"/sittings/{made}/questions/{place}"
    seen = hidden(client.get(address).text, "seen_number")
    for option, status in (("2", 303), ("1", 422)):
        sent = {"answer": option, "seen_number": seen, "answer_id": str(uuid4())}
        reply = client.post(address, data=sent)
        assert reply.status_code == status
    assert "answered in another window" in reply.text
    assert re.search(r'value="2" checked', reply.text)
    with site.database.reading() as session:
        shop = site.cast.shop.shop_id
        assert newest_answer_number(session, shop, UUID(made), item.question.id) == 1


def test_an_examination_keeps_its_language_whatever_the_readers_is(site: Site) -> None:
    """The reader changes to German meanwhile: other pages follow, the examination does not."""
    made, client = an_examination(site), site.client("mira")
    client.post(f"/sittings/{made}/begin")
    site.app.extensions["babel"].locale_selector = lambda: "de"
    assert '<html lang="de"' in client.get("/").text
    for page in (f"/sittings/{made}/questions/1", f"/sittings/{made}/hand-in"):
        assert '<html lang="en"' in client.get(page).text, page
    refused = client.post(f"/sittings/{made}/questions/1", data={})
    assert '<html lang="en"' in refused.text
    assert '<html lang="de"' in site.client("jonas").get(f"/examinations/{made}").text


def test_a_language_that_no_page_speaks_is_refused(site: Site) -> None:
    sent = {
        "examination_id": str(uuid4()),
        "trainee_id": str(site.cast.shop.trainee.person_id),
        "scheme_id": "single-step-polishing",
        "language": "tlh-nonsense",
    }
    reply = site.client("jonas").post("/examinations/new", data=sent)
    assert reply.status_code == 422
    assert "Choose a language" in reply.text


def test_score_and_pass_mark_stand_on_the_supervisors_page_only_after_the_close(site: Site) -> None:
    made, client = an_examination(site), site.client("mira")
    client.post(f"/sittings/{made}/begin")
    page = f"/examinations/{made}"
    assert "Pass mark" not in site.client("jonas").get(page).text
    client.post(f"/sittings/{made}/hand-in")
    closed = site.client("jonas").get(page).text
    assert re.search(r"Score</dt>\s*<dd>0.00 of \d+ questions", closed)
    assert re.search(r"Pass mark of this form</dt>\s*<dd>\d+\.\d\d of \d+ questions", closed)


def test_one_nobody_began_is_withdrawn_and_another_is_opened(site: Site) -> None:
    made, jonas, mira = an_examination(site), site.client("jonas"), site.client("mira")
    sent = {
        "examination_id": str(uuid4()),
        "trainee_id": str(site.cast.shop.trainee.person_id),
        "scheme_id": "single-step-polishing",
    }
    second = jonas.post("/examinations/new", data=sent)
    assert second.status_code == 422
    assert "withdraw it first" in second.text
    for _ in range(2):
        assert jonas.post(f"/examinations/{made}/withdraw").status_code == 303
    assert "withdrawn before it was begun" in jonas.get(f"/examinations/{made}").text
    assert mira.get(f"/sittings/{made}").status_code == 404
    assert mira.post(f"/sittings/{made}/begin").status_code == 404
    assert made not in mira.get("/").text
    assert jonas.post("/examinations/new", data=sent).status_code == 303
    mira.post(f"/sittings/{sent['examination_id']}/begin")
    assert jonas.post(f"/examinations/{sent['examination_id']}/withdraw").status_code == 422


def test_five_questions_before_a_talk_from_handing_out_to_what_to_talk_about(site: Site) -> None:
    """Nothing says how many are owed, nobody is asked how sure they are."""
    jonas, mira = site.client("jonas"), site.client("mira")
    person = site.cast.shop.trainee.person_id
    with site.database.writing() as session:
        sit(session, site.cast.shop.trainee, site.course)
    assert "Mira Holt" in jonas.get("/five-questions").text
    assert "Before a talk" not in mira.get("/five-questions").text
    sent = {"refresher_id": str(uuid4())}
    assert mira.post(f"/five-questions/{person}", data=sent).status_code == 403
    site.moment.now = later(days=3)
    site.clients.clear()
    jonas, mira = site.client("jonas"), site.client("mira")
    for _ in range(2):
        assert jonas.post(f"/five-questions/{person}", data=sent).status_code == 303
    assert "waiting since 5 March 2026" in jonas.get("/five-questions").text
    start = mira.get("/").text
    assert "Five questions wait for you" in start
    assert not re.search(r"\b\d+ (due|overdue|owed|left)\b", start)
    made = sent["refresher_id"]
    reply = mira.post("/five-questions", data={"refresher_id": str(uuid4())})
    assert reply.headers["Location"].endswith(made)
    page = mira.get(f"/sittings/{made}/questions/1").text
    assert "of 5" in page
    assert mira.post(f"/sittings/{made}/hand-in").status_code == 303
    after = jonas.get("/five-questions").text
    assert "handed in on 5 March 2026" in after
    assert "To talk about:" in after
    stranger = site.cast.strangers.trainee.person_id
    assert jonas.post(f"/five-questions/{stranger}", data=sent).status_code == 404


def test_the_owner_reads_a_paper_and_examines_nobody(site: Site) -> None:
    made, owner = an_examination(site, on_paper="yes"), site.client("ruth")
    page = owner.get(f"/examinations/{made}").text
    assert "Enter the paper" in page
    assert "The key, to print" not in page
    assert "Withdraw it" not in page
    assert "Open an examination" not in owner.get("/examinations").text
    for address in ("paper", "key"):
        assert owner.get(f"/examinations/{made}/{address}").status_code == 403
    for action in ("close", "withdraw", "spoken"):
        assert owner.post(f"/examinations/{made}/{action}").status_code == 403


def test_a_situation_is_debriefed_with_both_paths_and_the_numbers_of_both(site: Site) -> None:
    module = next(m for m in site.course.modules for q in m.questions if q.decisions)
    question = next(q for q in module.questions if q.decisions and q.panel and q.panel.thickness_um)
    worst = {d.id: min(d.effects, key=lambda n: d.effects[n].marks) for d in question.decisions}
    taken, best = path_taken(question, worst), best_path(question)
    assert taken.marks_percent < best.marks_percent
    made = uuid4()
    form = DrawnForm(Form((FormQuestion(question, ()),)), (), 1)
    trainee = site.cast.shop.trainee
    with site.database.writing() as session:
        new = NewSitting(made, trainee.shop_id, trainee.person_id, Purpose.QUIZ, module.id)
        write_sitting(session, new, form, NOW)
    client, address = site.client("mira"), f"/sittings/{made}/questions/1"
    for step in taken.steps:
        sent = {
            "answer": str(step.chosen),
            "decision": step.decision.id,
            "answer_id": str(uuid4()),
            "seen_number": hidden(client.get(address).text, "seen_number"),
        }
        assert client.post(address, data=sent).status_code == 303
    client.post(f"/sittings/{made}/hand-in")
    page = client.get(f"/sittings/{made}/result").text
    yours, better = page.index("Your path"), page.index("The better path")
    for path, told in ((taken, page[yours:better]), (best, page[better:])):
        assert f"{path.marks_percent} of 100 for this question" in told
        assert f"At the end: film thickness {path.panel.thickness_um:.1f} µm" in told
        for step in path.steps:
            chose = next(o for o in step.decision.options if o.number == step.chosen)
            assert chose.text_html in told
            assert f"film thickness {step.panel.thickness_um:.1f} µm" in told
