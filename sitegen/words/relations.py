"""How two animals are related, named as it is; and where an animal comes from, each with the sire on whom it hangs.

A coefficient alone never stands for a relation: a mother and her son have that of full siblings and are none. Names of
relations: the table of relatives in the *Oxford Dictionary of Zoology*; Wright S (1922) *Am Nat* 56:330-338.
"""

from collections.abc import Callable, Mapping, Sequence
from fractions import Fraction

from sitegen.content.off_site import is_off_site
from sitegen.evidence.answers import Related, Shares
from sitegen.evidence.gathered import is_unrecorded
from sitegen.genetics.questions import AnimalId
from sitegen.genetics.relations import IfSire, Kin, Relation
from sitegen.words.numbers import in_100
from sitegen.words.speech import Sentence, Voice, _, capitalised, listed, plain, said

_MOST_NAMED = 3


def relation_name(link: Relation) -> str:
    """What a dam and a sire are to each other: ``mother and son``; empty where there is no simple name."""
    # Parents shared, generations up from the dam, generations down to the sire.
    names = {
        (0, 0, 1): _("mother and son"),
        (0, 1, 0): _("father and daughter"),
        (0, 0, 2): _("grandmother and grandson"),
        (0, 2, 0): _("grandfather and granddaughter"),
        (0, 0, 3): _("great-grandmother and great-grandson"),
        (0, 3, 0): _("great-grandfather and great-granddaughter"),
        (2, 0, 0): _("full siblings"),
        (2, 0, 1): _("aunt and nephew"),
        (2, 1, 0): _("uncle and niece"),
        (2, 0, 2): _("great-aunt and great-nephew"),
        (2, 2, 0): _("great-uncle and great-niece"),
        (2, 1, 1): _("first cousins"),
        (2, 1, 2): _("first cousins once removed"),
        (2, 2, 1): _("first cousins once removed"),
        (2, 2, 2): _("second cousins"),
        (1, 0, 0): _("half siblings"),
        (1, 0, 1): _("half-aunt and half-nephew"),
        (1, 1, 0): _("half-uncle and half-niece"),
        (1, 1, 1): _("half first cousins"),
        (1, 1, 2): _("half first cousins once removed"),
        (1, 2, 1): _("half first cousins once removed"),
        (1, 2, 2): _("half second cousins"),
    }
    return names.get((link.shared, link.up, link.down), "")


def kin_words(kin: Kin, name: Callable[[AnimalId], str]) -> str:
    """What a dam and a sire are: ``half siblings``; where no simple name fits, through whom they are related."""
    if not kin.coefficient:
        return _("not related as far as our records go")
    if kin.links is None:
        return _("related in many ways")
    first, *more = kin.links
    closest = relation_name(first)
    if not closest:
        common = dict.fromkeys(each for link in kin.links for each in link.through if not is_unrecorded(each))
        if not common:
            return _("related through a parent that is not recorded")
        through = list(dict.fromkeys(map(name, common)))
        return _("related through {animals}").format(animals=plain(listed(through, most=_MOST_NAMED)))
    if not first.whole:
        closest = _("at least {relation}").format(relation=closest)
    if not more:
        return closest
    if len(more) > 1:
        return _("{relation}, and related in other ways too").format(relation=closest)
    other = relation_name(more[0])
    if other == closest == _("first cousins"):
        return _("double first cousins")
    if other == closest:
        return _("{relation} in two ways").format(relation=closest)
    if not other:
        return _("{relation}, and related in another way too").format(relation=closest)
    return _("{relation}, and {other} as well").format(relation=closest, other=other)


def relatedness_words(kinship: Fraction) -> str:
    """How close two animals are of whom no more than the coefficient of kinship is known.

    Raises:
        ValueError: Not a coefficient of kinship.
    """
    if not 0 <= kinship <= 1:
        raise ValueError(f"{kinship} is not a coefficient of kinship")
    if kinship == 0:
        return _("not related as far as our records go")
    return _("related, with a coefficient of {fraction}").format(fraction=kinship)


def parents_sentence(related: Related, animal: AnimalId, voice: Voice) -> Sentence:
    """How the parents of an animal are related."""
    if len(related) > 1:
        return _conditional(related, _("the sire"), (animal,), voice)
    words, kin = _kin(related[0], voice), related[0].value
    if not kin.coefficient:
        return said(_("The parents are {words}; founders are taken as unrelated."), words=words)
    told = _("The parents are {words} (coefficient {fraction}; founders are taken as unrelated).")
    return said(told, words=words, fraction=kin.coefficient)


