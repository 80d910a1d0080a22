"""What changes in folders is told, also where a folder comes and goes."""

import threading
import time
from pathlib import Path

from sitegen.app.preview.watching import changes


def test_folders_that_come_and_go_are_watched(tmp_path: Path) -> None:
    stop, told = threading.Event(), list[frozenset[Path]]()
    folder = tmp_path / "content"

    def follow() -> None:
        for changed in changes([folder], stop):
            told.append(changed)

    thread = threading.Thread(target=follow)
    thread.start()

    def wait_for(path: Path) -> bool:
        for _ in range(100):
            if any(path in changed for changed in told):
                told.clear()
                return True
            time.sleep(0.05)
        return False

    try:
        folder.mkdir()
        assert wait_for(folder)
        time.sleep(0.3)
        (folder / "site.yaml").write_text("name: x\n")
        assert wait_for(folder / "site.yaml")
        folder.rename(tmp_path / "elsewhere")
        assert wait_for(folder)
        folder.mkdir()
        assert wait_for(folder)
    finally:
        stop.set()
        thread.join(5)
    assert not thread.is_alive()
