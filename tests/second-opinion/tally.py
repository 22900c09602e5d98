"""Counts comparisons that hold and says which do not."""

import math


class Tally:
    """Passed and failed comparisons; `case` names the data of the next ones."""

    def __init__(self):
        self.passed = self.failed = 0
        self.case = ""

    def hold(self, what, holds, detail=""):
        if holds:
            self.passed += 1
        else:
            self.failed += 1
            print(f"FAILED {self.case}: {what} {detail}")

    def close(self, what, ours, theirs, relative=1e-9, absolute=1e-12):
        """Numbers, or lists of numbers, that agree; None agrees with NaN."""
        if hasattr(theirs, "__len__") or isinstance(ours, list):
            ours, theirs = list(ours), list(theirs)
            agree = len(ours) == len(theirs) and all(
                near(a, b, relative, absolute) for a, b in zip(ours, theirs)
            )
            worst = [(a, b) for a, b in zip(ours, theirs) if not near(a, b, relative, absolute)]
            self.hold(what, agree, f"first of {len(worst)}: {worst[:1]}")
        else:
            self.hold(what, near(ours, theirs, relative, absolute), f"{ours} against {theirs}")

    def same_share(self, what, ours, m_ours, theirs, m_theirs):
        """Two estimates of one p-value by permutation: within six standard errors, and the few
        counts by which a rare event may differ, so that an honest run does not fail by chance."""
        for a, b in zip(ours, theirs):
            middle = (a + b) / 2
            error = math.sqrt(max(middle * (1 - middle), 0) * (1 / m_ours + 1 / m_theirs))
            allowed = 6 * error + 8 / min(m_ours, m_theirs)
            if not abs(a - b) <= allowed:
                self.hold(what, False, f"p {a} against {b}")
                return
        self.hold(what, True)


def near(a, b, relative, absolute):
    if a is None or b is None:
        return a is None and (b is None or math.isnan(b))
    return abs(a - b) <= relative * abs(b) + absolute
