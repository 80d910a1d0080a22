"""The words of the page that finds animals, genes, litters, projects and pages."""

from sitegen.words.speech import _, ngettext


def search_title() -> str:
    """What the page is called."""
    return _("Search")


def search_intro(count: int) -> str:
    """What stands in the list."""
    words = ngettext(
        "One thing on this site that has a page of its own.",
        "All {count} things on this site that have a page of their own, by name.",
        count,
    )
    return words.format(count=count)


def search_field() -> str:
    """The label of the field to type into."""
    return _("Name, gene or look")


def found_pattern() -> str:
    """How many entries are left, with the places ``{shown}`` and ``{all}``; for screen readers too."""
    return _("{shown} of {all} found")


def none_found() -> str:
    """What is said when nothing fits."""
    return _("Nothing here has all of these words. A shorter word finds more.")


def kind_animal() -> str:
    """An animal, as a kind of thing that is found."""
    return _("animal")


def kind_young() -> str:
    """A young of a litter, as a kind of thing that is found."""
    return _("young")


def kind_gene() -> str:
    """A gene, as a kind of thing that is found."""
    return _("gene")


def kind_combination() -> str:
    """A name for several genes together, as a kind of thing that is found."""
    return _("several genes together")


def kind_project() -> str:
    """A project, as a kind of thing that is found."""
    return _("project")


def kind_page() -> str:
    """A page in the breeder's own words, as a kind of thing that is found."""
    return _("page")


def other_letters() -> str:
    """The heading of names that begin with no letter."""
    return _("Numbers")
