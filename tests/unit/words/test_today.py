"""What a list of litters at the desk says of each."""

import pytest
from helpers.from_text import CORN, bound

from sitegen.words.today import litter_line

PARENTS = """
=== site.yaml
language: en-GB
=== animals/juniper/animal.yaml
species: corn-snake
=== litters/a/litter.yaml
dam: juniper
"""


@pytest.mark.parametrize(
    ("written", "said"),
    [
        ("", "still expected"),
        ("paired: 2026-03-02\n", "paired 2 March 2026, still expected"),
        ("paired: 2026-03-02\nlaid: 2026-05\n", "laid May 2026, still expected"),
        ("laid: 2026-05-01\nborn: 2026-07-01\n", "born 1 July 2026"),
        ('born: 2026-07-01\nyoung: {"01": {}}\nothers: [{count: 3}]\n', "born 1 July 2026, 4 young"),
        ("failed: {date: 2026-06-03, what: slugs}\n", "gave no living young, 3 June 2026"),
    ],
)
def test_a_litter_is_told_by_the_last_that_is_known_of_it(written: str, said: str) -> None:
    collection = bound(f"{CORN}{PARENTS}{written}")
    assert litter_line(collection.litters["a"], collection.site) == said
