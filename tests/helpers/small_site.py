"""A small hand-built collection, its answers and claims, for tests of pages and themes."""

import datetime as dt
from collections.abc import Mapping
from dataclasses import fields, is_dataclass, replace
from decimal import Decimal
from fractions import Fraction
from typing import Any

from helpers.small_collections import answers_alone
from sitegen.content.animals import Acquired, Animal, Meal, Offer
from sitegen.content.collection import Collection
from sitegen.content.genes import Genes, Judged, SeenLook
from sitegen.content.litters import Litter, Others
from sitegen.content.photo_records import PhotoRecord
from sitegen.content.prices import Money, OfferState
from sitegen.content.projects import Goal, Project, Stage, Update
from sitegen.content.site import Contact, FreePage, Site
from sitegen.content.species import Births, LitterSize, Species
from sitegen.content.values import PartialDate, Weighing
from sitegen.evidence.answers import Answers
from sitegen.evidence.claims import claims_of
from sitegen.evidence.gathered import Ground, Reason
from sitegen.evidence.kinds import Claim
from sitegen.findings import Place
from sitegen.genetics.loci import (
    WILD,
    Allele,
    Combination,
    Genome,
    Inheritance,
    Locus,
    Sex,
    SexSystem,
    Welfare,
    looks_by_inheritance,
)
from sitegen.genetics.questions import AnimalId, Posterior
from sitegen.photos.variants import PhotoFacts, PictureSet, PictureSettings, plan
from sitegen.site.animal import AnimalPage
from sitegen.site.material import Material, told_changes, with_litter_names
from sitegen.site.parts import Page
from sitegen.site.whole_site import every_page

AS_OF = dt.date(2026, 11, 1)
HERE = Place("animals/juniper/animal.yaml", 1, 1)


def locus(locus_id: str, *alleles: Allele) -> Locus:
    looks, shown = looks_by_inheritance(locus_id, alleles, {})
    return Locus(locus_id, alleles[0].name, alleles, looks, shown, sex_system=SexSystem.ZW)


def species() -> Species:
    harm = Welfare("Some young sway their heads.", "A Journal, 2020")
    genome = Genome(
        "corn-snake",
        SexSystem.ZW,
        (
            locus("amel", Allele("amel", "amelanistic", Inheritance.RECESSIVE, about="No **black** pigment.")),
            locus("hypo", Allele("hypo", "hypo", Inheritance.RECESSIVE, not_the_same_as=("amel",))),
            locus("wobble", Allele("wobble", "wobble", Inheritance.DOMINANT, welfare=harm)),
        ),
        combinations=(Combination("sun", "sunglow", ("amel", "hypo")),),
    )
    return Species(
        id="corn-snake",
        name="corn snake",
        scientific="Pantherophis guttatus",
        births=Births.EGGS,
        litter_size=LitterSize(6, 13, 28),
        litters_a_year=1,
        breeding_age_months={},
        breeding_weight_grams={},
        genome=genome,
        place=Place("species/corn-snake.yaml"),
        gene_places={},
        about="A slender rat snake.",
    )


def judged(*looks: str) -> tuple[Genes, ...]:
    return (Genes(Judged(tuple(SeenLook(look, look, HERE) for look in looks), (), HERE)),)


def animal(animal_id: AnimalId, name: str, sex: Sex, *looks: str, **more: object) -> Animal:
    plain = Animal(
        id=animal_id,
        name=name,
        species="corn-snake",
        sex=sex,
        place=Place(f"animals/{animal_id}/animal.yaml", 1, 1),
        genes=judged(*looks),
    )
    return replace(plain, **more)  # type: ignore[arg-type]


def photo(path: str, *date: int) -> PhotoRecord:
    return PhotoRecord(path, PartialDate(*date), drawing=True)


