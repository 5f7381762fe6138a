"""Stub, replaced in minutes."""
import os, subprocess, sys
def use_right_python(command): ...
def run_tests(arguments): return subprocess.call([sys.executable, "-m", "pytest", *arguments])
def set_demo(environment): environment["WARPROOM_DEMO"] = "1"
