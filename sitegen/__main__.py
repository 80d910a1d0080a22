"""``python -m sitegen`` and the script ``sitegen``. Signals first: the imports take a moment in which one may come."""

import sys

from sitegen import interrupts


def run() -> None:
    """Run the command line; never returns."""
    from sitegen.app.commands import main  # noqa: PLC0415 - see above

    main()


def main() -> None:
    """The same, with signals taken care of from the first moment on."""
    interrupts.listen()
    try:
        try:
            run()
        finally:
            interrupts.listen_no_more()
    except KeyboardInterrupt as late:
        # It came before the command was at work, or when it had ended; a second one is ignored.
        if isinstance(late.__context__, SystemExit):
            sys.exit(late.__context__.code)
        from sitegen.app.commands import report_stop  # noqa: PLC0415 - as above

        report_stop()
        sys.exit(1)


if __name__ == "__main__":
    main()
