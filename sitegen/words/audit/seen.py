"""What a reader sees of a text, and its sentences.

Marks are resolved, what cannot be seen is taken out, and look-alike letters are read as Latin ones.

::

    text -> Markdown as the page prints it -> each sign as it looks -> words whose letters only look Latin

Each sign keeps where it stands in the text, so that a finding can point there. What is said is not touched: numbers in
words and short forms are the business of :mod:`sitegen.words.audit.shorthand`.

Struck words (``~~het amel~~``) are left out. The page prints them as withdrawn (``<s>``), as an honest breeder corrects
a text, so they claim nothing; neither do they soften anything (``100% ~~not~~ het`` says 100%). A stroke that is drawn
through letters with combining marks is decoration, and read.

Look-alikes after Unicode Technical Standard 39 (Unicode Security Mechanisms, confusables.txt), a selection: letters of
living scripts and of fancy fonts; compatibility forms and combining marks after UAX 15 (NFKD).
"""

import re
import unicodedata
from bisect import bisect_left
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise, zip_longest

from markdown_it.helpers import parseLinkDestination, parseLinkTitle
from markdown_it.token import Token

from sitegen.content.texts import Markdown

Sign = tuple[str, int, int]
"""A sign that is seen, and begin and end of what is written for it."""


@dataclass(frozen=True, slots=True)
class Seen:
    """A text as it is seen; a blank line stands between headings, paragraphs, items and rows of a table.

    Attributes:
        spans: For each sign, begin and end in the text as written.
        links: Begin and end of each link's words in ``text``, and its address.
    """

    text: str
    spans: tuple[tuple[int, int], ...]
    links: tuple[tuple[int, int, str], ...] = ()

    def written(self, start: int, end: int) -> tuple[int, int]:
        """Where ``text[start:end]`` begins and ends in the text as written."""
        return self.spans[start][0], self.spans[end - 1][1]


_READER = Markdown().disable("text_join")  # so that escapes and entities stay apart, each with what was written for it
_BREAK = "\n\n"
AS_WRITTEN = re.compile(r"\A(?![ \d+-])[A-HJ-Za-z2-9 ,.;:!?()'\"%/\u2018-\u201d+-]*\Z")
"""A text of one line that looks as it is written: most do, and Markdown takes its time."""


def seen(text: str, *, struck: bool = False) -> Seen:
    """The text as a reader sees it; ``struck`` keeps struck words, for a text that no page prints as Markdown."""
    if AS_WRITTEN.match(text) and not _SPACED.search(text):
        return Seen(text, tuple((at, at + 1) for at in range(len(text))))
    page = _Page(text.replace("\r", "\n"), struck)
    looks: list[str] = []
    spans: list[tuple[int, int]] = []
    moved: list[int] = []
    before = ""
    for sign, start, end in page.signs:
        moved.append(len(looks))
        look = _looks(sign, before)
        looks += look
        spans += [(start, end)] * len(look)
        before = sign
    moved.append(len(looks))
    links = tuple((moved[start], moved[end], address) for start, end, address in page.links)
    return _closed(Seen(_latin("".join(looks)), tuple(spans), links))


_SPACED = re.compile(r"(?<![\w'’.])[^\W\d_](?P<gap>[ .·-])[^\W\d_](?:(?P=gap)[^\W\d_])+(?![\w'’])")
"""A word whose letters stand apart: "h e t"."""


def _closed(text: Seen) -> Seen:
    """The text with words closed up whose letters stand apart."""
    gaps = {at for word in _SPACED.finditer(text.text) for at in range(word.start() + 1, word.end(), 2)}
    if not gaps:
        return text
    kept = [at for at in range(len(text.text)) if at not in gaps]
    links = tuple((bisect_left(kept, start), bisect_left(kept, end), address) for start, end, address in text.links)
    return Seen("".join(text.text[at] for at in kept), tuple(text.spans[at] for at in kept), links)


def folded(words: str) -> str:
    """A name of a gene or an animal as :func:`seen` would make it, to be looked for there."""
    return _latin("".join(_looks(sign, before) for before, sign in pairwise(("", *words))))


