"""Claims as a template sees them, and short lines of them for lists."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from fractions import Fraction

from sitegen.content.animals import Animal
from sitegen.evidence.judging import how_judged
from sitegen.evidence.kinds import Basis, Claim, ClaimKind
from sitegen.genetics.loci import Combination
from sitegen.site.material import Folio, once_an_animal
from sitegen.site.parts import ClaimView, IconArray, Line, words
from sitegen.words.claims import basis_words, gene_name, headline, nothing_shown, short_sentence
from sitegen.words.labels import no_answer, no_genes, no_hidden_gene
from sitegen.words.numbers import Edge, about_in_100, both_sides, count_text, in_100
from sitegen.words.reasons import explanation
from sitegen.words.speech import Link, Sentence, Target, _, listed, plain, said

SEEN = (ClaimKind.SHOWS, ClaimKind.ONE_OR_TWO_COPIES)
HIDDEN = (ClaimKind.CARRIES, ClaimKind.MAY_CARRY, ClaimKind.TOO_YOUNG)
WITH_ODDS = (ClaimKind.MAY_CARRY, ClaimKind.TOO_YOUNG, ClaimKind.ONE_OR_TWO_COPIES)


def icon_array(claim: Claim, folio: Folio) -> IconArray | None:
    """The picture of a claim's odds; None where there is nothing uncertain.

    A chance within 1 of either end, but not there, has one mark of the rarer kind: it is never drawn as none.
    """
    if claim.kind not in WITH_ODDS or claim.chance in (0, 1):
        return None
    return _icon_array(claim.kind, claim.chance, gene_name(claim, folio.voice))


def _icon_array(kind: ClaimKind, chance: Fraction, gene: str) -> IconArray:
    count = about_in_100(chance)
    filled = count if isinstance(count, int) else {Edge.FEWER_THAN_1: 1, Edge.MORE_THAN_99: 99}[count]
    yes, no = both_sides(chance)
    meaning = {
        ClaimKind.MAY_CARRY: _("carry {gene}"),
        ClaimKind.TOO_YOUNG: _("will show {gene}"),
        ClaimKind.ONE_OR_TWO_COPIES: _("have two copies of {gene}"),
    }[kind].format(gene=gene)
    return IconArray(
        filled=filled,
        title=_("{chance} {meaning}").format(chance=in_100(chance), meaning=meaning),
        description=_(
            "A hundred marks in ten rows: {yes} filled for those that do, {no} open for those that do not."
        ).format(yes=count_text(yes), no=count_text(no)),
    )


@dataclass(frozen=True, slots=True)
class Worded:
    """A claim in words, for every page and file that tells it.

    Attributes:
        claim: The claim, of a littermate where the same is told of it (``sitegen.site.alike``).
        headline: What is claimed.
        explanation: Why; one sentence each.
        odds: The picture of its odds.
    """

    claim: Claim
    headline: Sentence
    explanation: tuple[Sentence, ...]
    odds: IconArray | None


@once_an_animal
def worded(animal: Animal, folio: Folio) -> tuple[Worded, ...]:
    """The claims of an animal in words, strongest first."""
    voice = folio.voice
    return tuple(
        Worded(claim, headline(claim, voice), explanation(claim, voice), icon_array(claim, folio))
        for claim in folio.claims(animal.id)
    )


@dataclass(frozen=True, slots=True)
class ClaimViews:
    """The claims of an animal as templates see them, by where they stand."""

    shows: tuple[ClaimView, ...]
    hidden: tuple[ClaimView, ...]
    ruled_out: tuple[ClaimView, ...]


def views(animal: Animal, folio: Folio) -> ClaimViews:
    """Claims in their order, with their links."""
    return _views(worded(animal, folio), folio, folio.line)


def unlinked_views(animal: Animal, folio: Folio) -> ClaimViews:
    """The same without links, as paper has none."""

    def line(sentence: Sentence) -> Line:
        return words(plain(sentence))

    return _views(worded(animal, folio), folio, line)


def _views(told: Sequence[Worded], folio: Folio, line: Callable[[Sentence], Line]) -> ClaimViews:
    def of(*kinds: ClaimKind) -> tuple[ClaimView, ...]:
        return tuple(_view(each, folio, line) for each in told if each.claim.kind in kinds)

    return ClaimViews(of(*SEEN), of(*HIDDEN), of(ClaimKind.RULED_OUT))


def _view(told: Worded, folio: Folio, line: Callable[[Sentence], Line]) -> ClaimView:
    claim = told.claim
    basis = _basis_told(claim.basis) if claim.kind is not ClaimKind.NO_CLAIM else ()
    return ClaimView(
        kind=claim.kind.value,
        gene=line((folio.voice.gene(claim),)),
        headline=line(told.headline),
        explanation=tuple(line(sentence) for sentence in told.explanation if sentence),
        basis=line(basis),
        odds=told.odds,
    )


def _basis_told(basis: Basis) -> Sentence:
    return said(_("Basis: {basis}."), basis=basis_words(basis))


def shows_sentence(animal: Animal, folio: Folio) -> Sentence:
    """``Shows amelanistic and motley.`` with links to the genes; what is not judged is not denied."""
    claims = folio.claims(animal.id)
    seen = [folio.voice.gene(claim) for claim in claims if claim.kind in SEEN]
    if seen:
        return said(_("Shows {genes}."), genes=listed(seen))
    if any(claim.look for claim in claims):  # a look that is recorded where the records give no answer
        return said(no_answer())
    if not folio.collection.species[animal.species].genome.loci:
        return said(no_genes())
    judging = how_judged(folio.collection, animal, folio.material.as_of)
    return said(nothing_shown(judging, lives=animal.died is None))


def hidden_lines(animal: Animal, folio: Folio) -> tuple[Line, ...]:
    """One short sentence for each gene it carries, may carry, or is too young to show; then whether more is known."""
    return folio.lines(hidden_sentences(animal, folio))


def hidden_sentences(animal: Animal, folio: Folio) -> tuple[Sentence, ...]:
    """The same as words and links to no address yet."""
    found = [claim for claim in folio.claims(animal.id) if claim.kind in HIDDEN]
    return tuple(short_sentence(claim, folio.voice) for claim in found)


def no_hidden(animal: Animal, folio: Folio) -> str:
    """What stands where no hidden gene is told of; empty where one is."""
    kinds = {claim.kind for claim in folio.claims(animal.id)}
    if kinds & set(HIDDEN):
        return ""
    return no_answer() if ClaimKind.NO_CLAIM in kinds else no_hidden_gene()


def combination_of(animal: Animal, folio: Folio) -> Combination | None:
    """The trade name that takes in most of what an animal shows; None when no name fits."""
    seen = {claim.look for claim in folio.claims(animal.id) if claim.kind in SEEN}
    genome = folio.collection.species[animal.species].genome
    fitting = [named for named in genome.combinations if named.looks and seen.issuperset(named.looks)]
    return max(fitting, key=lambda named: len(named.looks)) if fitting else None


def look_links(looks: Sequence[str], species: str, folio: Folio) -> tuple[Link, ...]:
    """Looks by name, each leading to its gene."""
    genome = folio.collection.species[species].genome
    found = [genome.look(look) for look in looks]
    return tuple(Link(look.name, Target.GENE, f"{species}/{look.locus}") for look in found)


def combination_sentence(animal: Animal, folio: Folio) -> Sentence:
    """``Together the trade calls this “snow”: amelanistic and anerythristic.``; empty when no name fits."""
    named = combination_of(animal, folio)
    if named is None:
        return ()
    parts = listed(look_links(named.looks, animal.species, folio))
    return said(_("Together the trade calls this “{name}”: {parts}."), name=named.name, parts=parts)
