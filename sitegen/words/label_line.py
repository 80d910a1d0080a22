"""The label line: an animal in one line, as it stands in lists, titles, feeds, search and tables.

``Snow, het motley, possible het hypo (67 in 100), male, 2025``. It is made from the claims alone and says no more than
they do. Order and words are the trade's (common practice, no source); the German trade writes "het" too. The rules,
each with its cases in ``tests/sentences/label-lines.md``:

1. What shows: the names of the looks, one after the other, in the order of the species file. A combination stands
   before them and covers its parts; of several that fit the largest, then the first in the file, then the largest of
   what is left. Only looks that are recorded and claimed make one. The two-copy form and a compound have names of their
   own. A dominant that looks the same with two copies is "homozygous", and stands last, where both are certain; nothing
   is said of one copy, nor of copies that are taken as one. Where no look is recorded: "normal" if every gene was
   judged, "normal so far" if some were, "not judged yet" if none was, "look not recorded" if it can be judged no more,
   "no claim yet" if a look is recorded and the records do not give one answer.
2. What is carried for certain, in the order of the species file: "het X" where one copy is certain and would not show;
   "homozygous X" for two copies that nobody saw; "has one copy of X" of a gene that would show, or has but one place in
   this sex; "has at least one copy of X" where two are possible. First what our own records give, then what hangs on a
   previous keeper's word, "het X (as told to us)", or on what is taken for granted, "het X unless its sire has it".
3. What is possible, by falling chance, then in the order of the species file, each with its number: "possible het X"
   where it was judged and two copies would have been seen, else "may have X"; "may yet show X" of a gene that comes
   with age, "may show X" where it was judged too early; "possible homozygous X" of a dominant that shows. What hangs on
   a previous keeper's word says so: "(50 in 100, on a keeper's word)". Where what is taken for granted fits the records
   badly, no number is told, and the gene stands last.
4. The sex, and the year of birth where it is known.

What was ruled out, and what nobody knows, does not stand in it. Where there is room for so many characters only, what
is possible goes, the lowest chance first, and how many went is said: "and 2 more possible". A gene with a welfare note
never goes, nor anything that shows or is certain; so such a line may be longer than the room.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from sitegen.content.animals import Animal
from sitegen.evidence.judging import how_judged
from sitegen.evidence.kinds import Basis, Claim, ClaimKind, Condition, Judging, Taken, Unjudged, certain_copies
from sitegen.genetics.loci import WILD
from sitegen.words.claims import SEEN
from sitegen.words.conditions import is_conditional, short_condition, strained_phrase, whom_taken
from sitegen.words.labels import sex_words
from sitegen.words.numbers import about_in_100, count_text
from sitegen.words.speech import Link, Sentence, Target, Voice, Words, _, capital, joined, ngettext, said

LONGEST_IN_TITLE = 90
"""Characters of the line in the title of a page: the name and the site stand there too, and a result list shows about
so much (common practice, no source)."""
LONGEST_IN_LIST = 120
"""Characters of the line in a list of many animals: four lines of a phone beside a picture."""
_POSSIBLE = (ClaimKind.CARRIES, ClaimKind.MAY_CARRY, ClaimKind.ONE_OR_TWO_COPIES, ClaimKind.TOO_YOUNG)


@dataclass(frozen=True, slots=True)
class _Part:
    """One gene of the line; ``lasting``: further evidence does not undo it; ``harms``: it has a welfare note."""

    words: Sentence
    lasting: bool = True
    harms: bool = False


@dataclass(frozen=True, slots=True)
class LabelLine:
    """An animal's label line in its parts; ``looks`` is empty for a species without genes, ``about``: sex and year."""

    looks: Sentence
    carried: tuple[_Part, ...]
    possible: tuple[_Part, ...]
    about: tuple[str, ...]

    def whole(self) -> Sentence:
        """All of it."""
        return self._line(self.carried, self.possible)

    def seen(self) -> Sentence:
        """What shows alone."""
        return _capitalised(self.looks)

    def lasting(self) -> Sentence:
        """What later evidence does not undo, for pictures that cannot be called back: nothing possible, no hearsay."""
        return self._line(tuple(part for part in self.carried if part.lasting), ())

    def within(self, room: int) -> Sentence:
        """As much as has room for so many characters, by the rule above."""
        kept, left_out = list(self.possible), 0
        line = self.whole()
        while sum(len(run.text) for run in line) > room and (cuttable := [part for part in kept if not part.harms]):
            kept.remove(cuttable[-1])
            left_out += 1
            line = self._line(self.carried, tuple(kept), left_out)
        return line

    def _line(self, carried: Sequence[_Part], possible: Sequence[_Part], left_out: int = 0) -> Sentence:
        parts: list[Words] = [self.looks, *(part.words for part in (*carried, *possible))]
        if left_out:
            more = ngettext("and {count} more possible", "and {count} more possible", left_out)
            parts.append(more.format(count=left_out))
        told = [part for part in (*parts, *self.about) if part]
        return _capitalised(joined([piece for part in told for piece in (_(", "), part)][1:]))


def _capitalised(line: Sentence) -> Sentence:
    """With a capital first letter, also where a gene's name stands first."""
    return (replace(line[0], text=capital(line[0].text)), *line[1:]) if line else ()


