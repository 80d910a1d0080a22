"""Whether words that read like a claim are meant as one: not when denied, asked, explained, hoped for or quoted."""

import re
from dataclasses import replace
from enum import Enum

from sitegen.words.audit.expressions import expressions
from sitegen.words.audit.shorthand import Says, Statement
from sitegen.words.written import written


class Meant(Enum):
    """How a statement is meant."""

    CLAIMED = "claimed"
    PERHAPS = "said to be possible"
    DENIED = "said not to be so"
    NOT_CLAIMED = "asked, explained, hoped for or another's word"


_TELLS = {name: re.compile(words, re.IGNORECASE) for name, words in expressions(written("audit/context"), {}).items()}
_OPENING_QUOTES = {"“": "”", "„": "“", "«": "»", '"': '"'}


def how_meant(plain: str, sentence: tuple[int, int], statement: Statement, *, after_as: bool = False) -> Meant:
    """How a statement is meant where it stands in a sentence of the whole text.

    With ``after_as`` "as" alone makes it another's word ("a previous keeper, as 66% het hypo").
    """
    # The order matters: what makes the whole sentence somebody else's word, or a question, comes before what denies or
    # softens a part of it; "is she not het?" denies nothing.
    whole = plain[sentence[0] : sentence[1]]
    before, after = plain[sentence[0] : statement.start], plain[statement.end : sentence[1]]
    own = plain[statement.start : statement.end]
    behind = re.match(r"\s*\([^()]*\)", after)
    bracket = behind[0] if behind and statement.chance == 1 else ""
    clause = _since_last(_TELLS["part_of_verb"] if statement.verbal else _TELLS["part"], before)
    part = _since_last(_TELLS["part"], before)
    if whole.rstrip(" \t\n\"'”’)*_").endswith("?") or _TELLS["explained"].search(whole):
        return Meant.NOT_CLAIMED
    if (
        _TELLS["trade"].search(before)
        or _TELLS["quoted_word"].search(f"{_apart(before)}{own}{bracket}{_apart(after)}")
        or _TELLS["sold_as"].search(before)
        or (after_as and re.search(r"\bas\b", before))
    ):
        return Meant.NOT_CLAIMED
    if _is_quoted(plain, statement) and (_TELLS["label"].search(whole) or _TELLS["saying"].search(whole)):
        return Meant.NOT_CLAIMED
    if (
        _TELLS["told_behind"].match(after)
        or _TELLS["if_behind"].match(after)
        or (statement.of_young and _TELLS["not_yet"].search(before + after))
    ):
        return Meant.NOT_CLAIMED
    if denies := _denial(plain, sentence, statement):
        apart = clause[: len(clause) - (statement.start - denies[0])]
        doubted = (
            _TELLS["denied"].search(apart)
            or _TELLS["not_yet"].search(part)
            or _TELLS["as_known"].search(whole)
            or _TELLS["perhaps"].search(part)
        )
        return Meant.NOT_CLAIMED if doubted else Meant.DENIED
    across = _TELLS["condition"].sub("", _since_last(_TELLS["part_of_verb"], before))
    denied = _TELLS["denied"].search(_TELLS["condition"].sub("", clause)) or _TELLS["never"].search(across)
    if denied or _TELLS["undone"].search(after) or _TELLS["not_yet"].search(part):
        return Meant.NOT_CLAIMED
    if _TELLS["like"].search(part) or (_TELLS["past"].search(part) and _TELLS["since"].search(after + part)):
        return Meant.NOT_CLAIMED
    if statement.says is Says.LACKS:
        return Meant.NOT_CLAIMED if _TELLS["as_known"].search(whole) or _TELLS["perhaps"].search(part) else Meant.DENIED
    if statement.says is Says.MAY_CARRY or _TELLS["perhaps"].search(part) or _TELLS["perhaps"].match(own):
        return Meant.PERHAPS if statement.chance == 1 else Meant.CLAIMED
    return Meant.CLAIMED


def as_denied(plain: str, sentence: tuple[int, int], statement: Statement) -> Statement:
    """A statement that is denied, as the one that is made."""
    start, end = _denial(plain, sentence, statement) or (statement.start, statement.end)
    return replace(statement, start=start, end=end, says=Says.LACKS)


def _denial(plain: str, sentence: tuple[int, int], statement: Statement) -> tuple[int, int] | None:
    """Begin and end of words that deny carrying a gene at all; to deny that it is certain denies less."""
    own = plain[statement.start : statement.end]
    carried = re.match(r"het|carr|trag|hat", own, re.IGNORECASE) and statement.says is Says.CARRIES
    if not carried or statement.chance < 1 or statement.proven or "%" in own:
        return None
    if before := _TELLS["not_so"].search(plain[sentence[0] : statement.start]):
        return sentence[0] + before.start(), statement.end
    after = _TELLS["excluded"].search(plain[statement.end : sentence[1]])
    return (statement.start, statement.end + after.end()) if after else None


def _apart(text: str) -> str:
    """The text without what stands in brackets, which is said of the word before them alone."""
    return re.sub(r"\([^()]*\)", "", text)


def _since_last(divider: re.Pattern[str], text: str) -> str:
    """What stands after the last divider."""
    end = 0
    for match in divider.finditer(text):
        end = match.start() if match[0][0].isalpha() else match.end()
    return text[end:]


def _is_quoted(plain: str, statement: Statement) -> bool:
    """True when the statement stands in quotation marks."""
    before = plain[max(0, statement.start - 200) : statement.start]
    after = plain[statement.end : statement.end + 200]
    for opening, closing in _OPENING_QUOTES.items():
        opened = before.rfind(opening)
        inside = opened != -1 and closing not in before[opened + 1 :] and closing in after
        if inside and (opening != closing or before.count(opening) % 2):
            return True
    return False


def promises(plain: str, sentence: tuple[int, int]) -> list[tuple[int, int]]:
    """Begin and end of words that promise, and name no gene: "guaranteed", "100% proven"."""
    whole = plain[sentence[0] : sentence[1]]
    if _TELLS["other_promise"].search(whole):
        return []
    found = []
    for match in _TELLS["promise"].finditer(whole):
        start, end = sentence[0] + match.start(), sentence[0] + match.end()
        meant = Statement(start, end, Says.CARRIES, (), verbal=True)
        of_things = match[0].startswith("100") and _TELLS["of_things"].search(whole[: match.start()])
        if not of_things and how_meant(plain, sentence, meant) is not Meant.NOT_CLAIMED:
            found.append((start, end))
    return found
