"""Which records there are, and what a reference to one of them means.

A record that exists but could not be read is known all the same, so that a reference to it is no second fault.
"""

import unicodedata
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from fractions import Fraction

from sitegen.content.declaration import Written
from sitegen.content.gene_names import chance_of, check_sum
from sitegen.content.report import At, Report
from sitegen.content.species import BoundSpecies
from sitegen.content.values import NOT_KNOWN
from sitegen.content.yaml_tree import Entries, Items, Node, Scalar, is_blank
from sitegen.findings import Kind, Place, nearest
from sitegen.genetics.loci import Sex
from sitegen.genetics.questions import AnimalId

Sires = tuple[tuple[AnimalId, Fraction], ...]


@dataclass(slots=True)
class KnownRecords:
    """Every record by id; None for one that exists but could not be read.

    Attributes:
        promoted: ``LITTER/YOUNG`` to the animal that has a record of its own.
        used_as: An id as it is written where parents are named, to the sex that such a parent has.
        litter_species: What was found so far of the species of litters.
    """

    species: Mapping[str, BoundSpecies | None]
    animals: Mapping[str, Written | None]
    litters: Mapping[str, Written | None]
    promoted: dict[str, AnimalId] = field(default_factory=dict)
    used_as: dict[str, Sex] = field(default_factory=dict)
    litter_species: dict[str, str] = field(default_factory=dict)

    def __post_init__(self) -> None:
        for form in (*self.animals.values(), *self.litters.values()):
            if form is None:
                continue
            if form.dam is not None:
                self.used_as.setdefault(same(form.dam.value), Sex.FEMALE)
            for sire in _names(form.sire):
                self.used_as.setdefault(same(sire.text), Sex.MALE)

    def sex(self, recorded: Sex, *ids: str) -> Sex:
        """The sex as recorded; where it is not, the sex an animal must have had to be a dam or a sire."""
        if recorded is not Sex.UNKNOWN:
            return recorded
        return next((self.used_as[i] for i in ids if i in self.used_as), recorded)

    def find_species(self, written: At[str], report: Report) -> str | None:
        """The id of the species meant; None, and a finding, when there is none."""
        spelling = same(written.value)
        if spelling in self.species:
            return spelling
        by_name = {
            bound.species.name.lower(): species_id for species_id, bound in self.species.items() if bound is not None
        }
        if found := by_name.get(spelling.lower()) or (spelling.lower() if spelling.lower() in self.species else None):
            return found
        near = nearest(spelling, (*self.species, *by_name))
        report.error(
            Kind.SPECIES_UNKNOWN,
            written,
            f'there is no species "{written.value}"',
            expected=f"one of {', '.join(self.species)}" if self.species else "a file in the folder species",
            nearest=by_name.get(near, near),
            remedy="correct the name, or write a file for the species",
        )
        return None

    def species_meant(self, written: At[str] | None, place: Place, message: str, report: Report) -> BoundSpecies | None:
        """The species that is named, or the only one there is; None, and the message, where nothing tells it."""
        if written is None and len(self.species) == 1:
            return next(iter(self.species.values()))
        if written is None:
            report.missing(place, message, f"species: one of {', '.join(self.species)}", "add species")
            return None
        species = self.find_species(written, report)
        return self.species.get(species) if species else None

    def find_litter(self, written: At[str], report: Report, young: str = "") -> str | None:
        """The id of the litter meant, perhaps with one of its young; None, and a finding, when there is none."""
        spelling = same(written.value).removesuffix(young)
        if spelling in self.litters:
            return spelling
        near = nearest(spelling, self.litters)
        near = near and f"{near}{young}"
        report.unknown(
            Kind.LITTER_UNKNOWN,
            written,
            f'there is no litter "{spelling}"',
            f"the folder name of a litter ({len(self.litters)} in litters)",
            near,
            "correct the name, or write the litter's record",
        )
        return None

    def find_young(self, written: At[str], report: Report) -> tuple[str, str] | None:
        """Litter and number of a young written as ``LITTER/YOUNG``; None, and a finding, when there is none."""
        _, slash, number = same(written.value).partition("/")
        litter = self.find_litter(written, report, f"{slash}{number}")
        if litter is None:
            return None
        form = self.litters[litter]
        if form is None or number in form.young:
            return litter, number
        numbers = tuple(form.young)
        near = nearest(number, numbers) or next((n for n in numbers if n.lstrip("0") == number.lstrip("0")), "")
        report.error(
            Kind.ANIMAL_UNKNOWN,
            written,
            f'litter {litter} lists no young "{number}"' if number else f"which young of litter {litter} is not said",
            expected=f"one of {', '.join(numbers)}" if numbers else "a young listed under young",
            nearest=f"{litter}/{near}" if near else "",
            remedy="correct the number, or list the young in the litter's record",
        )
        return None

    def find_animal(self, written: At[str], report: Report) -> AnimalId | None:
        """The id of the animal meant, a promoted young under its own id; None, and a finding, when there is none."""
        spelling = same(written.value)
        if spelling in self.animals:
            return spelling
        if "/" in spelling:
            young = self.find_young(written, report)
            return None if young is None else self.promoted.get("/".join(young), "/".join(young))
        near = nearest(spelling, self.animals)
        report.unknown(
            Kind.ANIMAL_UNKNOWN,
            written,
            f'there is no animal "{written.value}"',
            f"the folder name of an animal ({len(self.animals)} in animals), or LITTER/YOUNG",
            near,
            "correct the name, or write the animal's record",
        )
        return None

    def find_dam(self, written: At[str] | None, report: Report) -> AnimalId | None:
        """The dam meant; None when none is named or it is ``unknown``."""
        if written is None or written.value.lower() in NOT_KNOWN:
            return None
        return self.find_animal(written, report)

    def find_sires(self, tree: Node | None, report: Report) -> Sires:
        """The possible sires with odds that sum to 1; empty when none is named or one of them is wrong."""
        if tree is None or is_blank(tree):
            return ()
        if isinstance(tree, Scalar):
            sire = self.find_dam(At(tree.text.strip(), tree.place, tree.width), report)
            return ((sire, Fraction(1)),) if sire is not None else ()
        names = _names(tree)
        if len(names) < len(tree.items if isinstance(tree, Items) else tree.entries):
            report.wrong(
                tree,
                "a name was expected in this list",
                "sire: [flint, basalt]",
                "write the names of the possible sires",
            )
            return ()
        sires = [self.find_animal(At(name.text.strip(), name.place, name.width), report) for name in names]
        known = [sire for sire in sires if sire is not None]
        if isinstance(tree, Entries):
            return self._with_odds(tree, sires, report)
        if len(dict.fromkeys(known)) < len(known):
            report.wrong(tree, "one sire stands twice in this list", "each possible sire once", "delete one")
            return ()
        return tuple((sire, Fraction(1, len(known))) for sire in known) if len(known) == len(sires) else ()

    @staticmethod
    def _with_odds(tree: Entries, sires: Iterable[AnimalId | None], report: Report) -> Sires:
        chances = [chance_of(node, report) for _, node in tree.entries]
        odds = {sire: chance for sire, chance in zip(sires, chances, strict=True) if sire and chance is not None}
        if len(odds) < len(tree.entries) or not check_sum(odds, tree, report):
            return ()
        return tuple((sire, chance) for sire, chance in odds.items() if chance)

    def species_of_litter(self, litter: str) -> str | None:
        """The species of a litter: as written, or that of its parents; None when neither is known."""
        waiting, seen = [litter], {litter}
        quiet = Report()
        while waiting:
            current = waiting.pop()
            form = self.litters.get(current)
            found = self.litter_species.get(current) or (
                form and form.species and self.find_species(form.species, quiet)
            )
            for parent in [] if found or form is None else self._parents(form, quiet):
                animal = self.animals.get(parent)
                if animal is not None:
                    found = self.find_species(animal.species, quiet)
                elif "/" in parent and (origin := parent.partition("/")[0]) not in seen:
                    seen.add(origin)
                    waiting.append(origin)
                if found:
                    break
            if found:
                self.litter_species[litter] = found
                return found
        return None

    def _parents(self, form: Written, quiet: Report) -> list[AnimalId]:
        dam = self.find_dam(form.dam, quiet)
        return [*([dam] if dam else []), *(sire for sire, _ in self.find_sires(form.sire, quiet))]


def _names(tree: Node | None) -> list[Scalar]:
    """The names written where one sire, several or their odds may stand."""
    if tree is None or isinstance(tree, Scalar):
        nodes: tuple[Node, ...] = () if tree is None else (tree,)
    else:
        nodes = tree.items if isinstance(tree, Items) else tuple(key for key, _ in tree.entries)
    return [node for node in nodes if isinstance(node, Scalar) and not node.blank]


WORDS = frozenset({"none", "unknown", "all"})
"""What records say in place of a name; no animal, litter, project or young is called so."""


def same(text: str) -> str:
    """A name in the one form in which names are compared, whatever the system that wrote it."""
    return unicodedata.normalize("NFC", text.strip())


def place_of(written: At[str] | Node | None) -> Place | None:
    """Where something is named, if it is."""
    return None if written is None or (isinstance(written, Scalar) and written.blank) else written.place