class _Page:
    """Walks the tokens of a text in the order of the page."""

    def __init__(self, text: str, struck: bool) -> None:
        self.signs: list[Sign] = []
        self.links: list[tuple[int, int, str]] = []
        self._text = text
        self._keeps_struck = struck
        self._lines = [0, *(match.end() for match in re.finditer("\n", text)), len(text)]
        self._titles: list[tuple[str, int, int]] = []
        cell_from = 0
        tokens = _READER.parse(text)
        for token, after in zip_longest(tokens, tokens[1:]):
            if token.type == "tr_open":
                cell_from = 0
            if token.type in ("fence", "code_block") and token.map:
                first = token.map[0] + (token.type == "fence")
                self._add(token.content, self._written(token.content, first, 0))
            elif token.type == "inline" and token.map:
                at = self._written(token.content, token.map[0], cell_from)
                self._inline(token, at)
                cell_from = at[-1]
            else:
                if token.type == "tr_close":
                    self._gap(_BREAK)
                continue
            self._gap(" " if after and after.type in ("th_close", "td_close") else _BREAK)
        for title, start, end in self._titles:  # shown when the mouse rests on a link
            self.signs += [(sign, start, end) for sign in title]
            self._gap(_BREAK)

    def _gap(self, blank: str) -> None:
        if self.signs:
            _, start, end = self.signs[-1]
            self.signs += [(sign, start, end) for sign in blank]

    def _add(self, words: str, at: Sequence[int]) -> None:
        self.signs += [(sign, place, place + 1) for sign, place in zip(words, at, strict=False)]

    def _written(self, content: str, line: int, start: int) -> list[int]:
        """Where each sign of a block's content, which begins on that line, is written; one place more for its end."""
        at: list[int] = []
        last = len(self._lines) - 2
        for words in content.split("\n"):
            begin, end = max(self._lines[min(line, last)], start), self._lines[min(line, last) + 1]
            found = self._text.find(words, begin, end)
            for offset, sign in enumerate(words):  # sign by sign where a table writes "\|" for "|"
                place = found + offset if found >= 0 else self._text.find(sign, begin, end)
                at.append(begin := max(place, min(begin, len(self._text) - 1)))
                begin += 1
            at.append(min(at[-1] + 1 if words else begin, max(len(self._text) - 1, 0)))
            line += 1
        return at

    def _inline(self, block: Token, at: list[int]) -> None:
        """The words of one paragraph, heading or cell; ``at`` of each sign of its content."""
        content, cursor, struck = block.content, 0, 0
        opened: list[tuple[int, Token]] = []
        for token in block.children or ():
            mark, words = token.markup, token.content
            before = len(self.signs)
            match token.type:
                case "text":
                    found = max(content.find(words, cursor), cursor)
                    self._add(words, at[found : found + len(words)] or [at[-1]])
                    cursor = found + len(words)
                case "text_special":
                    found = max(content.find(mark, cursor), cursor)
                    cursor = found + len(mark)
                    self.signs += [(sign, at[found], at[cursor - 1] + 1) for sign in words]
                case "code_inline":
                    found = max(content.find(mark, cursor), cursor) + len(mark)
                    found += not content[found : found + len(words)].replace("\n", " ").startswith(words)
                    self._add(words, at[found : found + len(words)])
                    cursor = content.find(mark, found + len(words)) + len(mark)
                case "softbreak" | "hardbreak":
                    cursor = max(content.find("\n", cursor), cursor)
                    self._add("\n", at[cursor : cursor + 1])
                    cursor += 1
                case "link_open":
                    cursor = content.find("<" if mark == "autolink" else "[", cursor) + 1
                    opened.append((before, token))
                case "link_close":
                    cursor = _after_link(content, cursor)
                    start, link = opened.pop()
                    self.links.append((start, len(self.signs), str(link.attrGet("href") or "")))
                    if title := link.attrGet("title"):
                        self._titles.append((str(title), at[0], at[min(cursor, len(at)) - 1] + 1))
                case _:
                    struck += {"s_open": 1, "s_close": -1}.get(token.type, 0)
                    cursor = max(content.find(mark, cursor), cursor) + len(mark)
            if struck and not self._keeps_struck:
                del self.signs[before:]


def _after_link(content: str, cursor: int) -> int:
    """Where the words go on behind a link's own."""
    closing = re.compile(r"[>\]]").search(content, cursor)
    if closing is None or closing[0] == ">":
        return closing.end() if closing else cursor
    cursor = closing.end()
    if content[cursor : cursor + 1] == "(":
        target = parseLinkDestination(content, _nonblank(content, cursor + 1), len(content))
        end = _nonblank(content, target.pos if target.ok else cursor + 1)
        title = parseLinkTitle(content, end, len(content))
        end = _nonblank(content, title.pos if title.ok else end)
        if content[end : end + 1] == ")":
            return end + 1
    reference = re.compile(r"\[[^\]]*\]").match(content, cursor)
    return reference.end() if reference else cursor


