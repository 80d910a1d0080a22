"""``python -m sitegen`` is the same as the script ``sitegen``."""

from sitegen.commands import main

if __name__ == "__main__":
    main()
