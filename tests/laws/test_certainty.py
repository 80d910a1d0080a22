"""Law: what is called certain holds in every world that the records leave, with everything unwritten open.

The worlds are those of the plain enumeration in which every founder, and every parent that is not recorded, may have
any genotype that is not written down otherwise.
"""

import datetime as dt
from collections.abc import Iterable, Mapping
from dataclasses import replace
from fractions import Fraction
from functools import partial

from helpers.by_hand import allele, animal, collection, dominant, litter, locus, recessive, species
from helpers.plain_enumeration import Truth
from hypothesis import HealthCheck, assume, event, given, settings
from hypothesis import strategies as st

from sitegen.content.collection import Collection
from sitegen.evidence.answers import Answers, answers, answers_of
from sitegen.evidence.asking import ask
from sitegen.evidence.claims import claims_of
from sitegen.evidence.gather import gather
from sitegen.evidence.kinds import Basis, Claim, ClaimKind
from sitegen.evidence.reasons import reasons
from sitegen.genetics.loci import Genotype, Inheritance, Locus, Sex
from sitegen.genetics.network import Heredity
from sitegen.genetics.observations import all_genotypes, when_not_seen, when_seen
from sitegen.genetics.questions import Impossible, Member, Observation, Question, Tally, TooTangled
from sitegen.words.conditions import is_conditional

ONE = Fraction(1)
often = settings(max_examples=100, deadline=None, suppress_health_check=list(HealthCheck))
LOCI = (
    recessive("amel"),
    dominant("tess"),
    locus("pal", allele("pal", Inheritance.INCOMPLETE_DOMINANT, two_copies="super pal")),
    locus("ms", allele("mot"), allele("str"), compounds={"mot/str": "striped mot"}),
)


class Drawn:
    """Records of a small family, and the same as what the plain enumeration is asked."""

    def __init__(self, kept: Collection, question: Question) -> None:
        self.kept = kept
        self.question = question

    def __repr__(self) -> str:
        return f"{self.question.members} {self.question.priors} {self.question.observations} {self.question.tallies}"


@st.composite
def families(draw: st.DrawFn, *, often_unjudged: bool = False) -> Drawn:
    """Two founders or parents that are not recorded, young of theirs, and perhaps young of one of these."""
    at = draw(st.sampled_from(LOCI))
    first = at.alleles[0].id
    words = ({}, {}, {first: "certain"}, {first: "66%"}, {at.id: {"+/+": ONE}})
    facts: list[Mapping[str, object]] = [
        {},
        {},
        {"shows": ""},
        *({"shows": look.id} for look in at.looks),
        {"tests": {at.id: "+/+"}},
        {"tests": {at.id: f"+/{first}"}},
        {"tests": {at.id: f"+/+ +/{first}"}},
        {"tests": {at.id: f"+/{first} {first}/{first}"}},
    ]
    if often_unjudged:
        facts += [{}] * 4 + [{"shows": at.looks[0].id}] * 4
    records = []
    founders = {"f": Sex.FEMALE, "m": Sex.MALE}
    for name, sex in founders.items():
        stated = draw(st.sampled_from(words))
        records.append(animal(name, sex=sex, stated=stated, **draw(st.sampled_from(facts))))
    parents = draw(st.sampled_from([("f", "m"), ("f", "m"), ("f", None), (None, "m")]))
    young = {f"0{number}": draw(st.sampled_from(facts)) for number in range(draw(st.integers(1, 2)))}
    others = draw(st.sampled_from(({}, {}, {"": 2}, {at.looks[0].id: 1})))
    own = draw(st.booleans())
    records.append(litter("l", *parents, young, others, mixed=own))
    if draw(st.booleans()):
        sire = draw(st.sampled_from((None, "m")))
        records.append(animal("grand", dam="l/00", sire=sire, **draw(st.sampled_from(facts))))
    kept = collection(species(at), *draw(st.permutations(records)))
    return Drawn(kept, _question(kept, at))


