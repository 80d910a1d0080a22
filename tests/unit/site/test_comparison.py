"""Animals on offer compared by one gene."""

from dataclasses import replace
from fractions import Fraction

from helpers.small_site import HERE, animal, collection, small_material, whole_site

from sitegen.content.animals import Offer
from sitegen.content.prices import OfferState
from sitegen.evidence.kinds import Basis, Claim, ClaimKind
from sitegen.genetics.loci import Sex
from sitegen.site.addresses import addresses_of
from sitegen.site.comparison import ComparedAnimals, ComparisonPage, comparison_links, comparison_page
from sitegen.site.material import Material, folio

AT = "available/corn-snake/hypo.html"


def several() -> Material:
    """Six on offer: one shows hypo, one has it for certain, one by a word, two may have it, and one is ruled out."""
    records = collection()
    offer = Offer(state=OfferState.AVAILABLE, place=HERE)
    names = ("ash", "birch", "cedar", "dill", "elm", "fir", "gorse")
    more = {name: animal(name, name.capitalize(), Sex.FEMALE, offer=offer) for name in names}
    material = small_material(replace(records, animals={**records.animals, **more}))
    claims = {**material.claims, **{name: (_claim(name),) for name in names[:-1]}, "gorse": ()}
    return replace(material, claims=claims)


def _claim(name: str) -> Claim:
    one, two, none = ("+", "hypo"), ("hypo", "hypo"), ("+", "+")
    posterior = {
        "ash": {one: Fraction(1, 4), none: Fraction(3, 4)},
        "birch": {two: Fraction(1)},
        "cedar": {one: Fraction(2, 3), none: Fraction(1, 3)},
        "dill": {one: Fraction(1)},
        "elm": {one: Fraction(1)},
        "fir": {none: Fraction(1)},
    }[name]
    kind = {"birch": ClaimKind.SHOWS, "fir": ClaimKind.RULED_OUT, "dill": ClaimKind.CARRIES, "elm": ClaimKind.CARRIES}
    by_word = name in ("ash", "elm")
    chance = {"ash": Fraction(1, 4), "cedar": Fraction(2, 3), "fir": Fraction(0)}.get(name, Fraction(1))
    return Claim(
        kind.get(name, ClaimKind.MAY_CARRY), name, "corn-snake", "hypo", "hypo", "hypo" if name == "birch" else "",
        chance, -1 if name in ("ash", "cedar") else 1, posterior,
        Basis.PREVIOUS_KEEPER if by_word else Basis.OWN_RECORDS, (), hangs_on=(name,) if by_word else (),
    )  # fmt: skip


def page(material: Material | None = None) -> ComparisonPage:
    material = material or several()
    return comparison_page("corn-snake", "hypo", folio(material, AT))


def names(rows: tuple[ComparedAnimals, ...]) -> list[str]:
    return ["".join(span.text for span in row.name) for row in rows]


def text(row: ComparedAnimals) -> str:
    return " ".join("".join(span.text for span in line) for line in (*row.words, *row.rests_on))


def test_animals_stand_by_how_sure_it_is_and_the_highest_chance_comes_first() -> None:
    found = {group.title: names(group.rows) for group in page().groups}
    assert found["Shows it"] == ["Birch"]
    assert found["Has it for certain"] == ["Dill"]
    assert found["Said to have it"] == ["Elm"]
    assert found["May have it"] == [
        "Cedar", "No. 01 of Juniper and Flint 2026", "No. 02 of Juniper and Flint 2026", "Ash",
    ]  # fmt: skip
    assert list(found) == ["Shows it", "Has it for certain", "May have it", "Said to have it"]


def test_littermates_of_which_all_the_same_is_said_stand_together_each_with_its_own_offer() -> None:
    base = several()
    first, second = (name for name in base.claims if name.endswith(("/01", "/02")))
    twins = replace(base, claims={**base.claims, second: tuple(replace(c, animal=second) for c in base.claims[first])})
    (alike,) = [row for group in page(twins).groups for row in group.rows if len(row.animals) > 1]
    assert names((alike,)) == ["Nos. 01 and 02 of Juniper and Flint 2026, alike"]
    assert [(entry.name, entry.offer and entry.offer.label) for entry in alike.animals] == [
        ("No. 01", "Available"), ("No. 02", "On hold"),
    ]  # fmt: skip
    intro = "".join(span.text for span in page(twins).intro[0])
    assert intro.startswith(f"{sum(len(row.animals) for group in page(twins).groups for row in group.rows)} animals")
    # Of one of them amelanistic is claimed, of the other nothing: their hypo is the same, and they are not alike.
    assert all(len(row.animals) == 1 for group in page(base).groups for row in group.rows)


