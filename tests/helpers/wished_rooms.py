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
