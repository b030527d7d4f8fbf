"""Does some test fail where the law in marks is made wrong? A mutant is one such wrong; a test that fails kills it.

    python -m tests.mutation                      # a sample of rules and tables, with a list of the survivors
    python -m tests.mutation rules --sample 0     # every mutant of the rules
    python -m tests.mutation tables --only limits # the mutants of one table

``code``: wrongs done to the rules, by the operators of cosmic-ray and two of our own. ``tables``: wrongs done to the
tables and the goods list, which no mutation tool knows. ``trial``: one mutant in a process of its own, first against the
law cases (tests/law), then, if it lives, against tests/published and tests/marks.
"""
