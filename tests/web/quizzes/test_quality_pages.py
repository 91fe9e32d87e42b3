"""Question quality and rounds of ratings through their pages, and who sees nothing of them."""

from __future__ import annotations

import csv
import io
import re
from uuid import UUID, uuid4

import pytest

from academy.domain.assessment.key import right_response
from academy.domain.people import Role
from academy.services import demo_answers
from academy.services.quiz import open_quiz
from academy.services.sitting import submit_sitting
from academy.store.queries import rating_rounds as queries
from tests.support.clock import NOW, later
from tests.support.journey import form_of, give
from tests.web.quizzes.conftest import Site

MODULE = "working-safely"


def a_year(site: Site, people: int = 150) -> None:
    """Let the shop have the invented year of the demonstration behind it."""
    demo_answers.PEOPLE, before = people, demo_answers.PEOPLE
    try:
        with site.database.writing() as session:
            demo_answers.load_answers(
                session, shop_id=site.cast.shop.shop_id, course=site.course, now=NOW
            )
    finally:
        demo_answers.PEOPLE = before


def round_opened(site: Site, questions: int = 3, raters: tuple[str, ...] = ("jonas",)) -> str:
    """Ask for ratings through the form and return the round's id."""
    made = str(uuid4())
    shop = site.cast.shop
    known = {"jonas": shop.supervisor, "greta": shop.second_supervisor}
    module = site.course.module(MODULE)
    assert module is not None
    sent = {
        "round_id": made,
        "questions": [q.id for q in module.questions[:questions]],
        "raters": [str(known[name].person_id) for name in raters],
    }
    answer = site.client("ruth").post(f"/questions/ratings/new/{MODULE}", data=sent)
    assert answer.status_code == 303
    return made


def test_before_anybody_sat_a_quiz_the_page_says_so(site: Site) -> None:
    page = site.client("ruth").get("/questions/quality").text
    assert "Nobody has sat a quiz yet" in page
    assert "Nothing stands out" in page


def test_the_list_names_reasons_and_leads_to_each_question_and_quiz(site: Site) -> None:
    a_year(site)
    ruth = site.client("ruth")
    page = ruth.get("/questions/quality").text
    assert "The key may be wrong" in page
    assert "450 first sittings" in page
    for address in sorted(set(re.findall(r'href="(/questions/quality/[^"]+)"', page))):
        answer = ruth.get(address)
        assert answer.status_code == 200, address
        assert "nan" not in answer.text.lower().replace("finance", ""), address
    first = ruth.get(re.search(r'href="(/questions/quality/(?!quizzes)[^"]+)"', page)[1]).text  # type: ignore[index]
    assert "<svg" in first
    assert "What was answered" in first
    quiz = ruth.get(f"/questions/quality/quizzes/{MODULE}").text
    assert "Of 100 trainees about" in quiz
    assert "15 questions" in quiz


def test_below_thirty_answers_no_percentage_is_shown(site: Site) -> None:
    a_year(site, people=20)
    page = site.client("ruth").get(f"/questions/quality/quizzes/{MODULE}").text
    assert "from 30 on this page says" in page
    assert not re.search(r"\d+ % right", page)
    assert "of many, likely" in page


def test_a_question_is_dismissed_with_a_reason_and_put_back(site: Site) -> None:
    a_year(site)
    ruth = site.client("ruth")
    page = ruth.get("/questions/quality").text
    address = re.search(r'<h3><a href="([^"]+)"', page)[1]  # type: ignore[index]
    bare = ruth.post(address, data={"mending": "dismissed", "reason": ""})
    assert bare.status_code == 422
    sent = {"mending": "dismissed", "reason": "=looked at it", "note_id": str(uuid4())}
    after = ruth.post(address, data=sent, follow_redirects=True).text
    assert "Off the list until its wording changes." in after
    assert f'<h3><a href="{address}"' not in after
    assert "dismissed by Ruth Ansell" in after
    table = _table(ruth.get("/questions/quality.csv").data)
    row = next(row for row in table if row["question"] == address.rpartition("/")[2])
    assert row["decided"] == "dismissed: =looked at it"
    site.moment.now = later(minutes=1)
    back = {"mending": "to mend again", "reason": "no, it is not", "note_id": str(uuid4())}
    assert f'<h3><a href="{address}"' in ruth.post(address, data=back, follow_redirects=True).text


