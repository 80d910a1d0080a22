"""Law: what stands in records as text is answered as the sum over all genotypes says, from YAML to ``why --json``.

The truth is made from the same drawn facts without the program's reading, binding or gathering.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from helpers.from_text import content_of
from helpers.pedigrees import pedigrees
from helpers.plain_enumeration import Truth
from hypothesis import HealthCheck, event, given, settings
from hypothesis import strategies as st

from sitegen.content.binding import bind_content
from sitegen.evidence.answers import answers, why_all_json
from sitegen.genetics.loci import Genotype, Sex
from sitegen.genetics.questions import Member, Observation, Question, Tally

ONE = Fraction(1)


@dataclass(frozen=True)
class Kind:
    """A locus as a breeder writes it, and by hand what each genotype shows; what is left out shows nothing."""

    text: str
    shown: Mapping[str, str]
    alive: tuple[str, ...]
    one_copy: tuple[str, ...] = ()


KINDS = {
    "amel": Kind("{inheritance: recessive}", {"amel/amel": "amel"}, ("+/+", "+/amel", "amel/amel")),
    "tess": Kind("{inheritance: dominant}", {"+/tess": "tess", "tess/tess": "tess"}, ("+/+", "+/tess", "tess/tess")),
    "pal": Kind(
        "{inheritance: incomplete_dominant, two_copies: super pal}",
        {"+/pal": "pal", "pal/pal": "super pal"},
        ("+/+", "+/pal", "pal/pal"),
    ),
    "ill": Kind("{inheritance: dominant, two_copies_lethal: true}", {"+/ill": "ill"}, ("+/+", "+/ill")),
    "ms": Kind(
        "{alleles: {mot: {inheritance: recessive}, str: {inheritance: recessive}}, compounds: {mot/str: striped mot}}",
        {"mot/mot": "mot", "mot/str": "striped mot", "str/str": "str"},
        ("+/+", "+/mot", "+/str", "mot/mot", "mot/str", "str/str"),
    ),
    "odd": Kind(
        "{alleles: {a: {}, b: {}}, looks: {+/a: a, a/a: a, a/b: a, b/b: b}}",
        {"+/a": "a", "a/a": "a", "a/b": "a", "b/b": "b"},
        ("+/+", "+/a", "+/b", "a/a", "a/b", "b/b"),
    ),
    "band": Kind(
        "{inheritance: recessive, sex_linked: true}",
        {"band/band": "band", "band/W": "band"},
        ("+/+", "+/band", "band/band"),
        ("+/W", "band/W"),
    ),
}


def parts(genotype: str) -> Genotype:
    first, second = genotype.split("/")
    return first, second


def odds_text(odds: Mapping[str, Fraction]) -> str:
    return "{" + ", ".join(f"{genotype}: {chance}" for genotype, chance in odds.items()) + "}"


def rising(genotypes: tuple[str, ...]) -> dict[str, Fraction]:
    """Odds in which every genotype is possible and no two are alike."""
    total = sum(range(1, len(genotypes) + 1))
    return {genotype: Fraction(rank, total) for rank, genotype in enumerate(genotypes, start=1)}


@dataclass
class Written:
    """Drawn facts, as text and as the question that they amount to."""

    name: str
    members: tuple[Member, ...]
    files: dict[str, list[str]]
    priors: dict[str, dict[Genotype, Fraction]]
    seen: list[Observation]
    tallies: list[Tally]
    others: tuple[Member, ...] = ()


def sire_text(member: Member) -> str:
    return "{" + ", ".join(f"{sire}: {chance}" for sire, chance in member.sires) + "}"


def genotypes_of(kind: Kind, sex: Sex) -> tuple[str, ...]:
    if not kind.one_copy:
        return kind.alive
    return kind.one_copy if sex is Sex.FEMALE else kind.alive if sex is Sex.MALE else (*kind.alive, *kind.one_copy)


@st.composite
def written(draw: st.DrawFn) -> Written:
    name = draw(st.sampled_from(sorted(KINDS)))
    kind = KINDS[name]
    members = draw(pedigrees(5, several_sires=True))
    drawn = Written(name, members, {}, {}, [], [])
    for member in members:
        lines = drawn.files[f"animals/{member.id}/animal.yaml"] = ["species: s"]
        if member.sex is not Sex.UNKNOWN:
            lines.append(f"sex: {member.sex}")
        _parents(drawn, member, lines)
        sex = Sex.FEMALE if member.id[0] == "f" else Sex.MALE
        if member.dam is None and not member.sires:
            if kind.one_copy and member.sex is Sex.UNKNOWN:
                lines.append(f"sex: {sex}")
                drawn.members = tuple(
                    Member(m.id, sex, m.dam, m.sires, m.litter, m.each_its_own_sire) if m.id == member.id else m
                    for m in drawn.members
                )
            odds = rising(genotypes_of(kind, sex))
            lines += ["stated:", f"  {name}: {odds_text(odds)}"]
            drawn.priors[member.id] = {parts(genotype): chance for genotype, chance in odds.items()}
        _evidence(draw, drawn, kind, member, lines)
    _others(draw, drawn, kind)
    return drawn


def _parents(drawn: Written, member: Member, lines: list[str]) -> None:
    if member.litter:
        record = f"litters/{member.litter.replace('None', 'x')}/litter.yaml"
        if record not in drawn.files:
            drawn.files[record] = [
                *([f"dam: {member.dam}"] if member.dam else []),
                f"sire: {sire_text(member)}",
                f"mixed_sires: {str(member.each_its_own_sire).lower()}",
                "young:",
            ]
        drawn.files[record].append(f'  "{len(drawn.files[record])}":')
        number = len(drawn.files[record]) - 1
        lines.append(f"from_litter: {record.split('/')[1]}/{number}")
        return
    if member.dam:
        lines.append(f"dam: {member.dam}")
    if member.sires:
        lines.append(f"sire: {sire_text(member) if len(member.sires) > 1 else member.sires[0][0]}")


def _evidence(draw: st.DrawFn, drawn: Written, kind: Kind, member: Member, lines: list[str]) -> None:
    every = (*kind.alive, *kind.one_copy)
    what = draw(st.sampled_from(("nothing", "unsure", "plain", "look", "test")))
    if what == "unsure":
        lines += ["shows: []", draw(st.sampled_from((f"unsure: [{drawn.name}]", "unsure: all")))]
    elif what == "plain":
        lines.append("shows: []")
        fitting = [genotype for genotype in every if genotype not in kind.shown]
        drawn.seen.append(Observation(member.id, {parts(genotype): ONE for genotype in fitting}, member.id))
    elif what == "look":
        look = draw(st.sampled_from(sorted(set(kind.shown.values()))))
        lines.append(f"shows: [{look}]")
        fitting = [genotype for genotype, shown in kind.shown.items() if shown == look]
        drawn.seen.append(Observation(member.id, {parts(genotype): ONE for genotype in fitting}, member.id))
    elif what == "test":
        left = draw(st.lists(st.sampled_from(kind.alive), min_size=1, max_size=2, unique=True))
        lines.append(f"tests: [{{locus: {drawn.name}, result: [{', '.join(left)}]}}]")
        drawn.seen.append(Observation(member.id, {parts(genotype): ONE for genotype in left}, member.id))


def _others(draw: st.DrawFn, drawn: Written, kind: Kind) -> None:
    parents = [member for member in drawn.members if (member.dam or member.sires) and not member.litter]
    if not parents or not draw(st.booleans()):
        return
    like = draw(st.sampled_from(parents))
    count = draw(st.integers(1, 3))
    look = draw(st.sampled_from(("", *sorted(set(kind.shown.values())))))
    every = (*kind.alive, *kind.one_copy)
    fitting = [genotype for genotype in every if kind.shown.get(genotype, "") == look]
    drawn.files["litters/tally/litter.yaml"] = [
        *([f"dam: {like.dam}"] if like.dam else []),
        *([f"sire: {sire_text(like)}"] if like.sires else []),
        f"mixed_sires: {str(like.each_its_own_sire).lower()}",
        f"others: [{{count: {count}, shows: [{look}]}}]",
    ]
    likelihood = {parts(genotype): ONE for genotype in fitting}
    dam, sires = like.dam, like.sires
    if not dam or not (sires or like.each_its_own_sire):  # one unrecorded parent for all of the litter
        drawn.others += (Member("?", Sex.MALE if dam else Sex.FEMALE),)
        dam, sires = dam or "?", sires or (("?", ONE),)
    drawn.tallies.append(Tally(dam, sires, count, likelihood, "tally", Sex.UNKNOWN, "tally", like.each_its_own_sire))


@settings(max_examples=150, deadline=None, suppress_health_check=list(HealthCheck))
@given(written())
def test_records_are_answered_as_written(drawn: Written) -> None:
    kind = KINDS[drawn.name]
    background = rising(kind.alive)
    usual = odds_text(background)
    by_sex = f"{{female: {odds_text(rising(kind.one_copy))}, male: {usual}}}" if kind.one_copy else usual
    species = f"sexes: ZW\nlitter_size: {{low: 0, usual: 3, high: 9}}\nloci:\n  {drawn.name}: {kind.text}\n"
    species += f"background:\n  {drawn.name}: {by_sex}\n"
    text = f"=== species/s.yaml\n{species}" + "".join(
        f"=== {path}\n" + "\n".join(lines) + "\n" for path, lines in drawn.files.items()
    )
    collection, findings = bind_content(content_of(text))
    assert collection is not None, (text, findings)
    locus = collection.species["s"].genome.locus(drawn.name)
    asked = Question(locus, drawn.members + drawn.others, drawn.priors, tuple(drawn.seen), tuple(drawn.tallies))
    truth = Truth([asked])
    found = why_all_json(collection, answers(collection))
    if not truth.total:
        event("contradictory")
        assert found["contradictions"]
        return
    event("possible")
    assert found["contradictions"] == []
    for member in drawn.members:
        answer = found["animals"][member.id][drawn.name]
        told = {parts(genotype): Fraction(chance) for genotype, chance in answer.items()}
        assert told == truth.posterior(member.id), text
