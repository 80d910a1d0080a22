"""Every name that a record may hold has its usual place."""

from sitegen.content.written.animals import AnimalForm, OfferForm, YoungForm
from sitegen.content.written.litters import LitterForm
from sitegen.keeper.record_text import ANIMAL, LITTER, OFFER


def test_every_name_of_a_record_has_its_usual_place() -> None:
    assert sorted(ANIMAL) == sorted({*AnimalForm.written_names(), *YoungForm.written_names()})
    assert sorted(LITTER) == sorted(LitterForm.written_names())
    assert sorted(OFFER) == sorted(OfferForm.written_names())
