"""Imported before the package: Python keeps byte code, here and in the programs that tests start, whatever it was told.

Without it each process compiles everything again, which took 40 of the 210 s of processor time of the whole suite.
"""

import os
import sys

sys.dont_write_bytecode = False
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
