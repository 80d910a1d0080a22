"""Where in the records a bound value was written, so that a cross-check can point at it."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from sitegen.content.animals import Animal
from sitegen.content.declaration import Written
from sitegen.content.litters import Litter
from sitegen.content.values import PartialDate, parse_date
from sitegen.content.yaml_tree import Entries, Items, Node, Scalar
from sitegen.findings import Place


@dataclass(frozen=True, slots=True)
class Spots:
    """Finds written values by the names that lead to them; the record's beginning when there is none."""

    animals: Mapping[str, Written | None]
    litters: Mapping[str, Written | None]

    def of_animal(self, animal: Animal, *path: str) -> Node | Place:
        """Where a value of an animal stands: in its own record, its entry in the litter's, or the litter's."""
        return next((found for form in self._forms(animal) if (found := _follow(form.tree, path))), animal.place)

    def of_dated(self, animal: Animal, name: str, date: PartialDate) -> Node | Place:
        """Where a weight or meal of that day stands."""
        for form in self._forms(animal):
            tree = _follow(form.tree, (name,))
            keys = [key for key, _ in tree.entries] if isinstance(tree, Entries) else []
            items = tree.items if isinstance(tree, Items) else ()
            dates = [*keys, *(day for item in items if isinstance(day := _follow(item, ("date",)), Scalar))]
            for written in dates:
                if parse_date(written.text) == date:
                    return written
        return animal.place

    def of_litter(self, litter: Litter, name: str) -> Node | Place:
        """Where a value of a litter stands."""
        form = self.litters.get(litter.id)
        return (_follow(form.tree, (name,)) if form else None) or litter.place

    def _forms(self, animal: Animal) -> Iterator[Written]:
        own = self.animals.get(animal.id)
        if own is not None:
            yield own
        litter = self.litters.get(animal.litter)
        if litter is not None:
            young = litter.young.get(animal.number)
            if young is not None:
                yield young
            yield litter


def _follow(tree: Node, path: tuple[str, ...]) -> Node | None:
    """The value that the names lead to."""
    found: Node | None = tree
    for name in path:
        entries = found.entries if isinstance(found, Entries) else ()
        found = next((node for key, node in entries if key.text == name), None)
    return None if isinstance(found, Scalar) and found.blank else found


def place_of(where: Node | Place) -> Place:
    """The place alone."""
    return where if isinstance(where, Place) else where.place
