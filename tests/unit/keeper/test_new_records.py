"""The species files that the program carries: sound, sourced, and usable to their last gene."""

import json
from fractions import Fraction
from pathlib import Path
from typing import Any

import jsonschema
import pytest
import yaml
from helpers.from_text import write_files

from sitegen.app.commands import main
from sitegen.build import Order, build
from sitegen.content.binding import bind_content
from sitegen.content.folder import Content
from sitegen.content.species import Species
from sitegen.content.written_records import json_schemas
from sitegen.evidence.answers import read_known
from sitegen.genetics.loci import SexSystem
from sitegen.keeper.new_records import carried

REPOSITORY = Path(__file__).parent.parent.parent.parent
ALL = (
    "ball-python", "bearded-dragon", "boa-constrictor", "carpet-python", "corn-snake", "crested-gecko",
    "fat-tailed-gecko", "kenyan-sand-boa", "kingsnake", "leopard-gecko", "milk-snake", "reticulated-python",
    "western-hognose",
)  # fmt: skip
SITE = "name: Small\ncurrency: EUR\n"


def species_of(name: str) -> Species:
    collection, findings = bind_content(Content({"site.yaml": SITE, f"species/{name}.yaml": carried()[name]}))
    assert findings == ()
    assert collection is not None
    return collection.species[name]


def test_the_species_that_are_carried() -> None:
    assert tuple(carried()) == ALL


@pytest.mark.parametrize("name", ALL)
def test_an_editor_finds_nothing_wrong_in_a_file_to_start_from(name: str) -> None:
    schema = json_schemas()["species"]
    assert [] == [
        error.message for error in jsonschema.Draft202012Validator(schema).iter_errors(yaml.safe_load(carried()[name]))
    ]


@pytest.mark.parametrize("name", ALL)
def test_every_look_and_combination_can_be_recorded_and_has_a_page(name: str, tmp_path: Path) -> None:
    """One animal for each look that a living animal can have, old enough to be judged, and the whole site of them."""
    genome = species_of(name).genome
    looks = [
        look.id
        for locus in genome.loci
        for look in locus.looks
        if any(shown == look.id and genotype not in locus.lethal for genotype, shown in locus.shown.items())
    ]
    animals = {f"a{at}": look for at, look in enumerate([*looks, *(each.name for each in genome.combinations)])}
    records = "".join(
        f'=== animals/{animal}/animal.yaml\nspecies: {name}\nborn: 2018\njudged: 2024\nshows: ["{look}"]\n'
        for animal, look in animals.items()
    )
    written = f"=== site.yaml\n{SITE}=== species/{name}.yaml\n{carried()[name]}{records}"
    content = write_files(tmp_path / "content", written)
    known, findings = read_known(content)
    assert findings == ()
    assert known is not None
    for animal, look in animals.items():
        assert known.collection.animals[animal].genes[0].judged.seen, look
    if name in ("ball-python", "crested-gecko"):  # one with a pair of sex chromosomes, one without
        built = build(Order(content, tmp_path / "output", REPOSITORY / "themes", workers=1))
        assert built.findings == ()
        assert {f"{animal}.html" for animal in animals} <= {p.name for p in (tmp_path / "output/animals").iterdir()}


