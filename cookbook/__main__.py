"""`python -m cookbook`: the command line, where the `cookbook` command is not on the path."""

import sys

from cookbook.cli import main

if __name__ == "__main__":
    sys.exit(main())
