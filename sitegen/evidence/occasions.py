"""Which new records changed an answer, told by what they are to the animal: itself, its young, its littermates, kin."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from sitegen.content.animals import Animal
from sitegen.content.collection import Collection
from sitegen.content.litters import Litter
from sitegen.evidence.history import Arrival
from sitegen.evidence.known import Ground, Reason
from sitegen.findings import Place
from sitegen.genetics.questions import AnimalId

_ORDER = (Ground.YOUNG, Ground.SIBLINGS, Ground.SHOWS_ITSELF)


def occasions(collection: Collection, animal: AnimalId, locus: str, arrived: Sequence[Arrival]) -> tuple[Reason, ...]:
    """The new records at a locus as reasons: the animal's own, tests of others, then by litter.

    A reason with ground ``YOUNG`` is about young of the animal, with ``SIBLINGS`` about other young of its parents,
    with ``SHOWS_ITSELF`` about other relatives. Its detail has the number of young that were looked at (``count``), and
    where some of them show a look of the locus, that look: then it names these young, and ``showing`` is their number.

    Args:
        collection: All records.
        animal: Whose answer changed.
        locus: The locus.
        arrived: The new records that bear on it.
    """
    here = [each.source for each in arrived if each.locus == locus]
    own = [source.reason() for source in here if source.animal == animal]
    others = [source for source in here if source.animal != animal]
    tests = [source.reason() for source in others if source.ground is Ground.DNA_TEST]
    looks: dict[tuple[_Kin, str], _Looked] = {}
    for source in others:
        if source.ground in (Ground.SHOWS_ITSELF, Ground.SHOWS_NOT, Ground.YOUNG):
            litter = source.litter or (collection.animals[source.animal].litter if source.animal else "")
            kin = _kin(collection, animal, source.animal, litter)
            looked = looks.setdefault((kin, litter or source.animal), _Looked())
            looked.add(source.animal, source.places[0], source.detail)
    told = [
        reason
        for ground in _ORDER
        for (kin, litter), looked in looks.items()
        if kin.ground is ground
        for reason in looked.reasons(kin, litter if litter in collection.litters else "")
    ]
    return tuple(dict.fromkeys((*own, *tests, *told)))


@dataclass(frozen=True, slots=True)
class _Kin:
    """What others are to the animal; ``perhaps`` where it is one of several possible sires."""

    ground: Ground
    perhaps: bool = False


def _kin(collection: Collection, animal: AnimalId, other: AnimalId, litter: str) -> _Kin:
    """What another animal, or the young of a litter that are not listed, are to the animal."""
    young = collection.animals[other] if other else collection.litters.get(litter)
    if young is None:
        return _Kin(Ground.SHOWS_ITSELF)
    sires = tuple(sire for sire, _ in young.sires)
    if animal in (young.dam, *sires):
        return _Kin(Ground.YOUNG, animal != young.dam and len(sires) > 1)
    shared = set(_sure_parents(young)).intersection(_sure_parents(collection.animals[animal]))
    return _Kin(Ground.SIBLINGS if shared else Ground.SHOWS_ITSELF)


def _sure_parents(young: Animal | Litter) -> tuple[AnimalId, ...]:
    """The recorded parents without those that are only possible."""
    sires = young.sires if len(young.sires) == 1 else ()
    return (*((young.dam,) if young.dam else ()), *(sire for sire, _ in sires))


class _Looked:
    """Young of one litter that were looked at: how many, and who of them shows what."""

    def __init__(self) -> None:
        self.count = 0
        self.animals: set[AnimalId] = set()
        self.places: list[Place] = []
        self.showing: dict[tuple[str, ...], list[tuple[AnimalId, int, Place]]] = {}

    def add(self, animal: AnimalId, place: Place, detail: Sequence[tuple[str, str]]) -> None:
        facts: Mapping[str, str] = dict(detail)
        self.places.append(place)
        if animal in self.animals:
            return
        if animal:
            self.animals.add(animal)
        n_young = int(facts.get("count", "1"))
        self.count += n_young
        looks = tuple(value for name, value in detail if name == "look")
        if looks:
            self.showing.setdefault(looks, []).append((animal, n_young, place))

    def reasons(self, kin: _Kin, litter: str) -> Iterator[Reason]:
        """One for each look that some of them show; one for all where none shows any."""
        counted = (("count", str(self.count)), *((("perhaps", "its own"),) if kin.perhaps else ()))
        if not self.showing:
            yield Reason(kin.ground, (), litter, tuple(dict.fromkeys(self.places)), counted)
        for looks, young in self.showing.items():
            named = tuple(animal for animal, _, _ in young if animal)
            showing = sum(n_young for _, n_young, _ in young)
            detail = (*counted, ("showing", str(showing)), *(("look", look) for look in looks))
            yield Reason(kin.ground, named, litter, tuple(place for _, _, place in young), detail)
