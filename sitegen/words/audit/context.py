"""Whether words that read like a claim are meant as one: not when denied, asked, explained, hoped for or quoted."""

import re
from dataclasses import replace
from enum import Enum

from sitegen.words.audit.shorthand import Says, Statement


class Meant(Enum):
    """How a statement is meant."""

    CLAIMED = "claimed"
    PERHAPS = "said to be possible"
    DENIED = "said not to be so"
    NOT_CLAIMED = "asked, explained, hoped for or another's word"


def _words(*patterns: str) -> re.Pattern[str]:
    return re.compile("|".join(patterns), re.IGNORECASE)


# English and German side by side: no German word here is an English one. An umlaut is read without its dots.

_PART = _words(
    r"[;—\u2013()]|,(?!\s*(?:dass|ob)\b)",
    r"\s-\s",
    r"\b(?:but|because|so|while|although|though|whereas|aber|weil|wahrend|obwohl)\b",
)
_PART_OF_VERB = _words(
    r"[;—\u2013()]", r"\s-\s", r"\b(?:but|because|aber)\b", r",\s+(?:and|she|he|it|so|und|sie|er|es)\b"
)
_KEEPER = (
    r"\b(?:keepers?|owners?|breeders?|sellers?|vendors?|dealers?|shops?|vorbesitzer\w*|vorhalter\w*|zuchter\w*"
    r"|verkaufer\w*|handler\w*)(?:['’]s?)?"
)
_SAYING = (
    r"(?:said|says?|stat(?:e|es|ed|ement)|told|tells|claim(?:s|ed)?|wrote|writes|words?|thought|believed|called|gave"
    r"|given"
    r"|promised|assured|list(?:s|ed)|labell?ed|sold|offered|described|knew|record(?:s|ed)?|swore"
    r"|sag(?:te|ten|t|en)|meinte?n?|schrieb\w*|angab\w*|angaben?|wort|versprach\w*|verkaufte?n?|versicherte?n?)\b"
)
_QUOTED_WORD = _words(
    rf"{_KEEPER}\b.{{0,80}}?\b{_SAYING}", rf"\b{_SAYING}.{{0,60}}?{_KEEPER}", rf"{_KEEPER}\s*:",
    r"\bsaid to\b", r"\bstated (?:to|as)\b", r"\b(?:supposed(?:ly)?|reported(?:ly)?|alleged(?:ly)?|apparently)\b",
    r"\baccording to\b", r"\b(?:claimed|believed|thought|assumed|reputed|rumou?red) to\b",
    r"\b(?:told|assured|promised) (?:us|me|to us|that)\b", r"\b(?:was|were) (?:told|assured|promised)\b",
    r"\bsoll(?:en)?\b.*\b(?:tragen|haben|sein)\b", r"\b(?:angeblich|laut|hie(?:ss|ß) es|nach angaben?)\b",
    r"['’]s word\b", r"\b(?:the|on|took|have|had) (?:the )?word of\b",
    r"\b(?:some|many|most|other|several) (?:keepers|people|breeders|sellers|sites|say|think|believe|would say)\b",
)  # fmt: skip
_SOLD_AS = _words(
    r"\b(?:sold|bought|acquired|purchased|came|given|advertised|labell?ed|listed|offered|described|marketed|sent"
    r"|passed|"
    r"imported|traded|got|received|recorded|registered)\b.*\bas\s+(?:(?:a|an|being|our)\s+)?"
    r"(?:(?:[\w-]+\s+)?[\"'“\u2018]?\s*\Z|[\"'“\u2018]?(?:\d|poss|het|proven|double|dh|guaranteed)[^;]*\Z)",
    r"\bals\s+(?:[\w%-]+\s+){0,2}\Z",
)
_TOLD_BEHIND = _words(
    r"\A,?\s*\(?(?:as (?:was )?told to us|as we were told|as stated to us|wie uns gesagt wurde|laut)\b"
)
_IF_BEHIND = _words(
    r"\A[^.;,]{0,40}?,?\s+(?:if|unless|provided|assuming|as long as|wenn|falls|sofern)\s+(?:that\s+|nicht\s+)?(?:it"
    r"|its|her|his|she|he|the|their"
    r"|our|one|nothing|none|no|both|neither|either|this|these|nobody|(?-i:[A-Z][\w-]+)|sein\w*|ihr\w*|der|die|das"
    r"|kein\w*|nichts|weder|eine?r?|es|sie|er)\b"
)
"""Ends a statement that says under which condition it holds: "carries it if its sire does not"."""
_LABEL = _words(r"\b(?:label|tag|ticket|paper|papers|receipt|note|card|list|advert|advertisement|invoice|box|lid)\b")
_EXPLAINED = _words(
    r"\b(?:means?|meaning|meant|stands? for|short for|shorthand|jargon|expression|phrase|wording)\b",
    r"\bthe words?\b", r"\b(?:written|read|reads?|understood|taken) as\b", r"\bsigns? of\b",
    r"\b(?:bedeutet|bedeuten|hei(?:ss|ß)t|steht fur|zum beispiel|z\. ?b\.)\b",
    r"\b(?:ein|jedes) tier, das\b", r"\b(?:tiere|jungtiere|solche), die\b", r"\b(?:for example|for instance|e\.g\."
    r"|such as|in general|in theory|it takes)\b",
    r"\b(?:an?|any|every) (?:animal|snake|corn|boa|one|keeper|buyer) (?:that|which|who)\b",
    r"\b(?:animals|snakes|anyone|anybody|those|people|whoever|nobody) (?:that|which|who)\b",
)  # fmt: skip
_TRADE = _words(r"\b(?:the trade|im handel)\b[^“„\"]*[“„\"]?\s*\Z")
"""Explains only what follows: "carries it (the trade’s “het”)" says that it is carried."""
_DENIED = _words(
    r"\b(?:not|cannot)\b(?!\s+(?:only|just|merely|judged yet)\b)", r"n['’]t\b", r"\bno\b(?!\.?\s*\d|\s+(?:doubt|less"
    r"|question)\b)",
    r"\b(?:never|none|neither|nor|nothing|nobody|nowhere|hardly|scarcely|unlikely|anything but)\b",
    r"\bwithout\b(?!\s+(?:a\s+|any\s+)?(?:doubt|question)\b)", r"\brul(?:ed?|es|ing) out\b",
    r"\bexclud(?:e|es|ed|ing)\b", r"\bnicht\b(?!\s+(?:nur|beurteilt)\b)", r"\b(?:kein(?:e|en|er|es)?|nie|niemals"
    r"|niemand|weder"
    r"|ohne|statt)\b",
    r"\b(?:instead of|rather than|free of|lacks?|lacking|disproved|disproven|least of all|cleared of)\b",
)  # fmt: skip
_NOT_SO = _words(
    r"(?:\b(?:does|do|is|are|has|have|ist|sind)\s+(?:not|nicht)|\b(?:does|do|is|are|has|have|ca)n['’]t|\bcannot"
    r"|\A\W*(?:not|nicht)|\b(?:neither|nor|weder|noch))"
    r"\s+(?:(?:a|an|even|the)\s+)?\Z",
    r"\b(?:ist|sind)\s+kein(?:e|en)?\s+\Z",
)
"""What stands just before carrying is denied of an animal; "is not known to carry it" says nothing."""
_EXCLUDED = _words(
    r"\A\s*(?:(?:is|was|has been|can be)\s+)?(?:ruled out|excluded)\b",
    r"\A\s*:\s*(?:no|negative)\b",
    r"\A\s*(?:ist\s+)?(?:ausgeschlossen|nicht\b(?!\s+(?:nur|bekannt|sicher|nachgewiesen|unbedingt|ohne)))\b",
)
_AS_KNOWN = _words(
    r"\b(?:known?|knows|knowledge|recorded|records?|believe[ds]?|think|guess|so far|bekannt|wissen|wei(?:ss|ß)"
    r"|soweit)\b"
)
_NEVER = _words(r"\b(?:never|neither|nor|none|nothing|nie|niemals|weder|nichts)\b")
"""Denies across commas too."""
_CONDITION = _words(r"(?<!\band)(?<!\bund),?\s+(?:if|unless|wenn|sofern|falls)\b[^,;]*(?:,\s+von dem\b[^,;]*)?(?=,)")
"""Of what stands before it: "homozygous hypo, if its sire does not, may have palmetto" denies no palmetto."""
_UNDONE = _words(
    r"\b(?:ruled out|disproved|disproven|proved not|proven not|never proved|out of the question|can be excluded)\b",
    r"\bturned out (?:to be )?(?:wrong|false|not|otherwise)\b", r"\b(?:is|was|were|proved|proves) (?:wrong|false)\b",
    r"\b(?:failed to prove|did not prove|didn['’]t prove|has not proved|does not hold|we doubt|we were wrong)\b",
    r"\A\s*[:?]\s*(?:no|not|none|never|nothing|negative)\b", r"\A[^,;.]{0,20}\bmeans?\b",
    r"\A[^,;.]{0,20}\b(?:nicht|widerlegt|ausgeschlossen|bedeutet)\b",
)  # fmt: skip
_NOT_YET = _words(
    r"\b(?:if|whether|unless|would|could|should|shall|will|going to|suppose|imagine|perhaps one day|until)\b",
    r"['’]ll\b", r"['’]d\b", r"\b(?:hop(?:e|es|ed|ing)|aim(?:s|ed|ing)?|plan(?:s|ned|ning)?|want(?:s|ed)?)\b",
    r"\b(?:wish(?:es|ed)?|expect(?:s|ed|ing|ation)?|goals?|dream(?:s|t|ed)?|try|trying|tries|look(?:s|ing|ed)? for)\b",
    r"\b(?:search(?:es|ing)?|in search of|needs?|needed|wait(?:s|ing|ed)? for|intend(?:s|ed)?|ask(?:s|ed)?)\b",
    r"\b(?:wonder(?:s|ed)?|doubt(?:s|ed)?|sets? out for|every time)\b",
    r"\bto (?:produce|make|get|see|give|throw|breed|find|prove|know|learn|test)\b", r"\b(?:were|had) (?:she|he|it"
    r"|they|this)\b",
    r"\b(?:wenn|falls|ob|wird|werden|wurden?|ware[n]?|hatten?|konnten?|sollten?|hoff\w*|plan(?:en|t)|ziel|such(?:en"
    r"|t)|wunsch\w*|brauch\w*|mochten?|bis)\b",
)  # fmt: skip
_PAST = _words(
    r"\b(?:was|were|had been|used to be|once|formerly|originally|at first|no longer|war|fruher|einst"
    r"|nicht mehr)\b[^,;]*\Z"
)
_LIKE = _words(r"\b(?:for|like|unlike|than) an?\s+(?:[\w-]+\s+)?\Z", r"\b(?:used to be|(?:was|were) once)\b")
_SINCE = _words(r"\b(?:until|till|before|then|now|today|since|meanwhile|no longer|jetzt|heute|seit|inzwischen)\b")
_PERHAPS = _words(
    r"\b(?:may|might|possibl[ey]|perhaps|maybe|probabl[ey]|likely|presumably|potentially|seems?"
    r"|chances?|odds|probability|likelihood|vielleicht|moglich\w*|vermutlich|wahrscheinlich\w*|eventuell|wohl|kann"
    r"|konnen|durfte)\b"
)
_OPENING_QUOTES = {"“": "”", "„": "“", "«": "»", '"': '"'}


