"""What changed of what could be said, on which day, because of which records."""

import datetime as dt
from dataclasses import replace
from fractions import Fraction

from helpers.small_collections import (
    COPPER,
    HYPO,
    MOTLEY_STRIPE,
    NOWHERE,
    TESSERA,
    animal_of,
    collection_of,
    dominant,
    locus_of,
    recessive,
    species_of,
)

from sitegen.content.animals import Offer
from sitegen.content.genes import Copies, DnaTest, Genes, Judged, SeenLook
from sitegen.content.litters import Litter, Others
from sitegen.content.prices import OfferState
from sitegen.content.values import PartialDate, Weighing
from sitegen.evidence.answers import answers_of
from sitegen.evidence.arrivals import arrivals_of
from sitegen.evidence.asking import ask
from sitegen.evidence.changes import ChangeKind, changes_of
from sitegen.evidence.claims import claims_of
from sitegen.evidence.gather import gather
from sitegen.evidence.gathered import Ground
from sitegen.evidence.history import history
from sitegen.evidence.kinds import Basis, ClaimKind
from sitegen.evidence.reasons import reasons
from sitegen.findings import Place
from sitegen.genetics.loci import Sex

SURE = {("+", "hypo"): Fraction(1)}
TWO_THIRDS = {("+", "+"): Fraction(1, 3), ("+", "hypo"): Fraction(2, 3)}
PLAIN = Others(count=4, judged=Judged((), (), NOWHERE), sex=Sex.UNKNOWN, place=NOWHERE)


def changes(collection):
    asked = ask(gather(collection))
    today = claims_of(collection, answers_of(asked), lambda a, locus: reasons(asked, a, locus), dt.date(2026, 10, 1))
    arrivals = arrivals_of(collection)
    return changes_of(arrivals, history(arrivals), today)


def litter_of(year, *young, dam="juniper", sires=("flint",), others=()):
    odds = tuple((sire, Fraction(1, len(sires))) for sire in sires)
    return Litter(
        id=str(year),
        name=str(year),
        species="corn-snake",
        place=Place(f"{year}.yaml"),
        dam=dam,
        sires=odds,
        young=tuple(one.id for one in young),
        others=others,
        born=PartialDate(year, 7, 18),
    )


def young_of(year, number, *, dam="juniper", sires=("flint",), **more):
    return animal_of(f"{year}/{number}", dam=dam, sires=sires, litter=str(year), number=number, born=None, **more)


def herd(*animals, litters=(), dam=TWO_THIRDS, sire=SURE):
    juniper = animal_of("juniper", stated={"hypo": dam}, sex=Sex.FEMALE)
    flint = animal_of("flint", stated={"hypo": sire}, sex=Sex.MALE)
    return collection_of(flint, juniper, *animals, litters=litters, species=species_of(HYPO, TESSERA))


def test_a_young_that_shows_it_proves_its_dam():
    young = young_of(2024, "05", shows={"hypo": "hypo"})
    (change,) = changes(herd(young, litters=(litter_of(2024, young),)))["juniper"]
    assert (change.kind, change.allele, change.day) == (ChangeKind.PROVED, "hypo", dt.date(2024, 7, 18))
    assert (change.chance_before, change.chance_after) == (Fraction(2, 3), Fraction(1))
    assert change.before
    assert change.before.kind is ClaimKind.MAY_CARRY
    assert change.after
    assert (change.after.kind, change.after.basis) == (ClaimKind.CARRIES, Basis.PROVEN_BY_YOUNG)
    (reason,) = change.because
    assert (reason.ground, reason.animals, reason.litter) == (Ground.YOUNG, ("2024/05",), "2024")


def test_what_is_said_first_is_no_change():
    young = young_of(2024, "05", shows={"hypo": "hypo"})
    found = changes(herd(young, litters=(litter_of(2024, young),)))
    assert set(found) == {"juniper"}


def test_a_test_rules_out_and_its_young_follow_also_when_sold():
    test = DnaTest(
        locus="hypo",
        genotypes=(("+", "+"),),
        place=Place("juniper.yaml", 9),
        laboratory="Saltby Animal Genetics",
        date=PartialDate(2025, 2, 1),
    )
    offer = Offer(state=OfferState.SOLD, place=NOWHERE, since=PartialDate(2024, 10, 1))
    sold = young_of(2024, "01", offer=offer)
    collection = herd(sold, litters=(litter_of(2024, sold),), sire={("+", "+"): Fraction(1)})
    juniper = collection.animals["juniper"]
    tested = replace(juniper, genes=(replace(juniper.genes[0], tests=(test,)),))
    found = changes(replace(collection, animals={**collection.animals, "juniper": tested}))
    assert [change.kind for change in found["juniper"]] == [ChangeKind.RULED_OUT]
    (change,) = found["2024/01"]
    assert (change.kind, change.day) == (ChangeKind.RULED_OUT, dt.date(2025, 2, 1))
    assert (change.chance_before, change.chance_after) == (Fraction(1, 3), 0)
    assert [(reason.ground, reason.animals) for reason in change.because] == [(Ground.DNA_TEST, ("juniper",))]


