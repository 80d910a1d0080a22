"""Reads a label in the trade's shorthand to its last word: what it says, or which of its words say nothing.

The audit of free text (``wording.audit.shorthand``) looks for statements in prose and passes over the rest. A row of
a sheet becomes a record, so here every word must be accounted for; the names are those of the same lexicon.

The shorthand itself is common practice, no source.
"""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from fractions import Fraction

from sitegen.content.species import Species
from sitegen.content.values import PartialDate, parse_date
from sitegen.exact import meant_chance, parse_carried
from sitegen.findings import nearest
from sitegen.genetics.loci import WILD, Inheritance, Locus, Sex, look_id
from sitegen.keeper.cells import Unread, with_century
from sitegen.words.audit.lexicon import Named, lexicon_of

MAX_LABEL = 400
"""Signs of the longest label that is read."""


@dataclass(frozen=True, slots=True)
class Carried:
    """A gene that a label says is carried unseen, or, with ``copies`` 2, that is seen and had twice.

    ``chance`` is None for "possible het" without a number. ``written`` is how the label says it.
    """

    locus: str
    allele: str
    chance: Fraction | None
    written: str
    copies: int = 1


@dataclass(slots=True)
class Label:
    """What a label says.

    Attributes:
        shows: The looks as a record names them.
        looks: (locus, look) of each of them.
        judged: It names a look, or says that none is seen.
        normal: It says that none is seen.
        carried: What it says is carried.
        sexes: Each sex it states.
        born: Each year or day of birth it states.
    """

    shows: list[str] = field(default_factory=list)
    looks: list[tuple[str, str]] = field(default_factory=list)
    judged: bool = False
    normal: bool = False
    carried: list[Carried] = field(default_factory=list)
    sexes: list[Sex] = field(default_factory=list)
    born: list[PartialDate] = field(default_factory=list)
    faults: list[Unread] = field(default_factory=list)


_NUMBER = r"(?:\d{1,3}(?:\.\d{1,4})?\s?%|\d{1,3}\s?/\s?\d{1,4})(?![\w%])"
_DOUBT = r"(?:poss?(?:ibl[ey])?|potential(?:ly)?|maybe)\b\.?"
_MANY = {"double": 2, "dbl": 2, "dh": 2, "triple": 3, "th": 3, "quad": 4, "quadruple": 4}
_HET = re.compile(
    rf"(?<![\w%/.])(?:(?P<chance>{_NUMBER})[\s-]*)?(?:(?P<doubt>{_DOUBT})[\s-]*)?(?P<sure>(?:proven|definite)\s+)?"
    r"(?:(?:(?P<many>double|dbl|triple|quad|quadruple)[\s-]*)?het(?:s|ero|erozygous)?(?!\w)\.?|(?P<short>dh|th|ph)(?!\w))"
    r"\s*(?::|-|for\b)?",
    re.IGNORECASE,
)
_CHANCE = re.compile(rf"(?<![\w%/.])(?P<chance>{_NUMBER})[ \t-]*(?=\w)", re.IGNORECASE)
_BEHIND = re.compile(rf"\(\s*(?P<chance>{_NUMBER})\s*(?:het)?\s*\)", re.IGNORECASE)
_COUNT = re.compile(r"(?<![\w.])(\d{1,3})\.(\d{1,3})(?:\.(\d{1,3}))?(?![\w.%])")
_BORN = re.compile(
    r"(?<!\w)(?:c\.?b\.?b?\.?|ch|captive[\s-](?:bred|hatched)|hatched|born)[\s'’-]*"
    r"(?P<day>\d{4}-\d{1,2}(?:-\d{1,2})?|\d{4}|\d{2})(?![\w%/-])",
    re.IGNORECASE,
)
_SEX = re.compile(r"(?<!\w)(?:(?P<female>female|\u2640)|(?P<male>male|\u2642))(?!\w)", re.IGNORECASE)
_NORMAL = re.compile(r"(?<!\w)(?:normal|wild[\s-]?type|classic|none|nothing)(?!\w)", re.IGNORECASE)
_NO_HETS = re.compile(r"(?<!\w)no\s+(?:known\s+)?hets?(?!\w)", re.IGNORECASE)
_TWO = re.compile(r"(?<!\w)(?P<how>super|homo(?:zygous)?|visual(?:ly)?)(?!\w)\.?\s*(?:for\b)?", re.IGNORECASE)
_BETWEEN = re.compile(rf"(?:[\s,;|&+)\[\]/]|\((?!\s*{_NUMBER}\s*(?:het)?\s*\)))+|and(?!\w)", re.IGNORECASE)
_WORD = re.compile(r"[^\s,;|&+()\[\]]+")
_PLAIN_WORDS = ("het", "possible", "normal", "super", "male", "female", "homozygous", "visual")
_UNCERTAIN = frozenset({"or", "x", "?", "not", "no", "maybe"})


