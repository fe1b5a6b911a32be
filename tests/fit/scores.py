"""Scores of probability forecasts: y is 0 or 1, p what was said, w what each case weighs (equal when left out)."""
import math


def weights(y, w):
    w = [1.0] * len(y) if w is None else w
    return [x / sum(w) for x in w]


def brier(y, p, w=None):
    return sum(k * (a - b) ** 2 for a, b, k in zip(y, p, weights(y, w)))


def log_loss(y, p, w=None):
    return -sum(k * math.log(b if a else 1 - b) for a, b, k in zip(y, p, weights(y, w)))


def bins(y, p, n, w=None):
    """[(bin, cases, weight, mean said, share that came true)] of the bins that hold any; p = 1 belongs to the last."""
    w, out = weights(y, w), []
    for b in range(n):
        inside = [i for i, x in enumerate(p) if min(int(x * n), n - 1) == b]
        total = sum(w[i] for i in inside)
        if total > 0:
            out.append((b, len(inside), total, sum(w[i] * p[i] for i in inside) / total, sum(w[i] * y[i] for i in inside) / total))
    return out


def calibration_error(y, p, n, w=None):
    return sum(k * abs(said - true) for _, _, k, said, true in bins(y, p, n, w))
