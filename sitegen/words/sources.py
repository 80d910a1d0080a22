"""Where a fact of a species comes from, in words."""

from sitegen.content.sources import Standing, standing_of
from sitegen.genetics.loci import Allele
from sitegen.words.speech import Sentence, _, capitalised, listed, said


def source_words(source: str) -> Sentence:
    """The source of a figure in brackets, after it; empty where it has none, which makes it the breeder's own."""
    return said(" ({source})", source=known_from(source)) if source else ()


def known_from(source: str) -> str:
    """A source in words: what is common practice, remembered or doubtful says so."""
    standing, told = standing_of(source)
    words = {
        Standing.CUSTOM: _("breeders’ custom, no published source"),
        Standing.MEMORY: _("from memory, not looked up: {source}") if told else _("from memory, not looked up"),
        Standing.DOUBTFUL: _("doubtful: {source}") if told else _("doubtful"),
    }.get(standing, "{source}")
    return words.format(source=told)


def gene_sources(allele: Allele) -> tuple[Sentence, ...]:
    """Where the facts of a gene come from, one sentence a source."""
    facts = {
        "inheritance": _("how it is inherited"),
        "looks": _("how it is inherited"),
        "alleles": _("its shared place"),
        "two_copies": _("how two copies look"),
        "two_copies_lethal": _("that young with two copies do not live"),
        "penetrance": _("how often it shows"),
        "visible_from": _("when it can be judged"),
        "not_the_same_as": _("which genes look alike"),
        "sex_linked": _("its sex chromosome"),
        "sex_recombination": _("how it goes with sex"),
    }
    by_source: dict[str, dict[str, None]] = {}
    for key, source in allele.sources:
        by_source.setdefault(known_from(source), {})[facts[key]] = None
    return tuple(
        (*capitalised(listed(list(told))), *said(": {source}.", source=source.rstrip(".")))
        for source, told in by_source.items()
    )
