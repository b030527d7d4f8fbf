"""Step 5: every mark and label as a piece of artwork. One family a file, one symbol a file in ``symbols``."""