def test_odds_move_with_each_litter():
    litters = (litter_of(2024, others=(PLAIN,)), litter_of(2025, others=(PLAIN,)))
    first, second = changes(herd(litters=litters))["juniper"]
    weights = [Fraction(2, 3) * Fraction(3, 4) ** n for n in (4, 8)]
    assert [change.kind for change in (first, second)] == [ChangeKind.MOVED] * 2
    assert [change.chance_after for change in (first, second)] == [w / (w + Fraction(1, 3)) for w in weights]
    assert second.chance_before == first.chance_after
    assert dict(first.because[0].detail) == {"count": "4"}


def test_only_moves_that_are_wanted_are_told_and_whatever_was_settled():
    young = young_of(2025, "05", shows={"hypo": "hypo"})
    collection = herd(young, litters=(litter_of(2024, others=(PLAIN,)), litter_of(2025, young)))
    arrivals = arrivals_of(collection)
    (change,) = changes_of(arrivals, history(arrivals), {}, lambda before, after: False)["juniper"]
    assert change.kind is ChangeKind.PROVED


def test_an_older_littermate_is_told_of_as_young_of_its_parents():
    older = young_of(2024, "01")
    younger = young_of(2025, "02", shows={"hypo": "hypo"})
    found = changes(herd(older, younger, litters=(litter_of(2024, older), litter_of(2025, younger))))
    (change,) = found["2024/01"]
    assert [(reason.ground, reason.animals) for reason in change.because] == [(Ground.SIBLINGS, ("2025/02",))]


def test_of_several_possible_sires_none_is_called_the_parent():
    basalt = animal_of("basalt", stated={"hypo": TWO_THIRDS}, sex=Sex.MALE)
    litter = litter_of(2024, sires=("basalt", "flint"), others=(PLAIN,))
    (change,) = changes(herd(basalt, litters=(litter,), dam=SURE))["basalt"]
    assert "perhaps" in dict(change.because[0].detail)


def test_young_without_it_settle_the_copies():
    ochre = animal_of("ochre", shows={"tessera": "tessera"}, sex=Sex.MALE)
    copies = (Copies("tessera", Fraction(1, 3), NOWHERE),)
    ochre = replace(ochre, genes=(replace(ochre.genes[0], copies=copies),))
    litter = litter_of(2024, sires=("ochre",), others=(PLAIN,))
    (change,) = changes(herd(ochre, litters=(litter,)))["ochre"]
    assert (change.kind, change.chance_before, change.chance_after) == (ChangeKind.COPIES_SETTLED, Fraction(1, 3), 0)
    assert change.before
    assert change.before.kind is ClaimKind.ONE_OR_TWO_COPIES
    assert change.after
    assert (change.after.kind, change.after.copies) == (ClaimKind.SHOWS, 1)


def test_what_became_certain_rests_on_what_it_rests_on_today():
    young = young_of(2024, "05", shows={"hypo": "hypo"})
    collection = herd(young, litters=(litter_of(2024, young),))
    asked = ask(gather(collection))
    today = claims_of(collection, answers_of(asked), lambda a, locus: reasons(asked, a, locus), dt.date(2026, 10, 1))
    said = [replace(c, basis=Basis.PREVIOUS_KEEPER, hangs_on=("flint",)) for c in today["juniper"]]
    arrivals = arrivals_of(collection)
    (change,) = changes_of(arrivals, history(arrivals), {"juniper": said})["juniper"]
    assert change.after
    assert (change.after.basis, change.after.hangs_on) == (Basis.PREVIOUS_KEEPER, ("flint",))


def test_a_promoted_young_counts_once():
    young = young_of(2024, "01", shows={"hypo": "hypo"})
    own = Genes(replace(young.genes[0].judged, place=Place("own.yaml", 3)))
    yarrow = replace(young, id="yarrow", genes=(*young.genes, own))
    (change,) = changes(herd(yarrow, litters=(litter_of(2024, yarrow, others=(PLAIN,)),)))["juniper"]
    assert dict(change.because[0].detail)["count"] == "5"
    assert change.because[0].animals == ("yarrow",)


