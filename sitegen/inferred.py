"""All that was inferred from a collection's evidence, kept from build to build while the evidence is the same.

A file of the store holds it. Somebody else may have put that file there, so what stands in it can become nothing but
the few types of plain data that are listed here, and calls nothing; one that is cut off or spoilt is as none. Its key
names the evidence, the day, the site and the program, so what was inferred from anything else is never taken.
"""

import contextlib
import datetime as dt
import pickle
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from enum import Enum
from fractions import Fraction
from io import BytesIO
from typing import Any, Self

from sitegen.claims.changes import Change, ChangeKind
from sitegen.claims.kinds import Basis, Claim, ClaimKind, Unjudged
from sitegen.evidence.known import Answers, Ground, Reason
from sitegen.evidence.what_counts import doubts_key, evidence_key, plans_key
from sitegen.findings import Finding, Kind, Level, Place, SitegenError
from sitegen.genetics.questions import AnimalId
from sitegen.hashes import content_hash
from sitegen.lazily import InPieces
from sitegen.publishing.again import program_state
from sitegen.records.collection import Collection
from sitegen.store import Store, sealed, unsealed

KIND = "inferred"
ROADS = "roads"
_IN_A_PIECE = 64
"""Animals."""
FOLLOWING = ("answers.", "claims", "changes", "pairings", ROADS)
"""How the names of those mappings of the material begin that follow from the evidence, and for roads from plans."""


@dataclass(frozen=True, slots=True)
class Inferred:
    """What was inferred.

    Attributes:
        answers, claims, changes: As the pages take them.
        plans: A name for the plans for which there are marks of roads.
        marks: Name of a mapping of the material that follows from evidence, to key, to the hash of its value.
    """

    answers: Answers
    claims: Mapping[AnimalId, tuple[Claim, ...]]
    changes: Mapping[AnimalId, tuple[Change, ...]]
    plans: str = ""
    marks: Mapping[str, Mapping[object, bytes]] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class _Pieces:
    """A mapping as it is kept: its keys a piece, and each piece as bytes. Most builds ask for a few of them."""

    keys: tuple[tuple[object, ...], ...]
    pieces: tuple[bytes, ...]

    @classmethod
    def of(cls, content: Mapping[Any, object]) -> Self:
        """In the order of the mapping, so that littermates stand together."""
        every = tuple(content)
        keys = tuple(every[start : start + _IN_A_PIECE] for start in range(0, len(every), _IN_A_PIECE))
        return cls(keys, tuple(_told({key: content[key] for key in some}) for some in keys))

    def unpacked(self) -> Mapping[Any, Any]:
        """The mapping, of which each piece is read when it is first asked for."""
        return InPieces(self.keys, self._read)

    def _read(self, number: int) -> Mapping[Any, Any]:
        try:
            found: dict[object, object] = _Unpickler(BytesIO(self.pieces[number])).load()
        except Exception as reason:
            raise SitegenError(
                "what an earlier build left in the folder .sitegen cannot be read; delete that folder and build again"
            ) from reason
        return found


Packed = tuple[_Pieces, _Pieces]
"""Claims and changes as they are kept."""


def packed(inferred: Inferred) -> Packed:
    """What takes longest of keeping what was inferred."""
    return _Pieces.of(inferred.claims), _Pieces.of(inferred.changes)


_TYPES: tuple[type, ...] = (
    Inferred, Answers, Claim, ClaimKind, Basis, Unjudged, Reason, Ground, Change, ChangeKind, Place, Fraction, dt.date,
    Finding, Level, Kind, _Pieces,
)  # fmt: skip
_KNOWN = {(each.__module__, each.__qualname__): each for each in _TYPES}


def _told(value: object) -> bytes:
    """A value as it is kept. A member of an enumeration is its type and value, in every version of Python.

    Python 3.11.0 to 3.11.3 tell it by a call of ``getattr`` otherwise, which nobody may call who reads this.
    """
    told = BytesIO()
    pickler = pickle.Pickler(told, 5)
    pickler.dispatch_table = {kind: _member for kind in _TYPES if issubclass(kind, Enum)}
    pickler.dump(value)
    return told.getvalue()


def _member(member: Enum) -> tuple[type[Enum], tuple[str]]:
    return type(member), (member.value,)


class _Unpickler(pickle.Unpickler):
    def find_class(self, module: str, name: str) -> type:
        """One of the types that may stand there.

        Raises:
            UnpicklingError: It is none of them.
        """
        if (module, name) not in _KNOWN:
            raise pickle.UnpicklingError(f"{module}.{name} cannot stand here")
        return _KNOWN[module, name]


@dataclass(frozen=True, slots=True)
class Before:
    """What was inferred before from the same evidence.

    Attributes:
        as_of: The day of the statement.
        inferred: It, or None when nothing is kept, or it cannot be understood.
        doubts: What was found about the plans of the same projects, from the same evidence; None as above.
        key: The name of all that can be inferred from the collection as of the day, by this program.
        plans: A name for all that roads hang on besides.
        doubts_key: The name of all that ``doubts`` hang on.
    """

    as_of: dt.date
    inferred: Inferred | None
    doubts: tuple[Finding, ...] | None
    key: str
    plans: str
    doubts_key: str

    @classmethod
    def of(cls, collection: Collection, as_of: dt.date, store: Store) -> Self:
        """Look in the store."""
        key = content_hash((evidence_key(collection, as_of), collection.site, program_state())).hex()
        plans = plans_key(collection)
        found = _inferred(_found(store, key))
        if found is not None and found.plans != plans:
            found = replace(found, marks={name: own for name, own in found.marks.items() if name != ROADS})
        named = content_hash((key, doubts_key(collection))).hex()
        return cls(as_of, found, _found(store, named), key, plans, named)

    def keep(
        self, inferred: Inferred | None, doubts: tuple[Finding, ...], store: Store, ready: Packed | None = None
    ) -> None:
        """Keep what was inferred and found now, and only that; a folder that cannot be written is passed over.

        Nothing is done when both are as kept. What holds a finding of inference is not kept, for it names the line in
        which a record stands now. Those on plans are kept under a name that holds these lines.

        Args:
            inferred: What was inferred; None when it is what was kept before.
            doubts: What is found about the plans.
            store: Where.
            ready: What was inferred, packed, where that was done before.
        """
        with contextlib.suppress(OSError, pickle.PicklingError):
            if inferred is None and doubts == self.doubts:
                return
            names = [self.doubts_key]
            store.write(KIND, self.doubts_key, sealed(_told(doubts)))
            if inferred is None or not _has_findings(inferred.answers):
                names.append(self.key)
            if inferred is not None and self.key in names:
                rest = replace(inferred, claims={}, changes={}, plans=self.plans)
                store.write(KIND, self.key, sealed(_told((rest, *(ready or packed(inferred))))))
            store.prune(KIND, names)


def _has_findings(answers: Answers) -> bool:
    return any((answers.clashes, answers.knots, answers.contradictions, answers.too_tangled, answers.notices))


def _found(store: Store, key: str) -> tuple[Any, ...] | None:
    """What is told by the bytes of an entry; None where that cannot be understood."""
    try:
        found = _Unpickler(BytesIO(unsealed(store.read(KIND, key) or b""))).load()
    except Exception:
        return None
    return found if isinstance(found, tuple) else None


def _inferred(found: tuple[Any, ...] | None) -> Inferred | None:
    match found:
        case (Inferred() as rest, _Pieces() as claims, _Pieces() as changes):
            return replace(rest, claims=claims.unpacked(), changes=changes.unpacked())
    return None
