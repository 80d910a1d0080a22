"""Several loci at once, where not knowing a litter's sire ties them to each other.

Unlinked loci are independent once it is settled who the sires were. So what several loci say together is a
mixture: for each way to choose the sires that matter to more than one of them, the loci stand side by side.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import prod

from sitegen.genetics.gametes import StateNumber
from sitegen.genetics.network import Failure, Heredity, States
from sitegen.genetics.questions import AnimalId, Impossible, TooTangled
from sitegen.genetics.solving import Piece

MOST_CASES = 20_000


@dataclass(frozen=True, slots=True)
class Case:
    """One way in which the sires may have been chosen.

    Attributes:
        chance: Its chance; all cases together have 1.
        states: For each of the answers the joint of the members' states; within a case they are independent.
    """

    chance: Fraction
    states: tuple[States, ...]


def cases(answers: Sequence[Heredity], members: Sequence[AnimalId]) -> tuple[Case, ...] | Failure:
    """Joint of some members at all loci of several answers, as a mixture of cases; a single case if nothing ties them.

    Args:
        answers: From one call of :func:`sitegen.genetics.network.answer_all`, or of any where no sire is in doubt; at
            least one.
        members: The members, such as dam and sire of a planned litter.

    Returns:
        The cases; or the first failure, if a member has no answer at one of the loci.

    Raises:
        KeyError: There is no such member.
        ValueError: The answers were not asked together, and choices of sire may tie them.
    """
    together = all(one.solved is answers[0].solved for one in answers)
    if not together and any(one.solved.network.choices for one in answers):
        raise ValueError("cases need answers that were asked together")
    shared = _shared_choices(answers, members) if together else ()
    sizes = answers[0].solved.network.sizes
    if prod(sizes[choice] for choice in shared) > MOST_CASES:
        return TooTangled(tuple(members), prod(sizes[choice] for choice in shared))
    by_answer: list[dict[tuple[int, ...], dict[tuple[StateNumber, ...], int]]] = []
    for one in answers:
        weights = one.weights_with(members, shared)
        if isinstance(weights, Impossible | TooTangled):
            return weights
        split: dict[tuple[int, ...], dict[tuple[StateNumber, ...], int]] = {}
        for (states, chosen), weight in weights.items():
            if weight:
                split.setdefault(chosen, {})[states] = weight
        by_answer.append(split)
    whole = {chosen: sum(found.values()) for chosen, found in by_answer[0].items()}
    total = sum(whole.values())
    return tuple(
        Case(Fraction(weight, total), tuple(_chances(split[chosen]) for split in by_answer))
        for chosen, weight in sorted(whole.items())
    )


def _chances(weights: Mapping[tuple[StateNumber, ...], int]) -> States:
    total = sum(weights.values())
    return {states: Fraction(weight, total) for states, weight in weights.items()}


def _shared_choices(answers: Sequence[Heredity], members: Sequence[AnimalId]) -> tuple[int, ...]:
    """Choices of sire that matter to the members at more than one locus and are not settled."""
    times: dict[int, int] = {}
    solved = answers[0].solved
    for one in answers:
        position = solved.parts[one.number].pedigree.position
        keys = [(one.number, position[member]) for member in members]
        variables = [solved.network.of_member[key] for key in keys if key in solved.network.of_member]
        for choice in solved.choices_beside(variables, one.number):
            times[choice] = times.get(choice, 0) + 1
    return tuple(choice for choice, count in sorted(times.items()) if count > 1 and _is_open(answers[0], choice))


def _is_open(answers: Heredity, choice: int) -> bool:
    if choice in answers.solved.apart:
        return True
    outcome = answers.solved.outcomes[choice]
    return isinstance(outcome, Piece) and sum(map(bool, outcome.tree.marginal(outcome.local[choice]))) > 1
