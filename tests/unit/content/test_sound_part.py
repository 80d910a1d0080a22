"""Which records can stand when faulty ones are left out."""

from sitegen.content.binding import bind_content
from sitegen.content.folder import Content
from sitegen.content.sound_part import SoundPart, sound_part

SPECIES = "name: Corn snake\nloci: {amel: {inheritance: recessive}}\n"
SOUND = "species: corn-snake\nshows: []\n"


def part_of(**animals: str) -> SoundPart:
    """What can stand of a collection with these animals."""
    records = {f"animals/{name}/animal.yaml": text for name, text in animals.items()}
    content = Content({"site.yaml": "name: Snakes\n", "species/corn-snake.yaml": SPECIES, **records})
    return sound_part(content, bind_content(content)[1])


def test_of_several_records_that_cannot_be_read_the_first_is_named():
    unread = {f"a{number}": "- : [" for number in range(9)}
    assert part_of(juniper=SOUND, **unread).why_not.startswith("animals/a0 cannot be read")


def test_a_record_that_is_wrong_is_left_out_with_its_family_alone():
    wrong = SOUND + "dam: juniper\nsex: perhaps\n"
    part = part_of(juniper=SOUND, flint=wrong, basalt=SOUND)
    assert (part.left_out, part.why_not) == (("animals/flint", "animals/juniper"), "")
    assert "animals/basalt/animal.yaml" in part.content.texts