def _table(made: bytes) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(made.decode("utf-8-sig"), newline="")))


def test_the_table_holds_every_question_and_explains_its_columns(site: Site) -> None:
    a_year(site)
    answer = site.client("ruth").get("/questions/quality.csv")
    assert answer.mimetype == "text/csv"
    assert "attachment" in answer.headers["Content-Disposition"]
    table = _table(answer.data)
    assert len(table) == sum(len(module.questions) for module in site.course.modules)
    asked = [row for row in table if int(row["answers"])]
    assert sum(int(row["answers"]) for row in asked) == sum(
        module.blueprint.questions * 150 for module in site.course.modules[:3]
    )
    for row in table:
        if int(row["answers"]) < 30:
            assert row["item_rest"] == row["right_at_pass_mark_percent"] == ""
    page = site.client("ruth").get("/questions/quality").text
    assert "What the columns hold" in page


@pytest.mark.parametrize("who", ["jonas", "mira"])
@pytest.mark.parametrize(
    "address",
    [
        "/questions/quality",
        "/questions/quality.csv",
        f"/questions/quality/quizzes/{MODULE}",
        "/questions/quality/air-joke",
        "/questions/ratings",
        f"/questions/ratings/new/{MODULE}",
    ],
)
def test_nobody_but_an_owner_sees_it(site: Site, who: str, address: str) -> None:
    assert site.client(who).get(address).status_code == 403


def test_another_shops_owner_sees_nothing_of_it(site: Site) -> None:
    a_year(site, people=40)
    made = round_opened(site)
    piet = site.client("piet")
    assert "Nobody has sat a quiz yet" in piet.get("/questions/quality").text
    assert "No round has been opened yet" in piet.get("/questions/ratings").text
    assert piet.get(f"/questions/ratings/{made}").status_code == 404
    for verb in ("spread", "take-over"):
        assert piet.post(f"/questions/ratings/{made}/{verb}").status_code in {404, 422}
    assert site.client("sanna").get(f"/ratings/{made}").status_code == 404
    with site.database.reading() as session:
        row = queries.round_row(session, site.cast.shop.shop_id, UUID(made))
    assert row is not None
    assert row.shown_at is None


def test_an_examination_has_its_page_and_a_scheme_without_one_has_none(site: Site) -> None:
    ruth = site.client("ruth")
    page = ruth.get("/questions/quality/examinations/single-step-polishing").text
    assert "0 first sittings of this quiz or examination count so far" in page
    assert ruth.get("/questions/quality/examinations/two-step-correction").status_code == 404


@pytest.mark.parametrize("address", ["/questions/quality/nowhere", "/questions/quality/quizzes/no"])
def test_what_is_not_there_is_not_found(site: Site, address: str) -> None:
    assert site.client("ruth").get(address).status_code == 404


def test_an_owner_who_sits_a_quiz_is_not_told_its_answers(site: Site) -> None:
    a_year(site)
    ruth, actor = site.client("ruth"), site.cast.shop.owner
    module = site.course.module(MODULE)
    assert module is not None
    with site.database.writing() as session:
        open_quiz(session, actor=actor, sitting_id=uuid4(), module=module, now=NOW)
    page = ruth.get("/questions/quality").text
    for question in module.questions:
        assert f'/questions/quality/{question.id}"' not in page
        assert ruth.get(f"/questions/quality/{question.id}").status_code == 422
    assert ruth.get(f"/questions/quality/quizzes/{MODULE}").status_code == 422
    table = _table(ruth.get("/questions/quality.csv").data)
    assert MODULE not in {row["module"] for row in table}
    assert len(table) > 100


