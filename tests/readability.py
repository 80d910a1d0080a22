"""How hard a text is to read.

Source: Kincaid JP, Fishburne RP, Rogers RL, Chissom BS (1975) Derivation of new readability formulas, Naval
Technical Training Command research report 8-75: grade = 0.39 words/sentences + 11.8 syllables/words - 15.59
(from memory).
"""

import re

_WORD = re.compile(r"[A-Za-z’']+|\d[\d,./%]*")
_SENTENCE_END = re.compile(r"[.!?;:]+(?:\s|$|[”)])")


def syllables(word: str) -> int:
    """Syllables by groups of vowels; a silent e at the end does not count, a number counts as one."""
    letters = re.sub(r"[^a-z]", "", word.lower())
    if not letters:
        return 1
    groups = len(re.findall(r"[aeiouy]+", letters))
    silent = letters.endswith("e") and not letters.endswith(("le", "ee")) and groups > 1
    silent_ed = letters.endswith("ed") and not letters.endswith(("ted", "ded")) and groups > 1
    return max(1, groups - silent - silent_ed)


def grade(text: str) -> float:
    """The school grade for which a text is written."""
    words = _WORD.findall(text)
    sentences = max(1, len(_SENTENCE_END.findall(text)))
    return 0.39 * len(words) / sentences + 11.8 * sum(map(syllables, words)) / len(words) - 15.59
