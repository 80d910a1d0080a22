"""The page "how to read our odds", for somebody who does not like numbers, and what our odds take for granted."""

from dataclasses import dataclass
from fractions import Fraction

from sitegen.words.numbers import both_sides, count_text, in_100, quoted, simple_fraction, trade_percent
from sitegen.words.speech import Sentence, Words, _, said


@dataclass(frozen=True, slots=True)
class MethodPart:
    """A titled part of the page, to whose anchor ``id`` sentences elsewhere link; a chance is drawn beside it."""

    id: str
    title: str
    paragraphs: tuple[Sentence, ...]
    chance: Fraction | None = None


def method_parts(gene: Words, chance: Fraction) -> tuple[MethodPart, ...]:
    """The parts of the page, in reading order.

    Args:
        gene: A hidden gene of this collection, as the example.
        chance: A chance of carrying it that really stands on a page of this site; strictly between 0 and 1.

    Raises:
        ValueError: ``chance`` is certain; there would be nothing to explain.
    """
    if not 0 < chance < 1:
        raise ValueError(f"{chance} is no example of a chance")
    return (
        _in_100(gene, chance),
        _words(gene),
        _three_statements(),
        _what_it_rests_on(),
        _trade(gene, chance),
        _how_it_changes(gene),
        _roads(),
        _conventions(),
        _limits(),
    )


def _paragraphs(*texts: str, **places: Words) -> tuple[Sentence, ...]:
    """The texts with their shared places filled."""
    return tuple(said(text, **places) for text in texts)


def _in_100(gene: Words, chance: Fraction) -> MethodPart:
    """What "about so many in 100" means."""
    carry, others = both_sides(chance)
    fraction = simple_fraction(chance)
    paragraphs = _paragraphs(
        _(
            "An animal can carry a gene that nobody can see. Take {gene}: two young may look the same, and only one of "
            "them carries it."
        ),
        _(
            "So we tell you how many would carry it out of 100 young just like this one, from parents just like its "
            "own. Say {chance} carry it and {others} do not.{exact}"
        ),
        _(
            "We always count in 100, so you can set any two animals side by side. We always name both sides too: "
            "those that do, here {carry}, and those that do not, here {others}."
        ),
        _(
            "The animal in front of you carries the gene or it does not. The number tells how much we know, not how "
            "much of the gene it has."
        ),
        _("“Fewer than 1 in 100” is not never, and “more than 99 in 100” is not always. We do not round them away."),
        gene=gene,
        chance=in_100(chance),
        carry=count_text(carry),
        others=count_text(others),
        exact=_(" As a fraction that is {fraction}.").format(fraction=fraction) if fraction else "",
    )
    return MethodPart("in-100", _("What “in 100” means"), paragraphs, chance)


def _words(gene: Words) -> MethodPart:
    """The kinds of claim, one after the other."""
    paragraphs = _paragraphs(
        _("“Shows” means that you can see it. Look at the photographs."),
        _("“Carries {gene} for certain” means that there is no other way to explain what we know."),
        _("“If its sire does not have it” names an animal of which nobody wrote that down. We take it as not having "
          "the gene. If it has it after all, our claim may be wrong."),
        _("“May carry {gene}” means that it can be either way. Not proven: pay for a chance, not for the gene."),
        _(
            "“Too young to judge” is said of a look that comes with age. Nobody can see it yet, so we give the "
            "chance and the age at which you will know."
        ),
        _("“Ruled out” means that it could have been, and that we now know it is not."),
        _("“Taken as one copy” means that an animal shows a gene and we cannot tell one copy from two. We take the "
          "lower number."),
        _("What we do not name, we do not claim. “Not known to carry” does not mean “does not carry”."),
        gene=gene,
    )  # fmt: skip
    return MethodPart("words", _("The words we use"), paragraphs)


def _three_statements() -> MethodPart:
    quarter, n_young = Fraction(1, 4), 4
    none = (1 - quarter) ** n_young
    paragraphs = _paragraphs(
        _("When two animals are paired, three numbers are easy to mix up. We keep them apart."),
        _("One young: say {quarter} young like these show it."),
        _("A whole litter or clutch: of {n_young} young that makes one on average. Some litters have two, some none."),
        _("At least one: {some} such litters of {n_young} have one or more, and {none} have none at all. That is "
          "luck, and we will write it down when it happens."),
        _("Two chances side by side cannot always be multiplied. Two genes may hang on the same sire, and littermates "
          "on the same doubtful parent. Where that matters, the page says so."),
        quarter=in_100(quarter),
        n_young=str(n_young),
        some=in_100(1 - none),
        none=count_text(both_sides(1 - none)[1]),
    )  # fmt: skip
    return MethodPart("three-numbers", _("One young, a whole litter, at least one"), paragraphs, 1 - none)


