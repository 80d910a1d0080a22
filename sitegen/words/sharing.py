"""The words on share pictures."""

from sitegen.content.species import Species
from sitegen.genetics.loci import Sex
from sitegen.words.inheritance import birth_words
from sitegen.words.labels import sex_words
from sitegen.words.speech import _, capital


def animal_kicker(species: Species, sex: Sex, born: str) -> str:
    """``Corn snake, female, hatched 14 July 2020``; without the day where it is not known."""
    facts = [capital(species.name), sex_words(sex)]
    if born:
        facts.append(_("{came} {date}").format(came=birth_words(species).came, date=born))
    return _(", ").join(facts)


def offered_on(date: str) -> str:
    """The day on which an offer was made, which stays true when it is not one any more."""
    return _("Offered on {date}").format(date=date)


def project_kicker(species: Species) -> str:
    """``Corn snake, a project``."""
    return _("{species}, a project").format(species=capital(species.name))


def goal_line(goal: str) -> str:
    """What a project aims at."""
    return _("Goal: {goal}").format(goal=goal)


def drawing_mark() -> str:
    """What says that a picture is drawn."""
    return _("Drawing")


def card_in_words(name: str, line: str) -> str:
    """What stands on the picture, for who does not see it."""
    named = _("{name}.").format(name=name)
    return f"{named} {line}" if line else named
