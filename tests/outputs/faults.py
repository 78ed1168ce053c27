"""What a test of the outputs has found wrong, said as it is found."""

_faults = []


def check(good, *says):
    if not good:
        _faults.append(" ".join(str(part) for part in says))
        print("FAULT:", _faults[-1])


def ending():
    """Says how many there were; the test's exit code."""
    print("no fault" if not _faults else f"{len(_faults)} faults")
    return 1 if _faults else 0
