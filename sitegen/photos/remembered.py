"""Facts of photographs from earlier runs, kept in the store.

Two kinds of entries: facts by content, good for any copy of a photo in any place; and the content hash by the file's
stamp (place, size, times, number), so that a file that was not touched since need not be read at all.
"""

import contextlib
import hashlib
import json
import os
import time
from collections.abc import Iterable
from dataclasses import asdict
from datetime import date
from pathlib import Path

from sitegen.photos.variants import RECIPE, PhotoFacts
from sitegen.store import Store

FACTS = "facts"
SEEN = "seen"

_LATE_NS = 2_000_000_000
"""A file changed so shortly ago may change again within the grain of its clock; its stamp proves nothing yet."""


def stamp(path: Path) -> str | None:
    """A name for the file in its present state, which changes with its content; None when it proves nothing.

    The time of the last change of the inode counts too: unlike the time of the content it cannot be set back.
    """
    try:
        state = path.stat()
    except OSError:
        return None
    if time.time_ns() - state.st_ctime_ns < _LATE_NS:
        return None
    parts = (state.st_dev, state.st_ino, state.st_size, state.st_mtime_ns, state.st_ctime_ns)
    told = "|".join([os.path.abspath(path), *(str(part) for part in parts)])
    return hashlib.sha256(told.encode(errors="surrogateescape")).hexdigest()[:40]


def facts_of_content(content_hash: str, store: Store) -> PhotoFacts | None:
    """Facts of the same bytes from an earlier run; an entry that is not understood is as good as none."""
    entry = store.read(FACTS, _facts_key(content_hash))
    if entry is None:
        return None
    try:
        told = json.loads(entry)
        taken = date.fromisoformat(told["taken"]) if told["taken"] else None
        facts = PhotoFacts(**{**told, "taken": taken})
    except (ValueError, TypeError, KeyError):
        return None
    return facts if facts.content_hash == content_hash else None


def facts_of_file(seen: str | None, store: Store) -> PhotoFacts | None:
    """Facts of a file that has the stamp ``seen`` as it had then."""
    entry = store.read(SEEN, seen) if seen else None
    return facts_of_content(entry.decode("ascii", "replace"), store) if entry else None


def remember(facts: PhotoFacts, seen: str | None, store: Store) -> None:
    """Keep facts, and that the file with the stamp ``seen`` has this content.

    A store that cannot be written is passed over: what is not remembered is found out again.
    """
    entry = json.dumps(asdict(facts), default=str).encode()
    with contextlib.suppress(OSError):
        if store.read(FACTS, _facts_key(facts.content_hash)) != entry:
            store.write(FACTS, _facts_key(facts.content_hash), entry)
        if seen:
            store.write(SEEN, seen, facts.content_hash.encode("ascii"))


def forget_others(paths: Iterable[Path], facts: Iterable[PhotoFacts], store: Store) -> int:
    """Prune the store of facts and stamps of photographs that are not there any more; how many entries went."""
    kept = [_facts_key(each.content_hash) for each in facts]
    stamps = [seen for path in paths if (seen := stamp(path))]
    return store.prune(FACTS, kept) + store.prune(SEEN, stamps)


def _facts_key(content_hash: str) -> str:
    # The hash may come from a damaged entry: only its digits make a name.
    digits = "".join(sign for sign in content_hash if sign in "0123456789abcdef")[:40]
    return f"{digits.ljust(40, '0')}-{RECIPE}.json"
