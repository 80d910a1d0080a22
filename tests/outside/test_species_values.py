"""Twenty-five published values on the species that are carried: where each is checked, or why nothing here has it.

Read were mostly abstracts. "Worked out" is Mendel's rules or a binomial on a premise that is published.
"""

import json
import re
from pathlib import Path

import pytest
from helpers.from_text import write_files
from helpers.keeping import record, typed

from sitegen.content.binding import bind_content
from sitegen.content.folder import Content
from sitegen.findings import Finding, Kind, Level
from sitegen.keeper.new_records import carried

OUTSIDE = Path(__file__).parent
SITE = "name: Small\ncurrency: EUR\nformat: 2\n"

CHECKED = {
    # number: (value, tolerance, source, the test that checks it)
    1: ("ball python clutch 8.1, 4 to 15", "exact", "Gorzula, Nsiah and Oduro 1997", "test_litter_sizes"),
    4: ("western hognose clutch 8.0, 2 to 16", "exact", "Iverson 2019", "test_litter_sizes"),
    6: (
        "reticulated python clutch 24.2, neither 47.5 nor 76.5; every 2 to 4 years",
        "exact", "Shine and others 1999", "test_clutches_of_pythons",
    ),
    7: ("carpet python, New Guinea: 17 eggs", "1", "Natusch and Lyons 2012", "test_clutches_of_pythons"),
    10: (
        "corn snake 60 to 65 days in the egg", "3 days",
        "Forest Park Zoo; Dudley Zoo; Myhrvold and others 2015", "test_incubation_of_a_corn_snake",
    ),
    11: (
        "corn snake motley and stripe: alleles of CLCN2", "exact",
        "Montandon and others 2025", "test_motley_and_stripe_are_one_locus",
    ),
    12: (
        "amel and anery, both parents carriers: 9:3:3:1", "exact",
        "Bechtel and Bechtel 1989; worked out", "test_two_independent_recessives_of_the_corn_snake",
    ),
    13: (
        "ball python albino with lavender albino: all carry both, none shows either", "exact",
        "Brown and others 2022; worked out", "test_albinos_of_the_ball_python_are_different_genes",
    ),
    14: (
        "EDNRB1 white, striped and subtle: two per animal at most", "exact",
        "Dao and others 2023", "test_an_animal_has_two_alleles_of_a_series_at_most",
    ),
    15: (
        "kingsnake ringed is recessive to striped, a third allele", "exact",
        "Zweifel 1981", "test_patterns_of_a_kingsnake_are_one_series",
    ),
    16: (
        "leopard gecko females at 26, 30 and 34 degrees C: 100, 70 and 95 in 100; males at 32.5: 75", "10 in 100",
        "Flores, Tousignant and Crews 1994", "test_no_share_of_females_is_promised_for_a_leopard_gecko",
    ),
    17: (
        "leopard gecko eggs above 35 degrees C", "exact",
        "Viets and others 1993", "test_no_share_of_females_is_promised_for_a_leopard_gecko",
    ),
    18: (
        "lemon frost warns with one and with two copies; over 80 in 100, 0.5 to 5 years", "exact",
        "Guo and others 2021, and its preprint", "test_harms_go_with_every_animal_that_has_the_gene",
    ),
    19: (
        "ball python: spider warns in every animal that has it", "exact",
        "Starck and others 2022", "test_harms_go_with_every_animal_that_has_the_gene",
    ),
    20: (
        "sexes 1:1 and binomial; all eight of one sex: 0.0078", "0.0001",
        "Copeia 2011(4):553; worked out", "test_the_sexes_of_a_litter_are_binomial",
    ),
    21: (
        "boa without a father: 22 of 22 daughters with the dam's recessive can be recorded; a son is not told",
        "exact", "Booth and others 2011, by the press", "test_a_boa_litter_without_a_father_can_be_recorded",
    ),
    22: (
        "boas and pythons XY, colubrids ZW, sand boa unknown", "exact",
        "Gamble and others 2017; PMC11721783", "test_how_sex_is_determined",
    ),
    23: (
        "bearded dragon: ZW with ZZ half of each sex at 22 to 32 degrees C, reversed ZZ with ZZ no ZW", "exact",
        "Castelli and others 2021; Scientific American 2007; worked out",
        "test_no_share_of_a_sex_is_told_for_a_bearded_dragon",
    ),
    24: (
        "sperm kept for six years", "exact", "Levine, Schuett and Booth 2021",
        "test_a_sire_that_died_six_years_before_stays_possible",
    ),
    25: (
        "at least one visual of two carriers: 12, 8, 2 young 0.9683, 0.8999, 0.4375; Poisson 8.1, 12: 0.8680, 0.9502",
        "0.0001", "Gorzula, Nsiah and Oduro 1997; Myhrvold and others 2015; worked out",
        "test_at_least_one_visual_of_two_carriers",
    ),
}  # fmt: skip

WITHOUT_A_KEY = {
    # number: (value, source, why nothing here has it)
    2: (
        "ball python hatchling 25 to 90 g, 28 to 49 cm", "Gorzula, Nsiah and Oduro 1997",
        "weights and lengths are recorded by animal; a species file has no figure for hatchlings",
    ),
    3: (
        "ball python female mature at 95 cm to the vent", "Aubret and others 2005",
        "a species file bounds breeding by age and weight",
    ),
    5: (
        "western hognose egg 5.23 g, mature at 37 to 38 cm to the vent", "Iverson 2019",
        "eggs are counted and not weighed; breeding is bounded by age and weight",
    ),
    8: ("green tree python mature at 2.4 and 3.6 years", "Wilson and others 2006", "the species is not carried"),
    9: ("green tree python changes colour at 53 to 59 cm", "Wilson and others 2006", "the species is not carried"),
}  # fmt: skip


