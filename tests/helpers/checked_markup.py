"""Where the Nu HTML Checker is, which knows which element may stand in which."""

import os
import shutil
from pathlib import Path

import pytest


def nu_command() -> list[str]:
    """The command of the Nu HTML Checker; ``SITEGEN_NU`` says where its ``vnu.jar`` is, or why it is not here."""
    told = os.environ.get("SITEGEN_NU", "")
    if told.endswith(".jar"):
        assert Path(told).is_file(), f"SITEGEN_NU: there is no file {told}"
        java = shutil.which("java")
        assert java, "SITEGEN_NU is set, but there is no java to run it with"
        return [java, "-Xss4m", "-jar", told]
    if told:
        pytest.skip(f"no Nu checker: {told}")
    if found := shutil.which("vnu"):
        return [found]
    if os.environ.get("CI"):
        pytest.fail("CI needs the Nu checker, or a word why it is not here: set SITEGEN_NU")
    pytest.skip("no Nu checker on this machine: npm install vnu-jar, and set SITEGEN_NU to the path of vnu.jar")
