"""``python -m sitegen`` and the script ``sitegen``. Signals first: the imports take a moment in which one may come."""

import sys

from sitegen import interrupts


def run() -> None:
    """Run the command line; never returns."""
    from sitegen.commands import main  # noqa: PLC0415 - see above

    main()


def main() -> None:
    """The same, with signals taken care of from the first moment on."""
    interrupts.listen()
    try:
        run()
    except KeyboardInterrupt:
        sys.exit("Stopped. Nothing was changed.")
    finally:
        interrupts.listen_no_more()


if __name__ == "__main__":
    main()
