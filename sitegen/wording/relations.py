"""How close two animals are, as a fraction and in words.

Source of the fractions: Wright S (1922) *Am Nat* 56:330-338; the table of relatives in the *Oxford Dictionary of
Zoology*. Parent and young are as close as full siblings.
"""

from collections.abc import Mapping
from fractions import Fraction

from sitegen.wording.numbers import in_100
from sitegen.wording.runs import Sentence
from sitegen.wording.speech import _, said, told_alike

_FULL, _HALF, _COUSINS = Fraction(1, 4), Fraction(1, 8), Fraction(1, 16)
_HALF_COUSINS, _SECOND_COUSINS = Fraction(1, 32), Fraction(1, 64)


def _steps() -> tuple[tuple[Fraction, str], ...]:
    """Kinship to the relatives that have it, closest first."""
    return (
        (_FULL, _("full siblings")),
        (_HALF, _("half siblings")),
        (_COUSINS, _("first cousins")),
        (_HALF_COUSINS, _("half first cousins")),
        (_SECOND_COUSINS, _("second cousins")),
    )


def relatedness_words(kinship: Fraction) -> str:
    """How close two animals are: ``as related as half siblings``, or between two such steps.

    Args:
        kinship: The coefficient of kinship of the two, which is the inbreeding coefficient of their young.

    Raises:
        ValueError: Not a coefficient of kinship.
    """
    if not 0 <= kinship <= 1:
        raise ValueError(f"{kinship} is not a coefficient of kinship")
    steps = _steps()
    if kinship == 0:
        return _("not related as far as our records go")
    if kinship > steps[0][0]:
        return _("more closely related than full siblings")
    for rank, (step, who) in enumerate(steps):
        if kinship == step:
            return _("as related as {who}").format(who=who)
        if kinship > step:
            closer = steps[rank - 1][1]
            return _("more closely related than {who}, less than {closer}").format(who=who, closer=closer)
    return _("more distantly related than second cousins")


@told_alike
def parents_sentence(inbreeding: Fraction) -> Sentence:
    """How the parents of an animal are related, from its inbreeding coefficient."""
    words = relatedness_words(inbreeding)
    if inbreeding == 0:
        return said(_("Its parents are {words}; founders are taken as unrelated."), words=words)
    told = _("Its parents are {words} (coefficient {fraction}; founders are taken as unrelated).")
    return said(told, words=words, fraction=str(inbreeding))


@told_alike
def litter_sentence(inbreeding: Fraction) -> Sentence:
    """How the parents of a litter are related, and what that means for its young."""
    words = relatedness_words(inbreeding)
    if inbreeding == 0:
        return said(_("The parents are {words}; founders are taken as unrelated."), words=words)
    told = _(
        "The parents are {words} (coefficient {fraction}): at {chance} places in the genome such a young has two "
        "copies of the same ancestor’s gene. Founders are taken as unrelated."
    )
    return said(told, words=words, fraction=str(inbreeding), chance=in_100(inbreeding))


def largest_first(shares: Mapping[str, Fraction]) -> tuple[tuple[str, Fraction], ...]:
    """Shares of ancestry, the largest first, what is not known last."""
    return tuple(sorted(shares.items(), key=lambda entry: (not entry[0], -entry[1], entry[0])))


def ancestry_text(shares: tuple[tuple[str, Fraction], ...]) -> str:
    """Shares of ancestry: ``3/4 Saltby, 1/4 not known, by pedigree``; empty for none."""
    told = ", ".join(f"{share} {name or _('not known')}" if share != 1 else name for name, share in shares if share)
    return _("{told}, by pedigree").format(told=told) if told else ""
