"""Names for litters that the breeder left unnamed."""

from collections import Counter
from dataclasses import replace

from sitegen.content.collection import Collection
from sitegen.content.litters import Litter
from sitegen.words.speech import _, listed, plain


def with_litter_names(collection: Collection) -> Collection:
    """The collection, each unnamed litter called by its parents and year: ``Juniper and Flint 2026``.

    A litter keeps its folder's name where a parent is not recorded or has no name of its own, and where two
    litters would be called the same.
    """
    names = {litter.id: litter.name for litter in collection.litters.values()}
    made = {litter.id: _name(litter, collection) for litter in collection.litters.values() if litter.name == litter.id}
    how_often = Counter({**names, **made}.values())
    names |= {litter: name for litter, name in made.items() if name and how_often[name] == 1}
    litters = {litter.id: replace(litter, name=names[litter.id]) for litter in collection.litters.values()}
    return replace(collection, litters=litters)


def _name(litter: Litter, collection: Collection) -> str:
    """What the litter would be called; empty when that cannot be said."""
    parents = [collection.animals.get(parent or "") for parent in (litter.dam, *(sire for sire, _s in litter.sires))]
    named = [parent.name for parent in parents if parent and parent.name and parent.name != parent.number]
    if len(parents) < 2 or len(named) < len(parents):
        return ""
    date = litter.born or litter.expected or litter.laid or litter.paired
    sires = plain(listed(named[1:], either=True))
    pair = _("{dam} and {sires}").format(dam=named[0], sires=sires)
    return _("{pair} {year}").format(pair=pair, year=date.year) if date else pair
