"""The figures of judged questions: bars and marks lie where the numbers say."""

from __future__ import annotations

import re
from xml.etree import ElementTree as ET

import pytest

from academy.figures.option_bars import BARS, MEANS, OptionBar, OptionBarWords, draw_option_bars
from academy.figures.rating_scatter import RatedPoint, RatingScatterWords, draw_rating_scatter

BAR_WORDS = OptionBarWords("caption", "said", "taken", "else", ("a", "b", "c", "d"))
SCATTER_WORDS = RatingScatterWords("caption", "said", "rating", "found", ("a", "b", "c", "d"))
BARS_DRAWN = (
    OptionBar("the key", 30, 60, True, 80.0, 75.0, 85.0),
    OptionBar("never taken", 0, 60, False, None, 0, 0),
)
NAMESPACE = "{http://www.w3.org/2000/svg}"


def shapes(svg: str, name: str) -> list[dict[str, str]]:
    root = ET.fromstring(svg)
    return [dict(one.attrib) for one in root.iter(NAMESPACE + name)]


def test_a_bar_is_as_long_as_its_share_and_a_mark_lies_at_its_mean() -> None:
    svg = draw_option_bars(BARS_DRAWN, BAR_WORDS).svg
    assert float(shapes(svg, "rect")[0]["width"]) == pytest.approx((BARS[1] - BARS[0]) / 2)
    (mark, _outline) = shapes(svg, "circle")
    assert float(mark["cx"]) == pytest.approx(MEANS[0] + 0.8 * (MEANS[1] - MEANS[0]), abs=0.01)
    assert mark["class"] == "figure-fill-6"


def test_the_numbers_stand_in_the_table_too() -> None:
    table = draw_option_bars(BARS_DRAWN, BAR_WORDS).table
    assert table.rows == (("the key", "30/60", "80", "75–85"), ("never taken", "0/60", "–", "–"))


def test_a_question_off_its_rating_is_drawn_full_and_first_in_the_table() -> None:
    points = [RatedPoint("near", 60, 70, 40), RatedPoint("off", 75, 20, 50)]
    figure = draw_rating_scatter(points, SCATTER_WORDS)
    full = [one for one in shapes(figure.svg, "circle") if one["class"] == "figure-fill-6"]
    assert len(full) == 1
    assert figure.table.rows[0] == ("off", "75", "20", "50")


@pytest.mark.parametrize(
    "svg",
    [
        draw_option_bars(BARS_DRAWN, BAR_WORDS).svg,
        draw_rating_scatter([RatedPoint("a", 0, 100, 30)], SCATTER_WORDS).svg,
    ],
    ids=["bars", "scatter"],
)
def test_nothing_inline_and_nothing_outside(svg: str) -> None:
    """The content policy forbids style and script; ids would clash."""
    assert not re.search(r'\b(style|id|href|onload)="', svg)
    for text in shapes(svg, "text"):
        assert 0 <= float(text["x"]) <= 320