def test_a_round_is_blind_until_all_have_rated(site: Site) -> None:
    """Two supervisors; nobody reads the other's number, the author's, or a figure before the end."""
    a_year(site)
    made = round_opened(site, raters=("jonas", "greta"))
    jonas, greta, ruth = (site.client(name) for name in ("jonas", "greta", "ruth"))
    module = site.course.module(MODULE)
    assert module is not None
    before = greta.get(f"/ratings/{made}").text
    sent = {f"rating-{n}": "37" for n in (1, 2, 3)}
    assert jonas.post(f"/ratings/{made}", data=sent).status_code == 303
    alone = greta.get(f"/ratings/{made}").text
    assert alone == before
    for told in (
        "The author:",
        "37",
        "answers that count",
        f"{module.questions[0].rating_percent}",
    ):
        assert told not in alone
    owner = ruth.get(f"/questions/ratings/{made}").text
    assert "3 of 3 rated" in owner
    assert "37" not in owner
    assert "Take the ratings over" not in owner
    greta.post(f"/ratings/{made}", data={f"rating-{n}": "73" for n in (1, 2)})
    assert "The author:" not in jonas.get(f"/ratings/{made}").text
    after = greta.post(f"/ratings/{made}", data={"rating-3": "73 %"}, follow_redirects=True).text
    assert "All have rated" in after
    assert "37, 73" in after
    assert "Far apart: talk about it." in after
    assert "37, 73" in ruth.get(f"/questions/ratings/{made}").text
    jonas.post(f"/ratings/{made}", data={"rating-1": "70"})
    done = ruth.post(f"/questions/ratings/{made}/take-over", follow_redirects=True).text
    assert "Forms drawn from now on use these ratings" in done
    assert "70, 73" in done
    judged = ruth.get(f"/questions/quality/{module.questions[0].id}").text
    assert "70, 73" in judged
    assert "Counts for new forms" in judged
    assert "Keep my ratings" not in jonas.get(f"/ratings/{made}").text
    assert jonas.post(f"/ratings/{made}", data={"rating-1": "10"}).status_code == 422


def test_one_supervisor_is_enough_and_the_page_says_what_one_means(site: Site) -> None:
    made = round_opened(site)
    site.client("jonas").post(f"/ratings/{made}", data={f"rating-{n}": "50" for n in (1, 2, 3)})
    page = site.client("ruth").get(f"/questions/ratings/{made}").text
    assert "From one rater nobody can say how far another would differ" in page.replace("\n", " ")


@pytest.mark.parametrize("typed", ["101", "-1", "half", "1e2", "50.5", "９", "9999"])
def test_a_rating_that_is_no_whole_number_to_a_hundred_is_shown_again(
    site: Site, typed: str
) -> None:
    made = round_opened(site)
    sent = {"rating-1": typed, "rating-2": "40"}
    answer = site.client("jonas").post(f"/ratings/{made}", data=sent)
    assert answer.status_code == 422
    assert "Write a whole number from 0 to 100" in answer.text
    assert f'value="{typed}"' in answer.text
    with site.database.reading() as session:
        assert not queries.ratings_of(session, site.cast.shop.shop_id, UUID(made))


def test_who_is_in_training_rates_without_the_key(site: Site) -> None:
    made = round_opened(site, questions=10, raters=("jonas", "greta"))
    assert Role.TRAINEE in site.cast.shop.supervisor.roles
    assert "What is right" not in site.client("jonas").get(f"/ratings/{made}").text
    assert "What is right" in site.client("greta").get(f"/ratings/{made}").text


def test_a_form_without_questions_or_raters_is_shown_again(site: Site) -> None:
    ruth = site.client("ruth")
    assert ruth.post(f"/questions/ratings/new/{MODULE}", data={}).status_code == 422
    wrong = {"questions": ["nothing"], "raters": [str(site.cast.shop.supervisor.person_id)]}
    answer = ruth.post(f"/questions/ratings/new/{MODULE}", data=wrong)
    assert answer.status_code == 422
    assert "Choose at least one question" in answer.text


def test_a_result_says_that_its_pass_mark_was_rated_again(site: Site) -> None:
    module = site.course.module(MODULE)
    assert module is not None
    made = round_opened(site, questions=len(module.questions))
    sent = {f"rating-{n}": "60" for n in range(1, len(module.questions) + 1)}
    site.client("jonas").post(f"/ratings/{made}", data=sent)
    site.client("ruth").post(f"/questions/ratings/{made}/take-over")
    trainee, sitting_id = site.cast.shop.trainee, uuid4()
    with site.database.writing() as session:
        open_quiz(session, actor=trainee, sitting_id=sitting_id, module=module, now=NOW)
        for item in form_of(session, trainee.shop_id, sitting_id).questions:
            give(session, trainee, sitting_id, item.question.id, right_response(item.question))
        submit_sitting(session, actor=trainee, sitting_id=sitting_id, course=site.course, now=NOW)
    page = site.client("mira").get(f"/sittings/{sitting_id}/result").text
    assert "10 questions by 2 people, give or take" in page