class LabelReader:
    """Reads the labels of one species."""

    def __init__(self, species: Species, words: Mapping[str, str]) -> None:
        """Prepare for the names of a species.

        Args:
            species: Its genes are understood.
            words: The keeper's own words, to what they stand for.
        """
        self.species = species
        self.lexicon = lexicon_of(species)
        self.loci: dict[str, Locus] = {locus.id: locus for locus in species.genome.loci}
        self._name = re.compile(self.lexicon.name, re.IGNORECASE)
        self._meant = {key.casefold(): value for key, value in words.items() if key.strip()}
        longest = sorted(self._meant, key=lambda word: (-len(word), word))
        self._own = re.compile(rf"(?<!\w)(?:{'|'.join(map(re.escape, longest)) or '(?!x)x'})(?!\w)", re.IGNORECASE)

    def read(self, text: str, *, hets: bool = False) -> Label:
        """What a label says.

        ``hets``: it stands under a heading that says that all in it is carried unseen.
        """
        if len(text) > MAX_LABEL:
            return Label(faults=[Unread(f"a label of {len(text)} signs is not read", remedy="write notes under notes")])
        text = text.translate(dict.fromkeys(map(ord, "\u201c\u201d\u201e"), " ")).replace("\u2019", "'")
        text = self._own.sub(lambda match: self._meant[match[0].casefold()], text)
        run = _Run(self, " ".join(text.split()), hets)
        run.read()
        return run.label

    def near(self, word: str) -> str:
        """The name of a gene, or the word, that is meant by one that is none; empty where that is not plain."""
        return (nearest(word, self.lexicon.meanings) or nearest(word, _PLAIN_WORDS)).replace("-", " ")


