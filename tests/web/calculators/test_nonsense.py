"""Whatever stands in the address, the answer is a page: a result or sentences, never a failure."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from academy.calculations.examples import EXAMPLES
from academy.calculations.offered import OFFERED
from academy.calculations.query import flat_texts
from tests.web.calculators.shown import Reader

NUMBERS = (
    "0",
    "-1",
    "1e-300",
    "1e300",
    "1e-9",
    "0.999999999999",
    "nan",
    "1,5",
    "1,500",
    "24",
    "1e15",
)
WORDS = ("", "x", "1;x", "1 2 3", "yes", "rotary", "pp", "um", "F", "eu", "sum", "%s", "%(label)s")
LONG = ("<script>", "\x00", "a" * 2000, "1 " * 3000)
TEXTS = st.sampled_from((*NUMBERS, *WORDS, *LONG))
SPARE = ("units", "more", "values", "items", "exposures-101-hours", "spots-0-before_um", "_anchor")


@given(name=st.sampled_from(sorted(OFFERED)), chosen=st.data())
def test_nonsense_is_answered_with_a_page(reader: Reader, name: str, chosen: st.DataObject) -> None:
    example = flat_texts(EXAMPLES[name])
    changed = chosen.draw(st.dictionaries(st.sampled_from([*example, *SPARE]), TEXTS, max_size=4))
    page = reader.open(name, example | changed)
    assert page.status in (200, 422)
    assert (page.status == 422) == ('role="alert"' in page.html)
    assert "<script>" not in page.html
    assert "%(" not in page.html.replace("%(label)s", "")
