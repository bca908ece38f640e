"""`python -m voice` is the command `rounds-aloud`."""

import os
import sys

_OWN = __file__.rsplit(os.sep, 2)[0]
# With -m Python looks for modules in the current folder first: nothing there is ours to run, unless
# it is this program's own. (What Python loads before it comes here, `rounds-aloud` alone avoids.)
if not sys.flags.safe_path and sys.path[0] == os.getcwd() != _OWN:  # noqa: PTH109 - not loaded yet
    del sys.path[0]

from voice.cli.app import main  # noqa: E402

if __name__ == "__main__":
    sys.exit(main())
