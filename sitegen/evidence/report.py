"""The machine form of all answers: what ``why --all --json`` prints."""

from collections.abc import Iterable, Mapping
from fractions import Fraction

from sitegen.content.collection import Collection
from sitegen.evidence.known import Answers
from sitegen.exact import written
from sitegen.findings import Place
from sitegen.genetics.loci import Genotype, Locus, genotype_text
from sitegen.genetics.observations import all_genotypes
from sitegen.genetics.questions import Posterior

Json = dict[str, object]


def posterior_json(locus: Locus, posterior: Posterior) -> dict[str, str]:
    """Genotype text to exact chance, in the order of the species file, without genotypes of chance 0."""
    return {genotype_text(genotype): written(posterior[genotype]) for genotype in in_order(locus, posterior)}


def in_order(locus: Locus, genotypes: Iterable[Genotype]) -> tuple[Genotype, ...]:
    """These genotypes in the order of the species file, those with two copies first."""
    wanted = set(genotypes)
    return tuple(genotype for genotype in all_genotypes(locus) if genotype in wanted)


def why_all_json(collection: Collection, answers: Answers) -> Json:
    """All answers of a collection: posteriors, sires, inbreeding, contradictions, what is too tangled."""
    return {
        "animals": {
            animal: {
                locus.id: posterior_json(locus, own[locus.id])
                for locus in collection.species[collection.animals[animal].species].genome.loci
                if locus.id in own
            }
            for animal, own in answers.posteriors.items()
        },
        "sires": {key: _chances(sires) for key, sires in answers.sires.items()},
        "inbreeding": _chances(answers.inbreeding),
        "contradictions": [
            {
                "species": clash.species,
                "loci": list(clash.loci),
                "records": [{**_place(place), "says": says} for place, says in clash.records],
            }
            for clash in answers.clashes
        ],
        "too_tangled": [
            {"species": knot.species, "loci": list(knot.loci), "animals": list(knot.animals)} for knot in answers.knots
        ],
    }


def _chances(chances: Mapping[str, Fraction]) -> dict[str, str]:
    return {key: written(chance) for key, chance in chances.items()}


def _place(place: Place) -> Json:
    return {"file": place.file, "line": place.line, "column": place.column}
