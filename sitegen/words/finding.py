"""The sentence by which a list of animals is narrowed, with its choices, and what is said when none fits."""

from collections.abc import Iterable
from decimal import Decimal

from sitegen.genetics.loci import Sex
from sitegen.words.numbers import small_number
from sitegen.words.speech import _, ngettext, when_asked

NEAR = 3
"""So many near misses are shown at most."""
_STEPS = tuple(Decimal(step) * 10**power for power in range(5) for step in (10, 15, 20, 30, 50, 75))


finding_sentence = when_asked(
    "[{sex} {species}] that [shows {shows}] and [has {chance} for {gene}], [{price}], [can go {go}]; {order}"
)
"""The sentence, with its fields in braces; what stands in brackets is one condition."""


def field_label(name: str) -> str:
    """What a field is called, for those who do not see it in its sentence."""
    return {
        "sex": _("Sex"), "species": _("Species"), "shows": _("Shows"), "chance": _("How sure"), "gene": _("Gene"),
        "gene2": _("Second gene"), "gene3": _("Third gene"), "price": _("Price"), "go": _("When it can go"),
        "order": _("Order"),
    }[name]  # fmt: skip


def anything(name: str) -> str:
    """What stands in a field while nothing is chosen."""
    return {
        "sex": _("a female or male"), "species": _("of any species"), "shows": _("any look"),
        "chance": _("any chance"), "gene": _("any gene"), "gene2": _("anything else"), "gene3": _("anything else"),
        "price": _("at any price"), "go": _("now or later"), "order": _("as listed"),
    }[name]  # fmt: skip


def wanted_sex(sex: Sex) -> str:
    """A sex as it is chosen."""
    return {Sex.FEMALE: _("a female"), Sex.MALE: _("a male"), Sex.UNKNOWN: _("one whose sex is not known")}[sex]


def price_limits(amounts: Iterable[Decimal]) -> tuple[Decimal, ...]:
    """Round amounts that part a list: some cost no more, and some do.

    >>> [int(limit) for limit in price_limits([Decimal(40), Decimal(160), Decimal(90)])]
    [50, 75, 100, 150]
    """
    known = sorted(amounts)
    return tuple(step for step in _STEPS if known and known[0] <= step < known[-1])


def near_texts() -> tuple[str, ...]:
    """That none fits, for one near miss, for two, for as many as are shown."""
    told = ((ngettext("None fits all of it; {count} is near:", "None fits all of it; {count} are near:", n), n)
            for n in range(1, NEAR + 1))  # fmt: skip
    return tuple(words.format(count=small_number(n)) for words, n in told)


missed_text = when_asked("All but this: {what}")
"""What a near miss lacks; ``{what}`` is a part of the sentence."""
