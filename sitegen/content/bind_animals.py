"""From the written form of an animal, or of a young in a litter record, to :class:`~sitegen.content.animals.Animal`."""

from dataclasses import dataclass, replace
from typing import Any

from sitegen.content.animals import Animal, Meal
from sitegen.content.declaration import Written, as_text_map
from sitegen.content.gene_names import GeneNames
from sitegen.content.genes import Binder, Genes, Judged
from sitegen.content.litters import Litter
from sitegen.content.photo_records import PhotoRecord, Photos
from sitegen.content.prices import bind_offer
from sitegen.content.references import KnownRecords, place_of
from sitegen.content.report import Report
from sitegen.content.spots import Spots
from sitegen.content.spots import place_of as spot
from sitegen.content.values import NOT_KNOWN, PartialDate, Weighing, read_date, read_grams
from sitegen.content.yaml_tree import Node
from sitegen.findings import Kind, Place
from sitegen.genetics.loci import Sex
from sitegen.genetics.questions import AnimalId


@dataclass(frozen=True, slots=True)
class AnimalBinder:
    """What every record of an animal is read with."""

    known: KnownRecords
    currency: str | None
    report: Report

    def animal(self, animal_id: AnimalId, form: Written, photos: Photos, origin: str = "") -> Animal | None:
        """The animal as its own record tells it; None when its species cannot be used.

        ``origin`` is the ``LITTER/YOUNG`` of a promoted young, under which others may name it.
        """
        species_id = self.known.find_species(form.species, self.report)
        bound = self.known.species.get(species_id) if species_id else None
        if species_id is None or bound is None:
            return None
        return form.record(
            Animal,
            id=animal_id,
            species=species_id,
            place=form.start,
            dam=self.known.find_dam(form.dam, self.report),
            sires=self.known.find_sires(form.sire, self.report),
            photos=photos.records(photos.captions(form.captions, self.report)),
            dam_place=place_of(form.dam),
            sire_place=place_of(form.sire),
            **self._shared(form, animal_id, bound.names, (animal_id, origin)),
        )

    def young(
        self, number: str, form: Written, litter: Litter, place: Place, photos: tuple[PhotoRecord, ...]
    ) -> Animal:
        """A young as its litter's record tells it."""
        own_id = f"{litter.id}/{number}"
        bound = self.known.species.get(litter.species)
        return form.record(
            Animal,
            id=own_id,
            species=litter.species,
            place=place,
            born=form.born.value if form.born else litter.born,
            dam=litter.dam,
            sires=litter.sires,
            each_its_own_sire=litter.each_its_own_sire,
            litter=litter.id,
            number=number,
            photos=photos,
            dam_place=litter.dam_place,
            sire_place=litter.sire_place,
            **self._shared(form, number, bound.names if bound else None, (own_id,)),
        )

    def _shared(self, form: Written, usual_name: str, names: GeneNames | None, ids: tuple[str, ...]) -> dict[str, Any]:
        """What is made of the keys that every animal has; ``ids`` are those under which others may name it."""
        ids = (*ids, *(self.known.promoted[i] for i in ids if i in self.known.promoted))
        bred_as = self.known.sex(form.sex.value if form.sex else Sex.UNKNOWN, *ids)
        nothing = Genes(Judged((), (), form.start, written=False))
        described = {each: form.values[each].value for each in ("line", "locality") if form.values[each]}
        return {
            "name": form.name.value if form.name else usual_name,
            "genes": (Binder(names, bred_as, self.report).genes(form) if names else nothing,),
            "weights": self._weights(form.weights),
            "meals": tuple(sorted((meal.record(Meal) for meal in form.meals), key=lambda meal: meal.date)),
            "offer": bind_offer(form.offer, self.currency, self.report),
            **{each: "" if text.lower() in NOT_KNOWN else text for each, text in described.items()},
        }

    def _weights(self, tree: Node | None) -> tuple[Weighing, ...]:
        found = []
        for key, node in as_text_map(tree, self.report):
            date, grams = read_date(key, self.report), read_grams(node, self.report)
            if date is not None and grams is not None:
                found.append(Weighing(date, grams))
            elif date is None and key.text.lower() in NOT_KNOWN:
                self.report.error(
                    Kind.VALUE_WRONG,
                    key,
                    "a weight needs the day of weighing",
                    expected="2024-05-01: 310 g",
                    remedy="write at least the year",
                )
        return tuple(sorted(found, key=lambda weighing: weighing.date))


