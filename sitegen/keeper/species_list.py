"""What the species files that are carried hold, from where, and what of it is doubtful: a page of the guide."""

from collections import Counter
from collections.abc import Iterator

from sitegen.content.folder import Content
from sitegen.content.report import Report
from sitegen.content.sources import Standing, standing_of
from sitegen.content.species import Species, bind_species
from sitegen.content.written_records import forms_of_content
from sitegen.genetics.loci import Allele, SexSystem
from sitegen.keeper.new_records import by_group, carried

_COUNTED = (Standing.PUBLISHED, Standing.CUSTOM, Standing.MEMORY, Standing.DOUBTFUL)
_SEX = {
    SexSystem.XY: "males XY, females XX",
    SexSystem.ZW: "males ZZ, females ZW",
    SexSystem.TEMPERATURE: "by the warmth of the eggs: no share of females is promised, and no gene can lie on a "
    "sex chromosome",
    SexSystem.UNKNOWN: "not known: no gene can lie on a sex chromosome",
}


def species_page() -> str:
    """The page, in Markdown."""
    files = {f"species/{name}.yaml": text for name, text in carried().items()}
    forms = forms_of_content(Content(files), Report()).species
    species = {name: bind_species(name, form, Report()).species for name, form in forms.items() if form}
    lines = [
        "# The species files that are carried",
        "",
        "`sitegen start` and `sitegen add species` copy these into your collection. A gene is counted by what is known "
        "of how it is inherited: published; common practice of keepers without a source; from memory, not looked up; "
        "doubtful.",
        "",
        "| species | genes | published | common practice | from memory | doubtful | combinations |",
        "| --- | --- | --- | --- | --- | --- | --- |",
        *(_row(own) for own in species.values()),
    ]
    for group, names in by_group().items():
        lines += ["", f"## {group.capitalize()}"]
        for name in names:
            lines += ["", f"### {name}", "", *_told(species[name])]
    return "\n".join(lines) + "\n"


def _row(species: Species) -> str:
    sources = [dict(allele.sources) for allele in _alleles(species)]
    known = Counter(standing_of(own.get("inheritance") or own.get("looks", ""))[0] for own in sources)
    counts = (known.total(), *(known[each] for each in _COUNTED), len(species.genome.combinations))
    return f"| {species.id} | {' | '.join(str(count) for count in counts)} |"


def _told(species: Species) -> Iterator[str]:
    yield f"- {species.name}, *{species.scientific}*; sex: {_SEX[species.genome.sex_system]}"
    for figure, source in species.written.items():
        yield f"- `{figure}`: {source}"
    for start, interval in species.intervals.items():
        yield f"- days from {start}: {interval.source}"
    for allele in _alleles(species):
        by_source: dict[str, list[str]] = {}
        for key, source in allele.sources:
            if standing_of(source)[0] is not Standing.CUSTOM:
                by_source.setdefault(source, []).append(key)
        yield from (f"- gene {allele.name}, {', '.join(keys)}: {source}" for source, keys in by_source.items())
        if allele.welfare:
            yield f"- harm, {allele.name}: {allele.welfare.source}"
    yield from (f"- caution: {caution}" for caution in species.cautions)


def _alleles(species: Species) -> Iterator[Allele]:
    return (allele for locus in species.genome.loci for allele in locus.alleles)