def young_of(name: str, dam: str, sire: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> dict[str, Any]:
    """What ``odds`` gives for two founders that show this."""
    record = "=== animals/{}/animal.yaml\nspecies: {}\nsex: {}\nborn: 2018\nshows: [{}]\n"
    written = f"=== site.yaml\n{SITE}=== species/{name}.yaml\n{carried()[name]}"
    written += record.format("dam", name, "female", dam) + record.format("sire", name, "male", sire)
    content = write_files(tmp_path / "content", written)
    with pytest.raises(SystemExit) as ended:
        main(["odds", "dam", "sire", "--json", "--content", str(content)])
    assert not ended.value.code
    told: dict[str, Any] = json.loads(capsys.readouterr().out)
    return told


@pytest.mark.parametrize(
    ("name", "first", "second"),
    [
        ("boa-constrictor", "albino-first", "albino-second"),
        ("boa-constrictor", "anery", "anery-second"),
        ("leopard-gecko", "albino-first", "albino-third"),
        ("leopard-gecko", "blizzard", "patternless"),
        ("ball-python", "albino", "lavender-albino"),
        ("corn-snake", "anery", "charcoal"),
        ("corn-snake", "hypo", "sunkissed"),
        ("kingsnake", "albino", "lavender-albino"),
        ("bearded-dragon", "witblits", "zero"),
    ],
)
def test_genes_that_look_alike_give_young_that_show_neither(
    name: str, first: str, second: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    looks = young_of(name, first, second, tmp_path, capsys)["looks"]
    assert [([], "1")] == [(each["shows"], each["p"]) for each in looks]


@pytest.mark.parametrize(
    ("name", "dam", "sire", "look", "chance"),
    [
        ("corn-snake", "motley", "stripe", "striped-motley", Fraction(1)),  # one locus: Montandon and others, 2025
        ("ball-python", "albino", "candy", "candino", Fraction(1)),
        ("ball-python", "lesser", "mojave", "blue-eyed-white", Fraction(1, 4)),
        ("ball-python", "spider", "spider", "spider", Fraction(2, 3)),  # of living young
        ("crested-gecko", "white-sided", "white-sided", "white-sided", Fraction(2, 3)),
        ("leopard-gecko", "lemon-frost", "lemon-frost", "super-lemon-frost", Fraction(1, 4)),
        ("kingsnake", "striped", "", "striped", Fraction(1, 2)),  # with a ringed one: Zweifel, 1981
        ("western-hognose", "super anaconda", "", "anaconda", Fraction(1)),
        ("reticulated-python", "purple-albino", "white-albino", "lavender-albino", Fraction(1)),
        ("carpet-python", "jaguar", "jaguar", "jaguar", Fraction(2, 3)),  # of living young
        ("bearded-dragon", "leatherback", "leatherback", "scaleless", Fraction(1, 4)),
        ("bearded-dragon", "leatherback", "leatherback-second", "leatherback", Fraction(1, 2)),
    ],
)
def test_what_pairs_give(
    name: str, dam: str, sire: str, look: str, chance: Fraction, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    looks = young_of(name, dam, sire, tmp_path, capsys)["looks"]
    assert chance == sum(Fraction(each["p"]) for each in looks if look in each["shows"])


def test_odds_tell_of_the_harm_and_of_young_that_are_lost(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    young_of("ball-python", "spider", "spider", tmp_path, capsys)
    with pytest.raises(SystemExit):
        main(["odds", "dam", "sire", "--content", str(tmp_path / "content")])
    told = " ".join(capsys.readouterr().out.split())
    assert "Source: Starck and others, PLOS ONE, 2022" in told
    assert "About 25 in 100 of what is conceived does not live" in told


def test_published_harms_stand_in_the_files() -> None:
    """Starck and others 2022, Rose and Williams 2014 (spider); Guo and others 2021 (lemon frost)."""
    spider = species_of("ball-python").genome.locus("spider").alleles[0].welfare
    frost = species_of("leopard-gecko").genome.locus("lemon-frost").alleles[0].welfare
    assert spider is not None
    assert "Starck" in spider.source
    assert "Williams" in spider.source
    assert frost is not None
    assert "Guo" in frost.source
    assert "tumours" in frost.text


def test_coral_glow_is_inherited_with_sex_once_the_keeper_says_how_often() -> None:
    """XX and XY, between the sex chromosomes' shared parts (Mallery and Carrillo, Phyllomedusa, 2016).

    No rate was found published, so none is taken until the line that waits in the file is used.
    """
    assert species_of("ball-python").genome.locus("coral-glow").sex_recombination is None
    text = carried()["ball-python"]
    used = text.replace("    # sex_recombination: 7/100\n", "    sex_recombination: 7/100\n")
    assert used != text
    collection, findings = bind_content(Content({"site.yaml": SITE, "species/ball-python.yaml": used}))
    assert findings == ()
    assert collection is not None
    locus = collection.species["ball-python"].genome.locus("coral-glow")
    assert locus.sex_system is SexSystem.XY
    assert locus.sex_recombination == Fraction(7, 100)
