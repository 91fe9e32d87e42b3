"""Median grain sizes of sanding grades.

FEPA 43-1 and ISO 6344 give the median grain of each P grade.  How deep a
grade scratches has no published table: only the proportion to grain size
is offered, and it is an assumption.
"""

from __future__ import annotations

from types import MappingProxyType

MEDIAN_GRAIN_UM = MappingProxyType(
    {"P800": 21.8, "P1000": 18.3, "P1200": 15.3, "P1500": 12.6, "P2000": 10.3, "P2500": 8.4}
)


def relative_scratch_depth(grade: str, reference: str = "P2000") -> float:
    """Return a grade's scratch depth against another's if depth follows grain size."""
    return MEDIAN_GRAIN_UM[grade] / MEDIAN_GRAIN_UM[reference]
