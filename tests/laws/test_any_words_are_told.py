"""Whatever is typed behind ``add``, ``set``, ``start``, ``schema``: no fault of ours; a refusal changes nothing."""

import tempfile
from pathlib import Path

from helpers.from_text import write_files
from helpers.program import run
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

RECORDS = """
=== site.yaml
name: Small
currency: GBP
=== species/corn-snake.yaml
loci:
  amel: {name: amelanistic, inheritance: recessive}
=== animals/juniper/animal.yaml
name: Juniper
species: corn-snake
sex: female
weights: {2020-05-01: 310 g}
=== litters/2022-a/litter.yaml
dam: juniper
born: 2022-07-01
young:
  "01": {sex: female, shows: [amel]}
  "02":
"""

# Of half signs only one that a terminal can hand over, for a byte that is no text.
WORDS = st.one_of(
    st.sampled_from(
        ["juniper", "2022-a", "2022-a/01", "2022-a/2", "sold", "402g", "2022-09-01", "amel", "nothing", "amel=66%", "",
         "../x", "a\nb", "x" * 300, "ü" * 200, "\udcff", "{", "[", "#", "'", "- ", "&a", "*a", "!x", "null",
         "2022-13-40"]
    ),
    st.text(st.characters(exclude_characters="\0/", exclude_categories=("Cs",)), max_size=12),
)  # fmt: skip
FOLDERS = WORDS.filter(lambda word: not word.startswith((".", "/")) and ".." not in word)
"""Nothing outside the test's own folder may be meant."""
LINES = st.one_of(
    st.tuples(st.just("set"), WORDS, WORDS, st.just("--price"), WORDS),
    st.tuples(st.just("set"), st.just("2022-a/02"), st.just("sold"), st.just("--price"), WORDS),
    st.tuples(st.just("add"), st.sampled_from(["weight", "meal", "photo", "update", "young"]), WORDS, WORDS),
    st.tuples(st.just("add"), st.sampled_from(["weight", "meal"]), st.just("juniper"), WORDS),
    st.tuples(st.just("add"), st.just("animal"), WORDS, st.sampled_from(["--id", "--shows", "--sire"]), WORDS),
    st.tuples(st.just("add"), st.just("young"), st.just("2022-a"), WORDS, st.just("--shows"), WORDS),
    st.tuples(st.just("add"), st.just("litter"), st.just("--dam"), WORDS, st.just("--born"), WORDS),
    st.tuples(st.just("schema"), st.just("--to"), FOLDERS),
    st.tuples(
        st.just("start"), FOLDERS, *map(st.just, ("--species", "corn-snake", "--currency", "EUR", "--name")), WORDS
    ),
)  # fmt: skip


def files(folder: Path) -> dict[Path, bytes]:
    return {path.relative_to(folder): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


@settings(max_examples=150, deadline=20_000, suppress_health_check=[HealthCheck.too_slow])
@given(line=LINES)
def test_any_words_are_told(line: tuple[str, ...]) -> None:
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name) / "here"
        write_files(folder / "content", RECORDS)
        before = files(Path(name))
        done = run(folder, *line)
        assert "mistake in sitegen" not in done.stderr, done.stderr
        after = files(Path(name))
        assert set(before) <= set(after)
        if done.returncode:
            assert done.stderr
            assert after == before
