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

from sitegen.exact import parse_stated_chance
from sitegen.words.audit.lexicon import Lexicon, Named

_ONES = [
    *("zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"),
    *("thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen"),
]
_TENS = ["twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"]
_VALUES = {word: value for value, word in enumerate(_ONES)} | {word: 20 + 10 * at for at, word in enumerate(_TENS)}
_PART = ["half", "third", "quarter", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth"]
_PARTS = {word: at for at, word in enumerate(_PART, 2)}
_ROMAN = {"I": 1, "V": 5, "X": 10, "L": 50, "C": 100}

_ONE = rf"(?:{'|'.join(sorted(_ONES, key=len, reverse=True))})"
_TEN = rf"(?:{'|'.join(_TENS)})"
_WHOLE = rf"(?:(?:(?:a|one)\s+)?hundred|{_TEN}(?:[\s-]{_ONE})?|{_ONE})"
_SIGN = r"(?:%|(?:per\s?cent|pct|prozent)\b\.?)"
PERCENT = rf"(?:\d{{1,3}}(?:[.,]\d{{1,4}})?|\b{_WHOLE}|\b(?-i:[CLXVI]{{1,8}}))\s?{_SIGN}"
_OF = r"\s+(?:in|out\s+of)\s+"
NUMBER = (
    rf"(?:\d{{1,3}}\s?[-\u2013]\s?)?{PERCENT}|\d{{1,3}}\s?/\s?\d{{1,4}}(?!\d)|\d{{1,3}}{_OF}\d{{1,4}}\b"
    rf"|\b{_ONE}[\s-](?:{'|'.join(_PARTS)})s?\b|\b{_WHOLE}{_OF}{_WHOLE}\b"
)


def last_number(words: str) -> str:
    """The last chance that stands in the words, or nothing."""
    numbers = re.findall(NUMBER, words, re.IGNORECASE)
    return numbers[-1] if numbers else ""


def chance_of(number: str) -> Fraction:
    """A chance as it is written; of a range its upper end; 1 for what is no chance."""
    text = re.sub(r".*\d\s?[-\u2013]\s?(?=\d)", "", number.strip())
    text = re.sub(r"\b[CLXVI]+(?=\W)", lambda match: str(_roman(match[0])), text)
    text = re.sub(_SIGN, "%", text, flags=re.IGNORECASE).replace(",", ".")
    text = re.sub(rf"\b{_WHOLE}\b", lambda match: str(_in_figures(match[0].lower())), text, flags=re.IGNORECASE)
    text = re.sub(
        rf"[\s-]({'|'.join(_PARTS)})s?\b", lambda match: f"/{_PARTS[match[1].lower()]}", text, flags=re.IGNORECASE
    )
    chance = parse_stated_chance(re.sub(_OF, "/", text, flags=re.IGNORECASE))
    return min(chance, Fraction(1)) if chance is not None else Fraction(1)


def _in_figures(words: str) -> int:
    return 100 if "hundred" in words else sum(_VALUES[word] for word in re.split(r"[\s-]", words))


def _roman(numeral: str) -> int:
    values = [_ROMAN[sign] for sign in numeral]
    return sum(-each if each < max(values[at:]) else each for at, each in enumerate(values))


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
    """

    start: int
    end: int
    says: Says
    genes: tuple[Named, ...]
    chance: Fraction = Fraction(1)
    proven: bool = False
    verbal: bool = False
    several: bool = False


_DOUBT = r"(?:poss(?:ibl[ey])?|pos|potential(?:ly)?|probabl[ey]|likely|maybe|perhaps|may\s+be|might\s+be)\b\.?"
_SURE = r"(?:proven|proved|guaranteed|confirmed|certified)\b"
_WORD = r"(?:double|triple|quadruple|quad|dbl|multi|multiple|definite(?:ly)?|certain(?:ly)?|known|genuine|true)\b\.?"
_BEFORE = rf"(?<![\w%/.])(?:(?:{NUMBER}|{_DOUBT}|{_SURE}|{_WORD})[\s,:-]*){{0,4}}"
_HET = r"(?<![^\W\d_])het(?:s|erozyg(?:ous|ote|otes))?(?!\w)\.?"
_NOT_LOOK = (
    r"(?!\s+(?:projects?|lines?|genes?|clutch\w*|litters?|pairings?|morphs?|yellow|white|gr[ea]y|brown|black|red|orange"
    r"|pink|gold\w*|cream|colou?r\w*|like|(?:under)?tones?|shades?|hues?|influences?|tints?|sheen|wash|blush|traces?"
    r"|signs?|blood|background|looks?|types?|style|patterns?|bands?|marks?|markings|and\s+(?:white|black|gr[ea]y|brown"
    r"|yellow|red|orange)\b))"
)
_KIND = r"(?:female|male|girl|boy|snake|corn|boa|animal|hatchling|adult|morph)\b"
_LITTLE = (
    r"(?:of|from|to|for|with|in|on|as|like|is|was|are|were|her|his|its|their|and|or|no|not|by|at|than|the"
    r"|er|sie|es|ein|eine|der|die|das|hat|hatte|ist|war|ware|kein|keine|nicht|von|mit|und|oder|ohne|wie)\b"
)
"""English and German; "ware" is how "wäre" is read here."""
_ADJECTIVE = rf"(?!{_LITTLE})[a-z\d_-]+\s+"
_ENDS = rf"(?=\s*(?:[,.;:!()\u2013—]|\Z|{_KIND}|(?:and|with|who|that|from|but|het|in|by|for|at|of\s+course|\d+%?)\b))"
"""What may follow a look that somebody is said to be; another noun makes it something else ("a ghost story")."""
_CARRY_FILL = r"(?:(?:hidden|recessive|both|the|a|gene|genes|for|also|certainly|definitely|out)\s+){0,6}"
_PROVEN_FILL = r"(?:(?:to|carry|be|have|out|for|as|a|an|the|carriers?|of|female|male)\s+){0,5}"
_PLURAL = r"(?!\s+(?:young|babies|hatchlings|offspring|eggs|of|in)\b)"
_LACKS = (
    r"\b(?:carr(?:y|ies|ying)\s+no|(?:no|zero|without\s+(?:a|any))\s+cop(?:y|ies)\s+of|free\s+(?:of|from)"
    r"|(?:clear(?:ed)?|clean|negative)\s+(?:of|for)|no\s+het(?:s|erozygo\w+)?(?:\s+for)?)\s+"
)
_NOTHING = (
    r"\bno\s+(?:(?:hidden|recessive)\s+)+(?:genes?|traits?|alleles?)\b|\bno\s+(?:hidden\s+)?(?:hets|recessives)(?=\s*(?:[.,;:!)]|\Z))"
    r"|\bcarr(?:y|ies)\s+(?:no\s+genes?\b|nothing(?=\s*(?:[.,;:!)]|\Z)))|\bnothing\s+hidden\b|\bgenetically\s+clean\b"
    r"|\bclean\s+(?:genetics|genotype)\b|\bnot\s+het\s+for\s+any(?:thing|\s+gene)\b"
)
"""Says that no gene is hidden, and names none."""
_SELF = r"(?:she|he|it|this\s+(?:one|female|male|girl|boy|snake|animal|young)|(?P<name>(?-i:[A-Z][\w-]+)))"

_Written = tuple[tuple[str, str, Callable[[re.Match[str]], "Statement | None"]], ...]
"""Words that a way of writing needs, its regular expression, and what makes a statement of it."""


class Shorthand:
    """The shorthand of one species; compiled once."""

    def __init__(self, lexicon: Lexicon) -> None:
        """Prepare for the names of a species."""
        self.lexicon = lexicon
        name = lexicon.name
        genes = rf"(?P<genes>{name}(?:(?:\s*(?:,|/|&|\+)\s*(?:and\s+|or\s+)?|\s+(?:and|or)\s+|\s+)(?:the\s+)?{name})*)"
        opening = rf"\A\W*(?:(?:a|an|our|the|this)\s+)?(?:{_ADJECTIVE}){{0,2}}?{genes}{_NOT_LOOK}"
        self._rules = tuple(
            (needs.split("|"), re.compile(pattern, re.IGNORECASE), make)
            for needs, pattern, make in (*self._carried(genes, name), *self._seen(genes, lexicon.supers))
        )
        self._anywhere = re.compile(rf"(?P<genes>{name})", re.IGNORECASE)
        self._opening = re.compile(
            opening + rf"(?=\s*(?:[,.;:!(\u2013—]|\Z|{_KIND}|with\b|at\s+\w+\s+(?:day|week|month|year)))", re.IGNORECASE
        )
        self._called = re.compile(rf"(?P<genes>{name}){_NOT_LOOK}", re.IGNORECASE)
        self._nothing = re.compile(_NOTHING, re.IGNORECASE)
        self._bare = re.compile(rf"(?P<pre>(?<![\w%/.])(?:(?:{NUMBER}|{_DOUBT})[\s,:-]*){{1,3}}){_HET}", re.IGNORECASE)

    def _carried(self, genes: str, name: str) -> _Written:
        """Ways of saying that something is carried, those that say most first."""
        after = rf"(?:\s*\(?(?P<post>{PERCENT})\)?(?!\s*(?:{_DOUBT}[\s,:-]*)?{_HET}))?"
        return (
            ("no|free|clea|negative|without",
             rf"{_LACKS}(?:the\s+)?(?:genes?\s+for\s+)?{genes}{_NOT_LOOK}", partial(self._made, says=Says.LACKS)),
            ("chance|odds|probab|likelihood",
             rf"(?P<num>{NUMBER})\s+(?:chance|chances|odds|probability|likelihood)\s+(?:of|to|that|for)\s+"
             rf"(?:[\w’']+\s+){{0,4}}?(?:carry|carrying|carries|being|be|is|has|having)\s+(?:het\s+)?(?:for\s+)?"
             rf"(?:the\s+)?{genes}", self._chance),
            ("het", rf"(?P<pre>{_BEFORE}){_HET}\s*:?[\s-]*(?:(?:for|in)\s+)?(?:the\s+)?(?:genes?\s+for\s+)?"
             rf"{genes}{after}", self._het),
            ("dh|th", rf"(?P<pre>{_BEFORE})(?:dh|(?-i:TH))(?!\w)\s*:?\s*(?:for\s+)?{genes}", self._het),
            ("ph", rf"(?P<pre>{_BEFORE})(?<!\w)ph(?!\w)\s*:?\s*(?:for\s+)?{genes}", self._possible),
            ("het", rf"(?P<pre>{_BEFORE}){genes}\s+{_HET}(?!\s+(?:for\s+)?{name})", self._het_behind),
            ("cop", rf"\b(?P<pre>(?:{_SURE}\s+to\s+)?)(?:has|have|with|having|carries|carry|carrying)\s+"
             r"(?:at\s+least\s+)?(?P<copies>one|two|a|2|1|double)\s+"
             rf"cop(?:y|ies)\s+of\s+(?:the\s+)?(?:genes?\s+(?:for|of)\s+)?{genes}", self._copies),
            ("carrier", rf"\b(?P<pre>{_BEFORE}){genes}\s+carriers?\b", self._het),
            ("prove|guarant|confirm|certif", rf"\b{_SURE}\s+{_PROVEN_FILL}{genes}",
             partial(self._made, says=Says.CARRIES, proven=True, verbal=True)),
            ("carr|have", rf"\b(?:may|might)\s+(?:carry|have)\s+{genes}(?=\s*[:(]\s*(?:about\s+)?(?P<num>{NUMBER}))",
             self._chance),
            ("carr", rf"\bcarr(?:y|ies|ying|iers?\s+(?:of|for))\s+{_CARRY_FILL}{genes}",
             partial(self._made, says=Says.CARRIES, verbal=True)),
        )  # fmt: skip

    def _seen(self, genes: str, supers: str) -> _Written:
        """Ways of saying that something shows, or is there twice."""
        return (
            ("homo", rf"\b(?:homozygous|homo)(?!\w)\.?\s+(?:for\s+)?(?:the\s+)?{genes}",
             partial(self._made, says=Says.TWO_COPIES)),
            ("super", rf"\bsuper[\s-]+(?P<genes>{supers})", partial(self._made, says=Says.TWO_COPIES)),
            ("visual", rf"\bvisual(?:ly)?\s+(?:for\s+)?{genes}", self._shows),
            ("%|cent|pct|prozent", rf"(?P<num>{PERCENT})\s+{genes}{_PLURAL}", self._chance),
            ("show|display|express", r"\b(?:shows|showing|displays|displaying|expresses|expressing)\s+"
             rf"(?:(?:both|clear|strong|full|the)\s+){{0,2}}{genes}{_NOT_LOOK}", self._shows),
            ("is|'s|’s", rf"\b{_SELF}(?:\s+is|['’]s)\s+"
             r"(?:(?:also|certainly|definitely|clearly|really|truly|simply)\s+)?"
             rf"(?:(?:a|an|our|the|my)\s+(?:{_ADJECTIVE}){{0,2}}?)?{genes}{_NOT_LOOK}{_ENDS}", self._shows),
        )  # fmt: skip

    def read(
        self, plain: str, start: int, end: int, *, names: Collection[int], label: bool, opens: bool
    ) -> Iterator[Statement]:
        """The statements of one sentence, in the order of the text.

        Args:
            plain: The whole text.
            start: Where the sentence begins.
            end: Where it ends.
            names: Where names of animals begin.
            label: It is a name or title, in which a bare gene name is a statement.
            opens: A gene name at its beginning is a statement ("A ghost female with ...").
        """
        sentence = plain[start:end]
        nothing = [*self._nothing.finditer(sentence)]
        if not (nothing or self._anywhere.search(sentence) or self._bare.search(sentence)):
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
        unsure = bool(re.search(_DOUBT, words, re.IGNORECASE)) or " or " in f" {match['genes'].lower()} "
        if says is Says.CARRIES and unsure and chance == 1:
            says = Says.MAY_CARRY
        proven = more.pop("proven", False) or bool(re.search(_SURE, words, re.IGNORECASE))
        lead = len(match[0]) - len(match[0].lstrip(" \t\n,:-"))
        several = len(genes) > 1 or any(len(gene.carried) > 1 for gene in genes)
        return Statement(match.start() + lead, match.end(), says, genes, chance, proven, several=several, **more)

    def _het(self, match: re.Match[str]) -> Statement | None:
        groups = match.groupdict()
        words, post = groups.get("pre") or "", groups.get("post") or ""
        number = last_number(words) or post
        return self._made(match, Says.CARRIES, words, number)

    def _possible(self, match: re.Match[str]) -> Statement | None:
        """``ph``: possible het, with the number before it if there is one."""
        number = last_number(match["pre"])
        return self._made(match, Says.CARRIES if number else Says.MAY_CARRY, match["pre"], number)

    def _het_behind(self, match: re.Match[str]) -> Statement | None:
        return self._het(match) if match["pre"].strip() else None

    def _chance(self, match: re.Match[str]) -> Statement | None:
        return self._made(match, Says.CARRIES, "", match["num"])

    def _copies(self, match: re.Match[str]) -> Statement | None:
        says = Says.TWO_COPIES if match["copies"].lower() in ("two", "2", "double") else Says.CARRIES
        return self._made(match, says, match["pre"], verbal=True)

    def _two_copy_form(self, match: re.Match[str]) -> Statement | None:
        """A mention of a two-copy form by its own name ("super palmetto")."""
        named = self.lexicon.find(match["genes"])
        return self._made(match, Says.TWO_COPIES) if named and named.two_copies else None

    def _shows(self, match: re.Match[str]) -> Statement | None:
        start, end = match.span("genes")
        return Statement(start, end, Says.SHOWS, self._genes(match), several=True)

    def _bare_het(self, match: re.Match[str]) -> Statement | None:
        number = last_number(match["pre"])
        says = Says.CARRIES if number else Says.MAY_CARRY
        return Statement(match.start(), match.end(), says, (), chance_of(number) if number else Fraction(1))
