"""The regions of a hotspot question."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape
from itertools import combinations

from academy.content.body import QuestionFile
from academy.content.options import Asked
from academy.content.schema import HotspotMatter
from academy.domain.curriculum.questions import Option, Region


def check_regions(file: QuestionFile, matter: HotspotMatter, listed: Sequence[int]) -> None:
    """Note regions beyond the figure, without a reason, or on top of one another."""
    for number, region in matter.regions.items():
        place = file.page.matter.place(["regions", number])
        if region.left + region.width > 100 or region.top + region.height > 100:
            file.problems.error(place, "region %(number)s reaches beyond the figure", number=number)
        if number not in listed:
            file.problems.error(
                place, "L17: region %(number)s has no reason in the list", number=number
            )
    for one, other in combinations(read_regions(matter), 2):
        if _overlap(one, other):
            file.problems.error(
                file.page.matter.place(["regions", other.number]),
                "regions %(one)s and %(other)s overlap",
                one=one.number,
                other=other.number,
            )


def read_regions(matter: HotspotMatter) -> tuple[Region, ...]:
    """Return the regions in the order of the front matter."""
    return tuple(
        Region(number, region.label, region.left, region.top, region.width, region.height)
        for number, region in matter.regions.items()
    )


def region_options(file: QuestionFile, matter: HotspotMatter, asked: Asked) -> tuple[Option, ...]:
    """Return an option for each region: its label, and the reason from the list."""
    labels = {number: region.label for number, region in matter.regions.items()}
    return tuple(
        Option(
            option.number,
            escape(labels.get(option.number, ""), quote=False),
            file.setter.set(option.rest or option.everything).html,
        )
        for option in asked.options
    )


def _overlap(one: Region, other: Region) -> bool:
    beside = one.left + one.width <= other.left or other.left + other.width <= one.left
    above = one.top + one.height <= other.top or other.top + other.height <= one.top
    return not (beside or above)
