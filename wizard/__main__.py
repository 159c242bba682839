"""`python -m wizard`."""

import sys

from wizard.cli import main

if __name__ == "__main__":
    sys.exit(main())
