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
from sitegen.words.audit.lexicon import Lexicon, Named
from sitegen.words.audit.phrases import (
    ABOUT,
    ADJECTIVE,
    BEFORE,
    CARRY_FILL,
    CHANCE_BEHIND,
    COUNTS,
    DOUBT,
    END,
    ENDS,
    HET,
    KIND,
    LACKS,
    LITTLE,
    NOT_LOOK,
    NOTHING,
    PLURAL,
    PROVEN_FILL,
    SELF,
    SURE,
    TESTED,
    WITH_CHANCE,
    YOUNG_WILL,
)


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
        start, end: Where its words stand.
        says: What it says.
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


_Written = tuple[tuple[str, str, Callable[[re.Match[str]], "Statement | None"]], ...]
"""Words that a way of writing needs, its regular expression, and what makes a statement of it."""


class Shorthand:
    """The shorthand of one species; compiled once."""

    def __init__(self, lexicon: Lexicon) -> None:
        """Prepare for the names of a species."""
        self.lexicon = lexicon
        name = lexicon.name
        apart = r"(?:\s*(?:,|/|&|\+)\s*(?:and\s+|or\s+)?|\s+(?:and|or|und|oder)\s+|\s+)(?:the\s+)?"
        genes = rf"(?P<genes>{name}(?:{apart}{name})*)"
        sexed = r"(?:\d\.\d(?:\.\d)?\s+)?"  # one male: 1.0, one female: 0.1
        opening = rf"\A\W*{sexed}(?:(?:a|an|our|the|this|eine?)\s+)?(?:{ADJECTIVE}){{0,2}}?{genes}{NOT_LOOK}"
        self._rules = tuple(
            (needs.split("|"), re.compile(pattern, re.IGNORECASE), make)
            for needs, pattern, make in (*self._carried(genes, name), *self._seen(genes, lexicon.supers))
        )
        self._anywhere = re.compile(rf"(?P<genes>{name})", re.IGNORECASE)
        self._opening = re.compile(
            opening + rf"(?=[\s-]*(?:[,.;:!(\u2013—]|\Z|{KIND}|with\b|at\s+\w+\s+(?:day|week|month|year)))",
            re.IGNORECASE,
        )
        self._tagged = re.compile(rf"(?:{lexicon.bare})s?(?!\w)", re.IGNORECASE)
        self._called = re.compile(rf"(?P<genes>{name}){NOT_LOOK}", re.IGNORECASE)
        self._nothing = re.compile(NOTHING, re.IGNORECASE)
        self._bare = re.compile(
            rf"(?<![\w%/.])(?=\S+\s*\S*(?:het|{DOUBT}|erbig))"
            rf"(?P<pre>(?:(?:{NUMBER}|{DOUBT})[\s,:-]*){{0,3}})(?P<count>(?:{'|'.join(COUNTS)})\s+)?{HET}",
            re.IGNORECASE,
        )

    def _carried(self, genes: str, name: str) -> _Written:
        """Ways of saying that something is carried, those that say most first."""
        after = rf"(?:\s*\(?(?P<post>{PERCENT})\)?(?!\s*(?:{DOUBT}[\s,:-]*)?{HET})|{CHANCE_BEHIND})?"
        have = r"(?:has|have|having|hat|haben)"
        two = r"(?P<copies>one|two|a|2|1|double|eine|zwei)"
        verb = r"(?:carr(?:y|ies|ying|iers?\s+(?:of|for))|trag(?:t|en|e)|trager(?:in)?\s+(?:von|fur))"
        certain = r"(?P<sure>\s+(?:for\s+certain|sicher)\b)"
        surely = rf"(?P<pre>(?:{SURE}\s+to\s+)?)"
        lacks = partial(self._made, says=Says.LACKS)
        proven = partial(self._made, says=Says.CARRIES, proven=True, verbal=True)
        handed_on = partial(self._made, says=Says.CARRIES, verbal=True, of_young=True)
        return (
            ("no|free|clea|negative|without|kein|frei|negativ",
             rf"{LACKS}(?:the\s+)?(?:genes?\s+for\s+)?{genes}{NOT_LOOK}", lacks),
            ("have", rf"\b(?:does\s+not|doesn['’]t)\s+have\s+{genes}{END}", lacks),
            ("nicht", rf"\bhat\s+{genes}\s+nicht{END}", lacks),
            ("will|wird|werden", rf"{YOUNG_WILL}{genes}{NOT_LOOK}", self._young_will),
            ("will",
             r"\bwill\s+(?:\w+ly\s+)?(?:throw|produce|make|give|sire|pass\s+on)\s+"
             rf"(?:(?!{LITTLE})[a-z]+\s+)?{genes}{END}", handed_on),
            ("chance|odds|probab|likelihood",
             rf"(?P<num>{NUMBER})\s+(?:chance|chances|odds|probability|likelihood)\s+(?:of|to|that|for)\s+"
             r"(?:[\w’']+\s+){0,4}?(?:carry|carrying|carries|being|be|is|has|having)\s+"
             rf"(?:het\s+)?(?:for\s+)?(?:the\s+)?{genes}", self._chance),
            (" in | von ",
             rf"(?P<num>{NUMBER})\s+(?:such\s+|solche[rn]?\s+)?[\w-]+\s+"
             r"(?:like\s+this\s+one|like\s+(?:her|him|it)|wie\s+diese[ms]?)\b"
             rf".{{0,60}}?\b(?:carry|have|tragen|haben)\s+{genes}", self._chance),
            ("het|erbig",
             rf"(?P<pre>{BEFORE}){HET}\s*:?[\s-]*(?:(?:for|in|fur|auf)\s+)?"
             rf"(?:the\s+)?(?:genes?\s+for\s+)?{genes}{after}", self._het),
            ("dh|th", rf"(?P<pre>{BEFORE})(?:dh|(?-i:TH))(?!\w)\s*:?\s*(?:for\s+)?{genes}", self._het),
            ("ph", rf"(?P<pre>{BEFORE})(?<!\w)ph(?!\w)\s*:?\s*(?:for\s+)?{genes}", self._possible),
            ("h.", rf"(?<![\w.])(?<!\d\s)h\.\s*{genes}", self._het),
            ("aa", rf"\b(?P<copies>(?-i:aa|Aa))\s+(?:for|fur)\s+{genes}", self._copies),
            ("het",
             rf"(?P<pre>{BEFORE}){genes}\s+{HET}(?:\s*\(?(?P<post>{PERCENT})\)?)?"
             rf"(?!\s+(?:(?:for|fur)\s+)?{name})", self._het_behind),
            ("het",
             r"(?<!\w)#?(?P<pre>\d{2,3}%?|poss(?:ible)?)?"
             rf"het(?P<genes>(?:{self.lexicon.bare})+)s?(?!\w)", self._tag),
            ("cop|kopie",
             rf"\b{surely}(?:{have}|with|carries|carry|carrying|tragt|mit)\s+"
             rf"(?:at\s+least\s+|mindestens\s+|(?P<by>sicher\s+))?{two}\s+(?:cop(?:y|ies)\s+of|kopien?\s+von)\s+"
             rf"(?:the\s+)?(?:genes?\s+(?:for|of)\s+)?{genes}{certain}?", self._copies),
            ("cop|kopie",
             rf"\b{surely}(?:shows?|zeig(?:t|en)|carr(?:y|ies)|tragt|{have})\s+{genes}{certain}?\s*[:;,(]\s*"
             rf"(?:with\s+|mit\s+|{ABOUT}(?P<num>{NUMBER})\s+(?:[\w-]+\s+){{1,2}}(?:have|haben)\s+)?"
             r"(?P<copies>two|zwei|2)\s+(?:copies|kopien)(?!\s*:)", self._copies),
            ("may|might|vielleicht|jung|young",
             r"\b(?:(?:may|might)\s+(?:yet\s+)?show|zeigt\s+(?:spater\s+)?vielleicht"
             r"|too\s+young\s+to\s+judge\s+for|zu\s+jung,\s+um)\s+"
             rf"{genes}(?=[^.;:()]{{0,40}}[:(]\s*{ABOUT}(?P<num>{NUMBER}))", self._may_show),
            ("two cop|zwei kop",
             rf"\b(?:shows?|zeigt)\s+{genes}\s*\(\s*(?P<copies>two|zwei)\s+(?:copies|kopien)\s*:\s*"
             rf"{ABOUT}(?P<num>{NUMBER})", self._copies),
            ("carrier|trager", rf"\b(?P<pre>{BEFORE}){genes}(?:\s+|-)(?:carriers?|trager(?:in)?)\b", self._het),
            ("prove|guarant|confirm|certif|bewiesen|nachgewiesen|garantiert|bestatigt",
             rf"\b{SURE}\s+{PROVEN_FILL}{genes}", proven),
            ("may|might|hat|trag",
             rf"\b(?P<pre>(?:may|might)\s+(?:have|carry)|(?:hat|haben|tragt)\s+{DOUBT})\s+"
             rf"{genes}(?:{CHANCE_BEHIND}|{END})", self._verb),
            ("certain|sicher", rf"\b{have}\s+{genes}{certain}", self._verb),
            ("tested|getestet", rf"\b(?P<by>{TESTED})\s+{have}\s+{genes}", self._verb),
            ("carr|trag",
             rf"\b(?P<by>{TESTED}\s+)?{verb}\s+(?P<pre>{CARRY_FILL}){genes}"
             rf"(?:{certain}|(?P<tail>\s+{DOUBT})|{WITH_CHANCE})?", self._verb),
            ("trag", rf"{genes}\s+(?P<pre>(?:(?:{DOUBT}|{SURE}|auch)\s+){{0,2}})trag(?:t|en)\b", self._verb),
        )  # fmt: skip

    def _seen(self, genes: str, supers: str) -> _Written:
        """Ways of saying that something shows, or is there twice."""
        return (
            ("homo|reinerbig",
             rf"(?P<pre>(?:\b{DOUBT}\s+)?)\b(?:homo(?:zygous|zygot\w*)?|reinerbig\w*)(?!\w)\.?\s+"
             rf"(?:(?:for|fur)\s+)?(?:the\s+)?{genes}{CHANCE_BEHIND}?", self._homozygous),
            ("super", rf"\bsuper[\s-]+(?P<genes>{supers})", partial(self._made, says=Says.TWO_COPIES)),
            ("visual", rf"\bvisual(?:ly)?\s+(?:for\s+)?{genes}", self._shows),
            ("%|cent|pct|prozent", rf"(?P<num>{PERCENT})\s+{genes}{PLURAL}", self._chance),
            ("show|display|express|zeig",
             r"\b(?:shows|showing|displays|displaying|expresses|expressing|zeig(?:t|en))\s+"
             rf"(?:(?:both|clear|strong|full|the|sicher|deutlich)\s+){{0,2}}{genes}{NOT_LOOK}", self._shows),
            ("is|'s|’s",
             rf"\b{SELF}(?:\s+is|\s+ist|['’]s)\s+"
             r"(?:(?:also|certainly|definitely|clearly|really|truly|simply|auch|sicher)\s+)?"
             rf"(?:(?:a|an|our|the|my|eine?)\s+(?:{ADJECTIVE}){{0,2}}?)?{genes}{NOT_LOOK}{ENDS}", self._shows),
        )  # fmt: skip

    def read(
        self, plain: str, start: int, end: int, *, names: Collection[int], label: bool, opens: bool
    ) -> Iterator[Statement]:
        """The statements of one sentence, in the order of the text; ``names`` tells where names of animals begin.

        In a ``label``, a name or title, a bare gene name is a statement; if it ``opens``, one at its beginning is ("A
        ghost female with ...").
        """
        sentence = plain[start:end]
        nothing = [*self._nothing.finditer(sentence)]
        if not any(each.search(sentence) for each in (self._nothing, self._anywhere, self._bare, self._tagged)):
            return
        taken: list[tuple[int, int]] = []
        found = [Statement(start + match.start(), start + match.end(), Says.LACKS, ()) for match in nothing]
        words = sentence.lower()
        # Most ways of writing need a word that is not there; to look for words costs less than to match expressions.
        patterns = [(pattern, make) for needs, pattern, make in self._rules if any(need in words for need in needs)]
        patterns += [(self._anywhere, self._two_copy_form)]
        patterns += [(self._called, self._shows)] if label else [(self._opening, self._shows)] if opens else []
        for pattern, make in [*patterns, (self._bare, self._bare_het)]:
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
        unsure = re.search(DOUBT, words, re.IGNORECASE) or re.search(r" (?:or|oder) ", match["genes"], re.IGNORECASE)
        if says is Says.CARRIES and unsure and chance == 1:
            says = Says.MAY_CARRY
        proven = more.pop("proven", False) or bool(re.search(rf"{SURE}|{TESTED}", words, re.IGNORECASE))
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
        if re.search(DOUBT, match["pre"], re.IGNORECASE) or chance_of(last_number(match["pre"])) < 1:
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
        ends = re.match(rf"(?:{END}|\s+{KIND})", match.string[match.end() :], re.IGNORECASE)
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
