#!/usr/bin/python3
"""Published values of the scores that docs/calibration.md is made with: test_scores.py BUILD"""
import os, sys

sys.dont_write_bytecode = True
sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), "../fit"))
import scores

bad = 0


def check(number, what, pairs, within):
    global bad
    ok = all(abs(got - want) <= within for got, want in pairs)
    bad += not ok
    print("%s %d - %s" % ("ok" if ok else "not ok", number, what))
    if not ok:
        print("# %s" % pairs)


# scikit-learn 1.2.1, brier_score_loss: docstring example and tests
check(1, "the Brier score gives the published values", [(scores.brier([0, 1, 1, 0], [0.1, 0.9, 0.8, 0.3]), 0.0375),
      (scores.brier([0, 1, 1, 0], [0, 1, 1, 0]), 0), (scores.brier([0], [0.4]), 0.16)], 1e-12)
# scikit-learn 1.2.1, calibration_curve: docstring example, three bins
b = scores.bins([0, 0, 0, 0, 1, 1, 1, 1, 1], [0.1, 0.2, 0.3, 0.4, 0.65, 0.7, 0.8, 0.9, 1.0], 3)
check(2, "the bins of a reliability diagram give the published curve",
      list(zip([x[4] for x in b], [0, 0.5, 1])) + list(zip([x[3] for x in b], [0.2, 0.525, 0.85])), 1e-12)
# torchmetrics, binary_calibration_error: docstring example, norm l1, two bins
check(3, "the expected calibration error gives the published value",
      [(scores.calibration_error([0, 0, 1, 1, 1], [0.25, 0.25, 0.55, 0.75, 0.75], 2), 0.29)], 5e-5)
# by hand: -(ln 0.8 + ln 0.6)/2
check(4, "the log score is the mean of minus the logarithm of what was said for what came true",
      [(scores.log_loss([1, 0], [0.8, 0.4]), 0.3669845875401002)], 1e-12)
sys.exit(1 if bad else 0)