def litter_sentence(related: Related, young: Sequence[AnimalId], voice: Voice) -> Sentence:
    """How the parents of a litter are related, and what that means for its young."""
    if len(related) > 1:
        return _conditional(related, _("the sire"), young, voice)
    words, kin = _kin(related[0], voice), related[0].value
    if not kin.coefficient:
        return said(_("The parents are {words}; founders are taken as unrelated."), words=words)
    told = _(
        "The parents are {words} (coefficient {fraction}): at {chance} places in the genome such a young has two "
        "copies of the same ancestor’s gene. Founders are taken as unrelated."
    )
    return said(told, words=words, fraction=kin.coefficient, chance=in_100(kin.coefficient))


def _kin(case: IfSire[Kin], voice: Voice) -> str:
    return kin_words(case.value, lambda animal: voice.animal(animal).text)


def _conditional(related: Related, own_sire: str, own: Sequence[AnimalId], voice: Voice) -> Sentence:
    """How the parents are related by who the sire was."""
    if not related[0].sires:
        known = sorted({case.value.coefficient for case in related})
        words = plain(listed(list(dict.fromkeys(_kin(case, voice) for case in related)), either=True))
        told = _(
            "The parents are {words}, by which of several possible sires there were (coefficient {low} to {high}; "
            "founders are taken as unrelated)."
        )
        return said(told, words=words, low=known[0], high=known[-1])
    parts = []
    for case in related:
        coefficient = case.value.coefficient
        told = _("if {condition}, the parents are {words}")
        if coefficient:
            told = _("if {condition}, the parents are {words} (coefficient {fraction})")
        condition = _condition(case, own_sire if case.young in own else "", voice)
        parts.append(plain(said(told, condition=condition, words=_kin(case, voice), fraction=coefficient)))
    return capitalised(said(_("{parts}. Founders are taken as unrelated."), parts="; ".join(parts)))


def _condition(case: IfSire[object] | IfSire[Kin] | IfSire[Mapping[str, Fraction]], own: str, voice: Voice) -> str:
    """``Chalk is the sire (about 67 in 100)``, of another animal with its name."""
    words = _("the sire of young not shown here") if is_off_site(case.young) else _("the sire of {animal}")
    whose = own or words.format(animal=voice.animal(case.young).text)
    sires = plain(voice.animals(case.sires, either=True))
    return _("{sires} is {whose} ({chance})").format(sires=sires, whose=whose, chance=in_100(case.chance))


def largest_first(shares: Mapping[str, Fraction]) -> tuple[tuple[str, Fraction], ...]:
    """Shares of ancestry, the largest first, what is not known last."""
    return tuple(sorted(shares.items(), key=lambda entry: (not entry[0], -entry[1], entry[0])))


def ancestry_text(shares: tuple[tuple[str, Fraction], ...]) -> str:
    """Shares of ancestry: ``3/4 Saltby, 1/4 not known, by pedigree``; empty for none."""
    told = ", ".join(f"{share} {name or _('not known')}" if share != 1 else name for name, share in shares if share)
    return _("{told}, by pedigree").format(told=told) if told else ""


def ancestry_words(shares: Shares, animal: AnimalId, voice: Voice) -> str:
    """Where an animal comes from, by pedigree; in words, with its condition, where it hangs on who a sire was."""
    if len(shares) == 1:
        return ancestry_text(largest_first(shares[0].value))
    if not shares or not shares[0].sires:
        origins = dict.fromkeys(name for case in shares for name, _share in largest_first(case.value) if name)
        every = {name: [case.value.get(name, Fraction(0)) for case in shares] for name in origins}
        told = [
            _("{low} to {high} {name}").format(low=min(own), high=max(own), name=name)
            if min(own) < max(own)
            else f"{own[0]} {name}"
            for name, own in every.items()
        ]
        words = _("by which of several possible sires there were, by pedigree")
        return ", ".join([*told, words])
    parts = []
    for case in shares:
        own = [f"{_share_words(share)} {name}" for name, share in largest_first(case.value) if name]
        condition = _condition(case, _("the sire") if case.young == animal else "", voice)
        told_share = ", ".join(own) or _("nothing that we know of")
        parts.append(_("{share}, if {condition}").format(share=told_share, condition=condition))
    return _("{told}, by pedigree").format(told="; ".join(parts))


def _share_words(share: Fraction) -> str:
    words = {
        Fraction(1): _("all"),
        Fraction(1, 2): _("half"),
        Fraction(1, 4): _("a quarter"),
        Fraction(3, 4): _("three quarters"),
        Fraction(1, 8): _("an eighth"),
    }
    return words.get(share, str(share))
