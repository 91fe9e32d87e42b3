"""What pages say about readings that rest on a gauge that failed."""

from __future__ import annotations

from flask import url_for

from academy.store.queries.gauges import SuspectPractical
from academy.web.language import day_text
from academy.web.language import gettext as _
from academy.web.parts import Listed


def doubt_says(one: SuspectPractical) -> str:
    """Return what rests on a gauge in doubt, and by when it is to be measured again."""
    return _(
        "%(gauge)s failed a verification after these readings. Measure %(section)s again by"
        " %(day)s. Until then everything stands as it is; from then on this practical does not"
        " count.",
        gauge=one.gauge_label,
        section=one.section_name,
        day=day_text(one.doubt.remeasure_by),
    )


def suspect_line(one: SuspectPractical) -> Listed:
    """Return one practical in doubt as a line that leads to where it is settled."""
    url = url_for("practicals.doubt", practical_id=one.practical_id)
    return Listed(f"{one.trainee_name}, {one.task_title}", url, doubt_says(one), "caution")
