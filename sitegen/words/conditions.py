"""What is taken for granted behind a claim, in words, and what would make it certain without that."""

from sitegen.content.off_site import is_off_site
from sitegen.evidence.kinds import Basis, Claim, ClaimKind, Settling, Taken
from sitegen.genetics.loci import Sex
from sitegen.words.speech import Sentence, Voice, Words, _, capitalised, said, said_of


def is_conditional(claim: Claim) -> bool:
    """True where the claim itself, and not only a number of copies, hangs on what is taken for granted."""
    return claim.condition is not None and not claim.condition.of_copies


def condition_clause(claim: Claim, voice: Voice) -> Sentence:
    """``if her sire, of whom nothing is recorded, does not have it``; empty where there is no condition."""
    if claim.condition is None:
        return ()
    taken = claim.condition.taken
    if len(taken) != 1:
        return _of_several(taken, claim, voice)
    whom = whom_taken(taken[0], claim, voice)
    if taken[0].one_copy:
        return said(_("if {whom} has only one copy, which nobody has checked"), whom=whom)
    if taken[0].animal:
        return said(_("if {whom} does not have it, which nobody has checked"), whom=whom)
    return said(_("if {whom}, of whom nothing is recorded, does not have it"), whom=whom)


def short_condition(claim: Claim, voice: Voice) -> Sentence:
    """The same for lists: ``if her sire does not``."""
    taken = claim.condition.taken if claim.condition else ()
    if len(taken) != 1:
        return condition_clause(claim, voice)
    words = _("if {whom} has only one copy") if taken[0].one_copy else _("if {whom} does not")
    return said(words, whom=whom_taken(taken[0], claim, voice))


def _of_several(taken: tuple[Taken, ...], claim: Claim, voice: Voice) -> Sentence:
    if not taken:
        return said(_("if nothing unrecorded brought it in"))
    first, second = (whom_taken(each, claim, voice) for each in taken)
    if any(each.one_copy for each in taken):
        return said(_("if {first} and {second} have no unrecorded copy"), first=first, second=second)
    return said(_("if neither {first} nor {second} has it"), first=first, second=second)


def whom_taken(taken: Taken, claim: Claim, voice: Voice) -> Words:
    """Of whom it is taken for granted, as seen from the animal: ``its sire``, ``its dam Juniper``, ``Juniper``."""
    record, is_sire = voice.collection.animals[claim.animal], taken.sex is Sex.MALE
    if taken.animal:
        is_only_sire = [sire for sire, _share in record.sires] == [taken.animal]
        if record.dam != taken.animal and not is_only_sire:
            return voice.animal(taken.animal)
        role = _("{his} sire {name}") if is_only_sire else _("{his} dam {name}")
        return said_of(claim.animal, voice, role, name=voice.of_kin([taken.animal]))
    if taken.young in (claim.animal, record.litter):
        return said_of(claim.animal, voice, _("{his} sire") if is_sire else _("{his} dam"))
    if is_off_site(taken.young):
        return _("the sire of young not shown here") if is_sire else _("the dam of young not shown here")
    litter = taken.young in voice.collection.litters
    young = voice.litter(taken.young) if litter else voice.animal(taken.young)
    return said(_("the sire of {young}") if is_sire else _("the dam of {young}"), young=young)


def settling_sentence(claim: Claim, voice: Voice) -> Sentence:
    """What would make it certain without a condition; empty where nothing would, or where there is none."""
    if claim.condition is None or claim.condition.settled_by is None:
        return ()
    way, animal = claim.condition.settled_by
    words = {
        Settling.LOOK: _("One look at {animal} would settle it."),
        Settling.DNA_TEST: _("A DNA test of {animal} would settle it."),
        Settling.PLAIN_YOUNG: _("One young without it would show that {animal} has one copy."),
    }[way]
    return said(words, animal=voice.animal(animal))


def either_sentence(claim: Claim, voice: Voice) -> Sentence:
    """That the animal or its mate has the gene for certain, and by which young; empty where that is not known."""
    if claim.either is None:
        return ()
    mate, young = claim.either
    if not mate:
        return said(_("One parent of {young} has it, for certain."), young=voice.animal(young))
    words = _("{he} or {mate} has it, for certain: {young} got it from one of them.")
    return capitalised(said_of(claim.animal, voice, words, mate=voice.animal(mate), young=voice.animal(young)))


def surprise_sentence(claim: Claim, voice: Voice) -> Sentence:
    """That nobody wrote of it before; empty where somebody did."""
    if claim.surprise is None:
        return ()
    return said(
        _("A surprise to us: nothing before had told of it.") if claim.surprise else _("Nobody told us before.")
    )


def one_of_its_parents(claim: Claim, voice: Voice) -> Sentence:
    """That one of the parents has for certain what the animal has, where it is certain of neither; else empty."""
    record = voice.collection.animals[claim.animal]
    certain = claim.kind in (ClaimKind.SHOWS, ClaimKind.ONE_OR_TWO_COPIES, ClaimKind.CARRIES)
    if not (certain and claim.allele and (record.dam or record.sires)) or is_conditional(claim) or claim.strained:
        return ()
    parents = ([record.dam] if record.dam else []) + [sire for sire, _share in record.sires]
    if len(record.sires) > 1 or any(voice.surely_has(parent, claim.locus, claim.allele) for parent in parents):
        return ()
    return said_of(claim.animal, voice, _("One of {his} parents has it, for certain."))


def strained_headline(claim: Claim, voice: Voice) -> Sentence:
    """What is said where what is taken for granted fits the evidence badly: no odds."""
    gene = voice.gene(claim)
    if claim.kind in (ClaimKind.SHOWS, ClaimKind.ONE_OR_TWO_COPIES):
        words = _("Shows {gene}: at least one copy. Two would fit the young far better; one without it would show one.")
        return said(words, gene=gene)
    if claim.kind is ClaimKind.CARRIES and not is_conditional(claim):
        if claim.basis is Basis.PREVIOUS_KEEPER:
            return said(_("Said to have {gene}: at least one copy."), gene=gene)
        return said(_("At least one copy of {gene}: what we take for granted hardly fits, so no odds."), gene=gene)
    return said(_("May have {gene}: what we take for granted hardly fits, so no odds."), gene=gene)


def strained_phrase(claim: Claim, voice: Voice) -> Sentence:
    """The same for lists."""
    words = _("may have {gene} (no odds told)")
    if claim.kind in (ClaimKind.SHOWS, ClaimKind.ONE_OR_TWO_COPIES):
        words = _("shows {gene}")
    elif claim.kind is ClaimKind.CARRIES and not is_conditional(claim):
        heard = claim.basis is Basis.PREVIOUS_KEEPER
        words = _("said to carry {gene}") if heard else _("has at least one copy of {gene}")
    return said(words, gene=voice.gene(claim))
