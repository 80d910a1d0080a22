"""What a pairing could give, beside what its litter gave."""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from sitegen.content.genes import Judged
from sitegen.content.litters import Litter, living_young
from sitegen.content.values import whole_months
from sitegen.evidence.asking import Asked
from sitegen.evidence.pairings import Pairing, pairing
from sitegen.findings import SitegenError
from sitegen.genetics.by_eye import Expected, by_eye
from sitegen.genetics.loci import Genome
from sitegen.plans.assumed import taken_for_granted
from sitegen.site.material import Folio
from sitegen.site.parts import Line, words
from sitegen.site.views import look_links
from sitegen.words.assumed import sentences_by_figure
from sitegen.words.inheritance import birth_words
from sitegen.words.numbers import about_in_100, average_text, count_text, in_100, simple_fraction
from sitegen.words.pairings import looks_text
from sitegen.words.speech import Link, Target, _, capitalised, listed, ngettext, said


@dataclass(frozen=True, slots=True)
class OutcomeRow:
    """One look: how many of 100, how many of this litter on average, and how many came."""

    look: Line
    in_100: str
    exact: str
    expected: str
    came: str
    hidden: tuple[Line, ...] = ()


@dataclass(frozen=True, slots=True)
class Outcome:
    """What a pairing could give, beside what it gave. ``came`` of its rows is empty before the young are here."""

    heading: str
    words: tuple[Line, ...]
    average_heading: str
    rows: tuple[OutcomeRow, ...]
    came_known: bool
    further: tuple[Line, ...] = ()


MOST_ROWS = 16
RARE = Fraction(1, 100)
"""Looks that are rarer are told of only where one came."""
Looks = frozenset[str]


def litter_pairing(asked: Asked, litter: Litter) -> Pairing | None:
    """What the parents of one litter can give; None without one dam and one sire, and where it cannot be told."""
    if litter.dam is None or len(litter.sires) != 1:
        return None
    try:
        return pairing(asked, litter.dam, litter.sires[0][0], teach=False)
    except SitegenError:
        return None


def outcome(litter: Litter, folio: Folio) -> Outcome | None:
    """What the pairing could give, and what it gave; None when that cannot be told, or when none lived."""
    plan = folio.material.pairings.get(litter.id)
    species = folio.collection.species[litter.species]
    unborn = litter.born is None
    if plan is None or not plan.loci or litter.failed or not (unborn or living_young(litter)):
        return None
    left_out = () if unborn else _not_yet_visible(litter, species.genome, folio)
    n_young = species.litter_size.usual if unborn else living_young(litter)
    counts, unjudged = _came(litter, folio, left_out)
    every = by_eye(plan.looks, species.genome, left_out)
    rows = tuple(row for row in every if row.chance >= RARE or counts.get(frozenset(row.looks)))[:MOST_ROWS]
    size = _("Of a usual {litter} of {count}") if unborn else _("Of these {count}")
    return Outcome(
        heading=_("What to expect") if unborn else _("Expected and {came}").format(came=birth_words(species).came),
        words=(words(_("Worked out from what we know of the parents today, this litter’s own young included."))
               if not unborn else words(_("Worked out from what we know of the parents today.")),),
        average_heading=size.format(litter=birth_words(species).litter, count=n_young) + _(", on average"),
        rows=tuple(
            outcome_row(row, litter.species, n_young, counts.get(frozenset(row.looks), 0), folio) for row in rows
        ),
        came_known=not unborn and not unjudged,
        further=tuple(_further(left_out, unjudged, len(every) - len(rows), litter, folio)),
    )  # fmt: skip


def _not_yet_visible(litter: Litter, genome: Genome, folio: Folio) -> tuple[str, ...]:
    """Loci whose looks the young are too young to be judged for."""
    assert litter.born is not None
    months = whole_months(litter.born.latest, folio.material.as_of)
    return tuple(each.id for each in genome.loci if any(a.visible_from_months > months for a in each.alleles))


def _came(litter: Litter, folio: Folio, left_out: tuple[str, ...]) -> tuple[dict[Looks, int], int]:
    """How many young came of each look, and how many were not judged for everything that counts."""
    counts: dict[Looks, int] = {}
    unjudged = 0
    judgings: list[tuple[int, Judged]] = [(others.count, others.judged) for others in litter.others]
    judgings += [(1, folio.collection.animals[young].genes[0].judged) for young in litter.young]
    for count, judged in judgings:
        unsure = [locus for locus in judged.unsure if locus not in left_out]
        if unsure or judged.unsure_all or not judged.written:
            unjudged += count
            continue
        looks = frozenset(seen.look for seen in judged.seen if seen.locus not in left_out)
        counts[looks] = counts.get(looks, 0) + count
    return counts, unjudged


def outcome_row(row: Expected, species: str, n_young: int, came: int, folio: Folio) -> OutcomeRow:
    """A look with its chance, its expected number among so many young, and how many came."""
    looks = look_links(row.looks, species, folio)
    fraction = simple_fraction(row.chance)
    return OutcomeRow(
        look=folio.line(looks_text(looks)),
        in_100=count_text(about_in_100(row.chance)),
        exact=f"({fraction})" if fraction else "",
        expected=average_text(row.chance * n_young),
        came=str(came),
        hidden=tuple(_hidden(row, species, folio)),
    )


def _hidden(row: Expected, species: str, folio: Folio) -> Iterator[Line]:
    """What young that look so carry unseen."""
    genome = folio.collection.species[species].genome
    for allele, chance in row.carries.items():
        locus = next(locus for locus in genome.loci if any(a.id == allele for a in locus.alleles))
        gene = Link(locus.allele(allele).name, Target.GENE, f"{species}/{locus.id}")
        if chance == 1:
            yield folio.line(said(_("all of them carry {gene}"), gene=gene))
        else:
            yield folio.line(said(_("{chance} of them carry {gene} unseen"), gene=gene, chance=in_100(chance)))


def _further(left_out: tuple[str, ...], unjudged: int, n_rarer: int, litter: Litter, folio: Folio) -> Iterator[Line]:
    """What a usual litter is taken to be, where none is here yet, and what the table leaves out."""
    species = folio.collection.species[litter.species]
    genome = species.genome
    if litter.born is None:
        granted = taken_for_granted(species, folio.collection)
        yield folio.line(sentences_by_figure(granted, species, folio.collection.site.language)["litter_size"])
    in_play = {pair.locus.id for pair in folio.material.pairings[litter.id].loci}
    late = [locus for locus in left_out if locus in in_play]
    if late:
        names = listed([Link(genome.locus(locus).name, Target.GENE, f"{litter.species}/{locus}") for locus in late])
        yield folio.line(
            said(_("{names} cannot be judged at this age and is not in the table."), names=capitalised(names))
        )
    if unjudged:
        told = ngettext(
            "What came is not counted, because {count} young was not judged.",
            "What came is not counted, because {count} young were not judged.",
            unjudged,
        )
        yield words(told.format(count=unjudged))
    if n_rarer:
        yield words(_("Rarer looks are left out."))
