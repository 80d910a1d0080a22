"""What changed for the themes of others from one version of the page models to the next, template by template."""

from collections.abc import Iterable, Mapping

MOVED: Mapping[str, Mapping[str, str]] = {
    "1": {
        "base.html": "the block drawings stands in the footer, and nav holds a folded menu",
        "parts.html": "the macros folded_cautions and sieve are gone: use offer_cautions, and finding.html; an entry "
        "of a list prints its line (entry.line) in place of sex, born, shows and hidden, and its odds with dots",
        "animal.html": "title stands in the block opening, what a buyer came for in the new block answer, the parents "
        "in parents; page.pedigree is drawn (kin of parts.html), page.no_pedigree says why there is none, "
        "page.in_words is page.no_look",
        "available.html": "the block sieve is finding, as page.sieve is page.finding; rules is a block of its own",
        "collection.html": "the block sieve is finding, as page.sieve is page.finding",
        "comparison.html": "a row stands for littermates that are alike: row.animals",
        "gene.html": "page.plates has its pictures by what they show (GenePlates)",
        "litter.html": "page.together and page.left are new",
        "litters.html": "the picture of a row is row.plate",
        "paper.html": "page.in_words is page.no_look; page.together is new",
    },
    "2": {
        "animal.html": "page.daily has a sentence each on meals, lengths and sheds, in place of meals and meals_words",
        "litter.html": "page.diary is new",
        "paper.html": "page.meals is one sentence, and no_meals is gone",
        "project.html": "page.road is the road in pictures, in place of timeline, events and cast (blocks opening, "
        "cast and index); page.state is in place of label and latest; now is a list of paragraphs, and rivals are new; "
        "page.seasons is in place of chances (block seasons); a stage prints harm first, and its course, over and odds "
        "in place of parents, further and looks_folded; the filters road, road_mark and chance_chart are gone",
    },
}
"""From this version to the next: template to what to change in one that stands in its place or takes blocks of it."""


def how_to_move(version: str, templates: Iterable[str]) -> str:
    """What to change in a theme's own templates that was written for an older version; empty for any other version."""
    if version not in MOVED:
        return ""
    names, newest = sorted(templates), int(max(MOVED)) + 1
    later = [MOVED[str(step)] for step in range(int(version), newest)]
    told = [f"{name}: {each[name]}" for each in later for name in names if name in each]
    own = f" In its templates: {'; '.join(told)}." if told else " None of its own templates is touched by what changed."
    return (
        f".{own} Then write version: {newest} (more in themes/README.md, From version {version} to {int(version) + 1})"
    )