def test_records_without_any_date_have_no_history():
    young = animal_of("sage", shows={"hypo": "hypo"}, dam="juniper", sires=("flint",), born=None)
    animals = [replace(animal, born=None) for animal in herd().animals.values()]
    assert changes(collection_of(*animals, young, species=species_of(HYPO, TESSERA))) == {}


def seen_later(at, look, *, dam, sire):
    """The changes of a young of two stated parents that nobody judged at birth and that showed a look in 2025."""
    parents = [
        animal_of(name, stated={at.id: odds}, written=False) for name, odds in (("juniper", dam), ("flint", sire))
    ]
    young = young_of(2024, "01", written=False)
    judged = Judged((SeenLook(look, at.id, NOWHERE),), (), Place("own.yaml", 3), on=PartialDate(2025, 3, 1))
    young = replace(young, genes=(*young.genes, Genes(judged)))
    herd = collection_of(*parents, young, litters=(litter_of(2024, young),), species=species_of(at))
    found = changes(herd)["2024/01"]
    assert {change.day for change in found} == {dt.date(2025, 3, 1)}
    return found


def test_what_was_certain_before_it_was_seen_became_visible():
    two = {("hypo", "hypo"): Fraction(1)}
    (change,) = seen_later(HYPO, "hypo", dam=two, sire=two)
    assert (change.kind, change.chance_before, change.chance_after) == (ChangeKind.BECAME_VISIBLE, 1, 1)
    assert change.after
    assert (change.after.kind, change.after.look) == (ClaimKind.SHOWS, "hypo")
    assert [(reason.ground, reason.animals) for reason in change.because] == [(Ground.SHOWS_ITSELF, ("2024/01",))]


def test_a_look_of_two_alleles_became_visible_for_both():
    motley, stripe = ({("+", name): Fraction(1)} for name in ("motley", "stripe"))
    found = seen_later(MOTLEY_STRIPE, "striped-motley", dam=motley, sire=stripe)
    assert [(change.allele, change.kind, change.after and change.after.look) for change in found] == [
        (name, ChangeKind.BECAME_VISIBLE, "striped-motley") for name in ("motley", "stripe")
    ]
    assert all((change.chance_before, change.chance_after) == (Fraction(1, 2), 1) for change in found)


def test_one_allele_that_shows_says_nothing_of_another_at_its_locus():
    series = locus_of(dominant("over"), recessive("under"), locus_id="series")
    over, under = ({("+", name): Fraction(1)} for name in ("over", "under"))
    (change,) = seen_later(series, "over", dam=over, sire=under)
    assert (change.allele, change.kind) == ("over", ChangeKind.BECAME_VISIBLE)
    assert (change.chance_before, change.chance_after) == (Fraction(1, 2), 1)


def test_copies_that_become_likelier_are_told_where_the_allele_is_certain():
    odds = {("+", "hypo"): Fraction(1, 2), ("hypo", "hypo"): Fraction(1, 2)}
    ochre = animal_of("ochre", stated={"hypo": odds}, written=False)
    litter = litter_of(2024, sires=("ochre",), others=(PLAIN,))
    (change,) = changes(herd(ochre, litters=(litter,), dam=SURE))["ochre"]
    weights = Fraction(3, 4) ** 4, Fraction(1, 2) ** 4
    assert (change.kind, change.chance_before) == (ChangeKind.MOVED, Fraction(1, 2))
    assert change.chance_after == weights[1] / sum(weights)


def test_a_test_that_confirms_what_was_certain_changes_nothing():
    test = DnaTest(
        locus="hypo",
        genotypes=(("+", "hypo"),),
        place=Place("juniper.yaml", 9),
        laboratory="Saltby Animal Genetics",
        date=PartialDate(2025, 2, 1),
    )
    juniper = animal_of("juniper", stated={"hypo": SURE}, tests={"hypo": ()})
    juniper = replace(juniper, genes=(replace(juniper.genes[0], tests=(test,)),))
    assert changes(collection_of(juniper, species=species_of(HYPO, TESSERA))) == {}


