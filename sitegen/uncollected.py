"""Nobody looks for circles of garbage while much is made that stays."""

import gc
from collections.abc import Iterator
from contextlib import contextmanager


@contextmanager
def uncollected(*, later_too: bool = False) -> Iterator[None]:
    """Within it nobody looks for circles of garbage: what is made there is kept to the end, or holds no circles.

    Args:
        later_too: Neither does anybody later in what stands by then, such as the modules that were imported.
    """
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if later_too:
            gc.freeze()
        if was_on:
            gc.enable()
