"""Cross-checks of what is wrong or a slip: counts, words of birth, animals entered twice, weights, prices."""

from collections.abc import Mapping
from itertools import pairwise

from sitegen.content.animals import Animal
from sitegen.content.check_intervals import check_intervals
from sitegen.content.declaration import Written
from sitegen.content.litters import Litter, Spots, gravid, living_young
from sitegen.content.report import Report
from sitegen.content.species import Births, BoundSpecies
from sitegen.findings import Kind, Level
from sitegen.genetics.questions import AnimalId

GROWTH = 8
GROWTH_DAYS = 100
LOSS = 5
"""No snake or gecko grows to eight times its weight in a hundred days, and none shrinks to a fifth; a slip of the
point, of a zero or of the unit makes about ten times of it. Common practice, no source."""
FAR_OFF = 10
"""A price that is so many times the highest of all others, or the lowest so many times it, is asked about."""
_OTHER_PRICES = 3


def check_unusual(animals: Mapping[AnimalId, Animal], spots: Spots, report: Report) -> None:
    """Asks about animals, weights and prices."""
    _check_twice(animals, report)
    for animal in animals.values():
        _check_weights(animal, spots, report)
    _check_prices(animals, spots, report)


def _check_twice(animals: Mapping[AnimalId, Animal], report: Report) -> None:
    """One animal under two ids counts twice as evidence."""
    known: dict[object, Animal] = {}
    for animal in animals.values():
        if animal.born is None:
            continue
        marks = (animal.species, animal.born, animal.dam, animal.sires, animal.sex, animal.name.casefold())
        first = known.setdefault(marks, animal)
        if first is animal:
            continue
        young = next((each.id for each in (first, animal) if each.is_young), "")
        one = f"write from_litter: {young} in the other record" if young else "keep one of the two records"
        report.notice(
            Kind.ANIMAL_TWICE,
            animal.place,
            f"{animal.id} and {first.id} have the same species, birth, parents, sex and name",
            expected="one record for each animal: what two say of one is counted twice",
            remedy=f"if they are one animal, {one}; else give them different names",
            others=(first.place,),
        )


def _check_weights(animal: Animal, spots: Spots, report: Report) -> None:
    told = 0  # the direction of the last jump that was told: after a slip the right weight is not told as well
    for first, second in pairwise(sorted(animal.weights, key=lambda weighing: weighing.date)):
        days = (second.date.latest - first.date.earliest).days
        grown = second.grams >= GROWTH * first.grams and days <= GROWTH_DAYS
        jump = 1 if grown else -1 if LOSS * second.grams <= first.grams else 0
        before, told = told, 0 if jump == -told else jump
        if not jump or jump == -before:
            continue
        report.notice(
            Kind.WEIGHT_UNUSUAL,
            spots.of_dated(animal, "weights", second.date),
            f"{animal.id} weighed {first.grams} g on {first.date} and {second.grams} g on {second.date}",
            expected=f"less than {GROWTH} times the weight within {GROWTH_DAYS} days, and never a fifth of it or less",
            remedy="look at both: a point, a zero or the unit (g, kg, oz) may be wrong",
        )


def _check_prices(animals: Mapping[AnimalId, Animal], spots: Spots, report: Report) -> None:
    by_kind: dict[tuple[str, str], list[Animal]] = {}
    for animal in animals.values():
        if animal.offer is None or animal.offer.price is None:
            continue
        if animal.offer.price.amount:
            by_kind.setdefault((animal.species, animal.offer.price.currency), []).append(animal)
        else:
            _ask_price(animal, "is asked for nothing: its price is 0", "what is asked for it", spots, report)
    for priced in by_kind.values():
        if len(priced) <= _OTHER_PRICES:
            continue
        ordered = sorted(priced, key=_amount)
        if _amount(ordered[-1]) >= FAR_OFF * _amount(ordered[-2]):
            _ask_off(ordered[-1], ordered[-2], "the highest", spots, report)
        if FAR_OFF * _amount(ordered[0]) <= _amount(ordered[1]):
            _ask_off(ordered[0], ordered[1], "the lowest", spots, report)


def _amount(animal: Animal) -> float:
    assert animal.offer is not None
    assert animal.offer.price is not None
    return float(animal.offer.price.amount)


def _ask_off(animal: Animal, next_to: Animal, which: str, spots: Spots, report: Report) -> None:
    says = f"is priced {_amount(animal):g}; {which} price of any other of its species is {_amount(next_to):g}"
    _ask_price(animal, says, f"less than {FAR_OFF} times between them", spots, report)


