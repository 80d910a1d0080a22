"""One thin module a command: options in, exit status out."""

import gc
import importlib
import os
import sys
import traceback
from typing import TYPE_CHECKING, Any, NoReturn

import click

from sitegen import interrupts
from sitegen.findings import SitegenError, WrongUse

if TYPE_CHECKING:
    from sitegen.app.console import Console

COMMANDS = {
    "start": "Begin a new collection of your own.",
    "build": "Make the whole site from the records.",
    "preview": "Show the site on this machine while you write, and follow every change.",
    "check": "Read every record and tell all that is wrong or doubtful.",
    "today": "What is due, what is late, who needs a look.",
    "odds": "What a pairing can give.",
    "why": "What is known of an animal's genes, and because of what.",
    "plan": "Which pairings this season for all goals, what to keep or buy, who can breed, what clashes.",
    "add": "Add an animal, a litter, a young, a weight, a meal, an event, a photo, an update or a decision.",
    "set": "Change where an offer stands: available, on hold, sold.",
    "desk": "Keep the records in a browser on this machine.",
    "remove": "Take out an animal, a litter, a young, a project or a photo; undo brings it back.",
    "undo": "Take back the last change, or an earlier one.",
    "schema": "JSON Schemas of the records, for editors.",
    "import": "Make records from the rows of a spreadsheet.",
    "export": "Give the collection as a spreadsheet.",
    "guide": "Read the guide: first steps, recipes, every key and option.",
}
_MODULES = {"import": "import_"}
"""Commands whose name cannot be that of a module."""

_MOST_DIGITS = 100_000
"""Of a number that is written or read as digits. An exact chance in a large family has some thousands; Python alone
would stop at 4,300."""


class NearestGroup(click.Group):
    """Offers the nearest of its commands for one that does not exist."""

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """The command that is named, or a fault that offers the nearest."""
        from sitegen.findings import nearest

        try:
            return super().resolve_command(ctx, args)
        except click.UsageError as error:
            close = nearest(args[0], self.list_commands(ctx))
            raise click.UsageError(f"{error.message} Nearest: {close}." if close else error.message, ctx) from None


class _LateGroup(NearestGroup):
    """Imports a command's module only when that command runs, so that ``--help`` answers at once."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        if cmd_name not in COMMANDS:
            return None
        module = _MODULES.get(cmd_name, cmd_name)
        command: click.Command = importlib.import_module(f"sitegen.app.commands.{module}").command
        return command

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        with formatter.section("Commands"):
            formatter.write_dl(list(COMMANDS.items()))


@click.group("sitegen", cls=_LateGroup, context_settings={"help_option_names": ["--help", "-h"]})
@click.version_option(package_name="sitegen", message="%(prog)s %(version)s")
def program() -> None:
    """Turn a snake keeper's records and photographs into a site whose every genetic claim is computed.

    Run it in the folder that holds your content folder.
    """


def main(args: list[str] | None = None) -> NoReturn:
    """Run the command line; never returns. Exit status 0 clean, 1 findings, 2 wrong usage."""
    usual = sys.get_int_max_str_digits()
    sys.set_int_max_str_digits(_MOST_DIGITS)
    gc.disable()  # a command ends soon, and nearly all that it makes stays to its end; the preview collects by itself
    try:
        status: Any = program.main(args=args, prog_name="sitegen", standalone_mode=False)
    except (click.Abort, KeyboardInterrupt):
        report_stop()
        sys.exit(1)
    except click.ClickException as error:
        if isinstance(error, click.UsageError) and "unexpected extra argument" in error.message:
            hint = 'Words with blanks between them are written in quotation marks: "Old Flint".'
            error = click.UsageError(f"{error.message}. {hint}", error.ctx)
        error.show()
        sys.exit(2)
    except WrongUse as error:
        _console().show_refusal(error)
        sys.exit(2)
    except SitegenError as error:
        _console().show_refusal(error)
        sys.exit(1)
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        sys.exit(1)
    except Exception as error:
        if interrupts.has_come():  # one that comes while a class is made is turned into a RuntimeError by Python
            report_stop()
        else:
            _report_own_fault(error)
        sys.exit(1)
    finally:
        sys.set_int_max_str_digits(usual)
        gc.enable()
    sys.exit(status if isinstance(status, int) else 0)


def _console() -> "Console":
    from sitegen.app.console import Console

    return Console()


def report_stop() -> None:
    """Tell that the command was interrupted, and what it had changed by then."""
    from sitegen.content.writing import written_so_far

    done = ", ".join(written_so_far)
    rest = f"This had been written, each file whole: {done}." if done else "Nothing was changed."
    _console().show_message(f"Stopped. {rest}")


def _report_own_fault(error: Exception) -> None:
    from sitegen.content.writing import written_so_far

    _console().show_own_mistake(error, written_so_far)
    if os.environ.get("SITEGEN_TRACE"):
        _console().show_message("".join(traceback.format_exception(error)))
