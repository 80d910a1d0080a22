"""Law of what littermates share: each page, paper and file says what it would say if it were made alone."""

import datetime as dt
import random
from dataclasses import replace

import pytest
from random_histories import Breeder, few_loci, grown_collection

from sitegen.claims.from_evidence import claims_of
from sitegen.evidence.answers import answers_of
from sitegen.evidence.asking import ask
from sitegen.evidence.gather import gather
from sitegen.evidence.reasons import reasons
from sitegen.findings import Place
from sitegen.genetics.loci import Sex, SexSystem
from sitegen.pages.alike import stands_for
from sitegen.pages.material import Material, folio, material
from sitegen.pages.outcomes import litter_pairings
from sitegen.pages.whole_site import every_page
from sitegen.records.animals import Offer, OfferState
from sitegen.records.collection import Collection
from sitegen.rendering.machine import machine_files

AS_OF = dt.date(2025, 3, 1)


def on_offer(records: Collection, seed: int) -> Collection:
    """Most young are on offer in some state, some have a mark noted, some a name."""
    dice = random.Random(seed)
    changed = {}
    for each, animal in records.animals.items():
        offer = Offer(dice.choice(list(OfferState)), Place("offer")) if dice.random() < 0.8 else None
        marked = [replace(genes, markers=("a spot",) if dice.random() < 0.05 else ()) for genes in animal.genes]
        named = {"name": f"Named {each}"} if dice.random() < 0.2 else {}
        changed[each] = replace(animal, offer=offer, genes=tuple(marked), **named)
    return replace(records, animals=changed)


def site_of(records: Collection) -> Material | None:
    """All that its pages are made from; None where the records contradict each other."""
    asked = ask(gather(records))
    answers = answers_of(asked)
    if answers.contradictions or answers.too_tangled:
        return None
    claims = claims_of(records, answers, lambda animal, locus: reasons(asked, animal, locus), AS_OF)
    return material(records, answers, claims, {}, AS_OF, litter_pairings(asked))


def makers(of: Material) -> dict[str, object]:
    """Everything that is made of animals and litters, in the order in which a build makes it."""
    made = {**every_page(of), **machine_files(of, tuple)}
    return {address: made[address] for address in sorted(made) if address.startswith(("animals/", "litters/"))}


def told_of_another(of: Material) -> int:
    """How many animals another one stands for."""
    alone = replace(of)
    at = folio(alone, "index.html")
    return sum(stands_for(animal, at) != animal.id for animal in of.collection.animals.values())


def large_litters(seed: int) -> Collection:
    """A few litters of twelve young in which many look alike, of one sire or several, of every kind of locus."""
    dice = random.Random(seed)
    system = (SexSystem.ZW, SexSystem.UNKNOWN, SexSystem.XY, SexSystem.UNKNOWN)[seed % 4]
    breeder = Breeder(dice, *few_loci(system), system, common=0.12, tested=0.02, said_nothing=0.0)
    dams = [breeder.founder(Sex.FEMALE, dt.date(2018, 1, 1)) for _ in range(2)]
    sires = [breeder.founder(Sex.MALE, dt.date(2018, 1, 1)) for _ in range(3)]
    for year in range(3):
        young = breeder.litter(
            dice.choice(dams), dice.sample(sires, dice.choice((1, 1, 2))), dt.date(2021 + year, 7, 1), 12
        )
        breeder.promote(young[0])
        (dams if breeder.sexes[young[0]] is Sex.FEMALE else sires).append(young[0])
    return breeder.collection()


@pytest.mark.parametrize("seed", range(18))
def test_what_littermates_share_is_what_each_would_say_alone(seed):
    made = large_litters(seed) if seed % 3 else grown_collection(seed)
    found = site_of(on_offer(made, seed))
    if found is None:
        return
    together = {address: make() for address, make in makers(found).items()}
    alone = {address: makers(replace(found))[address]() for address in together}
    assert together == alone


def test_much_is_shared():
    """Or the law proves nothing."""
    found = [site_of(on_offer(large_litters(seed), seed)) for seed in range(1, 8)]
    assert sum(told_of_another(each) for each in found if each) > 30