def _ask_price(animal: Animal, says: str, expected: str, spots: Spots, report: Report) -> None:
    report.notice(
        Kind.PRICE_UNUSUAL,
        spots.of_animal(animal, "offer", "price"),
        f"{animal.id} {says}",
        expected=expected,
        remedy="correct the price if it is a slip; leave it out where none is asked",
    )


def check_counts(
    litters: Mapping[str, Litter],
    animals: Mapping[AnimalId, Animal],
    forms: Mapping[str, Written | None],
    species: Mapping[str, BoundSpecies | None],
    report: Report,
) -> None:
    """Tells counts that cannot be right, asks about unusual ones unless the record says they are confirmed."""
    for litter_id, litter in litters.items():
        form, bound = forms.get(litter_id), species.get(litter.species)
        if form is None or bound is None:
            continue
        _check_sum(litter, form, report)
        _check_failed(litter, form, report)
        if bound.species.births is Births.LIVE:
            _check_words(litter, form, bound, report)
        _check_size(litter, form, bound, report)
    check_intervals(litters, animals, forms, species, report)
    _drop_confirmed(forms, report)


def _drop_confirmed(forms: Mapping[str, Written | None], report: Report) -> None:
    """Takes back notices about unusual counts and dates in records that say they are right."""
    sure = {form.start.file for form in forms.values() if form is not None and form.confirmed and form.confirmed.value}
    unusual = (Kind.COUNT_UNUSUAL, Kind.DATE_UNUSUAL, Kind.PARENT_DEAD)
    report.findings[:] = [
        finding
        for finding in report.findings
        if finding.level is Level.ERROR
        or finding.kind not in unusual
        or finding.place is None
        or finding.place.file not in sure
    ]


def _check_sum(litter: Litter, form: Written, report: Report) -> None:
    if litter.eggs is None:
        return
    parts = (litter.infertile or 0, litter.stillborn or 0, living_young(litter))
    if sum(parts) > litter.eggs:
        report.error(
            Kind.COUNT_IMPOSSIBLE,
            form.eggs or form.start,
            f"{litter.eggs} eggs cannot give {parts[0]} infertile, {parts[1]} stillborn and {parts[2]} living young",
            expected=f"at least {sum(parts)} eggs",
            remedy="a young that is listed must not be counted again under others",
        )


def _check_failed(litter: Litter, form: Written, report: Report) -> None:
    """What failed gave no living young, and a dam that was not gravid laid and bore nothing."""
    if litter.failed is None:
        return
    told = ["born", "young", "others"]
    if not gravid(litter):
        told += ["laid", "eggs", "infertile", "stillborn"]
    found = [word for word in told if getattr(litter, word)]
    if found:
        report.error(
            Kind.FAILED_CLASH,
            form.at("failed"),
            f'{litter.id} says that it failed ({litter.failed.what}), and also "{found[0]}"',
            expected="failed only where no living young came, and not-gravid only where nothing was laid or born",
            remedy="see which of the two is right, and correct the other one",
            others=[form.at(word) for word in found],
        )


def _check_words(litter: Litter, form: Written, bound: BoundSpecies, report: Report) -> None:
    for word, instead in (("eggs", "young and others"), ("laid", "paired and born")):
        key = form.key(word)
        if key is not None and getattr(litter, word) is not None:
            report.error(
                Kind.BIRTH_WORD,
                key,
                f"{bound.species.name} bears live young, so the record of {litter.id} cannot say {word}",
                expected=instead,
                remedy=f"delete the line {word}, or write births: eggs in the species file",
            )


def _check_size(litter: Litter, form: Written, bound: BoundSpecies, report: Report) -> None:
    """The size of the litter against the usual one of the species, when its file says what is usual."""
    if "litter_size" not in bound.species.written or litter.born is None:
        return
    usual = bound.species.litter_size
    living = living_young(litter)
    n_young = max(living + (litter.stillborn or 0), litter.eggs or 0)
    if n_young and not usual.low <= n_young <= usual.high:
        report.notice(
            Kind.COUNT_UNUSUAL,
            form.start,
            f"{litter.id} has {n_young} {'eggs' if litter.eggs else 'young'}",
            expected=f"{usual.low} to {usual.high}, as {bound.species.name} has it under litter_size",
            remedy="check the counts, or write confirmed: true",
        )
