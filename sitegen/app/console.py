"""Everything that is told on a terminal or into a pipe; the only module that prints.

What was asked for goes to standard output, everything said on the way (messages, progress, refusals) to standard
error. On a terminal there is colour (unless ``NO_COLOR`` is set); in a pipe there are plain lines of stable form. A
breeder's text is shown, never obeyed: signs that would steer the terminal are spelt out. What draws on a terminal is
imported when there is one.
"""

import json
import os
import sys
import time
import traceback
import unicodedata
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING, TextIO

from rich.cells import cell_len

from sitegen.below import read_below
from sitegen.findings import ContentError, Finding, Level, Place

if TYPE_CHECKING:
    import rich.console
    import rich.progress
    import rich.tree
    from rich.console import RenderableType

_INDENT = "    "
_EXCERPT_WIDTH = 100
LARGEST_SOURCE = 4 * 1024 * 1024
_DRAWN_EACH_S = 0.1
_STEPS = 4  # lines of progress in a pipe


_PLACE, _ERROR, _NOTICE, _WORDS, _SOURCE, _MARK, _ADVICE = (
    "bold", "bold red", "bold yellow", "", "dim", "red", "italic",
)  # fmt: skip
"""How a terminal shows the parts of a finding."""

Styled = list[tuple[str, str]]
"""One line: each stretch of it with its style."""


@dataclass(frozen=True, slots=True)
class TreeLine:
    """A line and what follows from it or explains it."""

    text: str
    branches: tuple["TreeLine", ...] = ()


def harmless(text: str, *, lines: bool = False) -> str:
    r"""The text with every sign spelt out that would steer a terminal: control codes and turns of direction.

    Args:
        text: Anything, also from a file name or a broken file.
        lines: Leave line ends as they are.

    >>> harmless("\x1b[2Jamel")
    '\\x1b[2Jamel'
    """
    if text.isprintable():  # nearly every text, and told by Python at once
        return text
    return "".join(sign if _is_harmless(sign, lines) else _spelt_out(sign) for sign in text)


def _is_harmless(sign: str, lines: bool) -> bool:
    if sign == "\n":
        return lines
    # Cc control, Cf format (direction, zero width), Cs half a sign, Zl and Zp line and paragraph ends; the joiners
    # of scripts and of picture signs, and the soft hyphen, belong to ordinary writing.
    return unicodedata.category(sign) not in ("Cc", "Cf", "Cs", "Zl", "Zp") or sign in "\u200c\u200d\u00ad"


def _spelt_out(sign: str) -> str:
    return sign.encode("unicode_escape", "surrogatepass").decode("ascii")


def plain_finding(finding: Finding, excerpt: str = "") -> str:
    """A finding as plain lines, without a line end: what is wrong and where, the line meant, what to do.

    ``excerpt`` is the line of the file that ``finding.place`` names, as it stands there; empty for none.
    """
    return "\n".join("".join(text for _, text in line) for line in _finding_lines(finding, excerpt))


def _finding_lines(finding: Finding, excerpt: str) -> list[Styled]:
    level = _ERROR if finding.level is Level.ERROR else _NOTICE
    place = [(_PLACE, f"{harmless(str(finding.place))}: ")] if finding.place else []
    lines = [[*place, (level, f"{finding.level}: "), (_WORDS, harmless(finding.message))]]
    if finding.place and excerpt.strip():
        lines += _excerpt_lines(excerpt, finding.place.column, finding.width)
    lines += [[(_PLACE, f"{_INDENT}also {harmless(str(other))}")] for other in finding.others]
    expected = f"expected {finding.expected}" if finding.expected else ""
    close = f"nearest: {finding.nearest}" if finding.nearest else ""
    for advice in ("; ".join(part for part in (expected, close) if part), finding.remedy):
        if advice:
            lines.append([(_ADVICE, _INDENT + harmless(advice))])
    return lines


