"""A collection in which every free text tries something, and every private field holds a word to search for."""

PRIVATE = "zq-planted-private"
"""Stands in every private field of the collection, with a number behind it."""

EVIL = (
    '<script>window.planted=1</script><img src=x onerror="window.planted=2"><a href="javascript:window.planted=3">a</a>'
    "{{ 7*7 }}{% for x in y %}</title></style></textarea>-->]]>&lt;script&gt;"
)
"""HTML, a handler, a script address, template syntax, and the ends of everything that can be ended."""

MARKDOWN = (
    "[a](javascript:window.planted=4) ![x](data:text/html,<script>window.planted=5</script>) "
    "[b](vbscript:x) [c](//evil.example/x) <https://evil.example/?q='onmouseover=1> "
    '[d](https://evil.example/ "onmouseover=window.planted=6")\n\n<iframe src=https://evil.example></iframe>\n\n'
    "&#106;avascript:window.planted=7 [e](&#106;avascript:window.planted=8) [f](java\tscript:window.planted=9)\n"
)


def quoted(text: str) -> str:
    """As a double-quoted YAML scalar."""
    return '"' + text.replace("\\", "\\\\").replace('"', '\\"').replace("\n", "\\n").replace("\t", "\\t") + '"'


def hostile() -> str:
    """The files of the collection as one text."""
    evil, marked = quoted(EVIL), quoted(EVIL + "\n\n" + MARKDOWN)
    number = iter(range(1000))

    def private() -> str:
        return f"private: {{buyer: {PRIVATE}-{next(number)}, notes: {{deep: [{PRIVATE}-{next(number)}]}}}}"

    return f"""
=== site.yaml
name: {evil}
address: https://planted.example/sub/
tagline: {evil}
currency: GBP
contact: {{email: {evil}, phone: {evil}, place: {evil}, note: {evil}}}
cautions: [{evil}]
drawings: {evil}
about: {marked}
{private()}
=== species/corn-snake.yaml
name: {evil}
scientific: {evil}
births: eggs
sexes: ZW
litter_size: {{low: 1, usual: 6, high: 28}}
breeding_age: {{female: 30 months, male: 18 months}}
about: {marked}
cautions: [{evil}]
loci:
  amel: {{name: {evil}, inheritance: recessive, about: {marked}, welfare: {{text: {evil}, source: {evil}}}}}
  anery: {{name: anerythristic, inheritance: recessive}}
combinations:
  snow: [amel, anery]
=== animals/dam/animal.yaml
name: {evil}
species: corn-snake
sex: female
born: 2018-06-01
shows: []
stated: {{amel: certain}}
acquired: {{date: 2019-01-01, from: {evil}}}
markers: [{evil}]
line: {evil}
locality: {evil}
weights: {{2024-05-01: 310 g}}
meals: [{{date: 2024-05-01, what: {evil}}}]
tests: [{{locus: anery, result: +/+, laboratory: {evil}, date: 2024-02-01, document: {evil}}}]
about: {marked}
{private()}
=== animals/sire/animal.yaml
species: corn-snake
sex: male
born: 2018-06-01
shows: []
stated: {{amel: 66%}}
{private()}
=== litters/2022-a/litter.yaml
name: {evil}
dam: dam
sire: sire
born: 2022-07-01
about: {marked}
young:
  "01":
    name: {evil}
    sex: female
    shows: []
    offer: {{price: 140, state: available, since: 2022-09-01}}
    {private()}
  "02": {{sex: male, shows: [amel], {private()}}}
{private()}
=== projects/evil/project.yaml
name: {evil}
species: corn-snake
goal: {{shows: [amel]}}
about: {marked}
welfare: {evil}
stages:
  first: {{season: 2022, dam: dam, sire: sire, litters: [2022-a], note: {evil}, keep: {{kept: {{shows: [amel]}}}}}}
decisions: [{{date: 2022-08-01, stage: first, text: {evil}}}]
alternatives:
  other: {{name: {evil}, about: {evil}, stages: {{first: {{season: 2030, dam: dam, sire: sire}}}}}}
{private()}
=== projects/evil/updates/2022-07-02-evil.md
# {EVIL}

{EVIL}

{MARKDOWN}
=== pages/about.md
# {EVIL}

{MARKDOWN}
"""
