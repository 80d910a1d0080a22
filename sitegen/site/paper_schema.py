"""The format of the file beside a buyer's paper, as a JSON Schema (draft 2020-12).

The format is our own. Its version is raised when a reader of the older one would misread a newer file; a reader
takes ``claims`` over as stated evidence, with ``basis`` and the breeder as its source, and never as its own finding.
"""

from typing import Any

from sitegen.evidence.kinds import Basis, ClaimKind
from sitegen.genetics.loci import Sex

FORMAT = "sitegen paper"
VERSION = 1

_TEXT: dict[str, Any] = {"type": "string"}
_MAYBE: dict[str, Any] = {"type": ["string", "null"]}
_TEXTS: dict[str, Any] = {"type": "array", "items": _TEXT}
_CHANCE: dict[str, Any] = {"type": "string", "pattern": r"^(0|1|[1-9]\d*/[1-9]\d*)$"}
_DATE: dict[str, Any] = {"type": "string", "pattern": r"^\d{4}(-\d{2}(-\d{2})?)?$"}
_DAY: dict[str, Any] = {"type": "string", "pattern": r"^\d{4}-\d{2}-\d{2}$"}


def _object(properties: dict[str, Any], description: str = "") -> dict[str, Any]:
    """An object that has all of these properties and no others."""
    told = {"description": description} if description else {}
    return {"type": "object", **told, "properties": properties, "required": list(properties),
            "additionalProperties": False}  # fmt: skip


def _maybe(schema: dict[str, Any]) -> dict[str, Any]:
    return {"oneOf": [schema, {"type": "null"}]}


def _described(schema: dict[str, Any], description: str) -> dict[str, Any]:
    return {**schema, "description": description}


def paper_schema() -> dict[str, Any]:
    """The schema of one file."""
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "A buyer's paper: what was stated of one animal on one day",
        **_object(
            {
                "format": {"const": FORMAT},
                "version": {"const": VERSION},
                "date": _described(_DAY, "The day of the statement."),
                "record": {
                    "type": "string",
                    "pattern": "^[0-9a-f]{12}$",
                    "description": "The first 12 digits of the SHA-256 of all but date and record, as JSON with sorted "
                    "keys, no blanks, in UTF-8.",
                },
                "animal": _animal(),
                "breeder": _breeder(),
                "shows": _shows(),
                "claims": {"type": "array", "items": _claim()},
                "parents": _object({"dam": _maybe(_object(_parent())), "sires": _sires()}),
                "relatedness": _maybe(
                    _object({"inbreeding": _CHANCE, "words": _TEXT}, "How the parents are related (Wright).")
                ),
                "not_known": _TEXTS,
                "weights": {"type": "array", "items": _object({"date": _DATE, "grams": {"type": "integer"}})},
                "meals": {
                    "type": "array",
                    "items": _object({"date": _DATE, "what": _TEXT, "taken": {"type": "boolean"}}),
                },
                "cautions": _TEXTS,
            }
        ),
    }


def _animal() -> dict[str, Any]:
    return _object(
        {
            "id": _described(_TEXT, "Its folder's name at the breeder's, or LITTER/NUMBER."),
            "name": _TEXT,
            "species": _object({"id": _TEXT, "name": _TEXT, "scientific": _MAYBE}),
            "sex": {"enum": [sex.value for sex in Sex]},
            "born": _maybe(_DATE),
            "died": _maybe(_DATE),
            "line": _MAYBE,
            "locality": _MAYBE,
            "page": _described(_MAYBE, "The animal's page, where later changes stand."),
        }
    )


def _breeder() -> dict[str, Any]:
    return _object({"name": _TEXT, "site": _MAYBE, "email": _MAYBE, "phone": _MAYBE, "place": _MAYBE})


def _shows() -> dict[str, Any]:
    judged = {"type": "boolean", "description": "False: nobody wrote down what it shows; no look means nothing then."}
    looks = {"type": "array", "items": _object({"look": _TEXT, "name": _TEXT, "locus": _TEXT})}
    return _object({"judged": judged, "looks": looks})


def _claim() -> dict[str, Any]:
    return _object(
        {
            "kind": {"enum": [kind.value for kind in ClaimKind]},
            "locus": _TEXT,
            "allele": _MAYBE,
            "look": _MAYBE,
            "gene": _described(_TEXT, "The name in words."),
            "chance": _described(
                _CHANCE,
                "Of having the allele (may carry), of two copies (one or two copies), of showing it later (too "
                "young to tell); 1 or 0 for the others.",
            ),
            "genotypes": {
                "type": "object",
                "additionalProperties": _CHANCE,
                "description": "Exact odds of every genotype at the locus, as in +/amel; empty where none are known.",
            },
            "basis": {"enum": [basis.value for basis in Basis]},
            "words": _described(_TEXT, "The claim as it is printed."),
            "reasons": _TEXTS,
            "hangs_on": _described(_TEXTS, "Animals whose previous keeper's word the claim hangs on."),
        }
    )


def _parent() -> dict[str, Any]:
    return {"id": _TEXT, "name": _TEXT, "shows": _shows()}


def _sires() -> dict[str, Any]:
    return {"type": "array", "items": _object({**_parent(), "chance": _CHANCE})}
