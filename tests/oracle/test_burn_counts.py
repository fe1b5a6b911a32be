#!/usr/bin/python3
"""The counts the model uses are those of the published rows, counted afresh: test_burn_counts.py BUILD"""
import os, subprocess, sys

here = os.path.dirname(os.path.abspath(__file__))
run = subprocess.run([sys.executable, os.path.join(here, "../fit/counts.py"), "--check"], capture_output=True, text=True)
print(("ok" if run.returncode == 0 else "not ok") + " 1 - every count of the reference is traced to its published rows")
if run.returncode:
    print("# " + run.stdout.strip() + run.stderr.strip())
sys.exit(run.returncode)
