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
_OF = r"\s+(?:in|out\s+of|von)\s+"
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


# English and German side by side: no German word here is an English one. An umlaut is read without its dots.

_DOUBT = (
    r"(?:poss(?:ibl[ey])?|pos|potential(?:ly)?|probabl[ey]|likely|maybe|perhaps|may\s+be|might\s+be"
    r"|mogl(?:ich\w*)?|vielleicht|eventuell|evtl|vermutlich|wahrscheinlich)\b\.?"
)
_SURE = (
    r"(?:proven|proved|guaranteed|confirmed|certified|for\s+certain|nachgewiesen\w*|bewiesen\w*|garantiert\w*"
    r"|bestatigt\w*|sicher\w{0,2})\b"
)
_TESTED = r"(?:(?:dna[\s-])?(?:tested|getestet))\b:?"
_WORD = r"(?:double|triple|quadruple|quad|dbl|multi|multiple|definite(?:ly)?|certain(?:ly)?|known|genuine|true)\b\.?"
_BEFORE = rf"(?<![\w%/.])(?:(?:{NUMBER}|{_DOUBT}|{_SURE}|{_TESTED}|{_WORD})[\s,:-]*){{0,4}}"
_HET = r"(?<![^\W\d_])(?:het(?:s|erozyg(?:ous|otes?|ot\w*))?|(?:misch|spalt)erbig\w*)(?!\w)\.?"
_COUNTS = {"double": 2, "doppel": 2, "dbl": 2, "dh": 2, "triple": 3, "dreifach": 3, "th": 3, "quad": 4, "quadruple": 4}
_ABOUT = r"(?:about\s+|ca\.?\s+|etwa\s+|fewer\s+than\s+|more\s+than\s+|weniger\s+als\s+|mehr\s+als\s+)?"
_NOT_OF_YOUNG = r"(?!\s+(?:of|von)\s+(?:her|his|its|their|the|seine\w*|ihre\w*)\b)"
_WITH_CHANCE = (
    r",?\s+(?:with|at|mit)\s+(?:an?\s+|einer\s+)?(?:chance|probability|wahrscheinlichkeit)\s+(?:of|von)\s+"
    rf"{_ABOUT}(?P<said>{NUMBER}){_NOT_OF_YOUNG}"
)
"""Doubt enough for any verb: "carries it with a chance of 2/3"."""
_CHANCE_BEHIND = rf"(?=\s*[:(]\s*{_ABOUT}(?P<odds>{NUMBER}){_NOT_OF_YOUNG}|{_WITH_CHANCE})"
"""How likely what was just named as possible is: "(about 67 in 100)", ": 2/3"."""
_END = r"(?=\s*(?:[.,;:!()\u2013—]|\Z|(?:and|or|und|oder)\b))"
_NOT_LOOK = (
    r"(?!\s+(?:projects?|lines?|genes?|clutch\w*|litters?|pairings?|morphs?|yellow|white|gr[ea]y|brown|black|red|orange"
    r"|pink|gold\w*|cream|colou?r\w*|like|(?:under)?tones?|shades?|hues?|influences?|tints?|sheen|wash|blush|traces?"
    r"|signs?|blood|background|looks?|types?|style|patterns?|bands?|marks?|markings|and\s+(?:white|black|gr[ea]y|brown"
    r"|yellow|red|orange)\b))"
)
_KIND = (
    r"(?:female|male|girl|boy|snake|corn|boa|animal|hatchling|adult|morph|weibchen|mannchen|tier|schlange|nachzucht)\b"
)
_LITTLE = (
    r"(?:of|from|to|for|with|in|on|as|like|is|was|are|were|her|his|its|their|and|or|no|not|by|at|than|the"
    r"|er|sie|es|ein|eine|der|die|das|hat|hatte|ist|war|ware|kein|keine|nicht|von|mit|und|oder|ohne|wie|auf|fur|als"
    r"|bei|nach|zu|aus)\b"
)
"""English and German; "ware" is how "wäre" is read here."""
_ADJECTIVE = rf"(?!{_LITTLE})[a-z\d_-]+\s+"
_ENDS = (
    rf"(?=[\s-]*(?:[,.;:!()\u2013—]|\Z|{_KIND}|(?:and|with|who|that|from|but|het|in|by|for|at|of\s+course|und|mit|aber"
    r"|\d+%?)\b))"
)
"""What may follow a look that somebody is said to be; another noun makes it something else ("a ghost story")."""
_CARRY_FILL = (
    rf"(?:(?:hidden|recessive|both|the|a|genes?|for|also|certainly|definitely|out|auch|das|fur|verdeckt|{_DOUBT}"
    rf"|{_SURE})"
    r"\s+){0,6}"
)
_PROVEN_FILL = r"(?:(?:to|carry|be|have|out|for|as|a|an|the|carriers?|of|female|male|trager|von|fur)\s+){0,5}"
_PLURAL = r"(?!\s+(?:young|babies|hatchlings|offspring|eggs|of|in)\b)"
_LACKS = (
    r"\b(?:carr(?:y|ies|ying)\s+no|(?:no|zero|without\s+(?:a|any))\s+cop(?:y|ies)\s+of|free\s+(?:of|from)"
    r"|(?:clear(?:ed)?|clean|negative)\s+(?:of|for)|no\s+het(?:s|erozygo\w+)?(?:\s+for)?"
    r"|trag(?:t|en)\s+keine?n?|keine?\s+(?:kopien?\s+von|het(?:\s+fur)?)|frei\s+von|negativ\s+(?:fur|auf))\s+"
)
_NOTHING = (
    r"\bno\s+(?:(?:hidden|recessive)\s+)+(?:genes?|traits?|alleles?)\b|\bno\s+(?:hidden\s+)?(?:hets"
    r"|recessives)(?=\s*(?:[.,;:!)]|\Z))"
    r"|\bcarr(?:y|ies)\s+(?:no\s+genes?\b|nothing(?=\s*(?:[.,;:!)]|\Z)))|\bnothing\s+hidden\b|\bgenetically\s+clean\b"
    r"|\bclean\s+(?:genetics|genotype)\b|\bnot\s+het\s+for\s+any(?:thing|\s+gene)\b|\bhet\s+(?:for\s+)?nothing\b"
    r"|\b(?:pure|true|genetically|100\s?%)\s+wild[\s-]?type(?=\s*(?:[.,;:!)]|\Z))"
    r"|\bkeine\s+(?:ver(?:steckt|deckt|borgen)e?n?|rezessiven)\s+(?:gene|merkmale|anlagen|hets)\b"
    r"|\bkeine\s+hets(?=\s*(?:[.,;:!)]|\Z))"
    r"|\btragt\s+(?:keine\s+gene|nichts)(?=\s*(?:[.,;:!)]|\Z))|\bgenetisch\s+(?:sauber|rein)\b|\breine?r?\s+wildtyp\b"
)
"""Says that no gene is hidden, and names none."""
_SELF = (
    r"(?:she|he|it|this\s+(?:one|female|male|girl|boy|snake|animal|young)|sie|er|es|dieses\s+tier"
    r"|(?P<name>(?-i:[A-Z][\w-]+)))"
)
_MANY = (
    r"(?:young|babies|hatchlings|offspring|neonates|clutch|litter|jungtiere|babys|nachzuchten|geleges?|wurf(?:e?s)?)"
)
_YOUNG_WILL = (
    rf"\b(?:(?P<all>all|every|each|alle|jedes)|(?P<some>half|some|most|many|die\s+halfte|halfte|einige|{NUMBER}))?"
    rf"(?:\s*(?:of|the|her|his|its|their|these|our|one|der|des|die|dieses|ihrer?s?|seine?r?s?)\b){{0,3}}\s*\b{_MANY}"
    rf"\s+(?:will|werden|wird)\s+(?P<also>all\s+|alle\s+)?(?:(?:be|carry"
    rf"|show)\s+)?(?P<pre>{_BEFORE})(?P<het>{_HET}\s+(?:(?:for|fur)\s+)?)?"
)
"""Half the clutch will be amel; all his babies will be het anery."""

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
        opening = rf"\A\W*{sexed}(?:(?:a|an|our|the|this|eine?)\s+)?(?:{_ADJECTIVE}){{0,2}}?{genes}{_NOT_LOOK}"
        self._rules = tuple(
            (needs.split("|"), re.compile(pattern, re.IGNORECASE), make)
            for needs, pattern, make in (*self._carried(genes, name), *self._seen(genes, lexicon.supers))
        )
        self._anywhere = re.compile(rf"(?P<genes>{name})", re.IGNORECASE)
        self._opening = re.compile(
            opening + rf"(?=[\s-]*(?:[,.;:!(\u2013—]|\Z|{_KIND}|with\b|at\s+\w+\s+(?:day|week|month|year)))",
            re.IGNORECASE,
        )
        self._tagged = re.compile(rf"(?:{lexicon.bare})s?(?!\w)", re.IGNORECASE)
        self._called = re.compile(rf"(?P<genes>{name}){_NOT_LOOK}", re.IGNORECASE)
        self._nothing = re.compile(_NOTHING, re.IGNORECASE)
        self._bare = re.compile(
            rf"(?<![\w%/.])(?=\S+\s*\S*(?:het|{_DOUBT}|erbig))(?P<pre>(?:(?:{NUMBER}"
            rf"|{_DOUBT})[\s,:-]*){{0,3}})(?P<count>(?:{'|'.join(_COUNTS)})\s+)?{_HET}",
            re.IGNORECASE,
        )

    def _carried(self, genes: str, name: str) -> _Written:
        """Ways of saying that something is carried, those that say most first."""
        after = rf"(?:\s*\(?(?P<post>{PERCENT})\)?(?!\s*(?:{_DOUBT}[\s,:-]*)?{_HET})|{_CHANCE_BEHIND})?"
        have = r"(?:has|have|having|hat|haben)"
        two = r"(?P<copies>one|two|a|2|1|double|eine|zwei)"
        verb = r"(?:carr(?:y|ies|ying|iers?\s+(?:of|for))|trag(?:t|en|e)|trager(?:in)?\s+(?:von|fur))"
        certain = r"(?P<sure>\s+(?:for\s+certain|sicher)\b)"
        return (
            ("no|free|clea|negative|without|kein|frei|negativ",
             rf"{_LACKS}(?:the\s+)?(?:genes?\s+for\s+)?{genes}{_NOT_LOOK}", partial(self._made, says=Says.LACKS)),
            ("have", rf"\b(?:does\s+not|doesn['’]t)\s+have\s+{genes}{_END}", partial(self._made, says=Says.LACKS)),
            ("nicht", rf"\bhat\s+{genes}\s+nicht{_END}", partial(self._made, says=Says.LACKS)),
            ("will|wird|werden", rf"{_YOUNG_WILL}{genes}{_NOT_LOOK}", self._young_will),
            ("will", r"\bwill\s+(?:\w+ly\s+)?(?:throw|produce|make|give|sire|pass\s+on)\s+"
             rf"(?:(?!{_LITTLE})[a-z]+\s+)?{genes}{_END}", partial(self._made, says=Says.CARRIES, verbal=True,
             of_young=True)),
            ("chance|odds|probab|likelihood",
             rf"(?P<num>{NUMBER})\s+(?:chance|chances|odds|probability|likelihood)\s+(?:of|to|that|for)\s+"
             rf"(?:[\w’']+\s+){{0,4}}?(?:carry|carrying|carries|being|be|is|has|having)\s+(?:het\s+)?(?:for\s+)?"
             rf"(?:the\s+)?{genes}", self._chance),
            (" in | von ", rf"(?P<num>{NUMBER})\s+(?:such\s+|solche[rn]?\s+)?[\w-]+\s+(?:like\s+this\s+one"
             rf"|like\s+(?:her|him|it)|wie\s+"
             rf"diese[ms]?)\b.{{0,60}}?\b(?:carry|have|tragen|haben)\s+{genes}", self._chance),
            ("het|erbig", rf"(?P<pre>{_BEFORE}){_HET}\s*:?[\s-]*(?:(?:for|in|fur"
             rf"|auf)\s+)?(?:the\s+)?(?:genes?\s+for\s+)?"
             rf"{genes}{after}", self._het),
            ("dh|th", rf"(?P<pre>{_BEFORE})(?:dh|(?-i:TH))(?!\w)\s*:?\s*(?:for\s+)?{genes}", self._het),
            ("ph", rf"(?P<pre>{_BEFORE})(?<!\w)ph(?!\w)\s*:?\s*(?:for\s+)?{genes}", self._possible),
            ("h.", rf"(?<![\w.])(?<!\d\s)h\.\s*{genes}", self._het),
            ("aa", rf"\b(?P<copies>(?-i:aa|Aa))\s+(?:for|fur)\s+{genes}", self._copies),
            ("het", rf"(?P<pre>{_BEFORE}){genes}\s+{_HET}(?:\s*\(?(?P<post>{PERCENT})\)?)?(?!\s+(?:(?:for"
             rf"|fur)\s+)?{name})", self._het_behind),
            ("het", rf"(?<!\w)#?(?P<pre>\d{{2,3}}%?"
             rf"|poss(?:ible)?)?het(?P<genes>(?:{self.lexicon.bare})+)s?(?!\w)", self._tag),
            ("cop|kopie", rf"\b(?P<pre>(?:{_SURE}\s+to\s+)?)(?:{have}|with|carries|carry|carrying|tragt"
             rf"|mit)\s+(?:at\s+least\s+|"
             rf"mindestens\s+|(?P<by>sicher\s+))?{two}\s+"
             rf"(?:cop(?:y|ies)\s+of|kopien?\s+von)\s+(?:the\s+)?(?:genes?\s+(?:for"
             rf"|of)\s+)?{genes}{certain}?", self._copies),
            ("cop|kopie", rf"\b(?P<pre>(?:{_SURE}\s+to\s+)?)(?:shows?|zeig(?:t|en)|carr(?:y|ies)|tragt"
             rf"|{have})\s+{genes}"
             rf"{certain}?\s*[:;,(]\s*(?:with\s+|mit\s+|{_ABOUT}(?P<num>{NUMBER})\s+(?:[\w-]+\s+){{1,2}}(?:have"
             rf"|haben)\s+)?"
             r"(?P<copies>two|zwei|2)\s+(?:copies|kopien)(?!\s*:)", self._copies),
            ("may|might|vielleicht|jung|young", r"\b(?:(?:may|might)\s+(?:yet\s+)?show|zeigt\s+(?:spater\s+)?vielleicht"
             r"|too\s+young\s+to\s+judge\s+for"
             rf"|zu\s+jung,\s+um)\s+{genes}(?=[^.;:()]{{0,40}}[:(]\s*{_ABOUT}(?P<num>{NUMBER}))", self._may_show),
            ("two cop|zwei kop", rf"\b(?:shows?|zeigt)\s+{genes}\s*\(\s*(?P<copies>two|zwei)\s+(?:copies"
             rf"|kopien)\s*:\s*{_ABOUT}"
             rf"(?P<num>{NUMBER})", self._copies),
            ("carrier|trager", rf"\b(?P<pre>{_BEFORE}){genes}(?:\s+|-)(?:carriers?|trager(?:in)?)\b", self._het),
            ("prove|guarant|confirm|certif|bewiesen|nachgewiesen|garantiert"
             "|bestatigt", rf"\b{_SURE}\s+{_PROVEN_FILL}{genes}",
             partial(self._made, says=Says.CARRIES, proven=True, verbal=True)),
            ("may|might|hat|trag", rf"\b(?P<pre>(?:may|might)\s+(?:have|carry)|(?:hat|haben"
             rf"|tragt)\s+{_DOUBT})\s+{genes}(?:{_CHANCE_BEHIND}|{_END})",
             self._verb),
            ("certain|sicher", rf"\b{have}\s+{genes}{certain}", self._verb),
            ("tested|getestet", rf"\b(?P<by>{_TESTED})\s+{have}\s+{genes}", self._verb),
            ("carr|trag", rf"\b(?P<by>{_TESTED}\s+)?{verb}\s+(?P<pre>{_CARRY_FILL}){genes}(?:{certain}"
             rf"|(?P<tail>\s+{_DOUBT})|{_WITH_CHANCE})?", self._verb),
            ("trag", rf"{genes}\s+(?P<pre>(?:(?:{_DOUBT}|{_SURE}|auch)\s+){{0,2}})trag(?:t|en)\b", self._verb),
        )  # fmt: skip

    def _seen(self, genes: str, supers: str) -> _Written:
        """Ways of saying that something shows, or is there twice."""
        return (
            ("homo|reinerbig", rf"(?P<pre>(?:\b{_DOUBT}\s+)?)\b(?:homo(?:zygous|zygot\w*)?|reinerbig\w*)(?!\w)\.?\s+"
             rf"(?:(?:for|fur)\s+)?(?:the\s+)?{genes}{_CHANCE_BEHIND}?", self._homozygous),
            ("super", rf"\bsuper[\s-]+(?P<genes>{supers})", partial(self._made, says=Says.TWO_COPIES)),
            ("visual", rf"\bvisual(?:ly)?\s+(?:for\s+)?{genes}", self._shows),
            ("%|cent|pct|prozent", rf"(?P<num>{PERCENT})\s+{genes}{_PLURAL}", self._chance),
            ("show|display|express|zeig", r"\b(?:shows|showing|displays|displaying|expresses|expressing|zeig(?:t"
             r"|en))\s+"
             rf"(?:(?:both|clear|strong|full|the|sicher|deutlich)\s+){{0,2}}{genes}{_NOT_LOOK}", self._shows),
            ("is|'s|’s", rf"\b{_SELF}(?:\s+is|\s+ist|['’]s)\s+"
             r"(?:(?:also|certainly|definitely|clearly|really|truly|simply|auch|sicher)\s+)?"
             rf"(?:(?:a|an|our|the|my|eine?)\s+(?:{_ADJECTIVE}){{0,2}}?)?{genes}{_NOT_LOOK}{_ENDS}", self._shows),
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
        unsure = bool(re.search(_DOUBT, words, re.IGNORECASE)) or bool(
            re.search(r" (?:or|oder) ", match["genes"], re.IGNORECASE)
        )
        if says is Says.CARRIES and unsure and chance == 1:
            says = Says.MAY_CARRY
        proven = more.pop("proven", False) or bool(re.search(rf"{_SURE}|{_TESTED}", words, re.IGNORECASE))
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
        if re.search(_DOUBT, match["pre"], re.IGNORECASE) or chance_of(last_number(match["pre"])) < 1:
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
        ends = re.match(rf"(?:{_END}|\s+{_KIND})", match.string[match.end() :], re.IGNORECASE)
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
        number, count = last_number(match["pre"]), _COUNTS.get((match["count"] or "").strip().lower(), 1)
        says = Says.CARRIES if number or (count > 1 and not match["pre"]) else Says.MAY_CARRY
        return Statement(
            match.start(), match.end(), says, (), chance_of(number) if number else Fraction(1), count=count
        )


def _behind(match: re.Match[str]) -> str:
    """The number behind what a match names, or nothing."""
    groups = match.groupdict()
    return groups.get("post") or groups.get("odds") or groups.get("said") or ""
