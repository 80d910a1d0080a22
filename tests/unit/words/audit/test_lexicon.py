"""The names of genes belong to their species."""

from helpers.said_texts import about, told


def test_names_of_two_species_are_not_mixed_up() -> None:
    assert told(about("Sorrel is het albino.")) == []
    (finding,) = about("Het stripe and het caramel? The former: 100% het stripe.", "umber")
    assert "Umber" in finding.message
