"""`python -m tests.pinned`: write every golden file anew, as things are now; `git diff` shows what that changes."""

import os
import sys

import pytest

from tests.pinned.golden import HERE, WRITE

os.environ[WRITE] = "write"
sys.exit(pytest.main(["-q", "-p", "no:cacheprovider", str(HERE), *sys.argv[1:]]))
