"""A small collection whose texts say what a test wants, read by the audit."""

import datetime as dt
import re
import string
from collections.abc import Callable, Mapping
from dataclasses import replace
from functools import cache, partial

from hypothesis import strategies as st

from helpers.from_text import split_files
from sitegen.content.binding import bind_content
from sitegen.content.collection import Collection, latest_date
from sitegen.content.folder import Content
from sitegen.content.texts import FreeText, Of
from sitegen.evidence.answers import Answers, answers_of
from sitegen.evidence.asking import ask
from sitegen.evidence.claims import claims_of
from sitegen.evidence.gather import gather
from sitegen.evidence.kinds import Claim
from sitegen.evidence.reasons import reasons
from sitegen.findings import Finding, Kind, Place, has_errors
from sitegen.genetics.questions import AnimalId
from sitegen.words.audit.whole import audit

SPECIES = """
=== species/corn-snake.yaml
name: corn snake
sexes: ZW
loci:
  amel: {name: amelanistic, inheritance: recessive}
  anery: {name: anerythristic, inheritance: recessive}
  hypo: {name: hypo, inheritance: recessive}
  caramel: {name: caramel, inheritance: recessive}
  tessera: {name: tessera, inheritance: dominant}
  palmetto: {name: palmetto, inheritance: incomplete_dominant, two_copies: super palmetto}
  motley-stripe:
    alleles:
      motley: {name: motley, inheritance: recessive}
      stripe: {name: stripe, inheritance: recessive}
    compounds: {motley/stripe: striped motley}
combinations:
  snow: [amel, anery]
  ghost: [anery, hypo]
=== species/sand-boa.yaml
name: sand boa
births: live
loci:
  albino: {name: albino, inheritance: recessive}
  stripe: {name: stripe, inheritance: recessive}
"""
"""Two species that share the name of a gene."""

ANIMALS = """
=== animals/juniper/animal.yaml
name: Juniper
species: corn-snake
sex: female
born: 2020-07-14
shows: [amel, motley]
tests: [{locus: anery, result: +/anery}]
=== animals/flint/animal.yaml
name: Flint
species: corn-snake
sex: male
born: 2020-08-20
shows: [anery, palmetto]
stated: {hypo: 66%, caramel: certain, amel: 1/2}
=== animals/sorrel/animal.yaml
name: Sorrel
species: corn-snake
sex: female
born: 2023-05-02
shows: []
dam: juniper
sire: flint
=== animals/umber/animal.yaml
name: Umber
species: sand-boa
sex: male
shows: [albino]
=== litters/2024-juniper-flint/litter.yaml
dam: juniper
sire: flint
born: 2024-07-18
young:
  "01": {sex: male, shows: []}
  "02": {sex: female, shows: [anery]}
  "03": {sex: female, shows: []}
"""
"""Juniper: anery by test. Flint: a chance of hypo, caramel by word, amel proven by nothing. Sorrel: their daughter."""


def contents(extra: str = "", base: str = SPECIES + ANIMALS) -> Mapping[str, str]:
    """The files, ``extra`` (``=== path`` and lines) added to the files of those names or as new ones."""
    files = dict(split_files(base))
    for path, text in split_files(extra).items() if extra.strip() else ():
        files[path] = files.get(path, "") + text
    return files


def audited(files: Mapping[str, str]) -> tuple[Finding, ...]:
    """What the audit finds in the texts of these files; they have no other fault."""
    return prepared(files)()


def prepared(files: Mapping[str, str]) -> Callable[[], tuple[Finding, ...]]:
    """The audit of these files, ready to run."""
    collection, faults = bind_content(Content(files))
    assert collection is not None, faults
    assert not has_errors(faults)
    asked = ask(gather(collection))
    answers = answers_of(asked)
    assert not answers.contradictions
    as_of = latest_date(collection)
    claims = claims_of(collection, answers, partial(reasons, asked), as_of)
    return partial(audit, collection, answers, claims, files, as_of)


@cache
def _sound() -> tuple[Collection, Answers, Mapping[AnimalId, tuple[Claim, ...]], dt.date]:
    """The collection without any text, and what is known of it."""
    collection, _ = bind_content(Content(contents()))
    assert collection is not None
    asked = ask(gather(collection))
    answers, as_of = answers_of(asked), latest_date(collection)
    return collection, answers, claims_of(collection, answers, partial(reasons, asked), as_of), as_of


def about(text: str, animal: str = "sorrel") -> tuple[Finding, ...]:
    """What is found when this is the text about an animal."""
    collection, answers, claims, as_of = _sound()
    place = Place(f"animals/{animal}/animal.yaml", 1, 8)
    lines = "\n".join(f"  {line}" for line in text.split("\n"))
    free = FreeText(Of.ANIMAL, animal, "about", text, place)
    return audit(replace(collection, texts=(free,)), answers, claims, {place.file: f"about: |2\n{lines}\n"}, as_of)


def meant(finding: Finding, files: Mapping[str, str]) -> str:
    """The words that a finding points at."""
    assert finding.place is not None
    line = files[finding.place.file].split("\n")[finding.place.line - 1]
    return line[finding.place.column - 1 :][: finding.width]


def told(findings: tuple[Finding, ...]) -> list[tuple[Kind, str]]:
    """Kind and message of each finding."""
    return [(finding.kind, finding.message) for finding in findings]


def quoted(finding: Finding) -> str:
    """The words that the message quotes."""
    match = re.match(r'"(.*?)"', finding.message)
    assert match is not None
    return match[1]


WORDS_OF_TEXTS = (
    *re.findall(r"\S+", """
    het hets 66% 100% 2/3 poss possible double dh super visual carries carrier proven guaranteed homozygous for the a of
    and or not no never amel anery hypo snow ghost palmetto motley stripe she he it is Juniper Flint Sorrel's dam sire
    mother young from x , . ? ! ; : ( ) “ ” " ' * _ [x](animals/flint.html) # - says keeper said if
    """),
    "\n",
    "\n\n",
)  # fmt: skip
TEXTS = st.lists(st.sampled_from(WORDS_OF_TEXTS), max_size=25).map(" ".join) | st.text(
    st.sampled_from(string.ascii_letters + string.digits + "%/ ,.*[]()_#\n“”’é")
)

MARKED = st.lists(
    st.sampled_from(
        [
            *("het", " ", "amel", "*", "**", "_", "~~", "`", "``", "[", "](", "x)", "]", "<", ">", "\\", "|", "\n"),
            *(
                "&#101;",
                "&shy;",
                "> ",
                "- ",
                "# ",
                "    ",
                "1. ",
                "---",
                "[x]: y",
                "\u200b",
                "é",
                "\t",
                "|-|-|\n",
                '"t"',
            ),
        ]
    )
).map("".join)
"""Marks of Markdown in any order."""