def _question(kept: Collection, at: Locus) -> Question:
    """What is written, and nothing else, with every unrecorded parent of a litter record as one animal."""
    members: dict[str, Member] = {}
    seen: list[Observation] = []
    priors: dict[str, Mapping[Genotype, Fraction]] = {}
    for each in kept.animals.values():
        one = each.litter and not (each.each_its_own_sire and each.dam)
        dam, sires = each.dam, each.sires
        if bool(dam) != bool(sires):
            name = f"unrecorded {each.litter if one else each.id}"
            members[name] = Member(name, Sex.MALE if dam else Sex.FEMALE)
            dam, sires = dam or name, sires or ((name, ONE),)
        members[each.id] = Member(each.id, each.sex, dam, sires, each.litter, each.each_its_own_sire)
        (genes,) = each.genes
        if genes.judged.seen:
            looks = [look.look for look in genes.judged.seen]
            seen.append(Observation(each.id, when_seen(at, looks), f"{each.id} seen"))
        elif genes.judged.written:
            seen.append(Observation(each.id, when_not_seen(at), f"{each.id} seen"))
        seen += [Observation(each.id, dict.fromkeys(test.genotypes, ONE), f"{each.id} test") for test in genes.tests]
        if not dam and not sires and genes.stated:
            (word,) = genes.stated
            own = [one.likelihood for one in seen if one.member == each.id]
            fits = any(all(one.get(pair) for one in own) for pair in word.odds)
            assume(fits or ("+", "+") in word.odds)  # what is certain by a word and not by a look has a rule of its own
            if fits:  # else what it shows is stronger
                named = {one for pair in word.odds for one in pair} | {"+"}
                left = [
                    pair
                    for pair in all_genotypes(at)
                    if pair in word.odds
                    or (
                        word.quoted
                        and any(one not in named for one in pair)
                        and any(_opens(closed, pair, named) for closed in word.odds)
                    )
                ]
                priors[each.id] = dict.fromkeys(left, Fraction(1, len(left)))
    counted = []
    (record,) = kept.litters.values()
    for number, others in enumerate(record.others):
        shown = [look.look for look in others.judged.seen]
        likelihood = when_seen(at, shown) if shown else when_not_seen(at)
        dam, sires = record.dam, record.sires
        if not dam or not (sires or record.each_its_own_sire):
            dam, sires = dam or "unrecorded l", sires or (("unrecorded l", ONE),)
        counted.append(Tally(dam, sires, others.count, likelihood, f"others {number}", litter="l"))
        if record.each_its_own_sire:
            counted[-1] = replace(counted[-1], each_its_own_sire=True)
    anything = all_genotypes(at)
    opened = replace(at, background=dict.fromkeys(Sex, dict.fromkeys(anything, Fraction(1, len(anything)))))
    return Question(opened, tuple(members.values()), priors, tuple(seen), tuple(counted))


def _opens(closed: Genotype, pair: Genotype, named: set[str]) -> bool:
    """True when a genotype is a stated one with alleles that were not named in place of the wild type."""
    return sorted(one for one in pair if one in named and one != "+") == sorted(one for one in closed if one != "+")


def worlds(question: Question) -> Truth | None:
    """Everything that is possible; None where nothing is."""
    truth = Truth([question])
    return truth if truth.total else None


def sets_of(found: Answers, at: Locus) -> Mapping[str, frozenset[Genotype]]:
    """Animal to what is possible at the locus."""
    return {name: own[at.id] for name, own in found.possible.items() if at.id in own}


@often
@given(families())
def test_the_sets_are_what_some_world_holds(drawn: Drawn) -> None:
    at = drawn.question.locus
    found = answers(drawn.kept)
    truth = worlds(drawn.question)
    event("possible" if truth else "contradictory")
    for name in drawn.kept.animals:
        own = found.possible[name].get(at.id)
        if truth:
            assert own == frozenset(truth.posterior(name))
            assert own.issuperset(found.posteriors[name].get(at.id, {}))


@often
@given(families(), st.data())
def test_less_evidence_never_makes_a_set_smaller(drawn: Drawn, data: st.DataObject) -> None:
    at = drawn.question.locus
    name = data.draw(st.sampled_from(list(drawn.kept.animals)))
    told = drawn.kept.animals[name]
    (genes,) = told.genes
    unjudged = replace(genes.judged, seen=(), written=False)
    less = replace(told, genes=(replace(genes, judged=unjudged, tests=()),))
    before = sets_of(answers(drawn.kept), at)
    after = sets_of(answers(replace(drawn.kept, animals={**drawn.kept.animals, name: less})), at)
    if told.genes[0].stated:
        return  # a look or a test of its own was stronger than the word, which now counts again
    for each, own in before.items():
        assert own <= after.get(each, frozenset())


@often
@given(families(), st.randoms(use_true_random=False))
def test_the_order_of_records_changes_no_set(drawn: Drawn, dice) -> None:
    names = list(drawn.kept.animals)
    dice.shuffle(names)
    turned = replace(drawn.kept, animals={name: drawn.kept.animals[name] for name in names})
    assert answers(turned).possible == answers(drawn.kept).possible


def claims_in(drawn: Drawn) -> tuple[Heredity, list[Claim]]:
    """All claims, and what inference answers at the locus."""
    asked = ask(gather(drawn.kept))
    found = answers_of(asked)
    told = claims_of(drawn.kept, found, partial(reasons, asked), dt.date(2026, 11, 25))
    return asked.heredity[0], [claim for own in told.values() for claim in own]


