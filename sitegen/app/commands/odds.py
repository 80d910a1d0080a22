"""``sitegen odds DAM SIRE``: what a pairing can give."""

from collections.abc import Iterator
from functools import partial

import click

from sitegen.app.commands.options import Call, known_or_told, nearest_animal, shared
from sitegen.app.console import Console
from sitegen.content.collection import Collection, latest_date
from sitegen.content.species import Species
from sitegen.evidence.answers import Answers
from sitegen.evidence.offers import CautionKind, allele_cautions
from sitegen.evidence.pairings import Pairing, Wanted, pairing
from sitegen.evidence.pairings_json import pairing_json
from sitegen.exact import written
from sitegen.findings import WrongUse
from sitegen.genetics.by_eye import Expected, by_eye
from sitegen.genetics.loci import Genome, Sex, SexSystem
from sitegen.plans.assumed import taken_for_granted
from sitegen.site.gene_pairings import loss_words
from sitegen.words.assumed import sentences_by_figure
from sitegen.words.buying import short_caution
from sitegen.words.numbers import in_100
from sitegen.words.pairings import (
    at_least,
    at_least_in_litter,
    chance_for_one,
    lesson,
    looks_text,
    never_from_pair,
    young_needed,
)
from sitegen.words.relations import kin_words
from sitegen.words.speech import Voice, animal_name, listed, plain

_MOST_ROWS = 24


@click.command(name="odds", epilog="Example:  sitegen odds juniper flint --want amel --young 12")
@click.argument("dam")
@click.argument("sire")
@shared
@click.option("--young", "n_young", type=click.IntRange(min=0), help="Ask about this number of living young.")
@click.option("--want", "wanted", multiple=True, metavar="LOOK", help="A look; several must all be in one young.")
@click.option("--sex", type=click.Choice(["female", "male"]), help="Count only wanted young of this sex.")
@click.option("--at-least", "k", type=click.IntRange(min=1), default=1, show_default=True, help="How many are wanted.")
def command(
    call: Call, dam: str, sire: str, n_young: int | None, wanted: tuple[str, ...], sex: str | None, k: int
) -> int:
    """What the pairing of DAM and SIRE can give: looks, hidden genes, chances for a litter.

    Animals are named by their folder, or as LITTER/YOUNG.
    """
    console = call.console
    known, status = known_or_told(call)
    if known is None:
        return status
    pair = [nearest_animal(known.collection, name) for name in (dam, sire)]
    species = known.collection.species[known.collection.animals[pair[0]].species]
    if sex and species.genome.sex_system is SexSystem.TEMPERATURE:
        message = f"the warmth of the eggs decides the sex of a {species.name}, so no share of females or males is told"
        raise WrongUse(f"{message}; leave --sex out")
    found = pairing(known.asked, *pair, n_young=n_young, wanted=wanted, sex=Sex(sex) if sex else None, k=k)
    if call.as_json:
        console.show_json(pairing_json(found))
    else:
        _tell(console, found, known.collection, known.answers)
    return status


def _tell(console: Console, found: Pairing, collection: Collection, answers: Answers) -> None:
    species = collection.species[found.species]
    dam, sire = (animal_name(collection, animal) for animal in (found.dam, found.sire))
    console.show_result(f"{dam} (dam) and {sire} (sire), {species.name}: {_kin(found, collection)}.")
    if found.unanswered:
        console.show_result(f"No answer for {', '.join(found.unanswered)}: see sitegen check.")
    _tell_parents(console, found, dam, sire)
    _tell_looks(console, found, species)
    _tell_harm(console, found, Voice(collection, answers, latest_date(collection)))
    if found.wanted:
        _tell_wanted(console, found.wanted, species, collection)
    for each in found.lessons:
        gene = species.genome.locus(each.locus).allele(each.allele).name
        told = lesson(animal_name(collection, each.parent), gene, each.n_young, each.before, each.after)
        console.show_result(plain(told))