def test_every_value_is_checked_or_has_its_reason() -> None:
    assert sorted([*CHECKED, *WITHOUT_A_KEY]) == list(range(1, 26))
    written = "".join(path.read_text("utf-8") for path in OUTSIDE.glob("test_*.py"))
    tests = set(re.findall(r"^def (test_\w+)\(", written, re.MULTILINE))
    assert {test for *_, test in CHECKED.values()} <= tests
    assert not {"green-tree-python", "green-python"} & set(carried())


def found_in(species: str, records: dict[str, str]) -> tuple[Finding, ...]:
    files = {"site.yaml": SITE, f"species/{species}.yaml": carried()[species], **records}
    return bind_content(Content(files))[1]


def test_a_boa_litter_without_a_father_can_be_recorded(tmp_path: Path) -> None:
    """22 of 22 daughters, all with the dam's recessive colour: Booth and others (2011) Biol Lett, by the press.

    A record cannot say that there was no father. Such a litter names none; it is asked about and never refused. A male
    that was tested free of the gene is refused as the father. That a son would be a mistake in boas and pythons, and a
    daughter doubtful in colubrids (from memory), is not told.
    """
    boa = "=== animals/{}/animal.yaml\nspecies: boa-constrictor\nsex: {}\nborn: 2000\n{}\n"
    litter = "=== litters/l/litter.yaml\ndam: d\nborn: 2009\n"
    young = "others: [{count: 22, sex: female, shows: [albino-first]}]\n"
    animals = boa.format("d", "female", "shows: [albino-first]") + boa.format(
        "s", "male", "shows: []\ntests: [{locus: albino-first, result: +/+, laboratory: any, date: 2008-01-01}]"
    )
    start = f"=== site.yaml\n{SITE}=== species/boa-constrictor.yaml\n{carried()['boa-constrictor']}{animals}{litter}"
    write_files(tmp_path / "content", start + young)
    found = json.loads(typed(tmp_path, "check", "--json").stdout)["findings"]
    assert {(each["level"], each["kind"]) for each in found} == {("notice", "litter-uneven"), ("notice", "surprise")}
    write_files(tmp_path / "content", f"{litter}sire: s\n{young}")
    found = json.loads(typed(tmp_path, "check", "--json", status=1).stdout)["findings"]
    assert [("error", "contradiction")] == [(each["level"], each["kind"]) for each in found]


def test_no_share_of_a_sex_is_told_for_a_bearded_dragon(tmp_path: Path) -> None:
    """Half of each sex at 22 to 32 degrees C, and reversed ZZ females above it: Castelli and others (2021).

    Nothing here knows the warmth of the eggs, so neither half nor none is told.
    """
    typed(tmp_path, "start", "mine", "--name", "Mine", "--species", "bearded-dragon", "--currency", "EUR")
    mine = tmp_path / "mine"
    for name, sex in (("dam", "female"), ("sire", "male")):
        typed(mine, "add", "animal", name, "--species", "bearded-dragon", "--sex", sex, "--shows", "witblits")
    asked = ("odds", "dam", "sire", "--want", "witblits")
    for sex in ("female", "male"):
        done = typed(mine, *asked, "--sex", sex, status=2)
        assert "the warmth of the eggs decides the sex" in done.stderr
    typed(mine, *asked)
    text = record(mine, "species/bearded-dragon.yaml")
    gene = "loci:\n  on-z: {inheritance: recessive, sex_linked: true}\n"
    findings = bind_content(Content({"site.yaml": SITE, "species/b.yaml": text.replace("loci:\n", gene, 1)}))[1]
    assert any("the warmth of the eggs decides the sex" in each.message for each in findings)


@pytest.mark.parametrize("sire", ["old", "[old, new]"])
def test_a_sire_that_died_six_years_before_stays_possible(sire: str) -> None:
    """Levine, Schuett and Booth (2021) PLOS ONE 16:e0252049: a rattlesnake bore young six years after she was paired.

    A snake of none of the species here; so it is asked about and never refused, and the pairing, confirmed, answers it.
    """
    kept = {
        f"animals/{name}/animal.yaml": f"species: corn-snake\nsex: {sex}\nborn: 2010\n{died}"
        for name, sex, died in (("d", "female", ""), ("new", "male", ""), ("old", "male", "died: 2018-06-01\n"))
    }
    litter = f"dam: d\nsire: {sire}\nborn: 2024-05-20\n"
    for paired, kind in (("", Kind.PARENT_DEAD), ("paired: 2018-05-20\n", Kind.DATE_UNUSUAL)):
        (asked,) = found_in("corn-snake", {**kept, "litters/l/litter.yaml": litter + paired})
        assert (asked.kind, asked.level) == (kind, Level.NOTICE)
        assert ("if the dam kept sperm" in asked.remedy) == (not paired)
    sure = f"{litter}paired: 2018-05-20\nconfirmed: true\n"
    assert found_in("corn-snake", {**kept, "litters/l/litter.yaml": sure}) == ()
