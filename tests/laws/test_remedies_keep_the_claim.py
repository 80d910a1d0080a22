"""Whoever puts the word that a finding offers in place of the one it complains of, claims what they meant to claim.

A sound record is drawn, one word of it is written wrongly, and what ``nearest`` offers is put in its place. Either
nothing is offered, or the record then says what the sound one says, of every gene, of the offer and of the weights.
"""

from typing import Any

import pytest
from helpers.from_text import split_files
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from sitegen.content.binding import bind_content
from sitegen.content.folder import Content
from sitegen.findings import Finding, Level

COLLECTION = """
=== site.yaml
name: Quillmoor
currency: EUR
=== species/corn-snake.yaml
name: corn snake
sexes: ZW
loci:
  amel: {name: amelanistic, inheritance: recessive}
  mel: {name: melanistic, inheritance: recessive}
  anery: {name: anerythristic, inheritance: recessive}
  axanthic: {inheritance: recessive}
  xanthic: {inheritance: recessive}
  hypo: {inheritance: recessive}
  hyper: {inheritance: recessive}
  lava: {inheritance: recessive}
  larva: {inheritance: recessive}
  opal: {inheritance: recessive}
  tessera: {inheritance: dominant}
  glass: {inheritance: incomplete_dominant, two_copies: super glass}
  motley-stripe:
    alleles: {motley: {inheritance: recessive}, stripe: {inheritance: recessive}}
    compounds: {motley/stripe: striped motley}
combinations: {snow: [amel, anery]}
=== animals/juniper/animal.yaml
species: corn-snake
sex: female
=== animals/jupiter/animal.yaml
species: corn-snake
sex: female
=== animals/flint/animal.yaml
species: corn-snake
sex: male
=== animals/flinty/animal.yaml
species: corn-snake
sex: male
=== litters/2025-juniper-flint/litter.yaml
dam: juniper
sire: flint
young: {"01": , "02": , "12": }
=== litters/2024-juniper-flint/litter.yaml
dam: juniper
sire: flint
young: {"01": , "02": , "12": }
"""
FILE = "animals/a/animal.yaml"
LOOKS = (
    "amel", "mel", "amelanistic", "melanistic", "anery", "axanthic", "xanthic", "hypo", "hyper", "lava", "larva",
    "opal", "tessera", "glass", "super glass", "motley", "stripe", "striped motley", "snow",
)  # fmt: skip
GENES = ("amel", "mel", "anery", "axanthic", "xanthic", "hypo", "hyper", "lava", "larva", "opal", "motley", "stripe")
OTHERWISE: dict[str, tuple[tuple[str, str | None], ...]] = {
    "look": (
        *((f"{before} {gene}", None) for gene in ("amel", "hypo", "tessera")
          for before in ("het", "100% het", "66% het", "possible het", "ph", "not", "no", "non", "super", "maybe")),
        ("zebra", None), ("norm", None), ("motley-stripe", None), ("amel/hypo", None), ("amel or hypo", None),
        ("hypermelanistic", None), ("anerythristic", "anery"), ("Amelanistic", "amel"),
    ),
    "gene": (("motley-stripe", None), ("het amel", None), ("super glass", None), ("non-amel", None)),
    "chance": (
        ("50/50", "1/2"), ("50:50", "1/2"), ("66", "66%"), ("0,5", "1/2"), ("66 %", "66%"), ("1", "certain"),
        ("100%", "certain"), ("100", "certain"), ("het", "certain"), ("66% het", "66%"), ("1/1", None), ("2/1", None),
        ("0", None), ("0%", None), ("true", None), ("uncertain", None), ("not certain", None), ("150%", None),
        ("NaN", None), ("2", None), ("proven", None), ("~50%", None), (">50%", None), ("possible", None),
    ),
    "sex": (("F", "female"), ("M", "male"), ("m/f", "unknown"), ("0.1", "female"), ("1.0", "male"), ("both", None)),
    "state": (
        ("for sale", "available"), ("reserved", "on hold"), ("unavailable", None), ("now for sale", None),
        ("no for sale", None), ("not sold", None), ("sale", None), ("hold on", None), ("kept", None), ("held", None),
    ),
    "weight": (
        ("0,402 kg", "402 g"), ("402g", "402 g"), ("402", None), ("0", None), ("1,402 g", None), ("14 oz", "397 g"),
        ("0 lb 14 oz", "397 g"), ("40 stone", None), ("402 gr", None),
    ),
    "price": (
        ("140 €", "140 EUR"), ("€140,00", "140 EUR"), ("$140", "140 USD"), ("1,400", None), ("1.400,00 €", "1400 EUR"),
        ("about 140", None), ("140 XQX", None),
    ),
    "parent": (("unknown", ""), ("jupitr", "jupiter"), ("flin", "flint"), ("none", None), ("not flint", None)),
    "young": (("2025-juniper-flint/03", None), ("2026-juniper-flint/01", None), ("juniper-flint/01", None)),
    "key": (("state", None), ("sure", None), ("hets", None), ("not shows", None), ("line 1", None)),
    "test": (("amel", None), ("+/+/+", None), ("het", None), ("amle/+", "+/amel")),
}  # fmt: skip
"""What people write instead, and what they can only have meant by it; None where that is not plain."""