def _what_it_rests_on() -> MethodPart:
    paragraphs = _paragraphs(
        _("Under each claim stands what it rests on."),
        _("Our own records: we saw it, or it follows from parents and young that we saw."),
        _("DNA test: a laboratory tested this animal. We name the laboratory and the day if we know them."),
        _("Proven by young: it had a young that it could only have if it carries the gene."),
        _(
            "A previous keeper’s word: somebody told us, and we have no proof of our own. That stays so for the "
            "young and for their young, until something proves it."
        ),
        _(
            "What is taken for granted: it follows from our records only if an animal that we name does not have the "
            "gene. We say what would settle it."
        ),
    )
    return MethodPart("rests-on", _("What a claim rests on"), paragraphs)


def _trade(gene: Words, chance: Fraction) -> MethodPart:
    percent = trade_percent(chance)
    paragraphs = _paragraphs(
        _(
            "Sellers use short forms. “Het” is said of an animal that carries one copy and does not show it. “66% het” "
            "is said of a young from two carriers: about 67 in 100 such young carry it, 33 do not."
        ),
        _("A percent before “het” is a chance. It is not a part of a gene, and not a part of an animal."),
        _("We put such short forms last, in quotation marks, so that you can compare our offers with others."),
        *((_("For the {gene} of our example the trade would write {percent}."),) if percent else ()),
        gene=gene,
        percent=quoted(f"{percent} het"),
    )
    return MethodPart("trade", _("How the trade writes it"), paragraphs)


def _how_it_changes(gene: Words) -> MethodPart:
    half, after = Fraction(1, 2), Fraction(1, 5)
    paragraphs = _paragraphs(
        _("A chance is never finished. Each young that is born tells us more, about its parents too."),
        _(
            "Say a dam carries {gene} with a chance of {half}. We pair her with a sire that shows it. One young that "
            "shows it proves that she carries it. Two young that do not bring her chance down to {after}."
        ),
        _("When a chance has changed, we show the old one, the new one and the reason."),
        _(
            "No number of young that show nothing ever makes it impossible. They only make the chance smaller and "
            "smaller."
        ),
        gene=gene,
        half=in_100(half),
        after=in_100(after),
    )
    return MethodPart("changes", _("Why a chance changes"), paragraphs, after)


def _roads() -> MethodPart:
    paragraphs = _paragraphs(
        _("A project takes years, and a season is named by the year in which its young come. For each season we work "
          "out how many of 100 plans just like it keep a goal animal by then, and how many do not."),
        _("The program plays the plan many thousand times. Each time it draws what our animals may carry, all genes "
          "together, as often as our records say. Then it plays season after season: whether a pairing takes, how many "
          "young come, of which sex, and what each has from its parents."),
        _("Each stage is bred in every season in which it can be: when both parents are old enough, and the dam has "
          "rested. It goes on until the young that we need are there, or until the seasons that we mean to try are "
          "used up."),
        _("We can only keep what we can see, and so does the program: it never looks into the genes. A young that "
          "looks right may lack a gene that nobody can see. The plan goes on with it all the same, and so some plans "
          "never get there."),
        _("Where that makes a difference there are three numbers. Born: a goal animal came. Kept: one that we kept "
          "truly is it. Proved: all that was seen of one, its looks and its young, leaves no doubt."),
        _("Two ways are compared on the same draws, so that luck does not choose between them. We call one better "
          "only where the difference is more than twice as large as its error."),
        _("Numbers that were drawn are a little off, and the page says by how much. The same records give the same "
          "numbers again."),
        _("When a litter is born, what came takes the place of what was expected. Beside it we say how many of 100 "
          "such litters would have as few, or as many. Then the rest of the road is worked out again."),
    )  # fmt: skip
    return MethodPart("roads", _("How a road is worked out"), paragraphs)


def _conventions() -> MethodPart:
    paragraphs = _paragraphs(
        _("Every chance on these pages is worked out by a program from our written records, with no rounding before "
          "the end. It looks at the whole family at once: parents, littermates, young, and all that came before."),
        _("Young are written down when they are born alive. Where two copies of a gene do not live, such young are "
          "never in our litters, and there are fewer young."),
        _("A parent that is not written down is taken as one animal for all young of a litter, not related to any "
          "other, with the usual odds of its kind. The first animals of a family are taken as not related."),
        _("Where nobody told us that an animal carries a gene, we take it as not carrying it, and we say “not known to "
          "carry”. Where young prove that somebody had it all the same, we take as few such copies as will do. Nothing "
          "is called certain because of this alone."),
        _("An animal that shows a gene, and could have one copy or two, is taken as one copy unless we know better."),
        _("A look we do not write down was looked for and not seen, unless we say that it could not be judged."),
        _("A mark that some keepers read as a sign of a hidden gene is no test. It changes no number here."),
    )  # fmt: skip
    return MethodPart("conventions", _("What we take for granted"), paragraphs)


def _limits() -> MethodPart:
    paragraphs = _paragraphs(
        _("A chance is no promise. We may be unlucky, and so may you."),
        _("Genes do not tell us how healthy an animal is, how it will behave, or what it will be worth."),
        _("A line or a place of origin is told as we were told it. It is not worked out as odds of a gene."),
        _("Some looks are made by two different genes. We say which one it is, because the two do not add up."),
    )
    return MethodPart("limits", _("What our odds do not tell you"), paragraphs)
