"""`python -m bankside`."""

import sys

from bankside.cli import main

if __name__ == "__main__":
    sys.exit(main())
