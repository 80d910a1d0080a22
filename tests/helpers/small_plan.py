"""Two snakes with their young, and a wish: a plan that is found at once."""

ROOM = {
    "site.yaml": "name: Test\ncurrency: EUR\n",
    "species/corn-snake.yaml": "name: corn snake\nbirths: eggs\nsexes: ZW\nlitter_size: {low: 6, usual: 14, high: 28}\n"
    "loci:\n  amel: {name: amelanistic, inheritance: recessive}\n",
    "animals/juniper/animal.yaml": "species: corn-snake\nname: Juniper\nsex: female\nborn: 2021-07-14\nshows: [amel]\n"
    "weights: {2026-11-01: 420 g}\n",
    "animals/flint/animal.yaml": "species: corn-snake\nname: Flint\nsex: male\nborn: 2021-07-14\nshows: []\n"
    "stated: {amel: certain}\n",
    "litters/2026-juniper-flint/litter.yaml": "dam: juniper\nsire: flint\nborn: 2026-07-18\n"
    "young:\n  '01': {sex: female, shows: []}\n  '02': {sex: male, shows: []}\n",
    "plan.yaml": "season: 2027\nlast: 2027\nlitters: 1\ngoals:\n"
    "  amel-snake: {species: corn-snake, shows: [amel], count: 2, weight: 1}\n",
}
