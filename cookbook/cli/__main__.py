"""`python -m cookbook.cli`: the same as the command `cookbook`."""

import sys

from cookbook.cli import main

sys.exit(main())
