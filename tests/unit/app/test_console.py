import io
import json
import os
import subprocess
import sys
import textwrap
import threading
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest

from sitegen.app.console import (
    Console,
    TreeLine,
    excerpt_of,
    finding_facts,
    harmless,
    plain_finding,
    plain_table,
    plain_tree,
    summary,
)
from sitegen.findings import ContentError, Finding, Kind, Level, OutputRefused, Place

MISSPELT = Finding(
    level=Level.ERROR,
    kind=Kind.GENE_UNKNOWN,
    place=Place("animals/juniper/animal.yaml", 5, 9),
    message='corn snake has no look "amle"',
    expected="a look of corn snake (18, in species/corn-snake.yaml under loci)",
    nearest="amel",
    remedy='write "amel", or describe the new gene in the species file',
    width=4,
)
NOTICE = Finding(Level.NOTICE, Kind.DATE_UNUSUAL, Place("litters/x/litter.yaml"), "laid before pairing")


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


@pytest.fixture
def pipes() -> tuple[Console, io.StringIO, io.StringIO]:
    output, messages = io.StringIO(), io.StringIO()
    return Console(output, messages), output, messages


@pytest.fixture
def screen(monkeypatch: pytest.MonkeyPatch) -> tuple[Console, Terminal, Terminal]:
    monkeypatch.setenv("TERM", "xterm-256color")
    monkeypatch.setenv("COLUMNS", "80")
    monkeypatch.delenv("NO_COLOR", raising=False)
    output, messages = Terminal(), Terminal()
    return Console(output, messages), output, messages


def test_a_finding_shows_place_line_and_what_to_do() -> None:
    expected = textwrap.dedent(
        """\
        animals/juniper/animal.yaml:5:9: error: corn snake has no look "amle"
            shows: [amle, motley]
                    ^^^^
            expected a look of corn snake (18, in species/corn-snake.yaml under loci); nearest: amel
            write "amel", or describe the new gene in the species file"""
    )
    assert expected == plain_finding(MISSPELT, "shows: [amle, motley]")


def test_a_finding_without_more_is_one_line() -> None:
    assert plain_finding(NOTICE) == "litters/x/litter.yaml: notice: laid before pairing"
    nowhere = Finding(Level.ERROR, Kind.FOLDER_MISSING, None, "there is no content folder")
    assert plain_finding(nowhere) == "error: there is no content folder"


def test_further_places_are_named() -> None:
    clash = Finding(
        Level.ERROR, Kind.KEY_TWICE, Place("a.yaml", 2, 1), '"sex" stands twice', others=(Place("a.yaml", 9, 1),)
    )
    assert plain_finding(clash) == 'a.yaml:2:1: error: "sex" stands twice\n    also a.yaml:9:1'


def marked(excerpt: str, column: int, width: int) -> tuple[str, str]:
    finding = Finding(Level.ERROR, Kind.VALUE_WRONG, Place("a.yaml", 1, column), "x", width=width)
    _, line, marks = plain_finding(finding, excerpt).split("\n")
    return line, marks


def test_indentation_is_taken_off_and_the_marks_move_along() -> None:
    assert marked("      sex: femal", 12, 5) == ("    sex: femal", "         ^^^^^")


def test_an_unknown_width_is_one_mark_and_a_place_past_the_end_is_below_the_end() -> None:
    assert marked("sex:", 5, 0) == ("    sex:", "        ^")


def test_marks_stand_below_wide_signs_and_tabs() -> None:
    line, marks = marked("名前: 錦\tx", 5, 1)
    assert line == "    名前: 錦 x"
    assert marks == "    " + " " * len("nnnn: ") + "^^"


def test_a_long_line_is_cut_around_the_place() -> None:
    line, marks = marked("a" * 500 + "WRONG" + "b" * 500, 501, 5)
    assert len(line) == 4 + 100
    assert line[marks.index("^") : marks.rindex("^") + 1] == "WRONG"


def test_a_width_past_a_cut_line_marks_no_more_than_is_shown() -> None:
    line, marks = marked("x: " + "y" * 400, 4, 400)
    assert len(marks) <= len(line)


def test_signs_that_steer_a_terminal_are_spelt_out_wherever_they_stand() -> None:
    hostile = Finding(
        level=Level.ERROR,
        kind=Kind.VALUE_WRONG,
        place=Place("animals/\x1b]0;owned\x07/animal.yaml", 1, 1),
        message="name \x1b[31m\u202eevil\x9b2J",
        expected="\rhidden",
        remedy="\x08\x08",
    )
    told = plain_finding(hostile, "name: \x1b[2J\udcff\x7f")
    assert not [sign for sign in told if (ord(sign) < 32 and sign != "\n") or 0x7F <= ord(sign) < 0xA0]
    assert "\u202e" not in told
    assert "\udcff" not in told
    assert r"\x1b[31m\u202eevil\x9b2J" in told


