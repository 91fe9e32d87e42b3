"""How questions are worded: the flaws of wording that can be found by reading.

The rules L01 to L19 and L21 follow the item-writing guidelines summarised by
T. M. Haladyna, S. M. Downing and M. C. Rodriguez (2002), Applied Measurement in
Education 15, 309-334; the thresholds are our own.  L08 and L17 need the source
file and are checked where questions are read.
"""

from academy.domain.curriculum.wording.bank import bank_findings
from academy.domain.curriculum.wording.rules import LINT_RULES, wording_findings
from academy.domain.curriculum.wording.texts import OptionWording, Wording

__all__ = ["LINT_RULES", "OptionWording", "Wording", "bank_findings", "wording_findings"]