def merged(own: Animal, young: Animal, litter: Litter, spots: Spots, report: Report) -> Animal:
    """A promoted young: one animal from its own record and its entry in the litter's record.

    Parents come from the litter; evidence of both records is kept; what only one of them says is taken from it.
    """
    _check_merge(own, young, litter, spots, report)
    of_either = ("died", "line", "locality", "offer", "kept", "about")
    of_litter = ("dam", "sires", "each_its_own_sire", "litter", "number", "dam_place", "sire_place")
    told: dict[str, Any] = {each: getattr(own, each) or getattr(young, each) for each in of_either}
    return replace(
        own,
        name=own.name if own.name != own.id or young.name == young.number else young.name,
        sex=own.sex if own.sex is not Sex.UNKNOWN else young.sex,
        genes=own.genes + young.genes,
        born=_finer(own.born, young.born),
        weights=tuple(sorted((*young.weights, *own.weights), key=lambda weighing: weighing.date)),
        meals=tuple(sorted((*young.meals, *own.meals), key=lambda meal: meal.date)),
        photos=tuple(sorted((*own.photos, *young.photos), key=lambda p: (p.date is None, p.date or PartialDate(1)))),
        **told,
        **{each: getattr(young, each) for each in of_litter},
    )


def _finer(first: PartialDate | None, second: PartialDate | None) -> PartialDate | None:
    """The date that says more; the first one when both say as much."""
    if first is None or second is None:
        return first or second
    known: dict[PartialDate, int] = {date: bool(date.month) + bool(date.day) for date in (first, second)}
    return second if known[second] > known[first] else first


def _check_merge(own: Animal, young: Animal, litter: Litter, spots: Spots, report: Report) -> None:
    """What the two records of a promoted young must agree on."""
    if own.sex is not young.sex and Sex.UNKNOWN not in (own.sex, young.sex):
        report.error(
            Kind.SEX_CLASH,
            spots.of_animal(own, "sex"),
            f"{own.id} is recorded as {own.sex.value} here and as {young.sex.value} in its litter's record",
            expected="the same sex in both records",
            remedy="correct one of the two",
            others=(spot(spots.of_animal(young, "sex")),),
        )
    if own.species != young.species and young.species:
        report.error(
            Kind.SPECIES_CLASH,
            spots.of_animal(own, "species"),
            f"{own.id} is recorded as {own.species}, and its litter {litter.id} is {young.species}",
            expected=f"species: {young.species}",
            remedy="correct species, or from_litter",
            others=(litter.place,),
        )
    if own.born and young.born and (own.born.latest < young.born.earliest or young.born.latest < own.born.earliest):
        report.error(
            Kind.DATE_IMPOSSIBLE,
            spots.of_animal(own, "born"),
            f"{own.id} was born on {own.born} by this record and on {young.born} by its litter's record",
            expected="the same date in both records",
            remedy="correct one of the two, or leave born out here",
            others=(spot(spots.of_animal(young, "born")),),
        )
    _check_parents(own, young, litter, report)


def _check_parents(own: Animal, young: Animal, litter: Litter, report: Report) -> None:
    pairs: tuple[tuple[str, object, object, Place | None], ...] = (
        ("dam", own.dam, young.dam, own.dam_place),
        ("sire", dict(own.sires) or None, dict(young.sires) or None, own.sire_place),
    )
    for word, here, there, place in pairs:
        if here is not None and here != there:
            report.error(
                Kind.PARENTS_CLASH,
                place or own.place,
                f"the {word} of {own.id} is not the {word} of its litter {litter.id}",
                expected="parents only in the litter's record",
                remedy=f"delete the line {word}, or correct from_litter",
                others=(litter.place,),
            )
