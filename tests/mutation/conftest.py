"""Nothing here is a test but `test_guards.py`: `mutants.py` wants cosmic-ray installed."""

collect_ignore = ["mutants.py"]
