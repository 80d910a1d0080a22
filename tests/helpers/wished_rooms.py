"""Rooms with a plan.yaml, as text."""

SMALL = """
=== site.yaml
name: Small
format: 2
currency: EUR
=== species/corn-snake.yaml
name: corn snake
births: eggs
sexes: ZW
loci:
  amel: {name: amelanistic, inheritance: recessive}
  anery: {name: anerythristic, inheritance: recessive}
  tessera: {name: tessera, inheritance: dominant, welfare: {text: Some strike beside their food., source: own records}}
""" + "".join(
    f"=== animals/{name.lower()}/animal.yaml\nname: {name}\nspecies: corn-snake\nsex: {sex}\nshows: []\n"
    for name, sex in (
        ("Sage", "female"), ("Fern", "female"), ("Rue", "female"), ("Yarrow", "female"), ("Cumin", "male"),
        ("Flint", "male"),
    )
) + """
=== litters/2026-sage-cumin/litter.yaml
name: the clutch of July
dam: sage
sire: cumin
born: 2026-07-18
young:
  "01": {sex: female, shows: [amel]}
  "02": {sex: male, shows: []}
  "03": {sex: male, shows: []}
=== projects/copper/project.yaml
name: Copper lace
species: corn-snake
goal: {shows: [amel, tessera]}
=== plan.yaml
season: 2027
litters: 3
keep: 2
places: 18
relatedness: 1/8
goals:
  copper: 3
  snow-motley: {shows: [amel, anery]}
buy:
  - {species: corn-snake, shows: [tessera], stated: {amel: 66%}, sex: male, price: 180}
  - {species: corn-snake, name: Nettle, shows: [], sex: female, price: 90}
  - {species: corn-snake, shows: [amel], sex: female}
"""  # fmt: skip

_FOURTEEN = {
    "Alder": ("female", "shows: [amel]"),
    "Birch": ("female", "shows: [lavender]\nborn: 2018-07-20"),
    "Cedar": ("female", "shows: []\nstated: {lavender: 66%}"),
    "Elder": ("female", "shows: [striped]\nstated: {amel: certain}"),
    "Hazel": ("female", "shows: [amel]\nstated: {lavender: 50%}"),
    "Holly": ("female", "shows: []\nborn: 2025-08-01"),
    "Laurel": ("female", "shows: [striped]"),
    "Linden": ("female", "shows: []\nstated: {amel: certain, lavender: certain}"),
    "Maple": ("female", "shows: []\ndam: birch\nsire: ash\nborn: 2023-08-01"),
    "Ash": ("male", "shows: []\nstated: {amel: certain, lavender: certain}\nborn: 2019-07-20"),
    "Oak": ("male", "shows: [striped, amel]"),
    "Rowan": ("male", "shows: [amel]\nstated: {lavender: 66%}"),
    "Thorn": ("male", "shows: []"),
    "Yew": ("male", "shows: [lavender]"),
}
KINGSNAKES = """
=== site.yaml
name: The upper room
format: 2
currency: EUR
=== species/kingsnake.yaml
name: kingsnake
births: eggs
sexes: ZW
litter_size: {low: 5, usual: 8, high: 12}
breeding_age: {female: 30 months, male: 18 months}
breeding_season: {paired: March, born: July}
rest: 0
takes: 9/10
loci:
  amel: {name: amelanistic, inheritance: recessive}
  lavender: {name: lavender, inheritance: recessive}
  striped: {name: striped, inheritance: dominant}
=== projects/pale/project.yaml
name: Pale lavender
species: kingsnake
goal: {shows: [amel, lavender]}
=== plan.yaml
season: 2027
last: 2029
litters: 3
keep: 2
places: 20
relatedness: 1/8
goals:
  pale: 3
  striped-pale: {shows: [striped, lavender], weight: 1}
tests: {price: 60 EUR, loci: [lavender]}
""" + "".join(
    f"=== animals/{name.lower()}/animal.yaml\nname: {name}\nspecies: kingsnake\nsex: {sex}\n{told}\n"
    + ("" if "born" in told else "born: 2021-07-20\n")
    for name, (sex, told) in _FOURTEEN.items()
)  # fmt: skip
"""Nine females and five males, three of them possible carriers; three litters a season for three seasons."""
