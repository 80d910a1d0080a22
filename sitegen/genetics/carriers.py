"""How many of some members carry an allele: their chances hang together wherever their parents are in doubt."""

from collections.abc import Sequence
from fractions import Fraction

from sitegen.genetics.counts import all_together
from sitegen.genetics.lowest import leading
from sitegen.genetics.network import Heredity
from sitegen.genetics.ordering import Plan
from sitegen.genetics.questions import AnimalId
from sitegen.genetics.solving import Piece
from sitegen.genetics.transmission import states_in
from sitegen.genetics.tree import Single


def carriers(heredity: Heredity, members: Sequence[AnimalId], place: int, allele: str) -> tuple[Fraction, ...] | None:
    """Chance that exactly 0, 1, ... of different members have a copy of an allele, given all evidence; sums to 1.

    Exact for any pedigree: what ties the members (parents in doubt, young of theirs) is summed over. None where it
    cannot be told. ``place`` says which of the network's loci is asked.
    """
    solved, part = heredity.solved, heredity.solved.parts[heredity.number]
    alone: list[tuple[Fraction, ...]] = []
    by_piece: dict[int, tuple[Piece, dict[int, list[bool]]]] = {}
    for member in members:
        number = part.pedigree.position[member]
        marks = [allele in heredity.mode.genotypes[state][place] for state in states_in(part.possible[number])]
        variable = solved.network.of_member.get((heredity.number, number))
        if variable is None:
            alone.append((Fraction(not marks[0]), Fraction(marks[0])))
            continue
        outcome = solved.outcomes[variable]
        if not isinstance(outcome, Piece):
            return None
        by_piece.setdefault(id(outcome), (outcome, {}))[1][outcome.local[variable]] = marks
    for piece, marked in by_piece.values():
        if isinstance(piece.tree, Single):
            (marks,) = marked.values()
            parted: dict[bool, int] = {False: 0, True: 0}
            for mark, weight in zip(marks, piece.tree.marginal(0), strict=True):
                parted[mark] += weight
            counted = [parted[False], parted[True]]
        else:
            found = piece.tree.counted(marked, piece.limit)
            if isinstance(found, Plan):
                return None
            counted = [*found]
        counted = [*leading(counted)]
        total = sum(counted)
        alone.append(tuple(Fraction(weight, total) for weight in counted))
    return all_together(alone)
