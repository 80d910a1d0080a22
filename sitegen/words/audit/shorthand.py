"""Reads the trade's shorthand and plain statements about genes: what a sentence claims, and in which words.

This reader finds statements in prose and passes over the rest. A label in a sheet becomes a record, so
:mod:`sitegen.keeper.labels` accounts for every word of it; both use one lexicon.
"""

import re
from collections.abc import Callable, Collection, Iterator
from dataclasses import dataclass, replace
from enum import Enum
from fractions import Fraction
from functools import partial

from sitegen.words.audit.chances import NUMBER, PERCENT, chance_of, last_number
from sitegen.words.audit.expressions import expression, expressions
from sitegen.words.audit.lexicon import Lexicon, Named
from sitegen.words.written import written


class Says(Enum):
    """What a statement says of each gene it names."""

    CARRIES = "carries it, with a chance"
    MAY_CARRY = "may carry it"
    SHOWS = "shows it"
    TWO_COPIES = "has two copies of it"
    LACKS = "does not carry it"


@dataclass(frozen=True, slots=True)
class Statement:
    """A claim as it stands in a text.

    Attributes:
        genes: The genes it names; empty when it names none ("66% het").
        chance: How sure it is, for ``CARRIES``; 1 when it states no doubt.
        proven: It says that this is proven or guaranteed.
        verbal: Said with a verb ("carries"), not in shorthand.
        several: It names more than one gene.
        count: How many hidden genes it speaks of, where it names none ("triple het").
        of_young: It speaks of young to come, and so of what their parent hands on.
        of_both: Such young show a recessive, which both their parents must hand on.
    """

    start: int
    end: int
    says: Says
    genes: tuple[Named, ...]
    chance: Fraction = Fraction(1)
    proven: bool = False
    verbal: bool = False
    several: bool = False
    count: int = 1
    of_young: bool = False
    of_both: bool = False


COUNTS = {"double": 2, "doppel": 2, "dbl": 2, "dh": 2, "triple": 3, "dreifach": 3, "th": 3, "quad": 4, "quadruple": 4}
_WRITTEN = written("audit/shorthand")


