"""What is exported and imported into an empty collection of the same species is the same animals."""

import random
import tempfile
from pathlib import Path

import pytest
from helpers.from_text import bound, write_files
from helpers.sheets import EMPTY, folder, written
from hypothesis import given, settings
from hypothesis import strategies as st

from sitegen.content.animals import Animal
from sitegen.content.collection import Collection
from sitegen.evidence.answers import Known, read_known
from sitegen.keeper.exporting import tables_of, write_tables
from sitegen.keeper.importing import Import, plan_import
from sitegen.keeper.planning import seen_of

REPOSITORY = Path(__file__).parent.parent.parent
GENES = ("amel", "anery", "hypo", "caramel", "tessera")


class _Herd:
    """Records of a small herd; what is seen follows from true genotypes, so that the records agree."""

    def __init__(self, seed: int) -> None:
        self.dice = random.Random(seed)
        self.files: list[str] = []
        self.true: dict[str, dict[str, list[int]]] = {}
        self.by_sex: dict[str, list[str]] = {"female": [], "male": []}

    def texts(self) -> str:
        for number in range(self.dice.randint(2, 5)):
            self._founder(number)
        for number in range(self.dice.randint(0, 3)):
            if self.by_sex["female"] and self.by_sex["male"]:
                self._litter(number)
        return "\n".join(self.files)

    def _founder(self, number: int) -> None:
        own = f"f{number}"
        sex = ("female", "male")[number % 2]
        self.true[own] = {
            gene: [int(self.dice.random() < 0.4), int(gene != "tessera" and self.dice.random() < 0.4)] for gene in GENES
        }
        stated = {
            gene: self.dice.choice(("certain", "66%", "1/4", "33%"))
            for gene, copies in self.true[own].items()
            if gene != "tessera" and sum(copies) == 1
        }
        name = self.dice.choice((f"Old {own}", own, f"=Name {own}", f'"{own}", x'))
        lines = [f"=== animals/{own}/animal.yaml", f"name: {name!r}", "species: corn-snake", f"sex: {sex}"]
        lines += [f"born: {self.dice.choice(('2015', '2015-06', '2015-06-07'))}", f"shows: [{self._shows(own)}]"]
        lines += [f"stated: {{{', '.join(f'{gene}: {chance}' for gene, chance in stated.items())}}}"] if stated else []
        lines += (
            ["offer: {state: on hold, price: 40.50, since: 2020, until: 2021-03-01}"]
            if self.dice.random() < 0.3
            else []
        )
        lines += ["private: {paid: 10, notes: secret}"]
        self.files.append("\n".join(lines))
        self.by_sex[sex].append(own)

    def _litter(self, number: int) -> None:
        year = 2018 + 3 * number
        dam, sire = self.dice.choice(self.by_sex["female"]), self.dice.choice(self.by_sex["male"])
        lines = [f"=== litters/l{number}/litter.yaml", f"dam: {dam}", f"sire: {sire}", f"born: {year}-07-01", "young:"]
        young = []
        for count in range(self.dice.randint(1, 4)):
            own = f"l{number}/{count + 1:02d}"
            self.true[own] = {
                gene: [self.dice.choice(self.true[parent][gene]) for parent in (dam, sire)] for gene in GENES
            }
            sex = self.dice.choice(("female", "male", "unknown"))
            seen = f", shows: [{self._shows(own)}]" if self.dice.random() < 0.8 else ""
            lines.append(f'  "{count + 1:02d}": {{sex: {sex}{seen}}}')
            young.append((own, sex))
        self.files.append("\n".join(lines))
        for own, sex in young:
            if sex != "unknown":
                self.by_sex[sex].append(own)

    def _shows(self, own: str) -> str:
        needed = {gene: 1 if gene == "tessera" else 2 for gene in GENES}
        return ", ".join(gene for gene in GENES if sum(self.true[own][gene]) >= needed[gene])


def facts(animal: Animal, rename: dict[str, str], collection: Collection) -> tuple[object, ...]:
    """What must be the same after a round trip."""
    sires = tuple(sorted((rename.get(sire, sire), chance) for sire, chance in animal.sires))
    dam = rename.get(animal.dam, animal.dam) if animal.dam else None
    judged = any(genes.judged.written for genes in animal.genes)
    born = animal.born or (collection.litters[animal.litter].born if animal.litter else None)
    return animal.species, animal.sex, born, dam, sires, dict(seen_of(animal)), judged


def round_trip(known: Known, root: Path, name: str, species: Path | None = None) -> tuple[Import, Collection]:
    """Export, and import into an empty collection."""
    write_tables(tables_of(known, with_private=True), root / name, replace=False)
    if species is None:
        content = folder(root / name.replace(".", "-"))
    else:
        content = root / name.replace(".", "-") / "content"
        for file in [*species.glob("species/*.yaml"), species / "site.yaml"]:
            write_files(content, f"=== {file.relative_to(species)}\n{file.read_text(encoding='utf-8')}")
    found = plan_import(root / name, content)
    written(content, found)
    again, findings = read_known(content)
    assert again is not None, findings
    second = plan_import(root / name, content)
    assert (second.records, second.known, second.left) == ({}, found.new, 0), second.findings
    return found, again.collection


def check(known: Known, root: Path, name: str, species: Path | None = None) -> None:
    found, again = round_trip(known, root, name, species)
    assert not [finding for finding in found.findings if finding.level == "error"]
    rename = {own: own.replace("/", "-") for own in known.collection.animals}
    assert sorted(rename.values()) == sorted(again.animals)
    for own, animal in known.collection.animals.items():
        other = again.animals[rename[own]]
        assert facts(animal, rename, known.collection) == facts(other, {}, again), own


@given(st.integers(0, 10**6), st.sampled_from(("all.csv", "all.xlsx")))
@settings(deadline=None, max_examples=30)
def test_a_herd_comes_back_as_it_went(seed: int, name: str) -> None:
    text = _Herd(seed).texts()
    bound(EMPTY + text)
    with tempfile.TemporaryDirectory() as root:
        known, findings = read_known(write_files(Path(root) / "from", EMPTY + text))
        assert known is not None, findings
        check(known, Path(root), name)


@pytest.mark.parametrize("name", ["all.csv", "all.xlsx"])
def test_the_demonstration_comes_back_as_it_went(tmp_path: Path, name: str) -> None:
    known, _ = read_known(REPOSITORY / "content")
    assert known is not None
    check(known, tmp_path, name, REPOSITORY / "content")
