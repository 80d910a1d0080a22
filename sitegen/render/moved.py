"""What changed for the themes of others from one version of the page models to the next, template by template."""

from collections.abc import Iterable

MOVED = {
    "base.html": "the block drawings stands in the footer, and nav holds a folded menu",
    "parts.html": "the macros folded_cautions and sieve are gone: use offer_cautions, and finding.html; an entry of a "
    "list prints its line (entry.line) in place of sex, born, shows and hidden, and its odds with dots",
    "animal.html": "title stands in the block opening, what a buyer came for in the new block answer, the parents in "
    "parents; page.pedigree is drawn (kin of parts.html), page.no_pedigree says why there is none, page.in_words is "
    "page.no_look",
    "available.html": "the block sieve is finding, as page.sieve is page.finding; rules is a block of its own",
    "collection.html": "the block sieve is finding, as page.sieve is page.finding",
    "comparison.html": "a row stands for littermates that are alike: row.animals",
    "gene.html": "page.plates has its pictures by what they show (GenePlates)",
    "litter.html": "page.together and page.left are new",
    "litters.html": "the picture of a row is row.plate",
    "paper.html": "page.in_words is page.no_look; page.together is new",
}
"""From version 1 to 2: template to what to change in one that stands in its place or takes blocks of it."""


def how_to_move(version: str, templates: Iterable[str]) -> str:
    """What to change in a theme's own templates that was written for an older version; empty for any other version."""
    if version != "1":
        return ""
    told = [f"{name}: {MOVED[name]}" for name in sorted(templates) if name in MOVED]
    own = f" In its templates: {'; '.join(told)}." if told else " None of its own templates is touched by what changed."
    return f".{own} Then write version: 2 (more in themes/README.md, From version 1 to 2)"
