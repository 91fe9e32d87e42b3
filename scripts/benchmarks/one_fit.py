"""``python -m benchmarks.one_fit FILE``: one fit in a process of its own, for its peak memory.

The file holds either a dense table with gaps tagged, for the peer, or the
responses one by one, for us.
"""

from __future__ import annotations

import sys

import numpy as np


def main(file: str) -> None:
    """Fit what the file holds."""
    with np.load(file) as kept:
        held = dict(kept)
    if "dense" in held:
        import girth

        girth.onepl_mml(held["dense"])
        return
    from academy.domain.assessment.one_parameter import fit_one_parameter
    from academy.domain.assessment.responses import responses_at

    shape = tuple(int(size) for size in held["shape"])
    fit_one_parameter(responses_at(held["person"], held["item"], held["right"], shape))


if __name__ == "__main__":
    main(sys.argv[1])
