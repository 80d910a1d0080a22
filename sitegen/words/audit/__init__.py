"""Free text read against the evidence: what a breeder's own words claim, and whether the records support it.

Start at :func:`sitegen.words.audit.whole.audit`::

    text -> what is seen of it -> sentences -> statements (shorthand) -> meant as one? (context) -> of whom? (subjects)
         -> more or less than the evidence? (judging) -> reviewed? -> findings with places

In doubt it stays silent: a false alarm costs more trust than a miss, because a breeder who was blamed for an honest
sentence once will not read the next finding.
"""
