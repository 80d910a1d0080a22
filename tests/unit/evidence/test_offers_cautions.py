from dataclasses import replace
from fractions import Fraction

import pytest
from helpers.small_collections import animal_of, collection_of, dominant, locus_of, recessive, species_of, told

from sitegen.evidence.kinds import Basis, Claim, ClaimKind
from sitegen.evidence.offers import CautionKind, gene_cautions, offer_cautions
from sitegen.genetics.loci import Welfare

HALF = {("+", "+"): Fraction(1, 2), ("+", "whirl"): Fraction(1, 2)}
HAS = {("+", "whirl"): Fraction(1)}
GENERAL = [CautionKind.SALMONELLA, CautionKind.LAW, CautionKind.SHIPPING, CautionKind.VETERINARIAN]


def kinds(cautions) -> list[CautionKind]:
    return [caution.kind for caution in cautions]


@pytest.mark.parametrize(("posterior", "record"), [
    (HAS, {"shows": {"whirl": "whirl"}}), (HAS, {"written": False}), (HALF, {"unsure": ("whirl",)})])  # fmt: skip
def test_a_harm_is_told_whether_shown_carried_or_possible(posterior, record):
    collection = collection_of(animal_of("sage", **record))
    claims, _ = told(collection, {"sage": {"whirl": posterior}})
    (caution,) = gene_cautions(collection, claims["sage"])
    assert (CautionKind.WELFARE, "whirl") == (caution.kind, caution.allele)
    assert caution.welfare is not None
    assert "A study, 2022" == caution.welfare.source


def test_a_harm_that_is_ruled_out_is_not_told():
    dam = animal_of("dam")
    collection = collection_of(dam, animal_of("sage", dam="dam"))
    claims, _ = told(collection, {"dam": {"whirl": HAS}})
    assert () == gene_cautions(collection, claims["sage"])


def test_a_form_that_does_not_live_is_told():
    locus = locus_of(dominant("pale", two_copies_lethal=True))
    collection = collection_of(animal_of("sage", shows={"pale": "pale"}), species=species_of(locus))
    claims, _ = told(collection, {"sage": {"pale": {("+", "pale"): Fraction(1)}}})
    assert [CautionKind.LETHAL] == kinds(gene_cautions(collection, claims["sage"]))


def test_the_breeders_own_cautions_are_added_and_replace_nothing():
    bare = collection_of(animal_of("sage"))
    species = replace(bare.species["corn-snake"], cautions=("They climb.",))
    collection = replace(bare, species={"corn-snake": species}, site=replace(bare.site, cautions=("Ring first.",)))
    cautions = offer_cautions(collection, "corn-snake", "corn-snake")
    assert [*GENERAL, CautionKind.OWN_WORDS, CautionKind.OWN_WORDS] == kinds(cautions)
    assert ["They climb.", "Ring first."] == [caution.text for caution in cautions[4:]]


def test_a_harm_goes_with_the_alleles_that_are_possible_and_with_no_other():
    harm = Welfare("Reported to go with poor balance.", "A study, 2022")
    series = locus_of(recessive("motley"), recessive("whirl", welfare=harm), locus_id="series")
    collection = collection_of(animal_of("sage"), species=species_of(series))
    claim = Claim(
        ClaimKind.MAY_CARRY, "sage", "corn-snake", "series", "motley", "", Fraction(1, 2), -1,
        {("+", "+"): Fraction(1, 2), ("+", "motley"): Fraction(1, 2)}, Basis.OWN_RECORDS, (),
    )  # fmt: skip
    assert gene_cautions(collection, [claim]) == ()
    may_have_it = replace(claim, posterior={("+", "motley"): Fraction(1, 2), ("+", "whirl"): Fraction(1, 2)})
    (caution,) = gene_cautions(collection, [replace(claim, allele="whirl", posterior=HAS)])
    assert caution.allele == "whirl"
    (caution,) = gene_cautions(collection, [claim, may_have_it])
    assert (caution.kind, caution.allele, caution.welfare) == (CautionKind.WELFARE, "whirl", harm)
    assert caution.claim is may_have_it
    assert gene_cautions(collection, [replace(may_have_it, kind=ClaimKind.RULED_OUT)]) == ()


def test_a_harm_is_told_also_behind_a_claim_that_rules_something_out():
    dam = animal_of("dam")
    collection = collection_of(dam, animal_of("sage", dam="dam", shows={"whirl": "whirl"}))
    claims, _ = told(collection, {"dam": {"amel": {("+", "amel"): Fraction(1)}}, "sage": {"whirl": HAS}})
    (shows,) = (claim for claim in claims["sage"] if claim.kind is ClaimKind.SHOWS)
    (ruled_out,) = (claim for claim in claims["sage"] if claim.kind is ClaimKind.RULED_OUT)
    assert gene_cautions(collection, (ruled_out, shows)) == gene_cautions(collection, (shows,)) != ()