def _excerpt_lines(excerpt: str, column: int, width: int) -> list[Styled]:
    """The line without its indentation, cut around the place when it is long, and marks below what is meant."""
    line = excerpt.rstrip()
    start = len(line) - len(line.lstrip())
    at = max(column - 1, start)
    if len(line) - start > _EXCERPT_WIDTH:
        start = max(start, min(at - _EXCERPT_WIDTH // 3, len(line) - _EXCERPT_WIDTH))
    end = start + _EXCERPT_WIDTH
    before, meant, after = line[start:at], line[at : at + width][: max(0, end - at)], line[at + width : end]
    shown = [harmless(part.replace("\t", " ")) for part in (before, meant, after)]
    lines = [[(_SOURCE, _INDENT + "".join(shown))]]
    if column and at <= len(line):
        marks = "^" * max(1, cell_len(shown[1]))
        lines.append([(_MARK, _INDENT + " " * cell_len(shown[0]) + marks)])
    return lines


def excerpt_of(finding: Finding, content: Path | None) -> str:
    """The line of the file that a finding is about; empty when there is none or it cannot be read as text."""
    if content is None or finding.place is None or finding.place.line < 1:
        return ""
    try:
        text = read_below(content, finding.place.file, LARGEST_SOURCE).decode("utf-8-sig")
    except (OSError, ValueError):
        return ""
    lines = text.replace("\r\n", "\n").replace("\r", "\n").split("\n")
    return lines[finding.place.line - 1] if finding.place.line <= len(lines) else ""


def summary(findings: Iterable[Finding]) -> str:
    """How many there are of each level, such as ``2 errors, 1 notice in 2 files``; or ``no findings``."""
    found = list(findings)
    levels = [finding.level for finding in found]
    counts = [(levels.count(level), level.value) for level in (Level.ERROR, Level.NOTICE)]
    told = [f"{count} {word}{'s' if count > 1 else ''}" for count, word in counts if count]
    files = len({finding.place.file for finding in found if finding.place})
    return (", ".join(told) or "no findings") + (f" in {files} files" if files > 1 else "")


def _file_of(finding: Finding) -> str:
    return finding.place.file if finding.place else ""


def finding_facts(finding: Finding) -> dict[str, object]:
    """A finding as machine output tells it: level, kind, file, line, column, message, hint, and further places."""
    place = finding.place
    facts: dict[str, object] = {
        "level": finding.level.value,
        "kind": finding.kind.value,
        "file": place.file if place else "",
        "line": place.line if place else 0,
        "column": place.column if place else 0,
        "message": finding.message,
        "hint": finding.hint,
    }
    if finding.others:
        facts["others"] = [{"file": o.file, "line": o.line, "column": o.column} for o in finding.others]
    return facts


def plain_table(columns: Sequence[str], rows: Sequence[Sequence[str]]) -> str:
    """A table as plain lines: cells two blanks apart, the heads first, no rules."""
    grid = [[harmless(cell) for cell in row] for row in (columns, *rows)]
    widths = [max(cell_len(row[position]) for row in grid) for position in range(len(columns))]
    lines = []
    for row in grid:
        cells = (cell + " " * (width - cell_len(cell)) for cell, width in zip(row, widths, strict=True))
        lines.append("  ".join(cells).rstrip())
    return "\n".join(lines)


def plain_tree(branch: TreeLine, depth: int = 0) -> str:
    """A tree as plain lines, each level two blanks further in."""
    below = [plain_tree(follower, depth + 1) for follower in branch.branches]
    return "\n".join(["  " * depth + harmless(branch.text), *below])


class Console:
    """Where a command tells its results and its progress."""

    def __init__(self, output: TextIO | None = None, messages: TextIO | None = None) -> None:
        """Speak through the given streams; standard output and standard error if none are given."""
        self._output = _Voice(output or sys.stdout)
        self._messages = _Voice(messages or sys.stderr)

    def show_message(self, text: str) -> None:
        """Something said on the way, to standard error."""
        self._messages.say(text)

    def show_result(self, text: str) -> None:
        """Plain words that were asked for, to standard output."""
        self._output.say(text)

    def show_square(self, lines: Iterable[str]) -> None:
        """A square for a camera, its light parts drawn; on a terminal only."""
        if self._output.is_terminal:
            self._output.say_styled([[("bright_white on black", line)] for line in lines])

    def show_json(self, value: object) -> None:
        """Machine output, to standard output: ASCII, so that every pipe can carry it; keys as they are ordered."""
        self._output.say(json.dumps(value, indent=2, ensure_ascii=True))

    def show_findings(self, findings: Sequence[Finding], content: Path | None, *, as_result: bool = False) -> None:
        """Every finding with the line it is about, a blank line between files, then how many there are.

        Args:
            findings: In the order in which they are to be shown, those of a file together.
            content: The content folder, to read the lines from; None for none.
            as_result: They are what was asked for (standard output), not said on the way (standard error).
        """
        voice = self._output if as_result else self._messages
        for before, finding in zip([None, *findings], findings, strict=False):
            if before is not None and _file_of(before) != _file_of(finding):
                voice.say("")
            voice.say_styled(_finding_lines(finding, excerpt_of(finding, content)))
        if findings or as_result:
            voice.say(summary(findings))

    def show_placed(self, lines: Iterable[tuple[str, Place | None]]) -> None:
        """Sentences that were asked for, each with the place of its record, to standard output."""
        for text, place in lines:
            where = [(_SOURCE, f" ({place.file}:{place.line})")] if place else []
            self._output.say_styled([[(_WORDS, text), *where]])

    def show_table(self, title: str, columns: Sequence[str], rows: Sequence[Sequence[str]]) -> None:
        """A table, to standard output."""
        if not self._output.is_terminal:
            head = f"{harmless(title)}\n" if title else ""
            self._output.say(head + plain_table(columns, rows))
            return
        import rich.box
        import rich.table
        from rich.text import Text

        table = rich.table.Table(title=Text(harmless(title)) if title else None, box=rich.box.SIMPLE_HEAD)
        for column in columns:
            table.add_column(Text(harmless(column)), overflow="fold")
        for row in rows:
            table.add_row(*(Text(harmless(cell)) for cell in row))
        self._output.show(table)

    def show_tree(self, branch: TreeLine) -> None:
        """A chain of reasons, to standard output."""
        if self._output.is_terminal:
            self._output.show(_rich_tree(branch))
        else:
            self._output.say(plain_tree(branch))

    def show_page(self, text: str) -> None:
        """A page of Markdown to read: a screen at a time on a terminal, as it is written in a pipe."""
        if not self._output.is_terminal:
            self._output.say(text.rstrip("\n"))
            return
        import rich.markdown

        with self._output.rich.pager(styles=True):
            self._output.show(rich.markdown.Markdown(text))

    def show_refusal(self, error: Exception) -> None:
        """Why a command ends here, in words; the findings, when it carries any."""
        if isinstance(error, ContentError):
            self.show_findings(error.findings, None)
        else:
            self._messages.say_styled([[(_ERROR, "error: "), (_WORDS, str(error))]])

    def show_own_mistake(self, error: BaseException, written: Sequence[str] = ()) -> None:
        """A mistake of this program, not of the breeder: what happened and where, and what was changed, if anything.

        ``written`` are the breeder's own files that were written before it happened, each of them whole.
        """
        frames = traceback.extract_tb(error.__traceback__)
        where = f", {Path(frames[-1].filename).name} line {frames[-1].lineno}" if frames else ""
        if written:
            changed = f"Before it happened this was written, each file whole: {', '.join(written)}."
        else:
            changed = "Nothing was changed: your records and the site stand as they did before."
        self._messages.say(
            f"This is a mistake in sitegen, not in your records. {changed}\n"
            f"Please report it with these words: {type(error).__name__}: {error}{where}"
        )

    @contextmanager
    def progress(self, label: str) -> Iterator[Callable[[int, int], None]]:
        """While long work goes on: a function to call with the number done and the number there are."""
        if self._messages.is_terminal:
            with _bar(self._messages.rich) as bar:
                yield _Drawn(bar, bar.add_task(harmless(label), total=None))
        else:
            yield _Quarters(self._messages, label)


class _Drawn:
    """Progress on a terminal: drawn when it is told, at most ten times a second.

    Not by a thread of its own, as long work makes copies of this process, and a copy inherits what a thread had locked.
    """

    def __init__(self, bar: "rich.progress.Progress", task: "rich.progress.TaskID") -> None:
        self._bar, self._task, self._drawn_s = bar, task, 0.0

    def __call__(self, done: int, total: int) -> None:
        now = time.monotonic()
        due = now - self._drawn_s >= _DRAWN_EACH_S
        self._drawn_s = now if due else self._drawn_s
        self._bar.update(self._task, completed=done, total=total, refresh=due)


class _Quarters:
    """Progress in a pipe: a line at each quarter of the way, none when there is nothing to do."""

    def __init__(self, voice: "_Voice", label: str) -> None:
        self._voice, self._label, self._told = voice, label, 0

    def __call__(self, done: int, total: int) -> None:
        quarter = done * _STEPS // total if total else 0
        if quarter > self._told:
            self._told = quarter
            self._voice.say(f"{self._label}: {done} of {total}")


class _Voice:
    """One stream, which may be a terminal."""

    def __init__(self, stream: TextIO) -> None:
        self._stream = stream
        self.is_terminal = stream.isatty() and os.environ.get("TERM") != "dumb"
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure:  # a terminal of few signs shows the others spelt out
            reconfigure(errors="backslashreplace")

    @cached_property
    def rich(self) -> "rich.console.Console":
        """What draws on the terminal."""
        import rich.console

        return rich.console.Console(
            file=self._stream, force_terminal=self.is_terminal, markup=False, emoji=False, highlight=False,
            soft_wrap=True,
        )  # fmt: skip

    def say(self, text: str) -> None:
        """Words with a line end."""
        self.say_styled([[("", text)]])

    def say_styled(self, lines: Sequence[Styled]) -> None:
        """Lines of (style, words); the styles show on a terminal only."""
        if self.is_terminal:
            from rich.text import Text

            for line in lines:
                self.rich.print(Text.assemble(*((harmless(words, lines=True), style) for style, words in line)))
            return
        told = "\n".join("".join(harmless(words, lines=True) for _, words in line) for line in lines)
        try:
            print(told, file=self._stream, flush=True)
        except BrokenPipeError:
            self.rich.on_broken_pipe()

    def show(self, thing: "RenderableType") -> None:
        """Something that rich draws, within the width of the terminal."""
        self.rich.print(thing, soft_wrap=False)


def _rich_tree(branch: TreeLine) -> "rich.tree.Tree":
    import rich.tree
    from rich.text import Text

    tree = rich.tree.Tree(Text(harmless(branch.text)))
    for follower in branch.branches:
        tree.children.append(_rich_tree(follower))
    return tree


def _bar(console: "rich.console.Console") -> "rich.progress.Progress":
    import rich.progress

    return rich.progress.Progress(
        rich.progress.TextColumn("{task.description}", markup=False),
        rich.progress.BarColumn(),
        rich.progress.MofNCompleteColumn(),
        rich.progress.TimeRemainingColumn(),
        console=console,
        transient=True,
        auto_refresh=False,
    )
