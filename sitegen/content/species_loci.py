"""Loci and their alleles: how a species file writes them, and what is made of them."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any, ClassVar

from sitegen.content.declaration import AsWritten, ByName, Written, group_of, key_only
from sitegen.content.report import At, Report
from sitegen.content.values import AGE_MONTHS, CHANCE, HALF, NAME, TEXT, TEXTS, YES, words_of
from sitegen.content.yaml_tree import Entries, Scalar, as_text_map, is_blank
from sitegen.findings import Kind, nearest
from sitegen.genetics.loci import (
    WILD,
    Allele,
    Genotype,
    Inheritance,
    Locus,
    Look,
    SexSystem,
    Welfare,
    look_id,
    looks_by_inheritance,
)

_INHERITANCE = words_of(
    Inheritance,
    meant={
        "codominant": "incomplete_dominant",
        "co dominant": "incomplete_dominant",
        "semi dominant": "incomplete_dominant",
        "inc dom": "incomplete_dominant",
    },
)
_COMPOUNDS = AsWritten({"additionalProperties": {"type": "string"}, "type": "object"})
GENE_FACTS = (
    "inheritance", "looks", "alleles", "two_copies", "two_copies_lethal", "penetrance", "visible_from",
    "not_the_same_as", "sex_linked", "sex_recombination",
)  # fmt: skip
"""The keys of a gene of which its ``sources`` may tell where they come from."""
_BY_FACT = {
    "additionalProperties": False,
    "properties": {key: {"type": "string"} for key in GENE_FACTS},
    "type": "object",
}
_SOURCES = AsWritten({"oneOf": [{"type": "string"}, _BY_FACT]})
_LOOKS = AsWritten({"additionalProperties": {"type": ["string", "null"]}, "type": "object"})


@dataclass(frozen=True, slots=True)
class WrittenWelfare:
    """A known harm that goes with a gene."""

    text: ClassVar = key_only(NAME, "What is known to happen, in plain words.", needed=True, prose=True)
    source: ClassVar = key_only(TEXT, "Where this is published.")


@dataclass(frozen=True, slots=True)
class WrittenAllele:
    """One named allele."""

    name: ClassVar = key_only(TEXT, "As the trade at large writes it; the id when left out.")
    inheritance: ClassVar = key_only(_INHERITANCE, "recessive, dominant or incomplete_dominant.")
    two_copies: ClassVar = key_only(TEXT, "Name of the two-copy form of an incomplete dominant.")
    two_copies_lethal: ClassVar = key_only(YES, "true when embryos with two copies are not among the living young.")
    penetrance: ClassVar = key_only(CHANCE, "Chance that an animal that should show it does.")
    visible_from: ClassVar = key_only(AGE_MONTHS, "Age before which it cannot be judged: 18 months.")
    hidden_by: ClassVar = key_only(TEXTS, "Looks under which it cannot be judged.")
    not_the_same_as: ClassVar = key_only(TEXTS, "Genes that look alike and are other loci.")
    named: ClassVar = key_only(TEXTS, "Other names it goes by; shows accepts them.")
    about: ClassVar = key_only(TEXT, "What it looks like, Markdown.", prose=True)
    welfare: ClassVar = key_only(group_of(WrittenWelfare, "welfare", name="Welfare"), "A known harm, with its source.")
    sources: ClassVar = key_only(
        _SOURCES, "Where its facts come from, told on its page: one text for all, or one by key.", prose=True
    )


ALLELE = group_of(WrittenAllele, "an allele", name="Allele")


@dataclass(frozen=True, slots=True)
class WrittenLocus(WrittenAllele):
    """One locus: a gene that stands alone, or an allelic series."""

    alleles: ClassVar = key_only(ByName(ALLELE), "The alleles of a series by id; a gene that stands alone needs none.")
    compounds: ClassVar = key_only(
        _COMPOUNDS, "Name of the look of two different alleles together: {motley/stripe: striped motley}."
    )
    looks: ClassVar = key_only(
        _LOOKS, "What each genotype shows, where inheritance does not say it; what is left out shows nothing."
    )
    sex_linked: ClassVar = key_only(YES, "true when it is on the Z or X, so that one sex has one copy.")
    sex_recombination: ClassVar = key_only(HALF, "Recombination with the place that determines the sex, 0 to 1/2.")


LOCUS = group_of(WrittenLocus, "a locus", name="Locus")


@dataclass(frozen=True, slots=True)
class LooseLocus:
    """A bound locus, and the names in it that can only be looked up when all loci are known."""

    locus: Locus
    place: Scalar
    hidden_by: tuple[tuple[str, tuple[At[str], ...]], ...]
    not_the_same_as: tuple[tuple[str, tuple[At[str], ...]], ...]


def bind_locus(key: Scalar, form: Written, sexes: SexSystem, report: Report) -> LooseLocus:
    """The locus; what is faulty in it is told, and taken so that nothing else becomes a second fault."""
    written = _written_alleles(key, form)
    _check_ids(key, form, report)
    alleles = tuple(_allele(allele_id, allele, form, len(written) == 1) for allele_id, allele in written)
    _check_sources(form, report)
    pseudo_autosomal = form.sex_recombination is not None
    sex_linked = bool(form.sex_linked and form.sex_linked.value)
    if (sex_linked or pseudo_autosomal) and not sexes.blank:
        warm = sexes is SexSystem.TEMPERATURE
        told = "the warmth of the eggs decides the sex" if warm else "how sex is determined is not said"
        report.wrong(
            form.at("sex_linked" if sex_linked else "sex_recombination"),
            f"{key.text} lies on a sex chromosome, but {told} in this species",
            "sexes: XY or sexes: ZW in the species file",
            "write sexes, or leave this line out",
        )
    blank = sexes.blank if sex_linked and not pseudo_autosomal else ""
    looks, shown = _looks(key, form, alleles, blank, report)
    locus = Locus(
        id=key.text,
        name=_name(key.text, form, alleles),
        alleles=alleles,
        looks=looks,
        shown=shown,
        lethal=frozenset((allele.id, allele.id) for allele in alleles if allele.two_copies_lethal),
        sex_linked=sex_linked,
        sex_system=sexes,
        sex_recombination=form.sex_recombination.value if form.sex_recombination else None,
    )
    return LooseLocus(
        locus,
        key,
        tuple((i, a.hidden_by or form.hidden_by) for i, a in written),
        tuple((i, a.not_the_same_as or form.not_the_same_as) for i, a in written),
    )


def _check_ids(key: Scalar, form: Written, report: Report) -> None:
    """Tells allele ids that cannot stand in a genotype."""
    for allele_id in form.alleles:
        if "/" in allele_id or allele_id in ("", WILD, "W", "Y"):
            report.error(
                Kind.ID_WRONG,
                form.key("alleles") or key,
                f'"{allele_id}" cannot be the id of an allele of {key.text}',
                expected="letters, digits and hyphens; + is the wild type, W and Y stand for a missing copy",
                nearest=allele_id.replace("/", "-").strip("+"),
                remedy="choose another id; the name may be anything",
            )


def _check_sources(form: Written, report: Report) -> None:
    """Tells a source without its fact, and a known harm of which nobody could read more."""
    series = [allele for allele in form.alleles.values() if allele]
    _check_fact_sources(form, series, report)
    for allele in series:
        _check_fact_sources(allele, (form,), report)
    for welfare in (form.welfare, *(allele.welfare for allele in series)):
        if welfare is not None and not welfare.source:
            report.notice(
                Kind.WELFARE_UNSOURCED,
                welfare.text,
                "this harm has no source, so a buyer cannot read more about it",
                expected="source: where it is published, or: our own records, not published",
                remedy="add source beside text",
            )


def _facts(*forms: Written) -> list[str]:
    """The facts that one of these forms has."""
    return [key for key in GENE_FACTS if any(not is_blank(form.node(key)) for form in forms)]


def _sources(allele: Written, locus: Written) -> tuple[tuple[str, str], ...]:
    """Each fact of an allele that has a source, with it; the allele's own word goes before that of its locus."""
    facts, found = _facts(allele, locus), dict[str, str]()
    for form in (locus, allele):
        if isinstance(form.sources, Scalar):
            found |= dict.fromkeys(facts, form.sources.text.strip())
        else:  # what is faulty in it is told once, by _check_sources
            found |= {key.text: node.text.strip() for key, node in as_text_map(form.sources, Report())}
    return tuple((key, found[key]) for key in facts if found.get(key))


