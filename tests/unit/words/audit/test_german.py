"""The same shorthand and the plain sentences of the trade in German texts, and near misses beside them."""

import pytest
from helpers.said_texts import about, quoted

from sitegen.findings import Level

MORE = [  # Sorrel carries amel, anery and motley, may carry hypo and caramel, and shows nothing
    ("Sie trägt Hypo.", "trägt Hypo"),
    ("Sie trägt sicher Hypo.", "trägt sicher Hypo"),
    ("Trägt Hypo sicher.", "Trägt Hypo sicher"),
    ("Wir wissen, dass sie Hypo trägt.", "Hypo trägt"),
    ("66% het Hypo.", "66% het Hypo"),
    ("66 Prozent het für Hypo", "66 Prozent het für Hypo"),
    ("Mischerbig für Hypo.", "Mischerbig für Hypo"),
    ("Nachgewiesen het Hypo.", "Nachgewiesen het Hypo"),
    ("Garantiert het Hypo.", "Garantiert het Hypo"),
    ("Hypo-Träger", "Hypo-Träger"),
    ("Träger von Hypo.", "Träger von Hypo"),
    ("Mögl. het Stripe", "Mögl. het Stripe"),
    ("Trägt vielleicht Hypo: etwa 67 von 100.", "Trägt vielleicht Hypo"),
    ("Ein Hypo-Weibchen.", "Hypo"),
    ("Sie ist eine ruhige Ghost.", "Ghost"),
    ("Sie zeigt Hypo.", "Hypo"),
    ("Reinerbig für Amel.", "Reinerbig für Amel"),
    ("Hat zwei Kopien von Amel.", "Hat zwei Kopien von Amel"),
    ("Alle ihre Jungtiere werden het Amel.", "Alle ihre Jungtiere werden het Amel"),
    ("Die Hälfte des Geleges wird Hypo.", "Die Hälfte des Geleges wird Hypo"),
    ("Trägt kein Hypo.", "Trägt kein Hypo"),
    ("Trägt Hypo nicht.", "Trägt Hypo nicht"),
    ("Hat Hypo nicht.", "Hat Hypo nicht"),
    ("Sie ist nicht het für Hypo.", "ist nicht het für Hypo"),
    ("Frei von Hypo.", "Frei von Hypo"),
    ("Keine versteckten Gene.", "Keine versteckten Gene"),
    ("Reiner Wildtyp.", "Reiner Wildtyp"),
]


@pytest.mark.parametrize(("text", "words"), MORE)
def test_more_than_the_evidence_is_an_error_and_quoted_as_it_is_written(text: str, words: str) -> None:
    assert [(finding.level, quoted(finding)) for finding in about(text)] == [(Level.ERROR, words)]


SILENT = [
    # as the evidence says it
    "Sie trägt Amel und Anery sicher, und vielleicht Hypo.",
    "Trägt vielleicht Hypo: etwa 33 von 100 tragen es, 67 nicht. Vielleicht trägt sie Caramel.",
    "33% het Hypo, 1/3 het für Hypo, möglicherweise het Hypo.",
    "Het für Amel und Anery, eine Amel-Trägerin.",
    "Die Hälfte ihrer Jungtiere wird het Amel.",
    # of others
    "Ihr Vater ist 66% het Hypo. Ihre Mutter zeigt Amel. Ihre Schwester ist het Caramel.",
    "Verpaart mit einem 100% het Caramel Männchen.",
    "Amel-Tiere sind hell. Eine ruhige Ghost-Freundin.",
    # another's word
    "Ihr Vorbesitzer sagte, sie sei het Caramel. Laut Vorbesitzer het Caramel.",
    "Angeblich het Caramel. Soll Caramel tragen.",
    "Sie war früher als het Caramel geführt.",
    # asked, explained, hoped for, conditional
    "Ist sie het Hypo? Trägt sie Caramel? Niemand weiß es.",
    "66% het Hypo heißt: zwei von drei. Ein Tier, das Hypo trägt, sieht normal aus.",
    "Wir hoffen, dass sie Caramel trägt. Sie könnte het Caramel sein.",
    "Wenn sie Caramel trägt, zeigen es ihre Jungtiere. Wäre sie het Caramel, wüssten wir es.",
    "Ob sie Hypo trägt, weiß niemand.",
    # no denial
    "Es ist nicht bekannt, dass sie Hypo trägt. Sie ist nicht als Träger von Hypo bekannt.",
    "Trägt Hypo nicht nachgewiesen. Früher 66% het Hypo, heute widerlegt.",
    "Keine Milben, keine Sorgen. Sie zeigt kein Hypo. Sie ist kein Ghost. Getestet auf Hypo: Ergebnis steht aus.",
    "Sie trägt ihr Alter mit Würde.",
]  # fmt: skip


@pytest.mark.parametrize("text", SILENT)
def test_a_near_miss_stays_silent(text: str) -> None:
    assert [finding.message for finding in about(text)] == []
