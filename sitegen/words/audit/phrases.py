"""The phrases that claims are made of, as parts of regular expressions; English and German side by side.

No German word here is an English one. An umlaut is read without its dots.
"""

from sitegen.words.audit.chances import NUMBER

DOUBT = (
    r"(?:poss(?:ibl[ey])?|pos|potential(?:ly)?|probabl[ey]|likely|maybe|perhaps|may\s+be|might\s+be"
    r"|mogl(?:ich\w*)?|vielleicht|eventuell|evtl|vermutlich|wahrscheinlich)\b\.?"
)
SURE = (
    r"(?:proven|proved|guaranteed|confirmed|certified|for\s+certain|nachgewiesen\w*|bewiesen\w*|garantiert\w*"
    r"|bestatigt\w*|sicher\w{0,2})\b"
)
TESTED = r"(?:(?:dna[\s-])?(?:tested|getestet))\b:?"
_WORD = r"(?:double|triple|quadruple|quad|dbl|multi|multiple|definite(?:ly)?|certain(?:ly)?|known|genuine|true)\b\.?"
BEFORE = rf"(?<![\w%/.])(?:(?:{NUMBER}|{DOUBT}|{SURE}|{TESTED}|{_WORD})[\s,:-]*){{0,4}}"
HET = r"(?<![^\W\d_])(?:het(?:s|erozyg(?:ous|otes?|ot\w*))?|(?:misch|spalt)erbig\w*)(?!\w)\.?"
COUNTS = {"double": 2, "doppel": 2, "dbl": 2, "dh": 2, "triple": 3, "dreifach": 3, "th": 3, "quad": 4, "quadruple": 4}
ABOUT = r"(?:about\s+|ca\.?\s+|etwa\s+|fewer\s+than\s+|more\s+than\s+|weniger\s+als\s+|mehr\s+als\s+)?"
_NOT_OF_YOUNG = r"(?!\s+(?:of|von)\s+(?:her|his|its|their|the|seine\w*|ihre\w*)\b)"
WITH_CHANCE = (
    r",?\s+(?:with|at|mit)\s+(?:an?\s+|einer\s+)?(?:chance|probability|wahrscheinlichkeit)\s+(?:of|von)\s+"
    rf"{ABOUT}(?P<said>{NUMBER}){_NOT_OF_YOUNG}"
)
"""Doubt enough for any verb: "carries it with a chance of 2/3"."""
CHANCE_BEHIND = rf"(?=\s*[:(]\s*{ABOUT}(?P<odds>{NUMBER}){_NOT_OF_YOUNG}|{WITH_CHANCE})"
"""How likely what was just named as possible is: "(about 67 in 100)", ": 2/3"."""
END = r"(?=\s*(?:[.,;:!()\u2013—]|\Z|(?:and|or|und|oder)\b))"
NOT_LOOK = (
    r"(?!\s+(?:projects?|lines?|genes?|clutch\w*|litters?|pairings?|morphs?|yellow|white|gr[ea]y|brown|black|red|orange"
    r"|pink|gold\w*|cream|colou?r\w*|like|(?:under)?tones?|shades?|hues?|influences?|tints?|sheen|wash|blush|traces?"
    r"|signs?|blood|background|looks?|types?|style|patterns?|bands?|marks?|markings"
    r"|and\s+(?:white|black|gr[ea]y|brown|yellow|red|orange)\b))"
)
KIND = (
    r"(?:female|male|girl|boy|snake|corn|boa|animal|hatchling|adult|morph|weibchen|mannchen|tier|schlange|nachzucht)\b"
)
LITTLE = (
    r"(?:of|from|to|for|with|in|on|as|like|is|was|are|were|her|his|its|their|and|or|no|not|by|at|than|the"
    r"|er|sie|es|ein|eine|der|die|das|hat|hatte|ist|war|ware|kein|keine|nicht|von|mit|und|oder|ohne|wie|auf|fur|als"
    r"|bei|nach|zu|aus)\b"
)
"""English and German; "ware" is how "wäre" is read here."""
ADJECTIVE = rf"(?!{LITTLE})[a-z\d_-]+\s+"
ENDS = (
    rf"(?=[\s-]*(?:[,.;:!()\u2013—]|\Z|{KIND}"
    r"|(?:and|with|who|that|from|but|het|in|by|for|at|of\s+course|und|mit|aber|\d+%?)\b))"
)
"""What may follow a look that somebody is said to be; another noun makes it something else ("a ghost story")."""
CARRY_FILL = (
    r"(?:(?:hidden|recessive|both|the|a|genes?|for|also|certainly|definitely|out|auch|das|fur|verdeckt"
    rf"|{DOUBT}|{SURE})\s+){{0,6}}"
)
PROVEN_FILL = r"(?:(?:to|carry|be|have|out|for|as|a|an|the|carriers?|of|female|male|trager|von|fur)\s+){0,5}"
PLURAL = r"(?!\s+(?:young|babies|hatchlings|offspring|eggs|of|in)\b)"
LACKS = (
    r"\b(?:carr(?:y|ies|ying)\s+no|(?:no|zero|without\s+(?:a|any))\s+cop(?:y|ies)\s+of|free\s+(?:of|from)"
    r"|(?:clear(?:ed)?|clean|negative)\s+(?:of|for)|no\s+het(?:s|erozygo\w+)?(?:\s+for)?"
    r"|trag(?:t|en)\s+keine?n?|keine?\s+(?:kopien?\s+von|het(?:\s+fur)?)|frei\s+von|negativ\s+(?:fur|auf))\s+"
)
_CLOSES = r"(?=\s*(?:[.,;:!)]|\Z))"
NOTHING = (
    r"\bno\s+(?:(?:hidden|recessive)\s+)+(?:genes?|traits?|alleles?)\b"
    rf"|\bno\s+(?:hidden\s+)?(?:hets|recessives){_CLOSES}"
    rf"|\bcarr(?:y|ies)\s+(?:no\s+genes?\b|nothing{_CLOSES})"
    r"|\bnothing\s+hidden\b|\bgenetically\s+clean\b|\bclean\s+(?:genetics|genotype)\b"
    r"|\bnot\s+het\s+for\s+any(?:thing|\s+gene)\b|\bhet\s+(?:for\s+)?nothing\b"
    rf"|\b(?:pure|true|genetically|100\s?%)\s+wild[\s-]?type{_CLOSES}"
    r"|\bkeine\s+(?:ver(?:steckt|deckt|borgen)e?n?|rezessiven)\s+(?:gene|merkmale|anlagen|hets)\b"
    rf"|\bkeine\s+hets{_CLOSES}|\btragt\s+(?:keine\s+gene|nichts){_CLOSES}"
    r"|\bgenetisch\s+(?:sauber|rein)\b|\breine?r?\s+wildtyp\b"
)
"""Says that no gene is hidden, and names none."""
SELF = (
    r"(?:she|he|it|this\s+(?:one|female|male|girl|boy|snake|animal|young)|sie|er|es|dieses\s+tier"
    r"|(?P<name>(?-i:[A-Z][\w-]+)))"
)
_MANY = (
    r"(?:young|babies|hatchlings|offspring|neonates|clutch|litter|jungtiere|babys|nachzuchten|geleges?|wurf(?:e?s)?)"
)
YOUNG_WILL = (
    rf"\b(?:(?P<all>all|every|each|alle|jedes)|(?P<some>half|some|most|many|die\s+halfte|halfte|einige|{NUMBER}))?"
    rf"(?:\s*(?:of|the|her|his|its|their|these|our|one|der|des|die|dieses|ihrer?s?|seine?r?s?)\b){{0,3}}\s*\b{_MANY}"
    rf"\s+(?:will|werden|wird)\s+(?P<also>all\s+|alle\s+)?(?:(?:be|carry|show)\s+)?(?P<pre>{BEFORE})"
    rf"(?P<het>{HET}\s+(?:(?:for|fur)\s+)?)?"
)
"""Half the clutch will be amel; all his babies will be het anery."""
