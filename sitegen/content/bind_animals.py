"""From the written form of an animal, or of a young in a litter record, to :class:`~sitegen.content.animals.Animal`."""

from collections.abc import Mapping
from dataclasses import dataclass

from sitegen.content.animals import Acquired, Animal, Meal, PhotoRecord
from sitegen.content.bind_genes import Binder
from sitegen.content.bind_offers import bind_offer
from sitegen.content.bind_photos import Photos
from sitegen.content.gene_names import GeneNames
from sitegen.content.genes import Genes, Judged
from sitegen.content.litters import Litter
from sitegen.content.references import KnownRecords, place_of
from sitegen.content.report import At, Report
from sitegen.content.spots import Spots
from sitegen.content.spots import place_of as spot
from sitegen.content.values import PartialDate, Weighing
from sitegen.content.written.animals import AnimalForm, EvidenceForm, YoungForm
from sitegen.content.written.forms import as_text_map
from sitegen.content.written.values import NOT_KNOWN, read_date, read_grams
from sitegen.content.yaml_tree import Node, Scalar
from sitegen.findings import Kind, Place
from sitegen.genetics.loci import Sex
from sitegen.genetics.questions import AnimalId


@dataclass(frozen=True, slots=True)
class AnimalBinder:
    """What every record of an animal is read with."""

    known: KnownRecords
    currency: str | None
    report: Report

    def animal(self, animal_id: AnimalId, form: AnimalForm, photos: Photos, origin: str = "") -> Animal | None:
        """The animal as its own record tells it; None when its species cannot be used.

        ``origin`` is the ``LITTER/YOUNG`` of a promoted young, under which others may name it.
        """
        species_id = self.known.find_species(form.species, self.report)
        bound = self.known.species.get(species_id) if species_id else None
        if species_id is None or bound is None:
            return None
        sex = form.sex.value if form.sex else Sex.UNKNOWN
        captions = photos.captions(form.captions, self.report)
        return Animal(
            id=animal_id,
            name=_text(form.name) or animal_id,
            species=species_id,
            sex=sex,
            place=form.start,
            genes=(Binder(bound.names, self._bred_as(sex, animal_id, origin), self.report).genes(form),),
            born=_value(form.born),
            died=_value(form.died),
            dam=self.known.find_dam(form.dam, self.report),
            sires=self.known.find_sires(form.sire, self.report),
            acquired=Acquired(_value(form.acquired.date), _text(form.acquired.source)) if form.acquired else None,
            line=_described(form.line),
            locality=_described(form.locality),
            weights=self._weights(form.weights),
            meals=_meals(form),
            photos=photos.records(captions),
            offer=bind_offer(form.offer, self.currency, self.report),
            kept=bool(form.kept and form.kept.value),
            about=_text(form.about),
            dam_place=place_of(form.dam),
            sire_place=place_of(form.sire),
        )

    def young(
        self, number: str, form: YoungForm | None, litter: Litter, key: Scalar, photos: tuple[PhotoRecord, ...]
    ) -> Animal:
        """A young as its litter's record tells it."""
        own_id = f"{litter.id}/{number}"
        bred_as = self._bred_as(form.sex.value if form and form.sex else Sex.UNKNOWN, own_id)
        names = self._names(litter.species)
        sex = form.sex.value if form and form.sex else Sex.UNKNOWN
        place = key.place
        empty = Genes(Judged((), (), place, written=False))
        return Animal(
            id=own_id,
            name=_text(form.name) if form and form.name else number,
            species=litter.species,
            sex=sex,
            place=place,
            genes=(Binder(names, bred_as, self.report).genes(form) if form and names else empty,),
            born=(_value(form.born) if form else None) or litter.born,
            died=_value(form.died) if form else None,
            dam=litter.dam,
            sires=litter.sires,
            each_its_own_sire=litter.each_its_own_sire,
            litter=litter.id,
            number=number,
            line=_described(form.line) if form else "",
            locality=_described(form.locality) if form else "",
            weights=self._weights(form.weights) if form else (),
            meals=_meals(form) if form else (),
            photos=photos,
            offer=bind_offer(form.offer, self.currency, self.report) if form else None,
            kept=bool(form and form.kept and form.kept.value),
            about=_text(form.about) if form else "",
            dam_place=litter.dam_place,
            sire_place=litter.sire_place,
        )

    def _bred_as(self, sex: Sex, *ids: str) -> Sex:
        promoted = [self.known.promoted[i] for i in ids if i in self.known.promoted]
        return self.known.sex(sex, *ids, *promoted)

    def _names(self, species: str) -> GeneNames | None:
        bound = self.known.species.get(species)
        return bound.names if bound else None

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


def _meals(form: EvidenceForm) -> tuple[Meal, ...]:
    meals = [
        Meal(meal.date.value, meal.food.value, meal.taken.value if meal.taken else True)
        for meal in form.meals or ()
        if meal
    ]
    return tuple(sorted(meals, key=lambda meal: meal.date))


def _text(written: At[str] | None) -> str:
    return written.value if written else ""


def _described(written: At[str] | None) -> str:
    """A line or locality; ``unknown`` says nothing."""
    text = _text(written)
    return "" if text.lower() in NOT_KNOWN else text


def _value(written: At[PartialDate] | None) -> PartialDate | None:
    return written.value if written else None


def merged(own: Animal, young: Animal, litter: Litter, spots: Spots, report: Report) -> Animal:
    """A promoted young: one animal from its own record and its entry in the litter's record.

    Parents come from the litter; evidence of both records is kept; what only one of them says is taken from it.
    """
    _check_merge(own, young, litter, spots, report)
    return Animal(
        id=own.id,
        name=own.name if own.name != own.id or young.name == young.number else young.name,
        species=own.species,
        sex=own.sex if own.sex is not Sex.UNKNOWN else young.sex,
        place=own.place,
        genes=own.genes + young.genes,
        born=_finer(own.born, young.born),
        died=own.died or young.died,
        dam=young.dam,
        sires=young.sires,
        each_its_own_sire=young.each_its_own_sire,
        litter=young.litter,
        number=young.number,
        acquired=own.acquired,
        line=own.line or young.line,
        locality=own.locality or young.locality,
        weights=tuple(sorted((*young.weights, *own.weights), key=lambda weighing: weighing.date)),
        meals=tuple(sorted((*young.meals, *own.meals), key=lambda meal: meal.date)),
        photos=tuple(sorted((*own.photos, *young.photos), key=lambda p: (p.date is None, p.date or PartialDate(1)))),
        offer=own.offer or young.offer,
        kept=own.kept or young.kept,
        about=own.about or young.about,
        dam_place=young.dam_place,
        sire_place=young.sire_place,
    )


def _finer(first: PartialDate | None, second: PartialDate | None) -> PartialDate | None:
    """The date that says more; the first one when both say as much."""
    if first is None or second is None:
        return first or second
    known: Mapping[PartialDate, int] = {date: bool(date.month) + bool(date.day) for date in (first, second)}
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
