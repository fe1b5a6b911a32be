#!/usr/bin/python3
"""The counts the model uses are those of the published rows, counted afresh: test_burn_counts.py BUILD"""
import os, shutil, subprocess, sys, tempfile

here = os.path.dirname(os.path.abspath(__file__))
run = subprocess.run([sys.executable, os.path.join(here, "../fit/counts.py"), "--check"], capture_output=True, text=True)
print(("ok" if run.returncode == 0 else "not ok") + " 1 - every count of the reference is traced to its published rows")
if run.returncode:
    print("# " + run.stdout.strip() + run.stderr.strip())

# A copy with one slip in it: counts.py works beside sql/reference of the tree it stands in.
root, failed = os.path.join(here, "../.."), run.returncode
SLIPS = [("a cue nobody knows is refused", "burn_profile", ",light_fluffy_ash,", ",light_flufy_ash,",
          "residue_form is 'light_flufy_ash'; cue.csv has "),
         ("a fibre nobody knows is refused", "burn_profile", "S03,flax,", "S03,flacks,",
          "the fibre 'flacks' is no burn_key of burn_fibre.csv"),
         ("a source nobody lists is refused", "burn_profile", "S03,flax,", "S003,flax,",
          "the source 'S003' is not in burn_source.csv"),
         ("a lineage that is not its source's is refused", "burn_profile", "S03,flax,CORBMAN", "S03,flax,CCI",
          "the lineage 'CCI' is not that of burn_source.csv: 'CORBMAN'"),
         ("a count that no row gives is refused", "burn_count", "\ncotton,", "\ncotton ,",
          "burn_count.csv is not what the published rows give: run 'make counts'")]
for n, (sentence, table, right, slip, says) in enumerate(SLIPS, 2):
    with tempfile.TemporaryDirectory() as copy:
        shutil.copytree(os.path.join(root, "sql/reference"), os.path.join(copy, "sql/reference"))
        os.makedirs(os.path.join(copy, "tests/fit"))
        program = shutil.copy(os.path.join(root, "tests/fit/counts.py"), os.path.join(copy, "tests/fit"))
        path = os.path.join(copy, "sql/reference", table + ".csv")
        text = open(path, encoding="utf-8").read()
        assert right in text, right
        open(path, "w", encoding="utf-8").write(text.replace(right, slip, 1))
        run = subprocess.run([sys.executable, program, "--check"], capture_output=True, text=True)
        good = run.returncode == 1 and says in run.stdout + run.stderr
        print("%s %d - %s" % ("ok" if good else "not ok", n, sentence))
        if not good:
            print("# " + (run.stdout + run.stderr).strip().replace("\n", "\n# "))
            failed = 1
sys.exit(failed)
