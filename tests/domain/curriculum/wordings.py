"""Questions as plain words, for the rules of wording."""

from __future__ import annotations

from collections.abc import Sequence

from academy.domain.curriculum.kinds import Interaction
from academy.domain.curriculum.wording import OptionWording, Wording

OPTIONS = ("Over your shoulder", "On the workshop floor", "Around your left wrist")


def a_wording(
    *options: str,
    stem: str = "Where does the cord of a polisher go?",
    keys: Sequence[int] = (1,),
    interaction: Interaction = Interaction.CHOICE,
    question_id: str = "cord",
    **more: object,
) -> Wording:
    return Wording(
        question_id=question_id,
        module_id="safety",
        interaction=interaction,
        stem=stem.replace("**", ""),
        stem_markup=stem,
        options=tuple(
            OptionWording(number, text) for number, text in enumerate(options or OPTIONS, 1)
        ),
        keys=frozenset(keys),
        **more,  # type: ignore[arg-type]
    )
