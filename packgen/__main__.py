"""`python -m packgen` does what `packgen` does."""

import sys

from packgen.cli import main

sys.exit(main())
