"""The words of the page that compares animals on offer by one gene."""

from dataclasses import dataclass

from sitegen.words.speech import Link, Sentence, Target, _, ngettext, said


@dataclass(frozen=True, slots=True)
class GroupWords:
    """Heading of a group of animals, and what the heading means."""

    title: str
    note: str


def shows_words() -> GroupWords:
    """For animals that show it."""
    return GroupWords(_("Shows it"), _("Seen on the animal itself."))


def certain_words() -> GroupWords:
    """For animals that have it for certain, unseen."""
    return GroupWords(_("Has it for certain"), _("Certain from our own records, a DNA test or its young."))


def said_words() -> GroupWords:
    """For animals that have it by somebody's word."""
    return GroupWords(
        _("Said to have it"),
        _("As certain as a previous keeper’s word, and no more. No number of ours can say how good that word is."),
    )


def perhaps_words() -> GroupWords:
    """For animals that may have it."""
    return GroupWords(_("May have it"), _("The highest chance first. None of them is proven."))


def comparison_title(gene: str) -> str:
    """The heading of the page."""
    return _("Compare by {gene}").format(gene=gene)


def comparison_intro(gene: Link, count: int) -> tuple[Sentence, ...]:
    """What is compared, and how the numbers are to be read."""
    words = ngettext(
        "{count} animal that is available or on hold has {gene} or may have it, the surest first.",
        "{count} animals that are available or on hold have {gene} or may have it, the surest first.",
        count,
    )
    read = Link(_("How to read our odds"), Target.METHOD, "")
    return (
        said(words, count=str(count), gene=gene),
        said(_("Every number is out of 100 animals like that one, so any two can be compared. {read}."), read=read),
    )


def ruled_out_title() -> str:
    """For animals of which it was possible and is not so."""
    return _("Looked into and ruled out")


def no_claim_title() -> str:
    """For animals of which nothing can be said at this place."""
    return _("No claim")


def unknown_title() -> str:
    """For animals of which nothing is known at the gene."""
    return _("Not known to have it")


def unknown_note() -> str:
    """That nothing known is not the same as not there."""
    return _("No record gives these animals the gene. “Not known to carry” does not mean “does not carry”.")


def surely_has(gene: str) -> str:
    """The title of the picture of a certain claim."""
    return _("100 in 100 have {gene}").format(gene=gene)


def all_filled() -> str:
    """The description of that picture."""
    return _("A hundred marks in ten rows, all of them filled.")


def compare_label() -> str:
    """Heading of the links to these pages."""
    return _("Compare by gene")


def compare_link(gene: str) -> str:
    """From the page of a gene to the comparison."""
    return _("Compare the animals on offer by {gene}").format(gene=gene)