Piece = tuple[str, str]


def listed(kind: str, words: list[str]) -> list[Piece]:
    found: list[Piece] = [("", "[")]
    for word in words:
        found += [("", ", ")] if len(found) > 1 else []
        found.append((kind, word))
    return [*found, ("", "]\n")]


@st.composite
def records(draw: st.DrawFn) -> list[Piece]:
    """The record of an animal as pieces of text, each with what kind of word it is."""
    made: list[Piece] = [("key", "species"), ("", ": corn-snake\n")]

    def line(key: str, *pieces: Piece) -> None:
        made.extend([("key", key), ("", ": "), *pieces, ("", "\n")])

    def maybe() -> bool:
        return draw(st.booleans())

    line("sex", ("sex", draw(st.sampled_from(["female", "male", "unknown"]))))
    if maybe():
        looks = draw(st.lists(st.sampled_from(LOOKS), max_size=3, unique=True))
        line("shows", *listed("look", looks)[:-1], ("", "]"))
    if maybe():
        line(
            "unsure", *listed("locus", draw(st.lists(st.sampled_from(GENES), max_size=2, unique=True)))[:-1], ("", "]")
        )
    if maybe():
        pieces: list[Piece] = []
        for gene in draw(st.lists(st.sampled_from(GENES), min_size=1, max_size=2, unique=True)):
            chance = draw(st.sampled_from(["certain", "66%", "1/4", "0.5"]))
            pieces += [("", ", ")] if pieces else []
            pieces += [("gene", gene), ("", ": "), ("chance", chance)]
        line("stated", ("", "{"), *pieces, ("", "}"))
    if maybe():
        line("tests", ("", "[{locus: amel, result: "), ("test", draw(st.sampled_from(["+/+", "+/amel"]))), ("", "}]"))
    if maybe():
        line("weights", ("", "{2024-05-01: "), ("weight", "402 g"), ("", "}"))
    if maybe():
        state = draw(st.sampled_from(["available", "on hold", "not for sale"]))
        line("offer", ("", "{state: "), ("state", state), ("", ", price: "), ("price", "140 EUR"), ("", "}"))
    if draw(st.booleans()):
        line("from_litter", ("young", draw(st.sampled_from(["2025-juniper-flint/01", "2024-juniper-flint/12"]))))
    else:
        line("dam", ("parent", draw(st.sampled_from(["juniper", "jupiter"]))))
        line("sire", ("parent", draw(st.sampled_from(["flint", "flinty"]))))
    return made


@st.composite
def slips(draw: st.DrawFn, word: str) -> str:
    """A word with one slip of the fingers in it."""
    at = draw(st.integers(0, len(word) - 1))
    letter = draw(st.sampled_from("aeilmnoprstvxy1"))
    return draw(
        st.sampled_from(
            [
                word[:at] + word[at + 1 :],
                word[:at] + word[at] + word[at:],
                word[:at] + word[at : at + 2][::-1] + word[at + 2 :],
                word[:at] + letter + word[at + 1 :],
                word[:at] + letter + word[at:],
            ]
        )
    )


def bound(record: str) -> tuple[Any, list[Finding]]:
    """What a collection with the record claims, without places; None when it is not sound; and the errors."""
    collection, findings = bind_content(Content({**split_files(COLLECTION), FILE: record}))
    errors = [finding for finding in findings if finding.level is Level.ERROR]
    if collection is None:
        return None, errors
    animal = collection.animals["a"]
    genes = [
        (
            {(seen.locus, seen.look) for seen in each.judged.seen},
            set(each.judged.unsure), each.judged.unsure_all, each.judged.written,
            sorted((one.locus, sorted(one.odds.items())) for one in each.stated),
            sorted((test.locus, test.genotypes) for test in each.tests),
        )
        for each in animal.genes
    ]  # fmt: skip
    offer = (animal.offer.state, animal.offer.price) if animal.offer else None
    weights = [weighing.grams for weighing in animal.weights]
    return (animal.species, animal.sex, animal.dam, animal.sires, genes, offer, weights), errors


