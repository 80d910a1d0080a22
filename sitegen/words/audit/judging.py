"""Whether the evidence supports a statement, or says less or more than it."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from enum import IntEnum
from fractions import Fraction

from sitegen.evidence.judging import look_seen, why_unjudged
from sitegen.evidence.kinds import (
    Basis,
    Claim,
    ClaimKind,
    chance_of_allele,
    chance_of_copies,
    chance_of_look,
    chance_of_showing,
)
from sitegen.findings import Finding, Kind, Level, Place
from sitegen.genetics.loci import WILD, Genotype, Locus
from sitegen.genetics.questions import AnimalId
from sitegen.words.audit.lexicon import Named
from sitegen.words.audit.shorthand import Says, Statement
from sitegen.words.audit.subjects import Whose
from sitegen.words.claims import headline, short_phrase
from sitegen.words.numbers import in_100, trade_shorthand
from sitegen.words.speech import Voice, animal_name, plain

_ROUNDED = Fraction(1, 100)
"""A percentage that differs by less says the same: 67% and 2/3, 12% and 1/8."""


class Verdict(IntEnum):
    """How a statement stands to the evidence; a higher one is graver."""

    RIGHT = 0
    LESS = 1
    WORD = 2
    MORE = 3


@dataclass(frozen=True, slots=True)
class Judgement:
    """What was found of one gene of a statement.

    Attributes:
        verdict: ``WORD``: right, but it leaves out that it rests on a previous keeper's word.
        animal: Whom it was read against.
        locus, allele: The gene; the allele is empty for a look, the locus where no gene is named.
        look: The look that is said to show, or empty.
        chance: What the evidence gives: of carrying, or of showing.
        claim: What the site says of it; None when it says nothing.
        denied: It was said not to be carried; ``WORD``: nothing hints at it, and nothing rules it out.
        harmful: What is denied goes with a known harm, so that more than a notice is due.
    """

    verdict: Verdict
    animal: AnimalId
    locus: str = ""
    allele: str = ""
    look: str = ""
    chance: Fraction = Fraction(0)
    claim: Claim | None = None
    denied: bool = False
    harmful: bool = False


@dataclass(frozen=True, slots=True)
class Judge:
    """Holds the evidence."""

    voice: Voice
    claims: Mapping[AnimalId, tuple[Claim, ...]]

    def judge(self, statement: Statement, whose: Whose, species: str) -> Iterator[Judgement]:
        """What is more or less than the evidence, one for each gene; nothing where the statement is right."""
        animals = [animal for animal in whose.animals if self.voice.collection.animals[animal].species == species]
        if not animals:
            return
        if not statement.genes:
            yield from _told([self._unnamed(statement, animal) for animal in animals], whose)
            return
        if statement.says is Says.SHOWS and whose.litter:
            return
        for gene in statement.genes:
            wrong = list(self._of_gene(statement, gene, animals, whose))
            if wrong:
                yield max(wrong, key=lambda judgement: judgement.verdict)

    def _of_gene(self, statement: Statement, gene: Named, animals: list[AnimalId], whose: Whose) -> Iterator[Judgement]:
        """What is wrong with each part of what one name stands for."""
        for locus, name in gene.shown if statement.says is Says.SHOWS else gene.carried:
            if not (whose.litter and self._unlisted_have(whose.litter, locus, name)):
                yield from _told([self._of(statement, animal, locus, name) for animal in animals], whose)

    def _of(self, statement: Statement, animal: AnimalId, locus_id: str, name: str) -> Judgement:
        """One gene of a statement against one animal."""
        record = self.voice.collection.animals[animal]
        locus = self.voice.collection.species[record.species].genome.locus(locus_id)
        posterior = self.voice.posterior(animal, locus_id)
        if not posterior:
            return Judgement(Verdict.RIGHT, animal, locus_id)
        claims = [claim for claim in self.claims.get(animal, ()) if claim.locus == locus_id]
        if statement.says is Says.SHOWS:
            if statement.chance < 1:
                return self._may_show(statement, animal, locus, name)
            shown = self._shows(animal, locus, name, posterior)
            claim = claims[0] if claims else None
            verdict = Verdict.RIGHT if shown else Verdict.MORE
            return Judgement(verdict, animal, locus_id, look=name, chance=Fraction(shown), claim=claim)
        claim = next((claim for claim in claims if claim.allele == name), claims[0] if claims else None)
        chance = chance_of_allele(posterior, name)
        # Two copies by their own chance: an animal of the sex with one place can hold one copy and no second.
        two = chance_of_copies(posterior, name, 2)
        denied = statement.says is Says.LACKS
        if denied:
            known = self._is_ruled_out(animal, locus, name)
            verdict = Verdict.MORE if chance else Verdict.RIGHT if known else Verdict.WORD
        elif statement.says is Says.TWO_COPIES:
            verdict = _as_likely(statement, two, claim if claim and claim.kind is ClaimKind.CARRIES else None)
            if two == 1 and claim is not None and claim.allele == name and claim.copies != 2:
                verdict = Verdict.MORE  # two copies by what is taken for granted alone
        else:
            verdict = _carrying(statement, chance, claim)
            bare = not (statement.several or statement.verbal or statement.proven or _is_hearsay(claim))
            verdict = Verdict.LESS if verdict is Verdict.RIGHT and two == 1 and bare else verdict
        return Judgement(
            verdict,
            animal,
            locus_id,
            name,
            chance=chance,
            claim=claim,
            denied=denied,
            harmful=locus.allele(name).welfare is not None,
        )

    def _may_show(self, statement: Statement, animal: AnimalId, locus: Locus, look: str) -> Judgement:
        """How likely it will show a look, against how likely it has what that takes."""
        if all(allele.id != look for allele in locus.alleles):
            return Judgement(Verdict.RIGHT, animal, locus.id)
        chance = chance_of_showing(locus, self.voice.posterior(animal, locus.id), look)
        claims = (c for c in self.claims.get(animal, ()) if (c.locus, c.allele) == (locus.id, look))
        verdict = _as_likely(statement, chance, None)
        return Judgement(verdict, animal, locus.id, look=look, chance=chance, claim=next(claims, None))

    def _shows(self, animal: AnimalId, locus: Locus, look: str, posterior: Mapping[Genotype, Fraction]) -> bool:
        """True when the records say that it is seen, or it is certain; a motley may be called so when it is striped."""
        seen = look_seen(self.voice.collection.animals[animal], locus)
        if seen == look or chance_of_look(locus, posterior, look) == 1:
            return True
        named = look if any(allele.id == look for allele in locus.alleles) else ""
        return bool(seen and named and chance_of_allele(posterior, named) == 1)

    def _is_ruled_out(self, animal: AnimalId, locus: Locus, allele: str) -> bool:
        """True when the site says so, when other alleles fill every place, or when one copy would have been seen."""
        left = self.voice.answers.possible.get(animal, {}).get(locus.id) or self.voice.posterior(animal, locus.id)
        claims = self.claims.get(animal, ())
        told = any((c.kind, c.locus, c.allele) == (ClaimKind.RULED_OUT, locus.id, allele) for c in claims)
        if told or not any(WILD in pair for pair in left):
            return True
        seen = (WILD, allele) in locus.shown and locus.allele(allele).penetrance == 1
        record = self.voice.collection.animals[animal]
        judged = any(genes.judged.written for genes in record.genes)
        return seen and judged and not why_unjudged(self.voice.collection, record, locus, allele, self.voice.as_of)[0]

    def _unnamed(self, statement: Statement, animal: AnimalId) -> Judgement:
        """A statement that names no gene is right when some hidden gene of the animal fits it."""
        posteriors = self.voice.answers.posteriors.get(animal, {})
        chances = [
            (chance, locus.id, allele.id)
            for locus in self._genome(animal)
            for allele in locus.alleles
            if (chance := chance_of_allele(posteriors.get(locus.id, {}), allele.id))
            and not look_seen(self.voice.collection.animals[animal], locus)
        ]
        if statement.says is Says.LACKS:
            return self._without_any(animal, chances)
        complete = all(locus.id in posteriors for locus in self._genome(animal))
        fitting = sum(_carrying(statement, chance, None) < Verdict.MORE for chance, _, _ in chances)
        if not complete or fitting >= statement.count:
            return Judgement(Verdict.RIGHT, animal)
        return self._nearest_gene(animal, max(chances, key=lambda each: each[0], default=(Fraction(0), "", "")))

    def _without_any(self, animal: AnimalId, chances: list[tuple[Fraction, str, str]]) -> Judgement:
        """What is wrong with saying that an animal has no hidden gene."""
        if chances:
            return replace(self._nearest_gene(animal, max(chances)), denied=True)
        answered = [
            locus for locus in self._genome(animal) if locus.id in self.voice.answers.posteriors.get(animal, {})
        ]
        open_ = [a for locus in answered for a in locus.alleles if not self._is_ruled_out(animal, locus, a.id)]
        harmful = any(allele.welfare for allele in open_)
        return Judgement(Verdict.WORD if open_ else Verdict.RIGHT, animal, denied=True, harmful=harmful)

    def _nearest_gene(self, animal: AnimalId, hidden: tuple[Fraction, str, str]) -> Judgement:
        """That a statement says more, told of one hidden gene of the animal: its chance, locus and allele."""
        chance, locus, allele = hidden
        claim = next((c for c in self.claims.get(animal, ()) if (c.locus, c.allele) == (locus, allele)), None)
        return Judgement(Verdict.MORE, animal, locus, allele, chance=chance, claim=claim)

    def _genome(self, animal: AnimalId) -> tuple[Locus, ...]:
        return self.voice.collection.species[self.voice.collection.animals[animal].species].genome.loci

    def _unlisted_have(self, litter: str, locus: str, name: str) -> bool:
        """True when young that are not listed one by one show it."""
        others = self.voice.collection.litters[litter].others
        return any(seen.locus == locus and seen.look == name for each in others for seen in each.judged.seen)


def _is_hearsay(claim: Claim | None) -> bool:
    return claim is not None and claim.basis is Basis.PREVIOUS_KEEPER


def _carrying(statement: Statement, chance: Fraction, claim: Claim | None) -> Verdict:
    """How a statement of carrying stands to the chance of it."""
    if statement.says is Says.MAY_CARRY:
        proven = chance == 1 and not (_is_hearsay(claim) or _is_taken(claim))
        return Verdict.MORE if not chance else Verdict.LESS if proven else Verdict.RIGHT
    if chance == 1 == statement.chance and _is_taken(claim):
        return Verdict.MORE
    return _as_likely(statement, chance, claim)


def _is_taken(claim: Claim | None) -> bool:
    """True for what is certain only as far as something is taken for granted."""
    return claim is not None and claim.condition is not None and not claim.condition.of_copies


def _as_likely(statement: Statement, chance: Fraction, claim: Claim | None) -> Verdict:
    """How the chance that is stated stands to that of the evidence."""
    hearsay = _is_hearsay(claim)
    if hearsay and statement.proven:
        return Verdict.MORE
    if statement.chance == 1:
        return (Verdict.WORD if hearsay else Verdict.RIGHT) if chance == 1 else Verdict.MORE
    if abs(statement.chance - chance) < _ROUNDED and 0 < chance < 1:
        return Verdict.RIGHT
    return Verdict.MORE if statement.chance > chance else Verdict.LESS


def _told(found: list[Judgement], whose: Whose) -> Iterator[Judgement]:
    """What remains of the judgements of several animals: the gravest of all, or the mildest when one is enough."""
    if not found:
        return
    ordered = sorted(found, key=lambda judgement: judgement.verdict)
    if whose.every:
        worst = ordered[-1]
        if worst.verdict is Verdict.MORE or ordered[0].verdict is not Verdict.RIGHT:
            yield worst
        return
    best = max((j for j in ordered if j.verdict == ordered[0].verdict), key=lambda j: j.chance)
    if best.verdict is Verdict.MORE or (len(whose.animals) == 1 and best.verdict is not Verdict.RIGHT):
        yield best


_REVIEW = "if the words are right as they stand, give the reason under reviewed"


@dataclass(frozen=True, slots=True)
class Quotation:
    """Words of a text: as they stand, and where."""

    words: str
    place: Place
    width: int


def finding_of(judgement: Judgement, quotation: Quotation, voice: Voice) -> Finding:
    """The finding for words that are not what the evidence says."""
    name = animal_name(voice.collection, judgement.animal)
    message, remedy = _wrong(judgement, quotation.words, name, voice)
    more = judgement.verdict is Verdict.MORE or (judgement.denied and judgement.harmful)
    return Finding(
        Level.ERROR if more else Level.NOTICE,
        Kind.UNDERCLAIM if judgement.verdict is Verdict.LESS else Kind.OVERCLAIM,
        quotation.place,
        message,
        expected=f"what the evidence supports: {_supported(judgement, name, voice)}",
        nearest=_nearest(judgement, voice),
        remedy=f"{remedy}; {_REVIEW}",
        width=quotation.width,
    )


def name_finding(judgement: Judgement, quotation: Quotation, voice: Voice) -> Finding:
    """The finding for an animal that is only called as a look is called, and does not show it."""
    name = animal_name(voice.collection, judgement.animal)
    return Finding(
        Level.NOTICE,
        Kind.OVERCLAIM,
        quotation.place,
        f'"{quotation.words}" is also what a look is called, and {name} is not recorded as showing it; '
        "a page with this title can be taken for a claim",
        expected="a name that is not a look's, or the look under shows if it is seen",
        remedy=f"give another name, or say on its page that it is only a name; {_REVIEW}",
        width=quotation.width,
    )


def promise_finding(quotation: Quotation) -> Finding:
    """The finding for a promise that names no gene."""
    return Finding(
        Level.NOTICE,
        Kind.PROMISE,
        quotation.place,
        f'"{quotation.words}" promises more than records can',
        expected="what was seen, tested or recorded; the pages say how sure each gene is",
        remedy=f"say what the evidence is instead of promising; {_REVIEW}",
        width=quotation.width,
    )


def _wrong(judgement: Judgement, words: str, name: str, voice: Voice) -> tuple[str, str]:
    """What is wrong, and what to do about it."""
    near = _nearest(judgement, voice)
    if judgement.denied and judgement.verdict is Verdict.WORD:
        unknown = f"not known to carry {_gene(judgement, voice)}"
        message = f'"{words}" says more of {name} than is known: nothing hints at it, and nothing rules it out'
        return message, f'write "{unknown}", or record the evidence: a DNA test'
    if judgement.denied:
        found = _gene(judgement, voice)
        has = "has" if judgement.chance == 1 else "may carry"
        message = f'"{words}" is not what the evidence supports: {name} {has} {found}'
        test = ", or record the evidence: a DNA test" if judgement.chance < 1 else ""
        return message, f'write "{near}"{test}' if near else "take the words out"
    write = f'write "{near}"' if near else "take the words out"
    match judgement.verdict:
        case Verdict.LESS:
            return f'"{words}" says less of {name} than the evidence supports', f"{write}, or leave the number out"
        case Verdict.WORD:
            message = f'"{words}" leaves out that this is a previous keeper\'s word and nothing of our own proves it'
            return message, f"{write}, or record the evidence: a DNA test, or young that prove it"
    evidence = "a DNA test, young that prove it, or what was stated of a founder"
    evidence = "add it under shows if it is seen" if judgement.look else evidence
    return f'"{words}" says more of {name} than the evidence supports', f"{write}, or record the evidence: {evidence}"


def _locus(judgement: Judgement, voice: Voice) -> Locus | None:
    genome = voice.species(voice.collection.animals[judgement.animal].species).genome
    return genome.locus(judgement.locus) if judgement.locus else None


def _gene(judgement: Judgement, voice: Voice) -> str:
    """The name of the gene or look that is claimed."""
    locus = _locus(judgement, voice)
    if locus is None:
        return "any hidden gene"
    if judgement.look:
        return locus.look(judgement.look).name
    return locus.allele(judgement.allele).name


def _supported(judgement: Judgement, name: str, voice: Voice) -> str:
    """The sentence that the site itself makes of the evidence."""
    claim = judgement.claim
    told = plain(headline(claim, voice)) if claim else ""
    locus = _locus(judgement, voice)
    about_it = claim is not None and (judgement.look or claim.allele == judgement.allele)
    if told and (about_it or (claim is not None and claim.kind is ClaimKind.SHOWS)):
        return f"“{told}”"
    if judgement.look and locus is not None:
        return f"{name} is not recorded as showing {_gene(judgement, voice)}"
    if not judgement.chance:
        return f"{name} is not known to carry {_gene(judgement, voice)}"
    return f"{in_100(judgement.chance)} animals like {name} have {_gene(judgement, voice)}"


def _nearest(judgement: Judgement, voice: Voice) -> str:
    """The words that would be right, in the trade's shorthand where there is one."""
    claim, locus = judgement.claim, _locus(judgement, voice)
    if locus is None or judgement.look or not judgement.chance:
        return ""
    allele = locus.allele(judgement.allele)
    phrase = plain(short_phrase(claim, voice)) if claim and claim.allele in ("", allele.id) else ""
    hidden = claim is not None and claim.kind in (ClaimKind.CARRIES, ClaimKind.MAY_CARRY)
    if judgement.verdict is Verdict.WORD or judgement.chance == 1:
        return phrase
    judged = claim is not None and claim.unjudged is None  # shorthand would hide that nobody could see what it shows
    short = trade_shorthand(judgement.chance, allele) if hidden and judged else ""
    return f"{short} {allele.name}" if short else phrase