def _kin(found: Pairing, collection: Collection) -> str:
    """What the two are to each other; where that hangs on who a sire was, all that it may be."""
    told = dict.fromkeys(kin_words(case.value, partial(animal_name, collection)) for case in found.related)
    coefficient = f" (coefficient {written(found.kinship)})" if found.kinship and len(told) == 1 else ""
    return " or ".join(told) + (", by which sires there were" if len(told) > 1 else coefficient)


def _tell_parents(console: Console, found: Pairing, dam: str, sire: str) -> None:
    """Both parents together, where their genotypes are not certain."""
    rows = [
        (at.locus.id, "/".join(pair[0]), "/".join(pair[1]), in_100(chance), written(chance))
        for at in found.loci
        for pair, chance in sorted(at.pair.items(), key=lambda entry: -entry[1])
        if len(at.pair) > 1
    ]
    if rows:
        console.show_table("What the two may be, together", ("gene", dam, sire, "pairs like this", "exact"), rows)


def _tell_looks(console: Console, found: Pairing, species: Species) -> None:
    if not found.loci:
        return
    told = by_eye(found.looks, species.genome)
    rows = [
        (
            plain(looks_text([species.genome.look(look).name for look in row.looks])),
            in_100(row.chance),
            written(row.chance),
            "; ".join(_unseen(row, species.genome)),
        )
        for row in told[:_MOST_ROWS]
    ]
    beside = f", {', '.join(found.unanswered)} left aside" if found.unanswered else ""
    console.show_table(
        f"What living young can look like{beside}", ("young that show", "of all young", "exact", "unseen"), rows
    )
    rest = sum((row.chance for row in told[_MOST_ROWS:]), start=found.looks_left_out)
    if rest:
        console.show_result(f"Other looks together: {in_100(rest)} young.")


def _tell_harm(console: Console, found: Pairing, voice: Voice) -> None:
    """Young that are lost, and known harms of the genes that the young may have."""
    for at in found.loci:
        if at.living_share != 1:
            console.show_result(loss_words(at.living_share))
        there = {allele for pair in at.pair for genotype in pair for allele in genotype}
        for allele in at.locus.alleles:
            for caution in allele_cautions(found.species, at.locus, allele.id) if allele.id in there else ():
                if caution.kind is CautionKind.WELFARE:
                    console.show_result(plain(short_caution(caution, voice)))


def _unseen(row: Expected, genome: Genome) -> Iterator[str]:
    """What young that look so carry: certain genes together, then each doubtful one with its chance."""
    certain = [_allele(gene, genome) for gene, chance in row.carries.items() if chance == 1]
    if certain:
        yield f"all carry {plain(listed(certain))}"
    doubtful = [(_allele(gene, genome), chance) for gene, chance in row.carries.items() if chance != 1]
    yield from (f"{name}: {in_100(chance)}" for name, chance in doubtful)


def _tell_wanted(console: Console, wanted: Wanted, species: Species, collection: Collection) -> None:
    looks = [species.genome.look(look).name for look in wanted.looks] + ([wanted.sex.value] if wanted.sex else [])
    console.show_result(plain(chance_for_one(looks, wanted.per_young)))
    if wanted.n_young is not None:
        console.show_result(plain(at_least(looks, wanted.k, wanted.n_young, wanted.at_least, species)))
    else:
        console.show_result(plain(at_least_in_litter(looks, wanted.k, wanted.in_litter, species)))
        granted = taken_for_granted(species, collection)
        sized = sentences_by_figure(granted, species, collection.site.language)["litter_size"]
        console.show_result(plain(sized))
    for needed in wanted.needed:
        if needed.n_young is not None:
            console.show_result(plain(young_needed(looks, needed.n_young, needed.level, wanted.k)))
        elif needed.never and wanted.per_young:
            console.show_result(plain(never_from_pair(looks, needed.ceiling, needed.level)))


def _allele(allele_id: str, genome: Genome) -> str:
    for locus in genome.loci:
        for allele in locus.alleles:
            if allele.id == allele_id:
                return allele.name
    return allele_id
