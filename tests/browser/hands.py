"""What a person's hands do in the browser: sign in, answer, fill a stage."""

from __future__ import annotations

from typing import Any

from playwright.sync_api import Page

from academy.domain.assessment.key import right_response
from academy.domain.curriculum.course import Course
from academy.domain.curriculum.kinds import Interaction
from academy.domain.curriculum.questions import Question

PASSWORD = "three wool mitts and a lamp"


def accept_invitation(page: Page, link: str, name: str, sign_in_name: str, shop: str = "") -> None:
    """Open an invitation's link, say who one is and choose a password."""
    page.goto(link)
    if shop:
        page.get_by_label("Name of the shop").fill(shop)
    page.get_by_label("Your name").fill(name)
    page.get_by_label("Your sign-in name").fill(sign_in_name)
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_role("button", name="Accept the invitation").click()
    page.wait_for_url(lambda url: "/invitations/" not in url)


def sign_in(page: Page, address: str, sign_in_name: str, password: str = PASSWORD) -> None:
    """Sign in on the sign-in page."""
    page.goto(f"{address}/sign-in")
    page.get_by_label("Your sign-in name").fill(sign_in_name)
    page.get_by_label("Password").fill(password)
    page.get_by_role("button", name="Sign in").click()
    page.wait_for_url(lambda url: "/sign-in" not in url)


def sign_out(page: Page) -> None:
    """Sign out from the head of the page."""
    page.get_by_role("button", name="Sign out").click()


def invite(page: Page, address: str, name: str, *roles: str) -> str:
    """Invite somebody and return the link on the slip."""
    page.goto(f"{address}/people/invitation")
    page.get_by_label("Name").fill(name)
    for role in roles:
        page.locator(f"input[name=roles][value={role}]").check()
    page.get_by_role("button", name="Make the invitation slip").click()
    return page.locator("#invitation-link").inner_text().strip()


def question_on(page: Page, course: Course) -> Question:
    """Return the question of the course that a page shows, by its situation."""
    shown = _plain(page.locator(".question").first.inner_text())
    fitting = [
        question
        for module in course.modules
        for question in module.questions
        if shown.startswith(_plain(_text_of(page, question.stem_html)))
    ]
    assert fitting, shown
    return max(fitting, key=lambda question: len(question.stem_html))


def answer_rightly(page: Page, question: Question) -> None:
    """Give the wholly right answer, decision by decision where the situation unfolds."""
    right = right_response(question)
    if question.interaction is Interaction.SCENARIO:
        for option in right["choices"].values():
            page.locator(f"input[name=answer][value='{option}']").check()
            page.get_by_role("button", name="Decide").click()
        return
    _fill_controls(page, question.interaction, right)
    page.get_by_role("button", name="Save the answer").click()


def _fill_controls(page: Page, interaction: Interaction, right: dict[str, Any]) -> None:
    for place, number in enumerate(right.get("order", ()), 1):
        page.locator(f"#place-{number}").select_option(str(place))
    for left, partner in right.get("pairs", {}).items():
        page.locator(f"#partner-{left}").select_option(str(partner))
    if "value" in right:
        page.locator("#answer").fill(right["value"].replace(".", ","))
    name = "region" if interaction is Interaction.HOTSPOT else "answer"
    for number in right.get("chosen", ()):
        page.locator(f"input[name={name}][value='{number}']").check()


def type_readings(page: Page, rows: list[list[str]]) -> None:
    """Type readings spot by spot and save them."""
    for spot, readings in enumerate(rows, 1):
        for number, typed in enumerate(readings, 1):
            page.locator(f"#reading-{spot}-{number}").fill(typed)
    page.get_by_role("button", name="Save the readings").click()


def _plain(text: str) -> str:
    return " ".join(text.split())


def _text_of(page: Page, html: str) -> str:
    text: str = page.evaluate(
        "html => { const box = document.createElement('div'); box.innerHTML = html;"
        " return box.textContent }",
        html,
    )
    return text
