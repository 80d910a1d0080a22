"""What is meant as a claim, and what is not: the audit stays silent on near misses; a denial is a claim too.

Who says "does not carry" says more than "not known to carry".
"""

import pytest
from helpers.said_texts import about, audited, contents, meant, quoted

from sitegen.findings import Kind, Level

SORREL = [  # the text about Sorrel: no visible gene; amel, anery, motley for certain, hypo about 33 in 100
    # names inside words, and names that are ordinary words
    "Hypothetically a heterogeneous group, hetero or not.",
    "Snowy days make her hide; the first snow fell when she came, and she is snow-white below.",
    "Ghostly pale in the morning. The ghost orchid beside her box is older than she is.",
    "The stripe along her back is broken, and she has caramel tones on her neck.",
    "She is caramel brown on the flanks and her belly is charcoal.",
    "Super feeder, super calm, visual hunter.",
    "A proven breeder and a proven feeder; she proved herself in 2025.",
    # genes of other species
    "Her neighbour Umber is an albino.",
    "The boas next door are het albino.",
    # denied
    "She doesn't carry caramel, as far as anybody knows.",
    "No hypo, no caramel, no stripe: a plain snake.",
    "It was never proved that she carries hypo.",
    "Never, in two seasons, proven het hypo.",
    "Nothing shows that she is het caramel.",
    "66% het caramel was ruled out long ago.",
    "We thought of 50% het stripe, and that turned out to be wrong.",
    # asked and explained
    "Is she het hypo?",
    "Does she carry caramel? Nobody knows.",
    "What \"66% het hypo\" means stands on the page about odds.",
    "\"100% het hypo\" is trade shorthand and says nothing of her.",
    "A label such as 66% het stripe stands for two in three.",
    # another's word
    "She was sold to us as 66% het hypo.",
    "Bought from a previous keeper as a 100% het caramel female.",
    "Her previous keeper said that she is het caramel.",
    "The previous keeper stated 66% het stripe; we could not confirm it.",
    "A previous keeper's word: het stripe.",
    "She is said to carry caramel.",
    "Supposedly het stripe, but we have no record of it.",
    "“100% het caramel” stood on the label of her box.",
    "According to her first owner she is a double het ghost.",
    "We were told that she carries stripe.",
    # of somebody else
    "From a het anery mother.",
    "Her sire, Flint, is 66% het hypo.",
    "Her dam is amel, and her sire shows anery.",
    "Flint shows palmetto; his daughter does not.",
    "She was paired with a 100% het caramel male that is not ours.",
    "The other male is het caramel. Another female is a visual hypo; the second snake carries caramel.",
    "Some of her young are 66% het caramel.",
    "Her grandsire was het caramel.",
    # hoped for, planned, conditional
    "We hope she is het caramel.",
    "We would like her to be het stripe.",
    "She could be het caramel for all we know.",
    "If she carries caramel, half of her young will.",
    "The aim is a double het snow that carries caramel.",
    "She will be paired to produce 66% het caramel young.",
    "We set out for a snow, and she is what came.",
    "Whether she carries caramel cannot be seen.",
    # said as the evidence says it
    "A 33% het hypo female, 1/3 het for hypo, 33 % possible het hypo.",
    "Het amel, het for anery and double het snow.",
    "100% het amel and anery, het motley, proven het amel.",
    "She may carry hypo, and she is a poss. het hypo.",
    "She carries amelanistic and the motley gene.",
    "About 33 in 100 chance to carry hypo.",
    "She needs a het hypo partner, and with a hypo she would give hets.",
    # of animals in general, of others, and likenesses
    "It is a ghost story. Sorrel is the snow queen of the shelf. Winter is snow, summer is caramel.",
    "An animal that carries hypo looks normal, and so does she.",
    "Hypo is a recessive; an animal that is het hypo looks normal.",
    "Anyone who buys a 66% het hypo should read this. It takes a het hypo to make a hypo.",
    "66% het hypo females cost more than she does; we sold two 66% het hypo sisters last year.",
    "For a het hypo she is dark; dark for a hypo, light for a normal.",
    "Looks like a hypo, but is not. Could pass for a ghost.",
    "She shows caramel undertones, and some say she shows hypo influence.",
    "Sister to a visual hypo; 50% of her brothers are het hypo.",
    "A hypo male from the same clutch went to a friend. Her clutchmate is a ghost.",
    "The chance that she carries hypo is 33%.",
    "She was once 66% het hypo. Until 2025 she was 66% het hypo; a test cleared her.",
    "Tested for hypo: negative. Het hypo: no. Het hypo? Unlikely.",
    "Selected for the ghost line. She goes to the ghost project.",
    "With Flint she should give 1/4 hypo and 1/2 het hypo.",
    "She carries herself like a ghost and carries her age well. 100% worth the wait, 50% off until May.",
    # promises that are none
    "Guaranteed female.",
    "We guarantee live arrival, or your money back.",
    "We do not guarantee anything; nothing is guaranteed.",
    "No guarantee is given for colour.",
]  # fmt: skip


