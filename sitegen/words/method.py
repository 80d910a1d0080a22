"""The page "how to read our odds", for somebody who does not like numbers, and what our odds take for granted."""

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache

from sitegen.words.numbers import both_sides, count_text, in_100, quoted, simple_fraction, trade_percent
from sitegen.words.speech import Sentence, Words, _, said
from sitegen.words.written import paragraphs, written


@dataclass(frozen=True, slots=True)
class MethodPart:
    """A titled part of the page, to whose anchor ``id`` sentences elsewhere link; a chance is drawn beside it."""

    id: str
    title: str
    paragraphs: tuple[Sentence, ...]
    chance: Fraction | None = None


@cache
def written_parts() -> Mapping[str, tuple[str, tuple[str, ...]]]:
    """The parts as ``method.yaml`` has them: anchor to title and paragraphs."""
    return {name: (part["title"], paragraphs(part["text"])) for name, part in written("method").items()}


def method_parts(gene: Words, chance: Fraction) -> tuple[MethodPart, ...]:
    """The parts of the page, in reading order, with a hidden gene of this collection as the example.

    ``chance`` is one of carrying it that really stands on a page of this site.

    Raises:
        ValueError: ``chance`` is certain; there would be nothing to explain.
    """
    if not 0 < chance < 1:
        raise ValueError(f"{chance} is no example of a chance")
    carry, others = both_sides(chance)
    fraction, percent = simple_fraction(chance), trade_percent(chance)
    quarter, n_young, after = Fraction(1, 4), 4, Fraction(1, 5)
    some = 1 - (1 - quarter) ** n_young
    drawn = {"in-100": chance, "three-numbers": some, "changes": after}
    places: dict[str, Words] = {
        "gene": gene, "chance": in_100(chance), "carry": count_text(carry), "others": count_text(others),
        "exact": _(" As a fraction that is {fraction}.").format(fraction=fraction) if fraction else "",
        "quarter": in_100(quarter), "n_young": n_young, "some": in_100(some), "none": count_text(both_sides(some)[1]),
        "percent": quoted(f"{percent} het"), "half": in_100(Fraction(1, 2)), "after": in_100(after),
    }  # fmt: skip
    parts = []
    for name, (title, texts) in written_parts().items():
        told = [text for text in texts if percent or "{percent}" not in text]
        parts.append(MethodPart(name, _(title), tuple(said(_(text), **places) for text in told), drawn.get(name)))
    return tuple(parts)
