#!/usr/bin/python3
"""The NumPy twin of bench_evidence: the same posterior over the same compositions, vectorised, in the same run."""
import importlib.util, os, re, subprocess, sys, time
import numpy as np

build, here = sys.argv[1], os.path.dirname(os.path.abspath(__file__))
spec = importlib.util.spec_from_file_location("oracle", os.path.join(here, "../oracle/test_evidence.py"))
oracle = importlib.util.module_from_spec(spec)
spec.loader.exec_module(oracle)
source = open(os.path.join(here, "bench_evidence.c"), encoding="utf-8").read()
keys = re.findall(r'"((?:in_flame|smoke|odour|residue_form):[a-z_]+)"', source.split("static const char *const seen[]")[1].split("};")[0])
looked = ["smoke", "odour", "residue_form"]
t = oracle.terms({oracle.AT[k] for k in keys if k.split(":")[0] in looked}, set(), looked)


def posterior():
    odd, parts = oracle.lse(np.log(oracle.ODD) + oracle.log_T_R(t, *oracle.SINGLE)[1]), []
    for fibres, shares, prior in oracle.SPACE[3]:
        for i in range(0, len(fibres), 4096):
            s = slice(i, i + 4096)
            parts.append(oracle.lse(oracle.likelihood(t, odd, fibres[s], shares[s]) + prior[s]))
    return oracle.lse(parts)


best = 1e9
for _ in range(3):
    start = time.perf_counter()
    posterior()
    best = min(best, time.perf_counter() - start)
out = subprocess.run([build + "/tests/bench/bench_evidence"], capture_output=True, text=True).stdout
cold = min(float(x) for x in re.findall(r"cold, \w+: ([0-9.]+) ms", out))
print("NumPy, chunks of 4096, %d cues that count: %.0f ms; the program, cold: %.1f ms; %.0f times faster" % (len(t), 1e3 * best, cold, 1e3 * best / cold))