def label_line(animal: Animal, claims: Sequence[Claim], voice: Voice) -> LabelLine:
    """The label line of an animal, from its claims."""
    order = {locus.id: at for at, locus in enumerate(voice.species(animal.species).genome.loci)}
    in_order = sorted(claims, key=lambda claim: order[claim.locus])
    certain, possible = [], []
    for claim in in_order:
        if claim.kind is ClaimKind.CARRIES and not (claim.strained and is_conditional(claim)):
            certain.append(_carried(claim, voice))
        elif claim.kind in _POSSIBLE and not (claim.strained and claim.kind is ClaimKind.ONE_OR_TWO_COPIES):
            possible.append(claim)
    born = voice.collection.birth_of(animal)
    return LabelLine(
        looks=_looks(animal, in_order, voice),
        carried=tuple(sorted(certain, key=lambda part: not part.lasting)),
        possible=tuple(_possible(claim, voice) for claim in sorted(possible, key=lambda c: (c.strained, -c.chance))),
        about=(sex_words(animal.sex), *([str(born.year)] if born else [])),
    )


def _looks(animal: Animal, claims: Sequence[Claim], voice: Voice) -> Sentence:
    """What shows: combinations, then what they do not cover."""
    genome = voice.species(animal.species).genome
    seen = [claim for claim in claims if claim.kind in SEEN]
    if not seen:
        return said(_nothing_seen(animal, claims, voice)) if genome.loci else ()
    left = {claim.look for claim in seen}
    names: list[Words] = []
    for several in sorted(genome.combinations, key=lambda several: -len(several.looks)):
        if several.looks and left.issuperset(several.looks):
            left -= set(several.looks)
            home = genome.look(several.looks[0]).locus
            names.append(Link(several.name, Target.GENE, f"{animal.species}/{home}"))
    doubled = [claim for claim in seen if _is_doubled(claim, voice)]  # last, or "homozygous" would go with the others
    names += [voice.gene(claim) for claim in seen if claim.look in left and claim not in doubled]
    names += [said(_("homozygous {gene}"), gene=voice.gene(claim)) for claim in doubled]
    return joined([piece for name in names for piece in (" ", name)][1:])


def _nothing_seen(animal: Animal, claims: Sequence[Claim], voice: Voice) -> str:
    """What stands for the looks of an animal of which none is claimed."""
    unclaimed = [claim for claim in claims if claim.kind is ClaimKind.NO_CLAIM]
    if any(claim.look for claim in unclaimed):
        return _("no claim yet")
    match how_judged(voice.collection, animal, voice.as_of):
        case Judging.WHOLE if not unclaimed:
            return _("normal")
        case Judging.WHOLE | Judging.IN_PART:
            return _("normal so far")
        case _:
            return _("not judged yet") if animal.died is None else _("look not recorded")


def _is_doubled(claim: Claim, voice: Voice) -> bool:
    """True for two certain copies of a gene that looks the same with one."""
    shown = voice.locus(claim).shown
    one, two = shown.get((WILD, claim.allele)), shown.get((claim.allele, claim.allele))
    return claim.copies == 2 and one is not None and one == two


def _carried(claim: Claim, voice: Voice) -> _Part:
    """A gene that it has for certain, and does not show."""
    told = claim.basis is Basis.PREVIOUS_KEEPER
    words = said(_copies(claim, voice), gene=voice.gene(claim))
    if is_conditional(claim):
        words = said(_("{what} {condition}"), what=words, condition=_condition(claim, voice))
    lasting = not (told or is_conditional(claim))
    return _Part(said(_("{what} (as told to us)"), what=words) if told else words, lasting, _harms(claim, voice))


def _copies(claim: Claim, voice: Voice) -> str:
    copies = certain_copies(claim.posterior, claim.allele) if is_conditional(claim) else claim.copies
    if copies == -1:
        return _("has at least one copy of {gene}")
    if copies == 2:
        return _("homozygous {gene}")
    return _("het {gene}") if _is_het(claim, voice) else _("has one copy of {gene}")


def _condition(claim: Claim, voice: Voice) -> Sentence:
    """``unless its sire has it``: on what it hangs that it is certain."""
    match claim.condition:
        case Condition(taken=(Taken(one_copy=False) as taken,)):
            return said(_("unless {whom} has it"), whom=whom_taken(taken, claim, voice))
        case _:
            return short_condition(claim, voice)


def _possible(claim: Claim, voice: Voice) -> _Part:
    """A gene that it may have, may have twice, or may come to show, with the number."""
    if claim.strained:
        return _Part(strained_phrase(claim, voice), False, _harms(claim, voice))
    match claim.kind:
        case ClaimKind.ONE_OR_TWO_COPIES:
            words = _("possible homozygous {gene} ({odds})")
        case ClaimKind.TOO_YOUNG if claim.unjudged is Unjudged.WAS_TOO_YOUNG:
            words = _("may show {gene} ({odds})")
        case ClaimKind.TOO_YOUNG:
            words = _("may yet show {gene} ({odds})")
        case _:
            het = claim.unjudged is None and _is_het(claim, voice)
            words = _("possible het {gene} ({odds})") if het else _("may have {gene} ({odds})")
    odds = _("{count} in 100").format(count=count_text(about_in_100(claim.chance)))
    if claim.basis is Basis.PREVIOUS_KEEPER:
        odds = _("{odds}, on a keeper’s word").format(odds=odds)
    allele = Link(voice.allele(claim).name, Target.GENE, f"{claim.species}/{claim.locus}")
    return _Part(said(words, gene=allele, odds=odds), False, _harms(claim, voice))


def _is_het(claim: Claim, voice: Voice) -> bool:
    """True where an animal with the gene has one copy beside another allele, and one copy alone does not show."""
    having = [genotype for genotype in claim.posterior if claim.allele in genotype]
    alleles = {WILD, *(allele.id for allele in voice.locus(claim).alleles)}
    one_copy = all(genotype.count(claim.allele) == 1 and alleles.issuperset(genotype) for genotype in having)
    return one_copy and (WILD, claim.allele) not in voice.locus(claim).shown


def _harms(claim: Claim, voice: Voice) -> bool:
    return voice.allele(claim).welfare is not None