@often
@given(families())
def test_whatever_is_claimed_without_a_condition_holds_in_every_world(drawn: Drawn) -> None:
    truth = worlds(drawn.question)
    for claim in claims_in(drawn)[1] if truth else []:
        assert truth is not None
        possible = truth.posterior(claim.animal)
        event(f"{claim.kind} {claim.condition is not None}")
        if claim.kind is ClaimKind.RULED_OUT:
            assert all(claim.allele not in genotype for genotype in possible)
        if claim.kind is ClaimKind.CARRIES and not is_conditional(claim):
            assert all(claim.allele in genotype for genotype in possible)
        if claim.copies != -1 and claim.allele:
            assert {genotype.count(claim.allele) for genotype in possible} == {claim.copies}
        if claim.basis is Basis.PROVEN_BY_YOUNG:
            assert all(claim.allele in genotype for genotype in possible)
        if claim.either:
            mate, young = claim.either
            among = [claim.animal, mate] if mate else [claim.animal]
            assert all(claim.allele in genotype for genotype in truth.posterior(young))
            both = truth.joint(among)
            assert not mate or all(any(claim.allele in genotype for genotype in pair) for pair in both)


@often
@given(families(often_unjudged=True))
def test_a_condition_suffices_and_no_smaller_one_does(drawn: Drawn) -> None:
    limit, claims = claims_in(drawn)
    for claim in claims:
        if claim.condition is None or not worlds(drawn.question):
            continue
        held = frozenset(claim.posterior)

        def holds(pairs: Iterable[Genotype], claim: Claim = claim, held: frozenset[Genotype] = held) -> bool:
            return held.issuperset(pairs) if claim.condition.of_copies else all(claim.allele in pair for pair in pairs)

        taken = [each.animal or f"unrecorded {each.young}" for each in claim.condition.taken]
        event(f"{len(taken)} founders")
        assert not holds(worlds(drawn.question).posterior(claim.animal))
        if taken:
            truth = worlds(closing(drawn.question, taken))
            assert truth
            assert holds(truth.posterior(claim.animal))
        for one in drawn.question.members if len(taken) != 1 else ():
            if one.dam or one.sires or one.id == claim.animal:
                continue
            name = one.id
            if one.id not in drawn.kept.animals:
                name = (
                    f"unrecorded {'dam' if one.sex is Sex.FEMALE else 'sire'} of {one.id.removeprefix('unrecorded ')}"
                )
            if name not in {member.id for member in limit.solved.parts[0].members}:
                continue  # each young of a mixed litter has a sire of its own, of whom nobody is asked
            answer = limit.of(name)
            assert not isinstance(answer, Impossible | TooTangled)
            surprised = not closed_of(drawn.question, one).issuperset(answer)
            truth = worlds(closing(drawn.question, [one.id]))
            assert surprised or not truth or not holds(truth.posterior(claim.animal))


def closed_of(question: Question, founder: Member) -> frozenset[Genotype]:
    """The genotypes of a founder with no more copies than are written of it."""
    own = [seen.likelihood for seen in question.observations if seen.member == founder.id]
    written = question.priors.get(founder.id)
    left = [pair for pair in (written or all_genotypes(question.locus)) if all(seen.get(pair) for seen in own)]
    unnamed = {allele.id for allele in question.locus.alleles}
    if written:
        named = {allele for pair in written for allele in pair} if len(written) < 3 else unnamed
        unnamed -= {min(named - {"+"}, default="")}
    counts = {pair: sum(allele in unnamed for allele in pair) for pair in left}
    return frozenset(pair for pair in left if counts[pair] == min(counts.values()))


def closing(question: Question, founders: Iterable[str]) -> Question:
    """The question with some founders closed."""
    members = {member.id: member for member in question.members}
    closed = {name: closed_of(question, members[name]) for name in founders}
    odds = {name: dict.fromkeys(pairs, Fraction(1, len(pairs))) for name, pairs in closed.items()}
    return replace(question, priors={**question.priors, **odds})


@often
@given(families(), st.sampled_from(("f", "m")), st.booleans())
def test_recording_ancestors_of_whom_nothing_is_known_changes_nothing(drawn: Drawn, name: str, both: bool) -> None:
    founder = drawn.kept.animals[name]
    assume(not founder.genes[0].stated)
    parents = {"old dam": Sex.FEMALE, "old sire": Sex.MALE}
    blank = [animal(each, sex=sex) for each, sex in parents.items()]
    below = replace(founder, dam="old dam", sires=(("old sire", ONE),) if both else ())
    records = {**drawn.kept.animals, name: below} | {each.id: each for each in blank[: 1 + both]}
    more, before = answers(replace(drawn.kept, animals=records)), answers(drawn.kept)
    event("contradictory" if before.contradictions else "surprised" if before.surprises else "not surprised")
    assert bool(more.contradictions) == bool(before.contradictions)
    for each in drawn.kept.animals:
        assert more.posteriors[each] == before.posteriors[each]
        assert more.possible[each] == before.possible[each]