def _nonblank(content: str, at: int) -> int:
    while at < len(content) and content[at].isspace():
        at += 1
    return at


# --- signs

_LATIN = (
    "aɑᴀ bʙƀɓ cᴄ dᴅđɗ eᴇɛꬲ℮ɇǝ fꜰƒꬵ gɡɢǥ hʜħɦ iıɪɩɨ jᴊȷɉ kᴋƙ lʟłǀɫƖƚɭ mᴍɱ nɴɲƞŋ oᴏøɵᴑ pᴘƥ qꞯɋ rʀɾɼɍ sꜱʂƽ tᴛŧƭʈ uᴜʉ"
    " vᴠʋ wᴡɯ xᶍ yʏɣƴɏ zᴢƶȥ BɃ DĐ HĦ LŁȽ OØƟ TŦ RƦ UɄ"
)
"""Latin letters that look like a plain one, after it."""
_FOREIGN = (
    "AΑАᎪꓮ BΒВᏴꓐ CϹСⲤᏟꓚ DᎠꓓ EΕЕᎬꓰ FϜꓝ GԌᏀꓖ HΗНⲎᎻꓧ IΙІӀⲒꓲ JЈᎫꓙ KΚКⲔᏦꓗ LᏞⳐꓡ MΜМⲘᎷꓟ NΝⲚꓠ OΟОⲞՕꓳ PΡРⲢᏢꓑ"
    " RᎡᏒꓣ SЅՏᏕᏚꓢ TΤТⲦᎢꓔ UՍꓴ VѴᏙꓦ WԜᎳᏔꓪ XΧХⲬꓫ YΥУҮⲨᎩꓬ ZΖᏃꓜ"
    " aаα bЬᏏ cсϲⲥ dԁꓒ eеҽ fք gց hһհᏂ iіιᎥ jјϳ lӏ nոռ oοоσօⲟ pрρⲣ qԛգ sѕ uυս vνѵ wԝѡա xхχ yуγү"
)
"""Letters of other scripts that look like a Latin one, after it."""
_NEARLY = "bв hн kкκ mм nη rг tтτ wωш"
"""The same, less alike: read so only beside Latin letters, for "нет" is a Russian word."""
_SIGNS = {"´": "'", "ʼ": "'", "ʹ": "'", "′": "'", "‛": "'", "`": "'", "−": "-", "‐": "-", "﹘": "-", "⁃": "-",
          "⁄": "/", "∕": "/", "⧸": "/", "╱": "/", "÷": "/", "٪": "%", "⁒": "%", "™": " ", "℠": " ", "\u2800": " ",
          "\u2028": "\n", "\u2029": "\n", "\x85": "\n", "_": " "}  # fmt: skip
_UNSEEN = re.compile(
    "[\u034f\u115f\u1160\u17b4\u17b5\u180b-\u180f\u200b-\u200f\u202a-\u202e\u2060-\u206f\u3164\ufe00-\ufe0f\ufeff\uffa0"
    "\ufff0-\ufffb\U000e0000-\U000e0fff]"
)
"""Default ignorable code points (Unicode, DerivedCoreProperties.txt) beside those of the categories Cf and Mn."""


def _table(rows: str) -> dict[str, str]:
    return {look: row[0] for row in rows.split() for look in row[1:]}


LATIN_LOOKS, FOREIGN_LOOKS = _table(_LATIN), _table(_FOREIGN)
ALL_LOOKS = str.maketrans({**FOREIGN_LOOKS, **_table(_NEARLY)})
_STRICT_LOOKS = str.maketrans(FOREIGN_LOOKS)


def _looks(sign: str, before: str) -> str:
    """What one sign looks like behind another, often itself; nothing for what is not seen."""
    if sign.isascii() and sign >= " " and sign not in "_`":
        return sign
    look = _look(sign)
    if look and before and unicodedata.category(sign) == "No":
        if before.isalpha() and unicodedata.decomposition(sign).startswith(("<super>", "<sub>")):
            return " "  # a footnote behind a word
        if before.isdecimal() and "/" in look:
            return " " + look
    return look


