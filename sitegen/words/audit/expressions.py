"""Reads the regular expressions that stand in the YAML files beside this module; ``shorthand.yaml`` tells how."""

import re
from collections.abc import Mapping

_PLACE = re.compile(r"\{([a-z_]+)\}")


def expression(lines: str, known: Mapping[str, str]) -> str:
    """The lines as one expression, its places filled with what is known by their names."""
    whole = re.sub(r"\n +", "", lines).strip("\n").replace("\n", "|")
    return _PLACE.sub(lambda place: known[place[1]], whole)


def expressions(by_name: Mapping[str, str], given: Mapping[str, str]) -> dict[str, str]:
    """Each of them, its places filled with what is given and with those before it."""
    known = dict(given)
    for name, lines in by_name.items():
        known[name] = expression(lines, known)
    return known
