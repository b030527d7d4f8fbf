"""How fast sixface is, beside what else one could do: ``python -m tests.bench`` measures and prints one table.

Every figure is a median with the least and the greatest of all rounds; what is compared is measured in turn, round by
round, so that a busy moment of the machine falls on both. A test never asks for a time: machines differ.
"""