def how_meant(plain: str, sentence: tuple[int, int], statement: Statement, *, after_as: bool = False) -> Meant:
    """How a statement is meant where it stands.

    Args:
        plain: The whole text.
        sentence: Begin and end of the sentence it stands in.
        statement: What was read.
        after_as: "as" alone makes it another's word ("a previous keeper, as 66% het hypo").
    """
    # The order matters: what makes the whole sentence somebody else's word, or a question, comes before what denies or
    # softens a part of it; "is she not het?" denies nothing.
    whole = plain[sentence[0] : sentence[1]]
    before, after = plain[sentence[0] : statement.start], plain[statement.end : sentence[1]]
    own = plain[statement.start : statement.end]
    behind = re.match(r"\s*\([^()]*\)", after)
    bracket = behind[0] if behind and statement.chance == 1 else ""
    clause = _since_last(_PART_OF_VERB if statement.verbal else _PART, before)
    part = _since_last(_PART, before)
    if whole.rstrip(" \t\n\"'”’)*_").endswith("?") or _EXPLAINED.search(whole):
        return Meant.NOT_CLAIMED
    if (
        _TRADE.search(before)
        or _QUOTED_WORD.search(f"{_apart(before)}{own}{bracket}{_apart(after)}")
        or _SOLD_AS.search(before)
        or (after_as and re.search(r"\bas\b", before))
    ):
        return Meant.NOT_CLAIMED
    if _is_quoted(plain, statement) and (_LABEL.search(whole) or re.search(rf"\b{_SAYING}", whole, re.IGNORECASE)):
        return Meant.NOT_CLAIMED
    if _TOLD_BEHIND.match(after) or _IF_BEHIND.match(after) or (statement.of_young and _NOT_YET.search(before + after)):
        return Meant.NOT_CLAIMED
    if denies := _denial(plain, sentence, statement):
        apart = clause[: len(clause) - (statement.start - denies[0])]
        doubted = _DENIED.search(apart) or _NOT_YET.search(part) or _AS_KNOWN.search(whole) or _PERHAPS.search(part)
        return Meant.NOT_CLAIMED if doubted else Meant.DENIED
    across = _CONDITION.sub("", _since_last(_PART_OF_VERB, before))
    denied = _DENIED.search(_CONDITION.sub("", clause)) or _NEVER.search(across)
    if denied or _UNDONE.search(after) or _NOT_YET.search(part):
        return Meant.NOT_CLAIMED
    if _LIKE.search(part) or (_PAST.search(part) and _SINCE.search(after + part)):
        return Meant.NOT_CLAIMED
    if statement.says is Says.LACKS:
        return Meant.NOT_CLAIMED if _AS_KNOWN.search(whole) or _PERHAPS.search(part) else Meant.DENIED
    if statement.says is Says.MAY_CARRY or _PERHAPS.search(part) or _PERHAPS.match(own):
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
    if before := _NOT_SO.search(plain[sentence[0] : statement.start]):
        return sentence[0] + before.start(), statement.end
    after = _EXCLUDED.search(plain[statement.end : sentence[1]])
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