def remedied(record: str, errors: list[Finding]) -> str:
    """The record with what is offered put in place of what is complained of."""
    lines = record.split("\n")
    spots = {f.place: f for f in errors if f.nearest and f.width and f.place and f.place.file == FILE}
    for place, finding in sorted(spots.items(), reverse=True):
        line = lines[place.line - 1]
        start = place.column - 1
        lines[place.line - 1] = line[:start] + finding.nearest + line[start + finding.width :]
    return "\n".join(lines)


def text_of(pieces: list[Piece]) -> str:
    return "".join(text for _, text in pieces)


def claimed_after_remedies(record: str) -> Any:
    """What is claimed when all that is offered was taken, again and again; None when a person must decide."""
    for _ in range(3):
        claimed, errors = bound(record)
        if claimed is not None:
            return claimed
        record = remedied(record, errors)
    return None


@given(records(), st.data())
@settings(deadline=None, max_examples=300, suppress_health_check=[HealthCheck.too_slow])
def test_a_slip_is_mended_to_what_was_meant_or_left_to_the_keeper(pieces: list[Piece], data: st.DataObject) -> None:
    meant, errors = bound(text_of(pieces))
    if meant is None:  # two looks of one locus, and the like: the keeper's own contradiction
        assert errors
        return
    at = data.draw(st.sampled_from([at for at, (kind, text) in enumerate(pieces) if kind and text]))
    kind, word = pieces[at]
    wrong = text_of([*pieces[:at], (kind, data.draw(slips(word))), *pieces[at + 1 :]])
    if bound(wrong)[0] is None:
        assert claimed_after_remedies(wrong) in (None, meant)


@given(records(), st.data())
@settings(deadline=None, max_examples=300, suppress_health_check=[HealthCheck.too_slow])
def test_other_words_are_read_as_they_can_only_be_meant(pieces: list[Piece], data: st.DataObject) -> None:
    if bound(text_of(pieces))[0] is None:
        return
    at = data.draw(st.sampled_from([at for at, (kind, _) in enumerate(pieces) if kind in OTHERWISE]))
    kind = pieces[at][0]
    said, means = data.draw(st.sampled_from(OTHERWISE[kind]))
    wrong = text_of([*pieces[:at], (kind, said), *pieces[at + 1 :]])
    found = claimed_after_remedies(wrong)
    if means is None:
        assert found is None, (said, found)
    elif found is not None:
        assert found == bound(text_of([*pieces[:at], (kind, means), *pieces[at + 1 :]]))[0], (said, means)


@pytest.mark.parametrize("kind", ["sex", "weight", "price", "chance", "state"])
def test_what_can_only_be_meant_in_one_way_is_mended_or_read(kind: str) -> None:
    """The law above is no law of refusing everything."""
    lines = {
        "sex": "sex: {}", "weight": "weights: {{2024-05-01: {}}}", "price": "offer: {{price: {}}}",
        "chance": "stated: {{amel: {}}}", "state": "offer: {{state: {}, price: 5}}",
    }  # fmt: skip
    for said, means in OTHERWISE[kind]:
        record = f"species: corn-snake\n{lines[kind]}\n"
        if means is not None:
            assert claimed_after_remedies(record.format(said)) == bound(record.format(means))[0] is not None, said


@pytest.mark.parametrize(
    ("wrong", "meant"),
    [
        ("shows: [tesera, motely]", "shows: [tessera, motley]"),
        ("show: [amel anery]", "shows: [amel, anery]"),
        ("wieghts: {2024-05-01: 402g}\nsex: femal", "weights: {2024-05-01: 402 g}\nsex: female"),
        ("stated: {anrey: certian}", "stated: {anery: certain}"),
        ("offer: {state: availabel, pirce: 5}", "offer: {state: available, price: 5}"),
        ("from_liter: 2024-junper-flint/12", "from_litter: 2024-juniper-flint/12"),
        ("mother: junipr", "dam: juniper"),
    ],
)
def test_plain_slips_are_mended(wrong: str, meant: str) -> None:
    head = "species: corn-snake\n"
    assert claimed_after_remedies(f"{head}{wrong}\n") == bound(f"{head}{meant}\n")[0] is not None
