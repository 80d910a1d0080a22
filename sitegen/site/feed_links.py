"""How a page leads to the feeds that go with it."""

from sitegen.content.projects import Project
from sitegen.site.addresses import AVAILABLE_FEED, JOURNAL_FEED, project_feed
from sitegen.site.material import Folio
from sitegen.site.parts import FeedLink, Line, words
from sitegen.words.journal import availability_title, feed_words, journal_title, journal_words, project_title


def feed_links(at: Folio, project: Project | None = None) -> tuple[FeedLink, ...]:
    """The feeds that go with a page: a project's own first, then the two of the site."""
    site = at.collection.site
    if not site.address:
        return ()
    word, to = feed_words(), at.linker.to
    own: tuple[FeedLink, ...] = ()
    if project:
        own = (FeedLink(project_title(project.name, site.name), to(project_feed(project.id)), word.project),)
    return (
        *own,
        FeedLink(availability_title(site.name), to(AVAILABLE_FEED), word.available),
        FeedLink(journal_title(site.name), to(JOURNAL_FEED), word.journal),
    )


def feed_line(address: str, at: Folio) -> Line:
    """The words that lead to a feed; empty for a site without a public address."""
    return words(journal_words().follow, at.linker.to(address)) if at.collection.site.address else ()