class _Run:
    """One reading of one label, from left to right.

    ``carrying`` is the chance, and the words that say it, at which the genes that follow are carried; None where they
    are seen. ``base`` is what holds before the first word. ``once`` is a word such as super that belongs to the next
    gene alone. Since the last het (``since``), ``named`` genes were read, and double het makes ``expected`` two.
    ``lost`` are words in a row that were not understood.
    """

    def __init__(self, reader: LabelReader, text: str, hets: bool) -> None:
        self.reader, self.text, self.label = reader, text, Label()
        self.carrying: tuple[Fraction | None, str] | None = (Fraction(1), "het") if hets else None
        self.base = self.carrying
        self.once = ""
        self.expected = 0
        self.named = 0
        self.since = 0
        self.lost: list[str] = []

    def read(self) -> None:
        at = 0
        while at < len(self.text):
            at = self._step(at)
        self._tell_lost()
        self._end_group()
        if self.label.normal and self.label.looks:
            self._fault(f"normal and {self.label.shows[0]} cannot both be", remedy="say what is seen, or normal")
        seen: dict[tuple[str, str], Carried] = {}
        for carried in self.label.carried:
            other = seen.setdefault((carried.locus, carried.allele), carried)
            if (other.chance, other.copies) != (carried.chance, carried.copies):
                self._fault(f"it says two things of {carried.allele}: {other.written}, and {carried.written}")
        self.label.carried = list(seen.values())

    def _step(self, at: int) -> int:
        """Understand what stands at a place; where the next thing begins."""
        # the order matters: the name of a gene may hold a word that means something by itself
        takers = (
            (self.reader._name, self._gene), (_HET, self._het), (_BEHIND, self._behind), (_NO_HETS, self._nothing),
            (_COUNT, self._count), (_BORN, self._born), (_SEX, self._sex), (_NORMAL, self._normal), (_TWO, self._two),
            (_CHANCE, self._chance), (_BETWEEN, self._nothing),
        )  # fmt: skip
        for pattern, take in takers:
            match = pattern.match(self.text, at)
            if match and match.end() > at:
                if pattern is not _BETWEEN:
                    self._tell_lost()
                take(match)
                return match.end()
        word = _WORD.match(self.text, at)
        end = word.end() if word else at + 1
        self.lost.append(self.text[at:end])
        return end

    def _fault(self, message: str, nearest: str = "", remedy: str = "", *, unknown: bool = False) -> None:
        self.label.faults.append(Unread(message, nearest=nearest, remedy=remedy, unknown=unknown))

    def _tell_lost(self) -> None:
        """Words in a row that are not understood are told together, with the genes nearest to them."""
        if not self.lost:
            return
        words, self.lost = " ".join(self.lost), []
        self.named, self.expected, self.once = self.named + 1, 0, ""
        near = self.reader.near(words)
        meant = f'write "{near}" in the sheet, or say' if near else "say"
        other = "" if near else ", or describe the gene in the species file"
        remedy = f"{meant} under words in a columns file what it stands for{other}"
        if words.lower() in _UNCERTAIN:
            remedy = "write what is certain, with a percentage and het where it is not"
        message = f'"{words}" is not understood: {self.reader.species.name} has no gene of that name'
        self._fault(message, near, remedy, unknown=True)

    def _nothing(self, match: re.Match[str]) -> None:
        """Something that adds nothing."""

    def _end_group(self) -> None:
        """A word such as het must be followed by genes; double het by two."""
        if self.since and not self.named:
            self._fault("no gene stands after het", remedy="name the gene")
        elif self.expected and self.named != self.expected:
            self._fault(f"{self.expected} genes were announced, and {self.named} follow", remedy="name each gene")
        if self.once:
            self._fault(f"no gene stands after {self.once}", remedy="name the gene")
        self.expected = self.named = self.since = 0
        self.once = ""

    def _het(self, match: re.Match[str]) -> None:
        self._end_group()
        word = (match["many"] or match["short"] or "").lower()
        doubt = bool(match["doubt"]) or word == "ph"
        chance = self._number(match["chance"]) if match["chance"] else None if doubt else Fraction(1)
        self.carrying = (chance, match[0].strip(" :-"))
        self.expected, self.since = _MANY.get(word, 0), 1

    def _number(self, text: str) -> Fraction | None:
        chance = parse_carried(re.sub(r"\s", "", text))
        if chance is None:
            near = meant_chance(text)
            self._fault(f'"{text}" is no chance', near, "write a percentage up to 100%, or a fraction below 1")
            return Fraction(1)
        return chance

    def _chance(self, match: re.Match[str]) -> None:
        """A number without het is read only where all that follows is carried."""
        if self.base is None:
            message = f'"{match["chance"]}" stands without het, so it is not said what it is the chance of'
            self._fault(message, remedy=f'write "{match["chance"]} het" before the gene')
            return
        self._end_group()
        self.carrying, self.since = (self._number(match["chance"]), f"{match['chance']} het"), 1

    def _behind(self, match: re.Match[str]) -> None:
        """A number in brackets belongs to the gene before it."""
        if not self.label.carried or self.carrying is None or self.carrying[0] != 1:
            self._fault(f'"{match[0]}" follows no gene that is carried', remedy="write 66% het before the gene")
            return
        last = self.label.carried.pop()
        chance = self._number(match["chance"])
        self.label.carried.append(Carried(last.locus, last.allele, chance, f"{match['chance']} het {last.allele}"))

    def _count(self, match: re.Match[str]) -> None:
        """Males.females.unknown, as in 0.1."""
        counts = [int(number or 0) for number in match.groups()]
        if sum(counts) != 1:
            self._fault(f'"{match[0]}" stands for {sum(counts)} animals', remedy="write one row for each animal")
            return
        self.label.sexes.append((Sex.MALE, Sex.FEMALE, Sex.UNKNOWN)[counts.index(1)])

    def _born(self, match: re.Match[str]) -> None:
        born = parse_date(with_century(match["day"]))
        if born is None or not 1950 <= born.year <= 2199:
            self._fault(f'"{match[0]}" names no day of birth', remedy="write CB21, CB 2021 or 2021-07-14")
        else:
            self.label.born.append(born)

    def _sex(self, match: re.Match[str]) -> None:
        self.label.sexes.append(Sex.FEMALE if match["female"] else Sex.MALE)

    def _normal(self, match: re.Match[str]) -> None:
        if self.carrying is not None and match[0].lower() in ("none", "nothing"):
            return
        self._end_group()
        self.carrying = self.base
        self.label.normal = self.label.judged = True

    def _two(self, match: re.Match[str]) -> None:
        self._end_group()
        self.carrying, self.once = None, match["how"].lower()

    def _gene(self, match: re.Match[str]) -> None:
        named = self.reader.lexicon.find(match[0])
        if named is None:
            self.lost.append(match[0])
        elif self.carrying is not None:
            self._carried(match[0], named)
        elif self.once in ("", "visual", "visually"):
            self._shown(match[0], named.shown)
        else:
            self._twice(match[0], named)
        self.once = ""

    def _shown(self, word: str, shown: tuple[tuple[str, str], ...]) -> None:
        if not shown:
            self._fault(f'"{word}" is a gene and no look', remedy="name what is seen")
            return
        self.label.judged = True
        name = self._combination(word) if len(shown) > 1 else shown[0][1]
        if name not in self.label.shows:
            self.label.shows.append(name)
        self.label.looks += [part for part in shown if part not in self.label.looks]

    def _combination(self, word: str) -> str:
        """The name of a combination as a record writes it, also from its plural."""
        spelling, known = look_id(word), self.reader.lexicon.meanings
        return next((form for form in (spelling, spelling[:-1], spelling[:-2]) if form in known), spelling)

    def _carried(self, word: str, named: Named) -> None:
        assert self.carrying is not None
        chance, lead = self.carrying
        self.named += max(1, len(named.carried))
        if not named.carried:
            self._fault(f'what an animal that is het for "{word}" carries is not said', remedy="name the gene")
        for locus_id, allele in named.carried:
            locus = self.reader.loci[locus_id]
            if locus.genotype(WILD, allele) in locus.shown:
                message = f'"{word}" shows with one copy, so "het" does not say whether it is seen'
                self._fault(message, remedy="name it before het when it is seen")
            else:
                self.label.carried.append(Carried(locus_id, allele, chance, f"{lead} {word}"))

    def _twice(self, word: str, named: Named) -> None:
        """Super, homo: two copies. A recessive shows then; so does a form with a name of its own."""
        for locus_id, allele in named.carried:
            locus = self.reader.loci[locus_id]
            look = locus.shown.get((allele, allele), "")
            recessive = locus.allele(allele).inheritance is Inheritance.RECESSIVE
            if not look or (recessive and self.once == "super"):
                self._fault(f'"{self.once} {word}" is not a look', remedy="name what is seen")
                continue
            self._shown(look, ((locus_id, look),))
            if locus.shown.get(locus.genotype(WILD, allele)) == look:
                self.label.carried.append(Carried(locus_id, allele, Fraction(1), f"{self.once} {word}", copies=2))
        if not named.carried:
            self._fault(f'which gene "{self.once} {word}" has twice is not said', remedy="name the gene")


def merged(labels: Iterable[Label]) -> Label:
    """Several labels of one row as one; what they say twice is checked by the reader of the row."""
    whole = Label()
    for label in labels:
        whole.shows += [name for name in label.shows if name not in whole.shows]
        whole.looks += [look for look in label.looks if look not in whole.looks]
        whole.judged |= label.judged
        whole.normal |= label.normal
        whole.carried += [carried for carried in label.carried if carried not in whole.carried]
        whole.sexes += label.sexes
        whole.born += label.born
        whole.faults += label.faults
    return whole
