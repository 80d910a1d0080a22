"""What was inferred, kept from build to build: for the same evidence alone, and never anything that could run."""

import datetime as dt
import os
import pickle
import sys
from dataclasses import replace
from fractions import Fraction
from functools import partial
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent / "preview"))

from test_equals_a_clean_build import JUNIPER, RECORDS, toggle
from written import write_files

from sitegen.build import Order, build
from sitegen.claims.changes import grounded_today
from sitegen.claims.from_evidence import claims_of
from sitegen.claims.kinds import Basis, ClaimKind
from sitegen.evidence.known import Ground
from sitegen.evidence.reasons import reasons
from sitegen.evidence.what_counts import evidence_key, plans_key
from sitegen.findings import Finding, Kind, Level, SitegenError
from sitegen.inferred import KIND, Before, Inferred, _Pieces
from sitegen.known import Known, read_known
from sitegen.pages.replayed import told_changes
from sitegen.records.collection import Collection
from sitegen.records.values import PartialDate
from sitegen.store import Store, sealed, unsealed

DEMO = Path(__file__).parents[2] / "content"
DAY = dt.date(2026, 11, 25)


@pytest.fixture(scope="module")
def known() -> Known:
    found, _ = read_known(DEMO)
    assert found is not None
    return found


@pytest.fixture(scope="module")
def inferred(known: Known) -> Inferred:
    claims = claims_of(known.collection, known.answers, partial(reasons, known.asked), DAY)
    changes = grounded_today(told_changes(known.collection, {}), claims)
    answers = replace(known.answers, notices=(), contradictions=())
    return Inferred(answers, claims, changes, marks={"claims": {"a": b"1"}, "roads": {"b": b"2"}})


def kept(store: Store, collection: Collection, day: dt.date = DAY) -> Inferred | None:
    return Before.of(collection, day, store).inferred


