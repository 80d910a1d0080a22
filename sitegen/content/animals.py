"""An animal, whether it has a folder of its own or is listed in a litter: how it is written, and its record."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any, ClassVar, TypeVar

from sitegen.content.declaration import AsWritten, ListOf, Written, group_of, key_only, keyed
from sitegen.content.events import EVENTS, QUARANTINE, Event, Permit, Quarantine, bind_events, bind_permits
from sitegen.content.gene_names import GeneNames
from sitegen.content.genes import DNA_TEST, Binder, Genes, Judged
from sitegen.content.photo_records import PhotoRecord, Photos
from sitegen.content.prices import OFFER, Offer, bind_offer
from sitegen.content.public import PUBLIC, Public, is_shown, public_of, shown_sheds
from sitegen.content.references import KnownRecords, place_of
from sitegen.content.report import Report
from sitegen.content.values import (
    ANYTHING,
    DAY,
    KNOWN_DAY,
    NAME,
    NOT_KNOWN,
    PROSE,
    SEX,
    TEXT,
    TEXT_BY_NAME,
    TEXTS,
    YES,
    Measuring,
    PartialDate,
    Weighing,
    read_date,
    read_grams,
    read_millimetres,
)
from sitegen.content.yaml_tree import Node, Scalar, as_text_map
from sitegen.findings import Place
from sitegen.genetics.loci import Sex
from sitegen.genetics.questions import AnimalId

M = TypeVar("M", Weighing, Measuring)

_NAMES_OR_ODDS = {"additionalProperties": {"type": ["string", "number"]}, "type": "object"}
SIRES = AsWritten({"oneOf": [{"type": "string"}, {"items": {"type": "string"}, "type": "array"}, _NAMES_OR_ODDS]})
"""One sire, a list of possible ones, or their odds by name."""
STATED = AsWritten(
    {
        "additionalProperties": {"oneOf": [{"type": ["string", "number"]}, _NAMES_OR_ODDS]},
        "type": "object",
    }
)
"""What a previous keeper stated, by gene."""
_HAPLOTYPES = AsWritten({"items": TEXT_BY_NAME.json, "type": "array"})


@dataclass(frozen=True, slots=True)
class Acquired:
    """When and from whom an animal was acquired.

    From whom only in general words.
    """

    date: PartialDate | None = keyed(DAY, "When it came.")
    source: str = keyed(
        TEXT, "From whom, in general words; this is published, so write no name.", alias="from", prose=True
    )


@dataclass(frozen=True, slots=True)
class Meal:
    """A meal taken or refused."""

    date: PartialDate = keyed(KNOWN_DAY, "The day of the meal.", needed=True)
    what: str = keyed(NAME, "What was offered: pinky, fuzzy, adult mouse.", needed=True)
    taken: bool = keyed(YES, "false when it was refused.", usual=True)


@dataclass(frozen=True, slots=True, kw_only=True)
class AnyAnimal:
    """What may be recorded of any animal, whether it has a record of its own or stands in a litter record."""

    name: str = keyed(TEXT, "What the animal is called.", prose=True)
    sex: Sex = keyed(SEX, "female, male or unknown.", usual=Sex.UNKNOWN)
    died: PartialDate | None = keyed(DAY, "When it died.")
    shows: ClassVar = key_only(
        TEXTS, "The looks that are seen; [] when it was looked at and shows none. Left out: not judged."
    )
    unsure: ClassVar = key_only(TEXTS, "Loci that were not judged, or all: nothing was judged but what shows names.")
    judged: ClassVar = key_only(DAY, "When it was judged, for looks that come with age.")
    stated: ClassVar = key_only(
        STATED, "What a previous keeper stated: certain, a fraction, a percentage, or odds by genotype."
    )
    tests: ClassVar = key_only(ListOf(DNA_TEST), "DNA tests.")
    haplotypes: ClassVar = key_only(_HAPLOTYPES, "Known phase at linked loci, one line a chromosome: {locus: allele}.")
    copies: ClassVar = key_only(
        AsWritten({"type": "object"}), "For a dominant look: unknown, one, two, or {two: 1/3}, by allele."
    )
    markers: ClassVar = key_only(
        TEXTS, "Signs that some read as a hint of a hidden gene; they never change a number.", prose=True
    )
    line: str = keyed(TEXT, "The selectively bred line it belongs to.", prose=True)
    locality: str = keyed(TEXT, "Where its ancestors come from.", prose=True)
    weights: tuple[Weighing, ...] = keyed(TEXT_BY_NAME, "Weights by date: {2024-05-01: 310 g}.", usual=())
    lengths: tuple[Measuring, ...] = keyed(TEXT_BY_NAME, "Lengths by date: {2024-05-01: 102 cm}.", usual=())
    meals: tuple[Meal, ...] = keyed(ListOf(group_of(Meal, "a meal")), "Meals taken and refused.")
    events: tuple[Event, ...] = keyed(EVENTS, "Its diary: [{date: 2026-03-02, what: shed}].", usual=())
    quarantine: Quarantine | None = keyed(
        QUARANTINE, "How long it is kept apart; check tells where it is offered meanwhile. Never published."
    )
    public: tuple[Public, ...] | None = keyed(
        PUBLIC, f"What the site shows of it: some of {', '.join(Public)}; as in site.yaml when left out.", usual=None
    )
    offer: Offer | None = keyed(OFFER, "What is asked for it, and where the offer stands.")
    kept: bool = keyed(YES, "true when it stays with the breeder.")
    on_site: bool | None = keyed(
        YES,
        "false keeps it off the site, though it still counts as evidence; true shows a young whose litter is kept off.",
        usual=None,
    )
    captions: ClassVar = key_only(TEXT_BY_NAME, "A line of text by photo file name.", prose=True)
    off_site: ClassVar = key_only(
        TEXTS, "Photos that are kept off the site, with their videos: [2026-07-20.jpg]; file names, as under captions."
    )
    about: str = keyed(PROSE, "Free text, Markdown.", prose=True)
    reviewed: ClassVar = key_only(
        TEXT_BY_NAME, "Words that check asks about and that are right as they stand, each with the reason."
    )
    private: ClassVar = key_only(
        ANYTHING, "Anything that is never published; permits: [{kind: ..., number: ..., valid_until: DAY}]."
    )


@dataclass(frozen=True, slots=True)
class WrittenYoung(AnyAnimal):
    """A young listed in a litter record."""

    born: ClassVar = key_only(DAY, "When it was born, when not on the litter's day.")


YOUNG = group_of(WrittenYoung, "a young", name="Young")


@dataclass(frozen=True, slots=True, kw_only=True)
class Animal(AnyAnimal):
    """An animal with a folder of its own: ``animals/ID/animal.yaml``.

    A young of a litter that is not promoted is an animal too; its id is ``LITTER/YOUNG``.

    Attributes:
        name: As written; a young without a name has its number.
        sires: Possible sires with prior chances that sum to 1; empty when not recorded.
        litter, number: Id of the litter record it came from, and its key in there, or empty.
        genes: Its evidence, one entry a record (a promoted young may have two).
        line, locality: Described, never predicted. Empty when not stated.
        public: What is shown of it; in a collection never None.
        on_site: Whether anything is; in a collection never None.
    """

    species: str = keyed(NAME, "The species: the name of its file in species.", needed=True)
    born: PartialDate | None = keyed(DAY, "When it was born or hatched: 2021-07-14, 2021-07 or 2021.")
    dam: AnimalId | None = keyed(
        TEXT, "Its mother: an animal's folder or LITTER/YOUNG, when there is no litter record.", usual=None
    )
    sire: ClassVar = key_only(SIRES, "Its father, or the possible ones, as in a litter record.")
    from_litter: ClassVar = key_only(TEXT, "The litter record and number it came from: 2026-juniper-flint/02.")
    acquired: Acquired | None = keyed(group_of(Acquired, "acquired"), "When and from whom it was acquired.")
    id: AnimalId
    place: Place
    genes: tuple[Genes, ...]
    sires: tuple[tuple[AnimalId, Fraction], ...] = ()
    each_its_own_sire: bool = False
    litter: str = ""
    number: str = ""
    photos: tuple[PhotoRecord, ...] = ()
    permits: tuple[Permit, ...] = ()
    dam_place: Place | None = None
    sire_place: Place | None = None

    @property
    def published(self) -> "Animal":
        """Its record without what is not shown."""
        return replace(
            self,
            weights=self.weights if is_shown(Public.WEIGHTS, self.public) else (),
            lengths=self.lengths if is_shown(Public.LENGTHS, self.public) else (),
            meals=self.meals if is_shown(Public.MEALS, self.public) else (),
            events=shown_sheds(self.events, self.public),
            offer=replace(self.offer, until=None) if self.offer else None,
            quarantine=None,
            permits=(),
        )

    @property
    def is_young(self) -> bool:
        """True when it stands only in a litter record."""
        return "/" in self.id


ANIMAL = group_of(Animal, "an animal's record")


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
            photos=photos.records(
                photos.captions(form.captions, self.report), off=photos.off_site(form.off_site, self.report)
            ),
            dam_place=place_of(form.dam),
            sire_place=place_of(form.sire),
            **self.shared(form, animal_id, bound.names, (animal_id, origin)),
        )

    def shared(self, form: Written, usual_name: str, names: GeneNames | None, ids: tuple[str, ...]) -> dict[str, Any]:
        """What is made of the keys that every animal has; ``ids`` are those under which others may name it."""
        ids = (*ids, *(self.known.promoted[i] for i in ids if i in self.known.promoted))
        bred_as = self.known.sex(form.sex.value if form.sex else Sex.UNKNOWN, *ids)
        nothing = Genes(Judged((), (), form.start, written=False))
        described = {each: form.values[each].value for each in ("line", "locality") if form.values[each]}
        return {
            "name": form.name.value if form.name else usual_name,
            "genes": (Binder(names, bred_as, self.report).genes(form) if names else nothing,),
            "weights": _by_day(form.weights, Weighing, read_grams, "a weight needs the day of weighing", self.report),
            "lengths": _by_day(form.lengths, Measuring, read_millimetres, "a length needs its day", self.report),
            "events": bind_events(form.events, self.known, self.report),
            "quarantine": form.quarantine.record(Quarantine) if form.quarantine else None,
            "permits": bind_permits(form.private, self.report),
            "public": public_of(form),
            "meals": tuple(sorted((meal.record(Meal) for meal in form.meals), key=lambda meal: meal.date)),
            "offer": bind_offer(form.offer, self.currency, self.report),
            **{each: "" if text.lower() in NOT_KNOWN else text for each, text in described.items()},
        }


def _by_day(
    tree: Node | None, makes: Callable[[PartialDate, int], M], read: Callable[[Scalar, Report], int | None],
    undated: str, report: Report,
) -> tuple[M, ...]:  # fmt: skip
    """What was measured, by the days on which it was; ``undated`` is told where no day is known."""
    found = []
    for key, node in as_text_map(tree, report):
        date, number = read_date(key, report), read(node, report)
        if date is not None and number is not None:
            found.append((date, number))
        elif date is None and key.text.lower() in NOT_KNOWN:
            report.wrong(key, undated, f"2024-05-01: {node.text}", "write at least the year")
    return tuple(makes(*each) for each in sorted(found, key=lambda each: each[0]))
