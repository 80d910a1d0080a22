"""How a litter or clutch is written: ``litters/ID/litter.yaml``."""

from typing import Annotated, Any, ClassVar

from sitegen.content.written.animals import PARENT, TEXT_BY_NAME, SexWord, YoungForm
from sitegen.content.written.forms import LISTED, NAMED, Form, described, part, raw, required
from sitegen.content.written.values import Day, SureWhole, Text, Texts, Whole, YesNo
from sitegen.content.yaml_tree import Entries, Scalar


class OthersForm(Form):
    """Living young that are not listed one by one and look alike."""

    what: ClassVar[str] = "an entry of others"

    count: SureWhole = required("How many.")
    shows: Texts = described("The looks that all of them show; [] for none. Left out: not judged.")
    unsure: Texts = described("Loci that were not judged, or all.")
    judged: Day = described("When they were judged.")
    sex: SexWord = described("The sex of all of them, if known.")


class LitterForm(Form):
    """One litter or clutch; a dam or a sire is needed."""

    what: ClassVar[str] = "a litter's record"

    name: Text = described("What the litter is called; its folder name when left out.")
    species: Text = described("The species; known from the parents when left out.")
    dam: Text = described("The mother: an animal's folder or LITTER/YOUNG.")
    sire: Annotated[Any, *raw(PARENT)] = described(
        "The father: one name, a list of possible ones (equal odds), or their odds: {flint: 2/3, basalt: 1/3}."
    )
    mixed_sires: YesNo = described("true when each young may have a sire of its own.")
    paired: Day = described("When the parents were put together.")
    laid: Day = described("When the eggs were laid.")
    born: Day = described("When the young were born or hatched.")
    expected: Day = described("When they are expected.")
    eggs: Whole = described("Eggs laid.")
    infertile: Whole = described("Eggs that were not fertile.")
    stillborn: Whole = described("Young that were not alive.")
    young: Annotated[dict[str, Annotated[YoungForm | None, part(YoungForm)]] | None, NAMED] = described(
        "The young by number; an entry may be empty."
    )
    others: Annotated[tuple[Annotated[OthersForm | None, part(OthersForm)], ...] | None, LISTED] = described(
        "Living young that are not listed one by one: {count: 4, shows: []}."
    )
    confirmed: YesNo = described("true when unusual counts and dates were checked and are right.")
    captions: Annotated[Any, *raw(TEXT_BY_NAME)] = described("A line of text by photo file name.")
    about: Text = described("Free text, Markdown.")
    reviewed: Annotated[Any, *raw(TEXT_BY_NAME)] = described(
        "Words that check asks about and that are right as they stand, each with the reason."
    )
    private: Annotated[Any, *raw({})] = described("Anything that is never published.")

    @property
    def young_keys(self) -> dict[str, Scalar]:
        """Number of each young to where it stands."""
        tree = next((node for key, node in self.node.entries if key.text == "young"), None)
        return {key.text: key for key, _ in tree.entries} if isinstance(tree, Entries) else {}