def young(number: str, sex: Sex, *looks: str, **more: object) -> Animal:
    return animal(
        f"2026-x/{number}", number, sex, *looks, dam="juniper", sires=(("flint", Fraction(1)),), litter="2026-x",
        number=number, born=PartialDate(2026, 7, 18), **more,
    )  # fmt: skip


def animals() -> dict[AnimalId, Animal]:
    price = Money(Decimal(140), "GBP")
    available = Offer(
        state=OfferState.AVAILABLE,
        place=HERE,
        price=price,
        since=PartialDate(2026, 10, 1),
        ready=PartialDate(2026, 12, 1),
    )
    found = [
        animal(
            "juniper",
            "Juniper",
            Sex.FEMALE,
            "amel",
            born=PartialDate(2021, 7, 14),
            acquired=Acquired(PartialDate(2021, 11, 2), "a previous keeper"),
            photos=(photo("animals/juniper/a.jpg", 2022, 5, 1), photo("animals/juniper/b.jpg", 2025, 6, 12)),
            weights=(Weighing(PartialDate(2024, 5, 1), 310), Weighing(PartialDate(2025, 5, 3), 402)),
            meals=(Meal(PartialDate(2026, 10, 3), "adult mouse", taken=False),),
            about="Our first. See [the clutch](litters/2026-x.html) and [Sorrel](animals/sorrel.html).",
        ),
        animal("flint", "Flint", Sex.MALE, "wobble"),
        animal(
            "sorrel",
            "Sorrel",
            Sex.FEMALE,
            dam="juniper",
            sires=(("flint", Fraction(1)),),
            litter="2026-x",
            number="03",
            born=PartialDate(2026, 7, 18),
            kept=True,
        ),
        young("01", Sex.MALE, "amel", offer=available, photos=(photo("litters/2026-x/01.jpg", 2026, 9, 1),)),
        young("02", Sex.FEMALE, offer=Offer(state=OfferState.ON_HOLD, place=HERE)),
        young(
            "04",
            Sex.FEMALE,
            offer=Offer(state=OfferState.SOLD, place=HERE, price=price, since=PartialDate(2026, 10, 9)),
        ),
    ]
    return {a.id: a for a in found}


def litter() -> Litter:
    return Litter(
        id="2026-x",
        name="Juniper and Flint 2026",
        species="corn-snake",
        place=Place("litters/2026-x/litter.yaml", 1, 1),
        dam="juniper",
        sires=(("flint", Fraction(1)),),
        young=("2026-x/01", "2026-x/02", "sorrel", "2026-x/04"),
        others=(Others(count=2, judged=judged()[0].judged, sex=Sex.UNKNOWN, place=HERE),),
        paired=PartialDate(2026, 3, 2),
        born=PartialDate(2026, 7, 18),
        eggs=8,
        infertile=1,
        photos=(photo("litters/2026-x/all.jpg", 2026, 7, 20),),
        about="All out in two days.",
    )


def project() -> Project:
    note = Update(
        PartialDate(2026, 7, 20),
        "First pips",
        "# Out\n\nAll eight.",
        Place("projects/sun/updates/2026-07-20-first-pips.md"),
    )
    stage = Stage(
        id="first", season=2026, dam="juniper", sire="flint", litters=("2026-x",), keep=(), place=HERE, note="Begin."
    )
    return Project(
        id="sun",
        name="Sunglow",
        species="corn-snake",
        goal=Goal(("amel",), ("hypo",)),
        stages=(stage,),
        state="under way",
        place=HERE,
        updates=(note,),
        about="The *long* road.",
    )


def site() -> Site:
    return Site(
        name="Quillmoor Snakes",
        place=Place("site.yaml"),
        address="https://quillmoor.example/snakes/",
        tagline="Two rooms above a river.",
        contact=Contact("letters@quillmoor.example", place="Saltby-on-Quill"),
        cautions=("Wash your hands.",),
        drawings="All pictures are drawings.",
        about="We write down what we see.",
    )


