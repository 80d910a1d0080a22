"""``sitegen why ANIMAL [GENE]``: what is known, and because of what."""

from collections.abc import Mapping, Sequence
from functools import partial

import click

from sitegen.app.commands.options import Call, known_or_told, nearest_animal, shared
from sitegen.app.console import Console, TreeLine
from sitegen.content.collection import latest_date
from sitegen.content.species import Species
from sitegen.evidence.answers import Known, genotypes_in_order, posterior_json, why_all_json
from sitegen.evidence.claims import claims_from
from sitegen.evidence.joint import joint_json, joints_of
from sitegen.evidence.kinds import Claim
from sitegen.evidence.reasons import reasons
from sitegen.evidence.steps import Step, chain
from sitegen.exact import written
from sitegen.findings import WrongUse, nearest
from sitegen.genetics.loci import Locus, genotype_text
from sitegen.genetics.questions import AnimalId, Posterior
from sitegen.words.claims import basis_words, headline, such_means
from sitegen.words.numbers import in_100
from sitegen.words.reasons import explanation
from sitegen.words.speech import Voice, animal_name, plain


@click.command(name="why", epilog="Example:  sitegen why flint amel")
@click.argument("animal", required=False)
@click.argument("gene", required=False)
@shared
@click.option("--all", "everything", is_flag=True, help="Every animal of the collection.")
def command(call: Call, animal: str | None, gene: str | None, everything: bool) -> int:
    """What is known of ANIMAL's genes, and because of what, down to the records.

    With GENE (a locus, or one of its looks) the whole chain of evidence for that gene.
    """
    console = call.console
    if everything == bool(animal):
        raise WrongUse("name one animal, or write --all; not both, and not neither")
    known, status = known_or_told(call)
    if known is None:
        return status
    if everything:
        if call.as_json:
            console.show_json(
                why_all_json(known.collection, known.answers) | joint_json(known.collection, joints_of(known.asked))
            )
        else:
            _tell_all(console, known)
        return max(status, int(bool(known.answers.knots)))
    assert animal is not None
    who = nearest_animal(known.collection, animal)
    species = known.collection.species[known.collection.animals[who].species]
    loci = [_locus(species, gene)] if gene else list(species.genome.loci)
    if call.as_json:
        console.show_json(_facts(known, who, loci))
    elif gene:
        _tell_chain(console, known, who, loci[0])
    else:
        _tell_animal(console, known, who)
    return status


def _locus(species: Species, named: str) -> Locus:
    """The locus that is meant: by its id, by an allele or by a look.

    Raises:
        WrongUse: The species has none such; the nearest is offered.
    """
    words: dict[str, Locus] = {}
    for locus in species.genome.loci:
        for word in (locus.id, locus.name, *(a.id for a in locus.alleles), *(a.name for a in locus.alleles)):
            words.setdefault(word.lower(), locus)
        for look in locus.looks:
            words.setdefault(look.id.lower(), locus)
            words.setdefault(look.name.lower(), locus)
    if found := words.get(named.strip().lower()):
        return found
    close = nearest(named, words)
    raise WrongUse(f'{species.name} has no gene "{named}"' + (f"; nearest: {close}" if close else ""))


def _claims(known: Known, voice: Voice) -> Mapping[AnimalId, tuple[Claim, ...]]:
    """The claims of each animal, made when they are asked for."""
    return claims_from(known.asked.evidence, known.answers, partial(reasons, known.asked), voice.as_of)


def _voice(known: Known) -> Voice:
    return Voice(known.collection, known.answers, latest_date(known.collection))


def _branch(claim: Claim, voice: Voice) -> TreeLine:
    told = [TreeLine(plain(sentence)) for sentence in explanation(claim, voice)]
    return TreeLine(plain(headline(claim, voice)), (*told, TreeLine(f"Basis: {basis_words(claim.basis)}.")))


def _tell_animal(console: Console, known: Known, who: AnimalId) -> None:
    voice = _voice(known)
    claims = _claims(known, voice)[who]
    inbreeding = written(known.answers.inbreeding[who])
    head = f"{animal_name(known.collection, who)} ({who}); inbreeding coefficient {inbreeding}"
    branches = [_branch(claim, voice) for claim in claims] or [TreeLine("Nothing is known or claimed of hidden genes.")]
    branches += [TreeLine(plain(such))] if (such := such_means(claims, voice)) else []
    console.show_tree(TreeLine(head, tuple(branches)))


def _tell_all(console: Console, known: Known) -> None:
    voice = _voice(known)
    claims = _claims(known, voice)
    rows = [(who, plain(headline(claim, voice))) for who in known.collection.animals for claim in claims[who]]
    console.show_table("What is known of every animal", ("animal", "claim"), rows)


def _tell_chain(console: Console, known: Known, who: AnimalId, locus: Locus) -> None:
    voice = _voice(known)
    claims = [claim for claim in _claims(known, voice)[who] if claim.locus == locus.id]
    steps = chain(known.asked, who, locus.id)
    branches = [_branch(claim, voice) for claim in claims]
    branches += [_step_branch(number, step, locus) for number, step in enumerate(steps, 1)]
    if not branches:
        branches = [TreeLine("Nothing is known or claimed.")]
    console.show_tree(TreeLine(f"{animal_name(known.collection, who)} ({who}), {locus.name}", tuple(branches)))


def _step_branch(number: int, step: Step, locus: Locus) -> TreeLine:
    records = tuple(TreeLine(str(place)) for place in step.reason.places)
    before, after = _chances(step.before, locus), _chances(step.after, locus)
    moved = TreeLine(f"before: {before}; then: {after}" if step.before else f"to begin with: {after}")
    return TreeLine(f"{number}. {step.says}", (moved, *records))


def _chances(posterior: Posterior, locus: Locus) -> str:
    return ", ".join(
        f"{genotype_text(genotype)} {in_100(posterior[genotype])} ({written(posterior[genotype])})"
        if posterior[genotype] != 1
        else f"{genotype_text(genotype)} for certain"
        for genotype in genotypes_in_order(locus, posterior)
    )


def _facts(known: Known, who: AnimalId, loci: Sequence[Locus]) -> dict[str, object]:
    own = known.answers.posteriors[who]
    return {
        "animals": {who: {locus.id: posterior_json(locus, own[locus.id]) for locus in loci if locus.id in own}},
        "inbreeding": {who: written(known.answers.inbreeding[who])},
        "chains": {
            locus.id: [
                {
                    "says": step.says,
                    "records": [{"file": p.file, "line": p.line, "column": p.column} for p in step.reason.places],
                    "before": posterior_json(locus, step.before),
                    "after": posterior_json(locus, step.after),
                }
                for step in chain(known.asked, who, locus.id)
            ]
            for locus in loci
            if locus.id in own
        },
    }
