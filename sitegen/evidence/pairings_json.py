"""The machine form of a pairing: what ``odds --json`` prints."""

from sitegen.evidence.answers import Json, genotypes_in_order, posterior_json
from sitegen.evidence.pairings import PairAtLocus, Pairing, Wanted
from sitegen.exact import written
from sitegen.genetics.loci import Sex, genotype_text


def pairing_json(pairing: Pairing) -> Json:
    """Joint posterior of the pair, the young, their looks, what is wanted, and kinship."""
    found: Json = {
        "pair": {each.locus.id: _pair(each) for each in pairing.loci},
        "young": {each.locus.id: _young(each) for each in pairing.loci},
        "looks": [
            {
                "shows": list(row.shows),
                "p": written(row.chance),
                **({"carries": {key: written(chance) for key, chance in row.carries.items()}} if row.carries else {}),
            }
            for row in pairing.looks
        ],
    }
    if pairing.wanted:
        found["want"] = _wanted(pairing.wanted)
    found["kinship"] = written(pairing.kinship)
    if pairing.looks_left_out:
        found["looks_left_out"] = written(pairing.looks_left_out)
    if pairing.unanswered:
        found["unanswered"] = list(pairing.unanswered)
    living = {each.locus.id: written(each.living_share) for each in pairing.loci if each.living_share != 1}
    if living:
        found["living"] = living
    if pairing.lessons:
        found["lessons"] = [
            {
                "parent": lesson.parent,
                "locus": lesson.locus,
                "allele": lesson.allele,
                "n": lesson.n_young,
                "before": written(lesson.before),
                "after": written(lesson.after),
            }
            for lesson in pairing.lessons
        ]
    return found


def _pair(at: PairAtLocus) -> list[Json]:
    order = {
        genotype: rank
        for rank, genotype in enumerate(genotypes_in_order(at.locus, (g for pair in at.pair for g in pair)))
    }
    pairs = sorted(at.pair, key=lambda pair: (order[pair[0]], order[pair[1]]))
    return [
        {"dam": genotype_text(pair[0]), "sire": genotype_text(pair[1]), "p": written(at.pair[pair])} for pair in pairs
    ]


def _young(at: PairAtLocus) -> Json:
    if Sex.UNKNOWN in at.young:
        return {**posterior_json(at.locus, at.young[Sex.UNKNOWN])}
    return {sex.value: posterior_json(at.locus, odds) for sex, odds in at.young.items()}


def _wanted(wanted: Wanted) -> Json:
    found: Json = {"shows": list(wanted.looks), "per_young": written(wanted.per_young)}
    if wanted.sex:
        found["sex"] = wanted.sex.value
    if wanted.n_young is not None:
        found["n"] = wanted.n_young
        found["counts"] = [written(chance) for chance in wanted.counts]
    found["at_least"] = {"k": wanted.k, "p": written(wanted.at_least)}
    found["in_litter"] = {"k": wanted.k, "p": written(wanted.in_litter)}
    found["needed"] = [
        {"p": written(each.level), "n": each.n_young, "ceiling": written(each.ceiling)} for each in wanted.needed
    ]
    return found