@lru_cache(maxsize=10_000)
def _look(sign: str) -> str:
    if sign in _SIGNS:
        return _SIGNS[sign]
    if sign in "\n\t":
        return sign
    category = unicodedata.category(sign)
    if category in ("Cf", "Cc", "Mn", "Me", "Cs") or _UNSEEN.match(sign):
        return ""
    if category == "Zs":
        return " "
    if category == "Nd":
        return str(unicodedata.decimal(sign))
    for first in (0x1F150, 0x1F170):  # white letters on black disks and squares have no compatibility form
        if 0 <= ord(sign) - first < 26:
            return chr(ord("A") + ord(sign) - first)
    parts = (each for each in unicodedata.normalize("NFKD", sign) if unicodedata.category(each) not in ("Mn", "Me"))
    return "".join(_SIGNS.get(each) or LATIN_LOOKS.get(each, each) for each in parts)


# --- words

_WORD = re.compile(r"[^\W\d_]+")
_NUMBER = re.compile(r"(?<![^\W\d_])(?=[OoIl|]*\d)[\dOoIl|]{2,3}(?=\s?%)")
_DIGIT_IN_WORD = re.compile(r"(?<![\w])[A-Za-z]+(?:(?<=..)[01]|[01][A-Za-z]+)(?!\w)")
_TALL = re.compile(r"(?<=[a-z])[I|](?![A-Z|])")


def _latin(text: str) -> str:
    """The text with letters that only look Latin as the Latin ones, sign for sign.

    A word that also has Latin letters is read as Latin. One all in another script is read so only where its every
    letter looks Latin and its paragraph has no other word of that sort: "НЕТ" in a Russian sentence stays Russian.
    """
    if not text.isascii():
        text = _BREAK.join(_paragraph(part) for part in text.split(_BREAK))
    if re.search(r"[01I|]", text):
        text = _NUMBER.sub(lambda match: match[0].translate(str.maketrans("OoIl|", "00111")), text)
        text = _DIGIT_IN_WORD.sub(lambda match: match[0].translate(str.maketrans("01", "ol")), text)
        text = _TALL.sub("l", text)
    return text


def _paragraph(text: str) -> str:
    words = [match[0] for match in _WORD.finditer(text) if not match[0].isascii()]
    foreign = any(not _is_latin(word) and not FOREIGN_LOOKS.keys() >= set(word) for word in words)

    def read(match: re.Match[str]) -> str:
        if match[0].isascii():
            return match[0]
        if _is_latin(match[0]):
            return match[0].translate(ALL_LOOKS)
        return match[0] if foreign else match[0].translate(_STRICT_LOOKS)

    return _WORD.sub(read, text)


def _is_latin(word: str) -> bool:
    """True when some letter of it is a Latin one."""
    return any(sign.isascii() or unicodedata.name(sign, "").startswith("LATIN") for sign in word)


_STOP = re.compile(r"[.!?…]+[\"'”’)*_]*\s+")
_BLOCK = re.compile(r"\S(?:.|\n(?!\s*\n))*")
_SHORT = frozenset(
    "poss pos approx ca no nos vs h z b bzw evtl mogl e.g i.e cf resp incl dr mr mrs ms st fig het hets dbl var".split()  # noqa: SIM905
)
"""Words after which a full stop does not end a sentence."""

_LONGEST = 600
"""Signs of the longest sentence that is read as one."""


def sentences(text: str) -> Iterator[tuple[int, int]]:
    """Begin and end of every sentence; a heading, a list item and a paragraph never run into the next."""
    for block in _BLOCK.finditer(text):
        begin, end = block.span()
        for stop in _STOP.finditer(text, begin, end):
            if not _goes_on(text, stop, end):
                yield from _pieces(text, begin, stop.end())
                begin = stop.end()
        if text[begin:end].strip():
            yield from _pieces(text, begin, end)


def _pieces(text: str, start: int, end: int) -> Iterator[tuple[int, int]]:
    """The sentence, or pieces of one that is longer than anybody writes."""
    while end - start > _LONGEST:
        cut = max(text.rfind(" ", start, start + _LONGEST), text.rfind("\n", start, start + _LONGEST)) + 1
        cut = cut if cut > start else start + _LONGEST
        if text[start:cut].strip():
            yield start, cut
        start = cut
    if text[start:end].strip():
        yield start, end


def _goes_on(text: str, stop: re.Match[str], end: int) -> bool:
    """True when a full stop only ends a short form, or a small letter follows it."""
    if stop.end() >= end or text[stop.start()] in "!?":
        return False
    last = re.search(r"[\w.]+$", text[max(0, stop.start() - 12) : stop.start()])
    return text[stop.end()].islower() or bool(last and last[0].lower() in _SHORT)