@pytest.mark.parametrize("text", SORREL)
def test_a_near_miss_about_an_animal_stays_silent(text: str) -> None:
    assert [(finding.message, finding.hint) for finding in about(text)] == []


FLINT = [
    "A big palmetto male. He sired two super palmettos.",
    "Pairing him with a palmetto gives super palmettos, one of four.",
    "He is not a super palmetto; if he were, every young would show it. His sire was a super palmetto.",
    "An anery palmetto, 66% het hypo.",
    "Flint, the anerythristic male with one palmetto copy, is het for palmetto.",
    "He is said to carry caramel.",
    "His dam was a 100% het stripe, we believe.",
    "A palmetto anery with a 67% chance of being het hypo.",
]


@pytest.mark.parametrize("text", FLINT)
def test_a_near_miss_about_a_founder_stays_silent(text: str) -> None:
    assert [finding.message for finding in about(text, "flint")] == []


PAGES = [
    "We keep 100% het animals apart. A snow is an amel and an anery at once.",
    "What does \"66% het hypo\" mean? Of a hundred such young 66 or 67 carry hypo.",
    "Het hypo young are cheaper than hypo young.",
    "Juniper is amel and motley. A 66% het caramel female came and went.",
    "Juniper was paired with a 100% het hypo male in 2019.",
    "Juniper's young are 50% het stripe, or so people say.",
    "Flint came to us as 66% het hypo and het caramel, and has gone on to sire.",
    "Juniper carries anery; a test says so.",
    "The young of Juniper are 50% het stripe, and the dam of Juniper was het caramel.",
    "Flint (66% het hypo) and Juniper (100% het anery) are paired this year.",
    "Sorrel, our 33% het hypo female, is out of Juniper. We need a male that carries hypo.",
    "[The first female](animals/juniper.html) is het anery.",
    "We hope for a hypo from Juniper and Flint, and would call it proven.",
]  # fmt: skip


@pytest.mark.parametrize("text", PAGES)
def test_a_near_miss_on_a_page_or_in_a_note_stays_silent(text: str) -> None:
    project = "=== projects/lace/project.yaml\nspecies: corn-snake\ngoal: {shows: [amel]}\n"
    note = f"{project}=== projects/lace/updates/2025-01-01-note.md\n{text}\n"
    assert [f.message for f in audited(contents(f"=== pages/about.md\n{text}\n"))] == []
    assert [f.message for f in audited(contents(note))] == []


LITTERS = [
    "All of them are 33% het hypo and 100% het amel; 02 shows anery.",
    "Her dam's colour came through. She is the amel, he the anery.",
    "One of them shows anery. Number 02 is a visual anery.",
    "The dam is het anery, the sire a 66% het hypo.",
    "Some may carry hypo. None of them is het caramel for sure.",
    "Juniper carries anery and Flint shows it.",
    "Every young is het for amel and het anery.",
    "Young 03 is 33% het hypo.",
    "Two snows, a ghost and five normals; expect all of them to be het for something.",
    "Juniper's first clutch with Flint; she is het anery, he is 66% het hypo, so the young are 33% het hypo.",
]


