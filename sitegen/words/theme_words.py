"""The words that a template may bring along itself: headings, labels, and what buttons and links are called.

A statement is none of them: what states a fact is a field of the page, made here where it is known to be true. So a
theme reaches the program's words for these alone, and its own catalogue answers for nothing else.
"""

from sitegen.words.speech import _, own_word

HEADINGS = frozenset((
    "As it grew", "Carries it unseen", "Chance by season", "Copies and looks", "Family", "Family of the goal",
    "From the collection", "From the projects", "Genes", "Gone to new homes", "Here", "How the parents are related",
    "How we know", "How we speak of genes", "In combination", "Latest litters", "Litters and clutches",
    "Look here instead", "Looked into and ruled out", "May carry it", "More", "Names for several genes together",
    "No longer here", "Not listed one by one", "Notes", "On offer now", "Other ways to the same goal", "Plates",
    "Shows it", "The animals", "The collection", "The road", "The story", "To ask about an animal",
    "Weight and meals", "Welfare", "What came, beside what was expected", "What cannot be seen", "What changed",
    "What these numbers take for granted", "What we decided", "What went wrong", "Where we are now",
))  # fmt: skip
LABELS = frozenset((
    "any", "anything", "By the end of", "Came", "Carries", "Copies", "Date", "Expected", "First letters", "Gene",
    "Here", "How it is inherited", "How sure", "in that very season", "Look", "Main", "new in that season",
    "Of 100 young, about", "of 100 plans like this one, about", "Offered", "On average", "On this page", "Order",
    "Other ways to the same goal", "Parents", "Passed on", "Sex", "Shows", "State", "Taken",
    "there by the season before", "Weight", "What shows", "What we looked for", "with",
))  # fmt: skip
BUTTONS = frozenset((
    "All projects, and how far they are", "Everything that is available, with its evidence", "How to read our odds",
    "Its genes", "Menu", "Show all", "The collection", "The published facts as data", "The whole collection",
    "The whole ledger", "What is available",
))  # fmt: skip
_WORDS = HEADINGS | LABELS | BUTTONS


def theme_word(words: str) -> str:
    """A template's words in the language of the site: by the theme's own catalogue, or as one of the words above."""
    own = own_word(words)
    return _(words) if own == words and words in _WORDS else own