def collection() -> Collection:
    pages = {
        "about": FreePage("about", "About us", "Plain *words*.", Place("pages/about.md")),
        "litters": FreePage("litters", "A clash of names", "Text.", Place("pages/litters.md")),
    }
    return Collection(site(), {"corn-snake": species()}, animals(), {"2026-x": litter()}, {"sun": project()}, pages)


def posteriors(records: Collection) -> Mapping[AnimalId, Mapping[str, Posterior]]:
    """Odds as if ``hypo`` had been stated of Juniper, and one copy of ``wobble`` in Flint."""
    one, plain = Fraction(1), (WILD, WILD)
    shows = {"amel": ("amel", "amel"), "wobble": (WILD, "wobble")}
    found = {}
    for record in records.animals.values():
        seen = {look.look for genes in record.genes for look in genes.judged.seen}
        known = {locus: {shows[locus] if locus in seen else plain: one} for locus in ("amel", "wobble")}
        chance = {"juniper": Fraction(2, 3), "flint": Fraction(0)}.get(record.id, Fraction(1, 3))
        hypo = {(WILD, "hypo"): chance, plain: 1 - chance} if chance else {plain: one}
        found[record.id] = {**known, "hypo": hypo}
    return found


def reasons(records: Collection, member: AnimalId, locus_id: str) -> tuple[Reason, ...]:
    record = records.animals[member]
    return (Reason(Ground.DAM, (record.dam,)),) if record.dam and locus_id == "hypo" else ()


def material(
    records: Collection,
    answers: Answers,
    claims: Mapping[AnimalId, tuple[Claim, ...]],
    shown: Mapping[str, PictureSet],
    as_of: dt.date,
    **more: Mapping[str, Any],
) -> Material:
    """All that pages are made from; ``more`` are changes (by the records, if not given), pairings and roads."""
    more = more if "changes" in more else {**more, "changes": told_changes(records, claims)}
    return Material(with_litter_names(records), answers, claims, shown, as_of, **more)


def whole_site(made_from: Material) -> tuple[Page, ...]:
    """Every page, each with its address, its template and all that the template can see."""
    return tuple(make() for make in every_page(made_from).values())


def small_material(records: Collection | None = None, *, pictured: bool = True, answered: bool = True) -> Material:
    """All that pages are made from, of the small collection or another; with answers to nothing, if so wanted."""
    records = records or collection()
    inbreeding = {member: Fraction(0) for member in records.animals}
    found = posteriors(records) if answered else {}
    answers = replace(answers_alone(found), inbreeding=inbreeding)
    claims = claims_of(records, answers, lambda member, locus_id: reasons(records, member, locus_id), AS_OF)
    return material(records, answers, claims, pictures(records) if pictured else {}, AS_OF)


def pictures(records: Collection) -> dict[str, PictureSet]:
    photos = [p for a in records.animals.values() for p in a.photos]
    photos += [p for found in records.litters.values() for p in found.photos]
    tiny = "data:image/gif;base64,R0lGODlhAQABAAAAACw="
    return {
        p.path: plan(PhotoFacts(f"{rank:064x}", "jpeg", 1600, 1200, None, tiny), PictureSettings())
        for rank, p in enumerate(photos)
    }


def page_at(address: str, pages: tuple[Page, ...] | None = None) -> Page:
    """One page of the small site, or of others."""
    return next(page for page in pages or whole_site(small_material()) if page.address == address)


def animal_page_at(address: str) -> AnimalPage:
    """The page of an animal of the small site."""
    found = page_at(address).content
    assert isinstance(found, AnimalPage)
    return found


def words_in(value: object) -> str:
    """All words of a model, to look for what must or must not be there."""
    if isinstance(value, str):
        return value
    if isinstance(value, tuple):
        return " ".join(words_in(item) for item in value)
    if is_dataclass(value):
        return " ".join(words_in(getattr(value, field.name)) for field in fields(value))
    return ""