def _check_fact_sources(form: Written, others: Iterable[Written], report: Report) -> None:
    """Tells a source of a fact that is written neither here nor in the forms that share it."""
    facts = _facts(form, *others)
    for key, _ in () if isinstance(form.sources, Scalar) else as_text_map(form.sources, report):
        if key.text not in facts:
            message = f"sources has one of {key.text}, and no {key.text} is written here"
            near, otherwise = nearest(key.text, facts), "write the fact, or delete its source"
            report.unknown(Kind.KEY_UNKNOWN, key, message, "the key of a fact that is written here", near, otherwise)


def _written_alleles(key: Scalar, form: Written) -> list[tuple[str, Written]]:
    """Allele ids and their forms; a locus without an ``alleles`` map has one allele of its own id."""
    if not form.alleles:
        return [(key.text, form)]
    empty = ALLELE.empty(form.tree)
    return [(allele_id, allele or empty) for allele_id, allele in form.alleles.items()]


def _name(locus_id: str, form: Written, alleles: tuple[Allele, ...]) -> str:
    usual = " / ".join(allele.name for allele in alleles) if form.alleles else locus_id
    return str(form.name.value) if form.name else usual


def _allele(allele_id: str, form: Written, locus: Written, alone: bool) -> Allele:
    """One allele; what it does not say itself, its locus may say for it."""

    def said(key: str, usual: Any = None, *, for_all: bool = False) -> Any:
        """What stands at a key; the locus speaks for all its alleles at some, else for one that is alone."""
        written = getattr(form, key) or (getattr(locus, key) if alone or for_all else None)
        return written.value if written else usual

    welfare = form.welfare or (locus.welfare if alone else None)
    return Allele(
        id=allele_id,
        name=said("name", allele_id.replace("-", " ")),
        inheritance=said("inheritance", for_all=True),
        two_copies=said("two_copies", ""),
        two_copies_lethal=said("two_copies_lethal", False),
        penetrance=said("penetrance", Fraction(1), for_all=True),
        visible_from_months=said("visible_from", 0, for_all=True),
        about=said("about", ""),
        named=tuple(other.value for other in form.named),
        welfare=Welfare(welfare.text.value, welfare.source.value if welfare.source else "") if welfare else None,
        sources=_sources(form, locus),
    )