class Shorthand:
    """The shorthand of one species; compiled once."""

    def __init__(self, lexicon: Lexicon) -> None:
        """Prepare for the names of a species."""
        self.lexicon = lexicon
        given = {"name": lexicon.name, "bare": lexicon.bare, "supers": lexicon.supers, "counts": "|".join(COUNTS)}
        phrases = expressions(_WRITTEN["phrases"], {**given, "number": NUMBER, "percent": PERCENT})
        alone = {name: expression(words, phrases) for name, words in _WRITTEN["alone"].items()}
        self._alone = {name: re.compile(words, re.IGNORECASE) for name, words in alone.items()}
        made, carries = self._made, partial(self._made, says=Says.CARRIES, verbal=True)
        makers: dict[str, Callable[[re.Match[str]], Statement | None]] = {
            "lacks": partial(made, says=Says.LACKS), "two_copies": partial(made, says=Says.TWO_COPIES),
            "proven": partial(carries, proven=True), "handed_on": partial(carries, of_young=True),
            "young_will": self._young_will, "chance": self._chance, "het": self._het, "possible": self._possible,
            "copies": self._copies, "het_behind": self._het_behind, "tag": self._tag, "may_show": self._may_show,
            "verb": self._verb, "homozygous": self._homozygous, "shows": self._shows,
        }  # fmt: skip
        self._ways = tuple(
            (way["needs"].split("|"), re.compile(expression(way["words"], phrases), re.IGNORECASE),
             makers[way["read_as"]])
            for way in _WRITTEN["ways"]
        )  # fmt: skip

    def read(
        self, plain: str, start: int, end: int, *, names: Collection[int], label: bool, opens: bool
    ) -> Iterator[Statement]:
        """The statements of one sentence, in the order of the text; ``names`` tells where names of animals begin.

        In a ``label``, a name or title, a bare gene name is a statement; if it ``opens``, one at its beginning is ("A
        ghost female with ...").
        """
        sentence = plain[start:end]
        nothing = [*self._alone["nothing"].finditer(sentence)]
        if not any(self._alone[each].search(sentence) for each in ("nothing", "anywhere", "bare_het", "tagged")):
            return
        taken: list[tuple[int, int]] = []
        found = [Statement(start + match.start(), start + match.end(), Says.LACKS, ()) for match in nothing]
        words = sentence.lower()
        patterns = [(pattern, make) for needs, pattern, make in self._ways if any(need in words for need in needs)]
        patterns += [(self._alone["anywhere"], self._two_copy_form)]
        first = "called" if label else "opening" if opens else ""
        patterns += [(self._alone[first], self._shows)] if first else []
        for pattern, make in [*patterns, (self._alone["bare_het"], self._bare_het)]:
            for match in pattern.finditer(sentence):
                span = match.span("genes") if "genes" in pattern.groupindex else match.span()
                if match.groupdict().get("name") and start + match.start("name") not in names:
                    continue
                if any(span[0] < other[1] and other[0] < span[1] for other in taken):
                    continue
                statement = make(match)
                if statement is not None:
                    taken.append((min(span[0], statement.start), max(span[1], statement.end)))
                    found.append(replace(statement, start=start + statement.start, end=start + statement.end))
        yield from sorted(found, key=lambda statement: statement.start)

    def _genes(self, match: re.Match[str]) -> tuple[Named, ...]:
        words = re.findall(self.lexicon.name, match["genes"], re.IGNORECASE)
        return tuple(named for word in words if (named := self.lexicon.find(word)))

    def _made(self, match: re.Match[str], says: Says, words: str = "", number: str = "", **more: bool) -> Statement:
        """The statement, with what the words beside the genes say of how sure it is."""
        genes = self._genes(match)
        chance = chance_of(number) if number else Fraction(1)
        unsure = self._alone["unsure"].search(words) or re.search(r" (?:or|oder) ", match["genes"], re.IGNORECASE)
        if says is Says.CARRIES and unsure and chance == 1:
            says = Says.MAY_CARRY
        proven = more.pop("proven", False) or bool(self._alone["certainly"].search(words))
        lead = len(match[0]) - len(match[0].lstrip(" \t\n,:-"))
        several = len(genes) > 1 or any(len(gene.carried) > 1 for gene in genes)
        return Statement(match.start() + lead, match.end(), says, genes, chance, proven, several=several, **more)

    def _het(self, match: re.Match[str]) -> Statement | None:
        words = match.groupdict().get("pre") or ""
        return self._made(match, Says.CARRIES, words, last_number(words) or _behind(match))

    def _verb(self, match: re.Match[str]) -> Statement | None:
        """Said with a verb; what stands around the genes tells how sure it is."""
        words = " ".join(match.groupdict().get(group) or "" for group in ("by", "pre", "sure", "tail"))
        return self._made(match, Says.CARRIES, words, _behind(match), verbal=True)

    def _tag(self, match: re.Match[str]) -> Statement | None:
        """Words that are written as one: ``#hetamel``."""
        words = re.findall(self.lexicon.bare, match["genes"], re.IGNORECASE)
        genes = tuple(named for word in words if (named := self.lexicon.find(word)))
        number = f"{pre.rstrip('%')}%" if (pre := match["pre"] or "")[:1].isdigit() else ""
        says = Says.MAY_CARRY if pre and not number else Says.CARRIES
        chance = chance_of(number) if number else Fraction(1)
        return Statement(match.start(), match.end(), says, genes, chance, several=len(genes) > 1)

    def _young_will(self, match: re.Match[str]) -> Statement | None:
        """What is said of young to come, as what it asks of a parent: two copies where all of them get one."""
        if self._alone["unsure"].search(match["pre"]) or chance_of(last_number(match["pre"])) < 1:
            return None
        every = match["all"] or match["also"] or not match["some"] or bool(re.match(r"100\D", match["some"]))
        made = self._made(match, Says.TWO_COPIES if every else Says.CARRIES, verbal=True, of_young=True)
        return replace(made, of_both=not match["het"] and all(gene.from_both for gene in made.genes))

    def _possible(self, match: re.Match[str]) -> Statement | None:
        """``ph``: possible het, with the number before it if there is one."""
        number = last_number(match["pre"])
        return self._made(match, Says.CARRIES if number else Says.MAY_CARRY, match["pre"], number)

    def _het_behind(self, match: re.Match[str]) -> Statement | None:
        """``hypo het``, where more words or the end of a clause tell that it is not the look of another het."""
        ends = self._alone["het_ends"].match(match.string[match.end() :])
        return self._het(match) if match["pre"].strip() or match["post"] or ends else None

    def _chance(self, match: re.Match[str]) -> Statement | None:
        return self._made(match, Says.CARRIES, "", match["num"])

    def _copies(self, match: re.Match[str]) -> Statement | None:
        groups, copies = match.groupdict(), match["copies"]
        says = Says.TWO_COPIES if copies == "aa" or copies.lower() in ("two", "2", "double", "zwei") else Says.CARRIES
        words = f"{groups.get('pre') or ''} {groups.get('sure') or groups.get('by') or ''}"
        return self._made(match, says, words, groups.get("num") or "", verbal=True)

    def _homozygous(self, match: re.Match[str]) -> Statement | None:
        number = _behind(match)
        if match["pre"] and not number:
            return None
        return self._made(match, Says.TWO_COPIES, "", number if match["pre"] else "")

    def _two_copy_form(self, match: re.Match[str]) -> Statement | None:
        """A mention of a two-copy form by its own name ("super palmetto")."""
        named = self.lexicon.find(match["genes"])
        return self._made(match, Says.TWO_COPIES) if named and named.two_copies else None

    def _shows(self, match: re.Match[str]) -> Statement | None:
        start, end = match.span("genes")
        return Statement(start, end, Says.SHOWS, self._genes(match), several=True)

    def _may_show(self, match: re.Match[str]) -> Statement | None:
        """``may show hypo after 18 months: about 67 in 100``."""
        made = self._shows(match)
        return replace(made, start=match.start(), chance=chance_of(match["num"])) if made else None

    def _bare_het(self, match: re.Match[str]) -> Statement | None:
        number, count = last_number(match["pre"]), COUNTS.get((match["count"] or "").strip().lower(), 1)
        says = Says.CARRIES if number or (count > 1 and not match["pre"]) else Says.MAY_CARRY
        chance = chance_of(number) if number else Fraction(1)
        return Statement(match.start(), match.end(), says, (), chance, count=count)


def _behind(match: re.Match[str]) -> str:
    """The number behind what a match names, or nothing."""
    groups = match.groupdict()
    return groups.get("post") or groups.get("odds") or groups.get("said") or ""