def test_one_allele_of_a_locus_may_move_alone():
    motley = {("+", "+"): Fraction(1, 3), ("+", "motley"): Fraction(2, 3)}
    parents = [
        animal_of("juniper", stated={"motley-stripe": motley}),
        animal_of("flint", stated={"motley-stripe": {("+", "motley"): Fraction(1)}}),
    ]
    herd = collection_of(*parents, litters=(litter_of(2024, others=(PLAIN,)),), species=species_of(MOTLEY_STRIPE))
    (change,) = changes(herd)["juniper"]
    weight = Fraction(2, 3) * Fraction(3, 4) ** 4
    assert (change.allele, change.kind) == ("motley", ChangeKind.MOVED)
    assert change.chance_after == weight / (weight + Fraction(1, 3))


def test_what_is_seen_again_changes_nothing():
    ochre = animal_of("ochre", shows={"tessera": "tessera"}, sex=Sex.MALE)
    again = Judged((SeenLook("tessera", "tessera", NOWHERE),), (), Place("ochre.yaml", 9), on=PartialDate(2025, 3, 1))
    ochre = replace(ochre, genes=(*ochre.genes, Genes(again)))
    assert changes(herd(ochre)) == {}


def with_copper(*weights, **more):
    """A grown dam with a look that comes with growth, written down without a day, and a litter of hers."""
    juniper = animal_of("juniper", shows={"copper": "copper"}, sex=Sex.FEMALE, **more)
    juniper = replace(juniper, weights=tuple(Weighing(day, 300) for day in weights))
    flint = animal_of("flint", stated={"hypo": SURE}, sex=Sex.MALE, unsure=("copper",))
    young = young_of(2025, "01", unsure=("copper",))
    return collection_of(flint, juniper, young, litters=(litter_of(2025, young),), species=species_of(HYPO, COPPER))


def test_a_look_of_an_animal_that_was_grown_when_it_was_first_told_of_is_no_news_of_its_first_litter():
    assert "juniper" not in changes(with_copper())


def test_a_look_of_an_animal_that_was_told_of_when_it_was_too_young_is_news():
    (change,) = changes(with_copper(PartialDate(2022, 9, 1)))["juniper"]
    assert (change.kind, change.day) == (ChangeKind.BECAME_VISIBLE, dt.date(2025, 7, 18))
    assert not change.dated


def test_a_test_is_news_also_where_nothing_stands_of_an_earlier_day():
    tested = DnaTest(locus="hypo", genotypes=(("+", "+"),), place=NOWHERE, date=PartialDate(2025, 3, 1))
    sage = animal_of("sage", stated={"hypo": TWO_THIRDS}, unsure=("hypo",))
    sage = replace(sage, genes=(replace(sage.genes[0], tests=(tested,)),))
    (change,) = changes(collection_of(sage, species=species_of(HYPO)))["sage"]
    assert (change.kind, change.day, change.dated) == (ChangeKind.RULED_OUT, dt.date(2025, 3, 1), False)


def with_test(animal, day, *genotypes):
    test = DnaTest(locus="hypo", genotypes=genotypes, place=NOWHERE, date=day)
    return replace(animal, genes=tuple(replace(genes, tests=(test,)) for genes in animal.genes))


def test_what_rests_on_tests_and_litters_with_their_days_was_so_on_that_day():
    day = PartialDate(2023, 5, 1)
    dam, sire = (
        with_test(animal_of(name, sex=sex, unsure=("hypo",)), day, ("+", "hypo"))
        for name, sex in (("juniper", Sex.FEMALE), ("flint", Sex.MALE))
    )
    young = young_of(2024, "01", unsure=("hypo", "tessera"))
    young = with_test(young, PartialDate(2025, 2, 1), ("+", "hypo"))
    records = collection_of(dam, sire, young, litters=(litter_of(2024, young),), species=species_of(HYPO))
    (change,) = changes(records)["2024/01"]
    assert change.dated

    def with_other(**more):
        other = replace(dam, **more)
        return changes(replace(records, animals={**records.animals, "juniper": other}))["2024/01"][0].dated

    undated = tuple(replace(genes, tests=tuple(replace(t, date=None) for t in genes.tests)) for genes in dam.genes)
    assert not with_other(genes=undated)
    assert with_other(genes=(*dam.genes, Genes(Judged((), (), NOWHERE))))
    unborn = replace(records.litters["2024"], born=None, laid=PartialDate(2024, 5, 1))
    looked = replace(young, genes=(replace(young.genes[0], judged=Judged((), (), Place("2024.yaml"))),))
    for litter, dated in ((records.litters["2024"], True), (unborn, False)):
        now = replace(records, litters={"2024": litter}, animals={**records.animals, "2024/01": looked})
        assert changes(now)["2024/01"][0].dated is dated