def test_members_of_enumerations_are_kept_alike_by_every_python(
    tmp_path: Path, known: Known, inferred: Inferred, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Python 3.11.0 to 3.11.3 pickle them by a call of getattr, which the reader refuses (seen with 3.11.2)."""
    for kind in (ClaimKind, Basis, Ground, Level, Kind):
        monkeypatch.setattr(kind, "__reduce_ex__", lambda self, _protocol: (getattr, (type(self), self.name)))
    doubts = (Finding(Level.NOTICE, Kind.PLAN_WELFARE, None, "x"),)
    store = Store(tmp_path)
    Before.of(known.collection, DAY, store).keep(inferred, doubts, store)
    found = Before.of(known.collection, DAY, store)
    assert found.inferred is not None
    assert dict(found.inferred.claims) == dict(inferred.claims)
    assert found.doubts == doubts


def test_what_is_kept_is_what_was_inferred(tmp_path: Path, known: Known, inferred: Inferred) -> None:
    store, collection = Store(tmp_path), known.collection
    assert kept(store, collection) is None
    Before.of(collection, DAY, store).keep(inferred, (), store)
    found = kept(store, collection)
    assert found == replace(inferred, plans=plans_key(collection))
    assert kept(store, collection, DAY + dt.timedelta(days=1)) is None
    other = replace(collection, site=replace(collection.site, name="Another"))
    assert kept(store, other) is None
    projects = {key: replace(project, name="Another") for key, project in collection.projects.items()}
    found = kept(store, replace(collection, projects=projects))
    assert found is not None
    assert found.marks == {"claims": {"a": b"1"}}, "the roads hang on the projects"


def test_another_program_takes_nothing_over(
    tmp_path: Path, known: Known, inferred: Inferred, monkeypatch: pytest.MonkeyPatch
) -> None:
    store = Store(tmp_path)
    Before.of(known.collection, DAY, store).keep(inferred, (), store)
    monkeypatch.setattr("sitegen.inferred.program_state", lambda: "another")
    assert kept(store, known.collection) is None


def test_findings_are_found_again_each_time(tmp_path: Path, known: Known, inferred: Inferred) -> None:
    store = Store(tmp_path)
    finding = Finding(Level.NOTICE, Kind.LINK_BROKEN, None, "what is stated is not used")
    before = Before.of(known.collection, DAY, store)
    before.keep(inferred, (), store)
    before.keep(replace(inferred, answers=replace(inferred.answers, notices=(finding,))), (), store)
    assert kept(store, known.collection) is None


def test_doubts_are_kept_with_the_lines_and_names_that_they_tell(tmp_path: Path, known: Known) -> None:
    store, collection = Store(tmp_path), known.collection
    doubts = tuple(
        replace(one, kind=Kind.PLAN_WELFARE) for one in (Finding(Level.NOTICE, Kind.LINK_BROKEN, None, "x"),)
    )

    def doubts_of(changed: Collection, day: dt.date = DAY) -> tuple[Finding, ...] | None:
        return Before.of(changed, day, store).doubts

    def with_animal(**changes: object) -> Collection:
        key, animal = next((key, each) for key, each in collection.animals.items() if each.offer)
        return replace(collection, animals={**collection.animals, key: replace(animal, **changes)})  # type: ignore[arg-type]

    assert doubts_of(collection) is None
    Before.of(collection, DAY, store).keep(None, doubts, store)
    assert doubts_of(collection) == doubts
    assert doubts_of(collection, DAY + dt.timedelta(days=1)) is None
    assert doubts_of(with_animal(name="Another")) is None
    assert doubts_of(with_animal(offer=None)) is None
    assert doubts_of(with_animal(genes=())) is None
    for key, project in collection.projects.items():
        moved = replace(project, place=replace(project.place, line=project.place.line + 1))
        assert doubts_of(replace(collection, projects={**collection.projects, key: moved})) is None
    for key, litter in collection.litters.items():
        for changed in (replace(litter, expected=PartialDate(2031)), replace(litter, name="Another")):
            assert doubts_of(replace(collection, litters={**collection.litters, key: changed})) is None


def test_a_build_with_the_same_evidence_and_plans_asks_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    content = write_files(tmp_path / "content", RECORDS.replace(", visible_from: 12 months", ""))
    order = Order(content, tmp_path / "site" / "output", tmp_path / "themes", date=DAY, workers=1)
    assert build(order).published is not None
    monkeypatch.setattr("sitegen.known.gather", None)
    toggle(content, (JUNIPER, "410 g", "420 g"))
    assert build(order).published is not None
    toggle(content, (JUNIPER, "stated: {anery: 66%}", "stated: {anery: 50%}"))
    with pytest.raises(TypeError):
        build(order)


def test_evidence_changes_the_name_and_other_things_do_not(known: Known) -> None:
    collection, key = known.collection, next(iter(known.collection.animals))
    animal = collection.animals[key]

    def named(**changes: object) -> str:
        animals = {**collection.animals, key: replace(animal, **changes)}  # type: ignore[arg-type]
        return evidence_key(replace(collection, animals=animals), DAY)

    plain = evidence_key(collection, DAY)
    late = any(a.visible_from_months for s in collection.species.values() for at in s.genome.loci for a in at.alleles)
    assert (named(about="She is calm.", name="Another", weights=()) == plain) is not late
    assert named(place=replace(animal.place, line=animal.place.line + 1)) == plain
    assert named(place=replace(animal.place, file="elsewhere")) != plain
    assert named(genes=()) != plain
    assert named(line="a line") != plain
    assert evidence_key(collection, DAY + dt.timedelta(days=1)) != plain


def test_where_a_gene_shows_late_every_date_counts(known: Known) -> None:
    collection, key = known.collection, next(iter(known.collection.animals))
    species = collection.species[collection.animals[key].species]
    for months in (0, 12):
        loci = tuple(
            replace(at, alleles=tuple(replace(each, visible_from_months=months) for each in at.alleles))
            for at in species.genome.loci
        )
        own = replace(species, genome=replace(species.genome, loci=loci))
        of = replace(collection, species={species.id: own})
        weighed = replace(of, animals={**of.animals, key: replace(of.animals[key], about="other", meals=())})
        bare = replace(of, animals={**of.animals, key: replace(of.animals[key], about="", meals=())})
        assert (evidence_key(weighed, DAY) == evidence_key(bare, DAY)) is (months == 0)


class Harm:
    def __reduce__(self) -> tuple[object, ...]:
        return os.system, ("touch harmed",)


@pytest.mark.parametrize(
    "planted",
    [Harm(), {"a": Harm()}, Path("x"), Store(Path("x")), Fraction(1, 2), print, {}, None],
    ids=["a call", "a call within", "a path", "a type of ours", "a fraction", "a function", "nothing in it", "nothing"],
)
def test_a_planted_file_runs_nothing_and_is_as_none(
    planted: object, tmp_path: Path, known: Known, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    store = Store(tmp_path / "store")
    store.write(KIND, Before.of(known.collection, DAY, store).key, sealed(pickle.dumps(planted)))
    assert kept(store, known.collection) is None
    assert not (tmp_path / "harmed").exists()


def test_a_harmful_part_of_something_that_looks_right_runs_nothing(
    tmp_path: Path, known: Known, inferred: Inferred, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    store = Store(tmp_path / "store")
    rest = replace(inferred, claims={}, changes={}, marks={"claims": {"a": Harm()}})  # type: ignore[dict-item]
    told = pickle.dumps((rest, _Pieces.of({}), _Pieces.of({})))
    store.write(KIND, Before.of(known.collection, DAY, store).key, sealed(told))
    assert kept(store, known.collection) is None
    assert not (tmp_path / "harmed").exists()
    with pytest.MonkeyPatch.context() as patch:
        patch.chdir(tmp_path)
        pickle.loads(told)  # the trial is a real one: an unguarded reader runs it
    assert (tmp_path / "harmed").exists()


def test_a_harmful_piece_runs_nothing_and_is_told(
    tmp_path: Path, known: Known, inferred: Inferred, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    store = Store(tmp_path / "store")
    rest = replace(inferred, claims={}, changes={}, plans=plans_key(known.collection))
    told = pickle.dumps((rest, _Pieces.of({"a": Harm()}), _Pieces.of({})))
    store.write(KIND, Before.of(known.collection, DAY, store).key, sealed(told))
    found = kept(store, known.collection)
    assert found is not None
    with pytest.raises(SitegenError, match="delete that folder"):
        found.claims["a"]
    assert not (tmp_path / "harmed").exists()


def test_a_file_that_was_cut_off_or_spoilt_is_as_none(tmp_path: Path, known: Known, inferred: Inferred) -> None:
    store = Store(tmp_path)
    before = Before.of(known.collection, DAY, store)
    before.keep(inferred, (), store)
    path = store.place(KIND, before.key)
    whole = path.read_bytes()
    for end in range(0, len(whole), 997):
        path.write_bytes(whole[:end])
        assert kept(store, known.collection) is None
    for at in range(0, len(whole), 997):
        path.write_bytes(whole[:at] + bytes([whole[at] ^ 1]) + whole[at + 1 :])
        assert kept(store, known.collection) is None
    path.write_bytes(whole)
    assert kept(store, known.collection) is not None
    assert unsealed(whole)
