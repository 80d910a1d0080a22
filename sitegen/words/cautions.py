"""The cautions in words. They defer to local law and to a veterinarian, and promise nothing.

Source: hand washing, children under 5, risk groups, kitchens: US CDC leaflets on reptiles and Salmonella
(2016 to 2019); pregnant women: the Swedish animal-health institute. Mail: USPS Publication 52, 525.3. Lists
that protect species: CITES appendices; they change, so the text sends the reader to the current one.
"""

from sitegen.evidence.cautions import Caution, CautionKind
from sitegen.words.runs import Link, Sentence, Target, Text
from sitegen.words.speech import _, said, told_alike
from sitegen.words.voice import Voice


@told_alike
def caution_title(kind: CautionKind) -> str:
    """The heading of a caution."""
    return {
        CautionKind.WELFARE: _("A gene with a known harm"),
        CautionKind.LETHAL: _("Two copies do not live"),
        CautionKind.SALMONELLA: _("Reptiles and Salmonella"),
        CautionKind.LAW: _("The law where you live"),
        CautionKind.SHIPPING: _("Sending live animals"),
        CautionKind.VETERINARIAN: _("Questions of health"),
        CautionKind.OWN_WORDS: _("Please note"),
    }[kind]


def caution_sentences(caution: Caution, voice: Voice) -> tuple[Sentence, ...]:
    """A caution in a few sentences."""
    match caution.kind:
        case CautionKind.WELFARE:
            return _welfare(caution, voice)
        case CautionKind.LETHAL:
            words = _("Young with two copies of {gene} do not live to be born, so two that have it give fewer young.")
            return (said(words, gene=_gene(caution, voice)),)
        case CautionKind.OWN_WORDS:
            return (said("{text}", text=caution.text),)
        case _:
            return tuple(said(text) for text in _general(caution.kind))


def _gene(caution: Caution, voice: Voice) -> Link:
    """The allele's name, leading to the page of its gene."""
    allele = voice.species(caution.species).genome.locus(caution.locus).allele(caution.allele)
    return Link(allele.name, Target.GENE, f"{caution.species}/{caution.locus}")


def _welfare(caution: Caution, voice: Voice) -> tuple[Sentence, ...]:
    """A known harm: what is reported, where, and whom to ask. The source is told as it was written, and no more."""
    assert caution.welfare is not None
    text = caution.welfare.text.rstrip().rstrip(".")
    reported = said(_("{gene}: {text}."), gene=_gene(caution, voice), text=text)
    source = said("{text}", text=_source_text(caution.welfare.source))
    return reported, source, said(_("If you have questions, ask a veterinarian experienced with reptiles."))


def _source_text(source: str) -> str:
    """Where a harm is told of; nothing is called published because it stands there."""
    written = source.rstrip().rstrip(".")
    return _("Source: {source}.").format(source=written) if written else _("No source is recorded for this.")


def short_caution(caution: Caution, voice: Voice) -> Sentence:
    """A caution in one line, for paper."""
    match caution.kind:
        case CautionKind.WELFARE | CautionKind.LETHAL:
            return tuple(run for sentence in caution_sentences(caution, voice)[:2] for run in (*sentence, Text(" ")))[
                :-1
            ]
        case CautionKind.OWN_WORDS:
            return said("{text}", text=caution.text)
        case _:
            return said(_short(caution.kind))


@told_alike
def _short(kind: CautionKind) -> str:
    """The cautions that go with every offer, a line each."""
    return {
        CautionKind.SALMONELLA: _(
            "Healthy reptiles can carry Salmonella: wash your hands with soap after touching a reptile, its food or "
            "its home. A reptile is not advised for homes with children under 5; people over 65, pregnant women and "
            "people with a weak immune system should consider another pet."
        ),
        CautionKind.LAW: _(
            "Check your national, state and local rules on keeping and moving reptiles, and the current CITES lists "
            "before crossing a border."
        ),
        CautionKind.SHIPPING: _("Check the rules for sending live animals first; some posts carry none at all."),
        CautionKind.VETERINARIAN: _("For questions of health, ask a veterinarian experienced with reptiles."),
    }[kind]


@told_alike
def _general(kind: CautionKind) -> tuple[str, ...]:
    """The texts of the cautions that go with every offer."""
    return {
        CautionKind.SALMONELLA: (
            _("Healthy reptiles can carry Salmonella, and it can be caught from their home and water as well."),
            _("Wash your hands with soap after touching a reptile, its food or its home, and keep all three out of the "
              "kitchen."),
            _("A reptile is not advised for homes with children under 5; people over 65, pregnant women and people "
              "with a weak immune system should consider another pet."),
        ),
        CautionKind.LAW: (
            _("Rules on keeping, selling and moving reptiles differ from place to place and change."),
            _("Check your national, state and local rules before buying, and the current CITES lists before taking "
              "an animal across a border."),
        ),
        CautionKind.SHIPPING: (
            _("Check the rules for sending live animals before you ask for it: some posts carry none at all."),
            _("We send no animal in weather or by a way that may harm it; fetching it yourself is best."),
        ),
        CautionKind.VETERINARIAN: (
            _("What an animal shows or carries says nothing of its health."),
            _("For questions of health, ask a veterinarian experienced with reptiles."),
        ),
    }[kind]  # fmt: skip
