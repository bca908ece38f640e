"""`python -m voice` is the command `rounds-aloud`."""

import sys

from voice.app import main

if __name__ == "__main__":
    sys.exit(main())
