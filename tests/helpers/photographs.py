"""One photograph looked at."""

from pathlib import Path

from sitegen.findings import Finding
from sitegen.photos.facts import read_all_facts
from sitegen.photos.variants import PhotoFacts


def read_facts(path: Path, file: str = "") -> PhotoFacts | Finding:
    """The facts of one photograph, or what is wrong with it; ``file`` is its name in a finding."""
    name = file or path.name
    facts, findings = read_all_facts({name: path}, workers=1)
    return facts[name] if name in facts else findings[0]