@pytest.mark.parametrize("text", LITTERS)
def test_a_near_miss_about_a_litter_stays_silent(text: str) -> None:
    files = contents(f"=== litters/2024-juniper-flint/litter.yaml\nabout: {text!r}\n".replace("\\'", "''"))
    assert [(meant(f, files), f.message) for f in audited(files)] == []


def test_names_of_litters_may_name_what_the_parents_are() -> None:
    name = "name: Amel motley het anery x Anery palmetto 66% het hypo\n"
    assert audited(contents(f"=== litters/2024-juniper-flint/litter.yaml\n{name}")) == ()


FALSE = [  # Sorrel carries amel, anery and motley, and may carry hypo and caramel
    ("She does not carry hypo.", "does not carry hypo"),
    ("She doesn’t carry caramel.", "doesn’t carry caramel"),
    ("She is not het for hypo.", "is not het for hypo"),
    ("Not het amel.", "Not het amel"),
    ("She isn't a carrier of hypo.", "isn't a carrier of hypo"),
    ("She carries no hypo.", "carries no hypo"),
    ("Free of hypo and caramel.", "Free of hypo and caramel"),
    ("She is clear of caramel.", "clear of caramel"),
    ("She has no copy of anery.", "no copy of anery"),
    ("No het hypo in her.", "No het hypo"),
    ("Het caramel can be excluded.", "Het caramel can be excluded"),
    ("She is neither het caramel nor het stripe.", "neither het caramel"),
    ("No hidden genes.", "No hidden genes"),
    ("A plain female: no hets, no worries.", "no hets"),
    ("She is genetically clean.", "genetically clean"),
    ("She carries nothing.", "carries nothing"),
    ("Free of hypo, tested clean.", "Free of hypo"),
    ("A pure wild type.", "pure wild type"),
    ("Pure wild type, no hidden genes.", "Pure wild type"),
    ("She does not have hypo.", "does not have hypo"),
    ("Wild type, het nothing.", "het nothing"),
    ("She does **not** c\u200barry hypo.", "does not carry hypo"),
]


@pytest.mark.parametrize(("text", "words"), FALSE)
def test_a_denial_of_what_may_be_so_is_an_overclaim(text: str, words: str) -> None:
    found = about(text)
    assert {(finding.level, finding.kind) for finding in found} == {(Level.ERROR, Kind.OVERCLAIM)}
    assert found[0].message.startswith(f'"{words}')
    assert "what the evidence supports: “" in found[0].expected


@pytest.mark.parametrize(
    ("animal", "text"),
    [("juniper", "She does not carry caramel."), ("umber", "No hidden genes."), ("umber", "He carries no stripe.")],
)
def test_a_denial_that_nothing_speaks_against_is_a_notice_and_the_right_words_are_offered(
    animal: str, text: str
) -> None:
    (finding,) = about(text, animal)
    assert (finding.level, finding.kind) == (Level.NOTICE, Kind.OVERCLAIM)
    assert 'write "not known to carry ' in finding.remedy
    assert "is not known to carry" in finding.expected


FOUNDED = [
    ("sorrel", "She does not carry tessera."),  # dominant: it would be seen
    ("juniper", "She does not carry stripe."),  # motley fills both places
    ("juniper", "She is not het hypo by a test."),
]


@pytest.mark.parametrize(("animal", "text"), FOUNDED)
def test_a_founded_denial_is_right(animal: str, text: str) -> None:
    tested = "tests: [{locus: anery, result: +/anery}, {locus: hypo, result: +/+}]"
    files = {
        path: written.replace("tests: [{locus: anery, result: +/anery}]", tested)
        for path, written in contents().items()
    }
    path = f"animals/{animal}/animal.yaml"
    assert audited({**files, path: files[path] + f"about: {text}\n"}) == ()