def test_a_previous_keepers_word_is_named_and_never_drawn_as_certain() -> None:
    rows = {names((row,))[0]: row for group in page().groups for row in group.rows}
    for name in ("Ash", "Elm"):
        assert "only a previous keeper’s word" in text(rows[name])
        assert "Basis: a previous keeper’s word." in text(rows[name])
    assert rows["Elm"].odds is None
    assert "previous keeper" not in text(rows["Cedar"])


def test_every_number_is_out_of_100_and_drawn_so() -> None:
    rows = {names((row,))[0]: row for group in page().groups for row in group.rows}
    drawn = {name: row.odds.filled for name, row in rows.items() if row.odds}
    assert (drawn["Cedar"], drawn["Ash"], drawn["Dill"], drawn["Birch"]) == (67, 25, 100, 100)
    assert "about 67 in 100" in text(rows["Cedar"])
    assert "33 do not" in text(rows["Cedar"])


def test_what_is_ruled_out_and_what_is_not_known_are_told_apart() -> None:
    found = {group.title: names(group.rows) for group in page().others}
    assert found["Looked into and ruled out"] == ["Fir"]
    assert found["Not known to have it"] == ["Gorse"]
    assert (
        "does not mean “does not carry”" in {group.title: group.note for group in page().others}["Not known to have it"]
    )


def test_only_what_can_be_had_is_compared() -> None:
    rows = [name for group in (*page().groups, *page().others) for name in names(group.rows)]
    assert "No. 04 of Juniper and Flint 2026" not in rows  # sold
    assert "Juniper" not in rows  # never offered


def test_every_page_on_which_animals_are_offered_has_its_cautions() -> None:
    titles = [caution.title for caution in page().cautions]
    assert "Reptiles and Salmonella" in titles
    material = several()
    wobble = comparison_page("corn-snake", "wobble", folio(material, AT))
    assert wobble.cautions[0].title == "A gene with a known harm"


def test_there_is_a_page_for_each_gene_in_play_and_both_lists_lead_to_it() -> None:
    material = small_material()
    places = folio(material, AT).addresses.comparisons
    assert list(places) == [("corn-snake", "amel"), ("corn-snake", "hypo")]
    found = {page.address: page.content for page in whole_site(material)}
    for address in places.values():
        assert isinstance(found[address], ComparisonPage)
    links = comparison_links("corn-snake", folio(material, "available.html"))
    assert [span.href for span in links if span.href] == [
        "available/corn-snake/amel.html", "available/corn-snake/hypo.html",
    ]  # fmt: skip
    gene = found["genes/corn-snake/hypo.html"]
    assert [span.href for line in gene.compare for span in line] == ["../../available/corn-snake/hypo.html"]  # type: ignore[attr-defined]


def test_nothing_on_offer_means_nothing_to_compare() -> None:
    records = collection()
    bare = {name: replace(found, offer=None) for name, found in records.animals.items()}
    assert folio(small_material(replace(records, animals=bare)), AT).addresses.comparisons == {}


def test_genes_that_differ_only_in_capitals_have_pages_of_their_own() -> None:
    records = collection()
    species = records.species["corn-snake"]
    locus = species.genome.loci[1]
    twin = replace(locus, id="Hypo", alleles=(replace(locus.alleles[0], id="Hypo"),))
    genome = replace(species.genome, loci=(*species.genome.loci, twin))
    records = replace(records, species={"corn-snake": replace(species, genome=genome)})
    base = several()
    both = {"ash": (*base.claims["ash"], replace(base.claims["ash"][0], locus="Hypo", allele="Hypo"))}
    ash = base.collection.animals["ash"]
    found = addresses_of(replace(records, animals={"ash": ash}), both, {}).comparisons
    assert list(found.values()) == ["available/corn-snake/hypo.html", "available/corn-snake/Hypo-2.html"]
