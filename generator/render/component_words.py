"""Gives back the components of an application's mixtures by name, for the reasons that speak of them."""

from __future__ import annotations

from generator.evaluate.results import Answer, Application, ChoiceSet
from generator.pack.model import MEDIUM
from generator.pack.texts import Texts

MOST_NAMED = 3                       # alternatives that a name lists
NOT_ANSWERED = "a medium that is not answered"

Names = dict[tuple[str, int], str]   # by state and place of the component, from 1


def component_names(texts: Texts, application: Application) -> Names:
    """The title of each component of each state that has a mixture."""
    titles = dict(next((one.options for one in texts.inputs if one.id == MEDIUM), ()))
    return {(state.state, place): _name(titles, medium) for state in application.states if state.components
            for place, medium in enumerate((dict(state.answers).get(MEDIUM),
                                            *(one.medium for one in state.components)), 1)}


# private

def _name(titles: dict[str, str], medium: Answer | None) -> str:
    if not isinstance(medium, ChoiceSet) or len(medium.ids) > MOST_NAMED:
        return NOT_ANSWERED
    return " or ".join(titles[name] for name in medium.ids)