_PROMISE = _words(
    r"(?<![\w-])(?:100\s?%\s*)?guarantee[ds]?\b", r"\b100\s?%\s+(?:proven|certain|sure|safe|reliable)\b",
    r"\bgarantier(?:t|en)\b", r"\b(?:certain|sure|bound) to prove\b", r"\bwill (?:certainly |surely "
    r"|definitely )?prove out\b",
)  # fmt: skip
_OTHER_PROMISE = _words(
    r"\b(?:arriv\w*|deliver\w*|refund\w*|money|return\w*|shipping|transport\w*|shipment|warranty|payment|law|sex\w*"
    r"|(?:fe)?males?|geld|lieferung|versand\w*|geschlecht\w*)\b"
)


_OF_THINGS = _words(
    r"\b(?:the|this|that|these|our|his|her|its|a|an|my|every)\s+(?:[\w-]+\s+){0,2}?(?!(?:animals?|snakes?|young"
    r"|babies|genes?|genetics?"
    r"|hets?|lines?|stock|blood|claims?|data|records?|odds|parents?|males?|females?|pairs?|corns?|boas?|breeders?"
    r"|projects?)\b)"
    r"[\w-]+\s+(?:is|are|was|were|has been|have been)\s+\Z"
)
"""What is promised is no animal: "the heat mat is"."""


def promises(plain: str, sentence: tuple[int, int]) -> list[tuple[int, int]]:
    """Begin and end of words that promise, and name no gene: "guaranteed", "100% proven"."""
    whole = plain[sentence[0] : sentence[1]]
    if _OTHER_PROMISE.search(whole):
        return []
    found = []
    for match in _PROMISE.finditer(whole):
        start, end = sentence[0] + match.start(), sentence[0] + match.end()
        meant = Statement(start, end, Says.CARRIES, (), verbal=True)
        of_things = match[0].startswith("100") and _OF_THINGS.search(whole[: match.start()])
        if not of_things and how_meant(plain, sentence, meant) is not Meant.NOT_CLAIMED:
            found.append((start, end))
    return found