def test_ordinary_writing_of_any_script_is_left_alone() -> None:
    for text in ("Żółw, Natter – «Ärger»", "نمی\u200cخواهم", "👩\u200d🔬 🐍", "½ ♀ ♂"):  # noqa: RUF001 - the look-alikes are the point
        assert text == harmless(text)
    assert harmless("a\nb") == r"a\nb"
    assert harmless("a\nb", lines=True) == "a\nb"


def test_the_line_is_read_from_the_content_folder(tmp_path: Path) -> None:
    path = tmp_path / MISSPELT.place.file if MISSPELT.place else tmp_path
    path.parent.mkdir(parents=True)
    path.write_bytes("\ufeffa\r\nb\r\nc\r\nd\r\nshows: [amle]\r\n".encode())
    assert excerpt_of(MISSPELT, tmp_path) == "shows: [amle]"
    path.write_bytes(b"a\n\xff\xfe")
    assert excerpt_of(MISSPELT, tmp_path) == ""
    path.write_bytes(b"only one line")
    assert excerpt_of(MISSPELT, tmp_path) == ""
    path.unlink()
    assert excerpt_of(MISSPELT, tmp_path) == ""
    assert excerpt_of(MISSPELT, None) == ""


@pytest.mark.parametrize(
    ("errors", "notices", "told"),
    [(0, 0, "no findings"), (1, 0, "1 error"), (2, 1, "2 errors, 1 notice in 2 files"), (0, 3, "3 notices")],
)
def test_the_summary_counts_each_level(errors: int, notices: int, told: str) -> None:
    assert summary([MISSPELT] * errors + [NOTICE] * notices) == told


def test_machine_output_of_a_finding() -> None:
    assert finding_facts(MISSPELT) == {
        "level": "error",
        "kind": "gene-unknown",
        "file": "animals/juniper/animal.yaml",
        "line": 5,
        "column": 9,
        "message": 'corn snake has no look "amle"',
        "hint": f"expected {MISSPELT.expected}; nearest: amel; {MISSPELT.remedy}",
    }


def test_findings_on_the_way_go_to_standard_error_and_as_result_to_output(
    pipes: tuple[Console, io.StringIO, io.StringIO],
) -> None:
    console, output, messages = pipes
    console.show_findings([MISSPELT, NOTICE], None)
    assert output.getvalue() == ""
    assert (
        messages.getvalue() == f"{plain_finding(MISSPELT)}\n\n{plain_finding(NOTICE)}\n1 error, 1 notice in 2 files\n"
    )
    console.show_findings([], None, as_result=True)
    assert output.getvalue() == "no findings\n"


def test_json_is_plain_ascii_and_nothing_else(pipes: tuple[Console, io.StringIO, io.StringIO]) -> None:
    console, output, messages = pipes
    value = {"name": "Zoë \x1b \udcff", "p": str(Fraction(2, 3))}
    console.show_json(value)
    assert output.getvalue().isascii()
    assert json.loads(output.getvalue()) == value
    assert messages.getvalue() == ""


def test_a_table_in_a_pipe_is_aligned_without_lines_and_colours(
    pipes: tuple[Console, io.StringIO, io.StringIO],
) -> None:
    console, output, _ = pipes
    console.show_table("Juniper x Flint", ["young", "chance"], [["amel", "1/4"], ["wild type", "3/4"]])
    assert output.getvalue() == "Juniper x Flint\nyoung      chance\namel       1/4\nwild type  3/4\n"


def test_a_table_counts_the_room_that_signs_take() -> None:
    assert plain_table(["a", "b"], [["錦", "x"], ["y", "z"]]) == "a   b\n錦  x\ny   z"


def test_a_tree_in_a_pipe_is_indented(pipes: tuple[Console, io.StringIO, io.StringIO]) -> None:
    console, output, _ = pipes
    tree = TreeLine("Juniper may carry hypo", (TreeLine("stated 66%", (TreeLine("line 9"),)), TreeLine("no test")))
    console.show_tree(tree)
    expected = "Juniper may carry hypo\n  stated 66%\n    line 9\n  no test\n"
    assert expected == output.getvalue() == plain_tree(tree) + "\n"


def test_progress_in_a_pipe_is_four_lines_at_most_and_goes_to_standard_error(
    pipes: tuple[Console, io.StringIO, io.StringIO],
) -> None:
    console, output, messages = pipes
    with console.progress("pictures") as tell:
        for done in range(101):
            tell(done, 100)
    with console.progress("nothing") as tell:
        tell(0, 0)
    assert messages.getvalue() == "".join(f"pictures: {done} of 100\n" for done in (25, 50, 75, 100))
    assert output.getvalue() == ""


def test_a_refusal_is_told_in_its_own_words_and_findings_one_by_one(
    pipes: tuple[Console, io.StringIO, io.StringIO],
) -> None:
    console, output, messages = pipes
    console.show_refusal(OutputRefused("the folder holds:\n    thesis.doc"))
    console.show_refusal(ContentError([NOTICE]))
    assert messages.getvalue() == f"error: the folder holds:\n    thesis.doc\n{plain_finding(NOTICE)}\n1 notice\n"
    assert output.getvalue() == ""


