"""``python -m dashboard`` is the command ``orchard-slate``."""

import sys

from dashboard.cli import main

sys.exit(main())
