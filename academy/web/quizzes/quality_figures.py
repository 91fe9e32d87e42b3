"""The figures of judged questions, in the reader's words."""

from __future__ import annotations

import math
from collections.abc import Sequence

from academy.domain.assessment.shown_share import FEWEST_FOR_A_PERCENTAGE
from academy.domain.assessment.wording_evidence import PartTaken
from academy.domain.curriculum.questions import Question
from academy.figures import Figure
from academy.figures.option_bars import OptionBar, OptionBarWords, draw_option_bars
from academy.figures.rating_scatter import RatedPoint, RatingScatterWords, draw_rating_scatter
from academy.services.judged_questions import JudgedQuestion, JudgedWording
from academy.web.language import gettext as _
from academy.web.quizzes.quality_words import part_text

LABEL_LETTERS = 44
MOST_BARS = 12


def option_figure(wording: JudgedWording) -> Figure | None:
    """Return who takes which option; None before there are enough answers."""
    evidence = wording.evidence
    parts = shown_parts(evidence.parts)
    if evidence.answered < FEWEST_FOR_A_PERCENTAGE or not parts:
        return None
    bars = [_bar(wording.question, part, evidence.answered) for part in parts]
    said = "; ".join(
        _("%(label)s: %(taken)d of %(asked)d", label=b.label, taken=b.taken, asked=b.asked)
        for b in bars
    )
    words = OptionBarWords(
        caption=_(
            "Left: how many of %(asked)d took it, in percent; the full bar is right. Right: the share"
            " of their other questions these people had right, with its 95 %% interval. On a sound"
            " question the full mark lies furthest right.",
            asked=evidence.answered,
        ),
        alternative=_("Who takes which option. %(said)s.", said=said),
        taken=_("taken by (%)"),
        means=_("had right else (%)"),
        columns=(_("option"), _("taken"), _("had right else (%)"), _("95 % interval")),
    )
    return draw_option_bars(bars, words)


def shown_parts(parts: Sequence[PartTaken]) -> list[PartTaken]:
    """Return the parts to show: the right ones and the wrong ones most taken, as in the source."""
    if len(parts) <= MOST_BARS:
        return list(parts)
    kept = sorted(parts, key=lambda part: (not part.right, -part.taken))[:MOST_BARS]
    return [part for part in parts if part in kept]


def rating_figure(questions: Sequence[JudgedQuestion], ratings: dict[str, int]) -> Figure | None:
    """Return ratings beside what is expected at the pass mark; None before there are answers."""
    points = [
        RatedPoint(
            one.id,
            ratings.get(one.now.question.digest, one.now.question.rating_percent),
            one.now.near_cut.percent,
            one.now.evidence.answered,
        )
        for one in questions
        if one.now.near_cut and one.now.evidence.answered >= FEWEST_FOR_A_PERCENTAGE
    ]
    if not points:
        return None
    off = sum(point.off for point in points)
    words = RatingScatterWords(
        caption=_(
            "Each mark is a question with 30 answers or more. On the line the rating is met; a full"
            " mark lies more than 15 of 100 away from it."
        ),
        alternative=_(
            "Ratings against answers of %(questions)d questions; %(off)d lie more than 15 of 100 apart.",
            questions=len(points), off=off,
        ),
        across=_("rating (%)"),
        up=_("right at the pass mark (%)"),
        columns=(_("question"), _("rating (%)"), _("right at the pass mark (%)"), _("answers")),
    )  # fmt: skip
    return draw_rating_scatter(points, words)


def _bar(question: Question, part: PartTaken, asked: int) -> OptionBar:
    text = part_text(question, part.name)
    label = text if len(text) <= LABEL_LETTERS else text[: LABEL_LETTERS - 1].rstrip() + "…"
    if part.rest_mean is None:
        return OptionBar(label, part.taken, asked, part.right, None, 0, 0)
    mean = 100 * part.rest_mean
    half = 196 * (part.rest_sd or 0.0) / math.sqrt(max(part.compared, 1))
    lower, upper = max(0.0, mean - half), min(100.0, mean + half)
    return OptionBar(label, part.taken, asked, part.right, mean, lower, upper)
