"""Measurements: scripts that print a table. Nothing here runs with the tests but what `test_*.py` files say."""