SILENT = [
    "She is not known to carry hypo, and no hidden genes are known of her.",
    "She does not carry caramel, as far as anybody knows.",
    "Does she not carry hypo? If she does not carry hypo, her young will tell.",
    "Nobody can say that she does not carry hypo.",
    "She may not carry hypo. Perhaps she does not carry it; perhaps not het hypo at all.",
    "Her previous keeper said that she does not carry caramel.",
    "She is not 100% het hypo, she is not proven het hypo, and not a proven hypo carrier.",
    "A clean belly, a clean box, clean lines and a clear eye; free of mites.",
    "No hets were bought this year. No known hets.",
    "She carries nothing but her age. She carries no grudge.",
    "Tested clean for crypto. Wild type in pattern, and a wild-type head; not pure wild type.",
    "She does not have hypo siblings. She has no snow in her box.",
    "Carries caramel if its sire does. Carries hypo unless her dam was misread, het caramel if the label is right.",
    "Were she het caramel, we would know. Had she carried caramel, her young would show it.",
    "Het caramel, as told to us.",
]  # fmt: skip


@pytest.mark.parametrize("text", SILENT)
def test_what_only_looks_like_a_denial_stays_silent(text: str) -> None:
    assert [finding.message for finding in about(text)] == []


@pytest.mark.parametrize(
    "text",
    [
        "Not judged yet, homozygous hypo, if her sire does not, may have palmetto (75 in 100), female.",
        "Noch nicht beurteilt, homozygot hypo, sofern ihr Vater es nicht hat, hat vielleicht palmetto (75 von 100).",
    ],
)
def test_the_condition_of_one_gene_denies_no_other(text: str) -> None:
    assert any("palmetto" in finding.message for finding in about(text))


def test_a_condition_softens_and_chatter_does_not() -> None:
    assert about("Het caramel, as told to us, and het anery.") == ()
    (finding,) = about("100% het hypo if you ask me.")
    assert finding.level is Level.ERROR


WITH_HARM = "  wobbler: {inheritance: recessive, welfare: {text: Poor balance., source: 'A study, 2022'}}\n"


@pytest.mark.parametrize("text", ["She does not carry wobbler.", "No hidden genes.", "Free of wobbler."])
def test_to_deny_a_gene_that_goes_with_harm_takes_evidence(text: str) -> None:
    """Nothing hints at it and nothing rules it out: a notice for other genes, an error for this one."""
    files = {"species/s.yaml": f"name: s\nloci:\n  plain: {{inheritance: recessive}}\n{WITH_HARM}"}
    record = f"species: s\nshows: []\nabout: {text}\n"
    (finding,) = audited({**files, "animals/a/animal.yaml": record})
    assert (finding.level, finding.kind) == (Level.ERROR, Kind.OVERCLAIM)
    tested = record + "tests: [{locus: wobbler, result: +/+}, {locus: plain, result: +/+}]\n"
    assert audited({**files, "animals/a/animal.yaml": tested}) == ()
    harmless = {
        path: written.replace(WITH_HARM, "  wobbler: {inheritance: recessive}\n") for path, written in files.items()
    }
    assert [f.level for f in audited({**harmless, "animals/a/animal.yaml": record})] == [Level.NOTICE]


def test_a_promise_of_a_thing_is_none_of_ours() -> None:
    things = "The heat mat is 100% reliable. Our tubs are 100% safe, and the new lock is 100% proven.\n"
    assert audited(contents(f"=== pages/terms.md\n{things}")) == ()
    assert (
        len(audited(contents("=== pages/terms.md\nOur lines are 100% reliable. The genetics are 100% certain.\n"))) == 2
    )


def test_a_promise_without_a_gene_is_a_notice() -> None:
    findings = audited(contents("=== pages/terms.md\nAll genetics guaranteed.\n\nOur animals are 100% proven.\n"))
    assert [(f.level, f.kind, quoted(f)) for f in findings] == [
        (Level.NOTICE, Kind.PROMISE, "guaranteed"),
        (Level.NOTICE, Kind.PROMISE, "100% proven"),
    ]


def test_the_trades_word_for_what_was_is_no_claim_of_what_is() -> None:
    """As the reasons write it; the bare word beside it is more than the evidence."""
    moved = "From its parents alone it would be “66% het”; these young make it about 20 in 100."
    assert about(moved, "flint") == ()
    assert {finding.level for finding in about("It is 66% het amel.", "flint")} == {Level.ERROR}
