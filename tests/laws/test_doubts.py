"""What is told as impossible has a chance of exactly 0; where the parents are strangers, the reverse is true as well.

The exact chance comes from the program's pairings, with kept young written as real young of a litter.
"""

import datetime as dt
from collections.abc import Sequence
from fractions import Fraction

from helpers.from_text import bound
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from sitegen.evidence.asking import Asked, ask
from sitegen.evidence.gather import gather
from sitegen.evidence.pairings import pairing
from sitegen.findings import SitegenError
from sitegen.genetics.questions import Impossible
from sitegen.plans.doubts import doubts
from sitegen.plans.doubts_kinds import AlwaysSeen, Doubt, Lethal, LookAlike, NotCarried, TooShort

TODAY = dt.date(2026, 11, 1)
SPECIES = """
=== species/corn-snake.yaml
name: corn snake
sexes: ZW
loci:
  amel: {inheritance: recessive}
  anery: {inheritance: recessive, not_the_same_as: [charcoal]}
  charcoal: {inheritance: recessive}
  tessera: {inheritance: dominant}
  pale: {inheritance: incomplete_dominant, two_copies: super pale, two_copies_lethal: true}
  banded: {inheritance: recessive, sex_linked: true}
  hypo: {inheritance: recessive, penetrance: 1/2}
  motley-stripe:
    alleles: {motley: {inheritance: recessive}, stripe: {inheritance: recessive}}
    compounds: {motley/stripe: striped motley}
"""
LOOKS = (
    "amel",
    "anery",
    "charcoal",
    "tessera",
    "pale",
    "super pale",
    "banded",
    "hypo",
    "motley",
    "stripe",
    "striped motley",
)
FOUNDERS = {"juniper": "female", "flint": "male", "basalt": "male"}
OF_GENES = (NotCarried, LookAlike, TooShort, AlwaysSeen, Lethal)

shown = st.lists(st.sampled_from(("amel", "anery", "charcoal", "tessera", "motley")), max_size=2, unique=True)
stated = st.dictionaries(
    st.sampled_from(("hypo", "stripe", "charcoal")), st.sampled_from(("certain", "1/2")), max_size=2
)
wanted = st.lists(st.sampled_from(LOOKS), min_size=1, max_size=2, unique=True)


@st.composite
def herds(draw: st.DrawFn) -> str:
    """Three founders that show and are stated to carry this and that."""
    text = SPECIES
    for name, sex in FOUNDERS.items():
        own = draw(shown)
        said = {
            gene: word
            for gene, word in draw(stated).items()
            if gene not in own and not (gene == "stripe" and "motley" in own)
        }
        text += f"=== animals/{name}/animal.yaml\nspecies: corn-snake\nsex: {sex}\nshows: [{', '.join(own)}]\n"
        text += f"stated: {{{', '.join(f'{gene}: {word}' for gene, word in said.items())}}}\n" if said else ""
    return text


def project(goal: Sequence[str], *stages: str) -> str:
    lines = "".join(f"  {stage}\n" for stage in stages)
    return f"=== projects/p/project.yaml\nspecies: corn-snake\ngoal: {{shows: [{', '.join(goal)}]}}\nstages:\n{lines}"


def asked_of(text: str) -> Asked:
    return ask(gather(bound(text)))


def impossible(asked: Asked) -> list[Doubt]:
    found = doubts(asked, asked.evidence.collection.projects["p"], TODAY)
    return [doubt for doubt in found if isinstance(doubt, OF_GENES)]


def chance(asked: Asked, dam: str, sire: str, looks: Sequence[str]) -> Fraction:
    """Exact chance of such a young; 0 where the looks cannot go together or no young can live."""
    try:
        found = pairing(asked, dam, sire, wanted=looks).wanted
    except SitegenError:
        return Fraction(0)
    assert found is not None
    return found.per_young


def compatible(looks: Sequence[str]) -> bool:
    """At most one look a locus, so that the record is sound."""
    together = [look for look in looks if look in ("motley", "stripe", "striped motley")]
    return len(together) < 2 and not {"pale", "super pale"} <= set(looks)


@settings(max_examples=75, deadline=None)
@given(herd=herds(), goal=wanted)
def test_one_pairing_is_told_as_impossible_exactly_when_it_is(herd: str, goal: list[str]) -> None:
    assume(compatible(goal))
    asked = asked_of(herd + project(goal, "only: {season: 2027, dam: juniper, sire: flint}"))
    assert bool(impossible(asked)) is (chance(asked, "juniper", "flint", goal) == 0)


@settings(max_examples=100, deadline=None)
@given(
    herd=herds(),
    keep=st.lists(st.sampled_from(LOOKS), max_size=2, unique=True),
    only=st.booleans(),
    branch=st.booleans(),
    sex=st.sampled_from(("female", "male")),
)
def test_what_is_to_be_kept_is_told_as_impossible_exactly_when_no_young_can_look_so(
    herd: str, keep: list[str], only: bool, branch: bool, sex: str
) -> None:
    """Kept first or else; of young that show nothing else everything else was looked for, as in a record."""
    assume(compatible(keep))
    looks = f"sex: {sex}, shows: [{', '.join(keep)}]"
    kept = f"a: {{{looks}, only: {str(only).lower()}}}"
    first = f"tries: 1, keep: {{b: {{count: 9, at_least: 9}}}}, else: {{{kept}}}" if branch else f"keep: {{{kept}}}"
    told = impossible(asked_of(herd + project((), f"first: {{season: 2027, dam: juniper, sire: flint, {first}}}")))
    young = f"young: {{a: {{{looks}{'' if only else ', unsure: all'}}}}}"
    real = asked_of(f"{herd}=== litters/l/litter.yaml\ndam: juniper\nsire: flint\n{young}\n")
    contradicted = any(
        isinstance(real.of("l/a", locus.id), Impossible)
        for locus in real.evidence.collection.species["corn-snake"].genome.loci
    )
    surprising = any(heredity.opened for heredity in real.heredity)  # plans reckon with what is written alone
    assert bool(told) is (contradicted or surprising)


@settings(max_examples=75, deadline=None)
@given(herd=herds(), keep=wanted, goal=wanted, back=st.booleans())
def test_a_second_generation_is_told_as_impossible_only_when_it_is(
    herd: str, keep: list[str], goal: list[str], back: bool
) -> None:
    assume(compatible(keep) and compatible(goal))
    sire = "flint" if back else "basalt"
    first = (
        f"first: {{season: 2027, dam: juniper, sire: flint, keep: {{a: {{shows: [{', '.join(keep)}], sex: female}}}}}}"
    )
    second = f"second: {{season: 2030, dam: first.a, sire: {sire}}}"
    told = impossible(asked_of(herd + project(goal, first, second)))
    young = f"young: {{a: {{sex: female, shows: [{', '.join(keep)}], unsure: all}}}}"
    real = asked_of(f"{herd}=== litters/l/litter.yaml\ndam: juniper\nsire: flint\n{young}\n")
    contradicted = any(
        isinstance(real.of("l/a", locus.id), Impossible)
        for locus in real.evidence.collection.species["corn-snake"].genome.loci
    )
    surprising = any(heredity.opened for heredity in real.heredity)  # plans reckon with what is written alone
    if contradicted or surprising:
        assert told
        return
    truth = max(chance(real, "juniper", "flint", goal), chance(real, "l/a", sire, goal))
    if told:
        assert truth == 0
    elif not back:
        assert truth > 0