def test_our_own_mistake_is_owned_without_a_traceback(pipes: tuple[Console, io.StringIO, io.StringIO]) -> None:
    console, _, messages = pipes
    try:
        raise ValueError("shares do not sum to 1")
    except ValueError as error:
        console.show_own_mistake(error)
    told = messages.getvalue()
    assert "mistake in sitegen, not in your records" in told
    assert "ValueError: shares do not sum to 1, test_console.py line" in told
    assert "Traceback" not in told
    assert "Please report it" in told
    assert "Nothing was changed" in told
    console.show_own_mistake(ValueError("x"), ["animals/a/animal.yaml"])
    assert "animals/a/animal.yaml" in messages.getvalue()
    assert 1 == messages.getvalue().count("Nothing was changed")


def test_files_stand_apart_and_the_summary_counts_them(pipes: tuple[Console, io.StringIO, io.StringIO]) -> None:
    console, output, _ = pipes
    assert MISSPELT.place
    other = replace(MISSPELT, place=replace(MISSPELT.place, file="animals/z/animal.yaml"))
    console.show_findings([MISSPELT, MISSPELT, other], None, as_result=True)
    told = plain_finding(MISSPELT)
    assert output.getvalue() == f"{told}\n{told}\n\n{plain_finding(other)}\n3 errors in 2 files\n"


def test_a_terminal_gets_colour_and_the_same_words(screen: tuple[Console, Terminal, Terminal]) -> None:
    console, output, messages = screen
    console.show_findings([MISSPELT], None)
    assert "\x1b[1;31merror: \x1b[0m" in messages.getvalue()
    assert output.getvalue() == ""
    console.show_table("Odds", ["young", "chance"], [["amel", "1/4"]])
    assert "amel" in output.getvalue()
    assert "─" in output.getvalue()
    console.show_tree(TreeLine("Juniper", (TreeLine("stated"),)))
    assert "└── stated" in output.getvalue()


def test_a_terminal_takes_no_orders_and_no_markup_from_the_records(
    screen: tuple[Console, Terminal, Terminal],
) -> None:
    console, output, messages = screen
    console.show_message("[bold]name[/bold] :snake: \x1b[2J")
    console.show_table("", ["[red]head"], [["[link=x]cell \x1b]8;;evil\x07"]])
    console.show_tree(TreeLine("[blink]x \x1b[2J"))
    assert r"[bold]name[/bold] :snake: \x1b[2J" in messages.getvalue()
    assert r"[link=x]cell \x1b]8;;evil\x07" in output.getvalue()
    assert r"[blink]x \x1b[2J" in output.getvalue()
    assert "\x1b[2J" not in messages.getvalue() + output.getvalue()
    assert "\x1b]8" not in output.getvalue()


def test_no_color_is_respected_on_a_terminal(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("TERM", "xterm-256color")
    monkeypatch.setenv("NO_COLOR", "1")
    messages = Terminal()
    Console(Terminal(), messages).show_findings([MISSPELT], None)
    assert "error: " in messages.getvalue()
    assert "31m" not in messages.getvalue()


def test_a_bar_on_a_terminal_goes_away_when_done(screen: tuple[Console, Terminal, Terminal]) -> None:
    console, output, messages = screen
    with console.progress("pictures [bold]") as tell:
        tell(1, 2)
        tell(2, 2)
    assert "pictures [bold]" in messages.getvalue()
    assert output.getvalue() == ""


def test_a_bar_runs_no_thread_and_is_drawn_at_most_ten_times_a_second(
    screen: tuple[Console, Terminal, Terminal],
) -> None:
    console, _, messages = screen
    before = threading.active_count()
    with console.progress("pictures") as tell:
        begun = len(messages.getvalue())
        for done in range(1, 201):
            tell(done, 200)
        assert threading.active_count() == before
        drawn = messages.getvalue()[begun:].count("pictures")
    assert 1 <= drawn <= 5  # 200 told in far less than half a second


def run(program: str, **environment: str) -> subprocess.Popen[bytes]:
    return subprocess.Popen(
        [sys.executable, "-c", textwrap.dedent(program)],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        env={**os.environ, **environment},
    )


def test_a_pipe_that_is_closed_early_ends_the_command_quietly() -> None:
    program = """
        from sitegen.app.console import Console
        console = Console()
        for _ in range(100_000):
            console.show_result("a line that nobody reads")
    """
    process = run(program)
    assert process.stdout
    assert process.stderr
    process.stdout.readline()
    process.stdout.close()
    told = process.stderr.read()
    process.stderr.close()
    process.wait(timeout=30)
    assert told == b""


def test_a_terminal_of_few_signs_gets_the_others_spelt_out() -> None:
    process = run(
        'from sitegen.app.console import Console; Console().show_result("Zo\\u00eb \\u2640")', PYTHONIOENCODING="ascii"
    )
    output, messages = process.communicate(timeout=30)
    assert output == b"Zo\\xeb \\u2640\n"
    assert messages == b""
