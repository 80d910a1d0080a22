"""A small collection for the commands that change records."""

from pathlib import Path

import pytest
from helpers.keeping import new_snakes


@pytest.fixture
def snakes(tmp_path: Path) -> Path:
    """A collection of two animals and a clutch of three young."""
    return new_snakes(tmp_path)