def _looks(
    key: Scalar, form: Written, alleles: tuple[Allele, ...], blank: str, report: Report
) -> tuple[tuple[Look, ...], dict[Genotype, str]]:
    """The looks of a locus and what each genotype shows."""
    ids = [allele.id for allele in alleles]
    if form.looks is not None and isinstance(form.looks, Entries):
        return _mapped_looks(key, form.looks, alleles, blank, report)
    silent = [
        allele_id
        for allele_id, allele in _written_alleles(key, form)
        if allele.key("inheritance") is None and form.key("inheritance") is None
    ]
    if silent:
        names = f"allele {silent[0]} of {key.text}" if form.alleles else key.text
        report.missing(
            form.key("looks") or key,
            f"{names} says neither how it is inherited nor what its genotypes show",
            "inheritance: recessive, dominant or incomplete_dominant; or a looks map",
            "add inheritance",
        )
    alleles = tuple(replace(a, inheritance=a.inheritance or Inheritance.RECESSIVE) for a in alleles)
    compounds: dict[frozenset[str], str] = {}
    for name, look in as_text_map(form.compounds, report):
        pair = [part.strip() for part in name.text.split("/")]
        if len(pair) != 2 or pair[0] == pair[1] or any(part not in ids for part in pair):
            _unknown_genotype(name, key.text, ids, report, "two different alleles of the locus: motley/stripe")
        else:
            compounds[frozenset(pair)] = look.text.strip()
    return looks_by_inheritance(key.text, alleles, compounds, blank)


def _mapped_looks(
    key: Scalar, tree: Entries, alleles: tuple[Allele, ...], blank: str, report: Report
) -> tuple[tuple[Look, ...], dict[Genotype, str]]:
    """Looks written genotype by genotype; what is left out shows nothing."""
    locus = Locus(key.text, key.text, alleles, (), {})
    ids = [allele.id for allele in alleles]
    names = {allele.id: allele.name for allele in alleles}
    looks: dict[str, Look] = {}
    shown: dict[Genotype, str] = {}
    for name, look in as_text_map(tree, report, blank_means_nothing=True):
        parts = [part.strip() for part in name.text.split("/")]
        if len(parts) == 2 and blank and blank in parts:
            allele = parts[0] if parts[1] == blank else parts[1]
            genotype: Genotype = (allele, blank)
            known = allele in (WILD, *ids)
        else:
            known = len(parts) == 2 and all(part in (WILD, *ids) for part in parts)
            genotype = locus.genotype(parts[0], parts[1]) if known else ("", "")
        if not known:
            _unknown_genotype(name, key.text, ids, report, f"two of +, {', '.join(ids)}, joined by a slash")
        elif genotype in shown:
            report.error(
                Kind.KEY_TWICE,
                name,
                f'"{name.text}" is a genotype that stands here already, its alleles in another order',
                expected="each genotype once",
                remedy="delete one of the two",
            )
        elif look.text.strip():
            own = look.text if look.text in names else look_id(look.text)
            looks.setdefault(own, Look(own, names.get(own, look.text.strip()), key.text))
            shown[genotype] = own
    return tuple(looks.values()), shown


def _unknown_genotype(name: Scalar, locus: str, ids: list[str], report: Report, expected: str) -> None:
    pairs = [f"{first}/{second}" for first in (WILD, *ids) for second in ids]
    report.error(
        Kind.GENE_UNKNOWN,
        name,
        f'"{name.text}" does not name two alleles of {locus}',
        expected=expected,
        nearest=nearest(name.text, pairs),
        remedy="write the ids of the alleles as they stand under alleles",
    )
