"""A bare claim gets what it rests on: reasons, basis, whose word, and what is taken as one copy."""

from dataclasses import dataclass, field

from sitegen.evidence.basis import basis_of, one_copy_taken, taken_as_one_copy
from sitegen.evidence.chains import Chains
from sitegen.evidence.kinds import Claim, ClaimKind
from sitegen.genetics.loci import Locus
from sitegen.genetics.questions import AnimalId


@dataclass(frozen=True)
class Grounding:
    """The chains of evidence, and who is taken as having one copy of which allele, worked out once."""

    chains: Chains
    _taken: dict[tuple[str, str, str], frozenset[AnimalId]] = field(default_factory=dict)

    def grounded(self, claim: Claim, locus: Locus) -> Claim:
        """The claim with its reasons, its basis and what it hangs on."""
        basis, words = basis_of(self.chains, claim.animal, locus, claim.allele, claim.kind)
        reasons = self.chains.reasons(claim.animal, locus.id)
        return claim.grounded(basis, reasons, words, self._one_copy(claim, locus))

    def _one_copy(self, claim: Claim, locus: Locus) -> tuple[AnimalId, ...]:
        """The animals taken as having one copy, where the claim hangs on it."""
        if not claim.allele or claim.kind in (ClaimKind.CARRIES, ClaimKind.RULED_OUT):
            return ()
        key = claim.species, locus.id, claim.allele
        if key not in self._taken:
            self._taken[key] = taken_as_one_copy(self.chains, locus, claim.species, claim.allele)
        return one_copy_taken(self.chains, claim.animal, locus, self._taken[key])
