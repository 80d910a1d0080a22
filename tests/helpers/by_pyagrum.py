"""The same question asked of pyAgrum, a general library of Bayesian networks: an independent second opinion."""

import warnings
from collections.abc import Sequence

import numpy as np

from sitegen.genetics.loci import Genotype, Sex
from sitegen.genetics.observations import background
from sitegen.genetics.questions import AnimalId, Question

with warnings.catch_warnings():
    # its generated bindings warn while they are loaded; as an error that ends the interpreter
    warnings.simplefilter("ignore", DeprecationWarning)
    import pyagrum

MENDEL = {0: {0: 1.0}, 1: {0: 0.5, 1: 0.5}, 2: {1: 1.0}}
"""Copies of the allele in a parent to the chance of passing on 0 or 1."""


def network(question: Question) -> pyagrum.BayesNet:
    """An autosomal locus with one named allele as a network of animals with 0, 1 or 2 copies."""
    genotypes = question.locus.genotypes()
    net = pyagrum.BayesNet()
    heredity = np.array(
        [[[sum(a * b for i, a in one.items() for j, b in other.items() if i + j == copies) for copies in range(3)]
          for one in MENDEL.values()] for other in MENDEL.values()]
    )  # fmt: skip
    for member in question.members:
        net.add(pyagrum.RangeVariable(member.id, "", 0, 2))
    for member in question.members:
        if member.dam is not None:
            net.addArc(member.dam, member.id)
            net.addArc(member.sires[0][0], member.id)
    for member in question.members:
        if member.dam is not None:
            net.cpt(member.id)[:] = heredity
        else:
            odds = question.priors.get(member.id, background(question.locus, Sex.UNKNOWN))
            net.cpt(member.id).fillWith([float(odds.get(genotype, 0)) for genotype in genotypes])
    return net


def posteriors(question: Question) -> dict[AnimalId, dict[Genotype, float]]:
    """Floating-point posteriors of all members."""
    inference = given_evidence(question)
    inference.makeInference()
    genotypes = question.locus.genotypes()
    return {
        member.id: dict(zip(genotypes, inference.posterior(member.id).tolist(), strict=True))
        for member in question.members
    }


def joint(question: Question, members: Sequence[AnimalId]) -> np.ndarray:
    """Floating-point joint of some members; axes in their order, on each the copies."""
    inference = given_evidence(question)
    inference.addJointTarget(set(members))
    inference.makeInference()
    found = inference.jointPosterior(set(members))
    names = list(found.names)
    # its arrays have the last variable first
    axes = [names[::-1].index(member) for member in members]
    return found.toarray().transpose(axes)


def given_evidence(question: Question) -> pyagrum.LazyPropagation:
    """The network with all that was seen, before anything is worked out."""
    genotypes = question.locus.genotypes()
    evidence: dict[AnimalId, list[float]] = {}
    for seen in question.observations:
        before = evidence.get(seen.member, [1.0, 1.0, 1.0])
        evidence[seen.member] = [
            old * float(seen.likelihood.get(g, 0)) for old, g in zip(before, genotypes, strict=True)
        ]
    inference = pyagrum.LazyPropagation(network(question))
    inference.setEvidence(evidence)
    return inference
