"""The desk: one local page for the clerk who writes a record, the packer who works by it, the trainer who explains it.

It calls the same job as the command line and shows what the sheets print. ``server`` listens, ``guard`` refuses what does
not come from its own page, ``pool`` does each request's work in a process that can be ended, ``jobs`` are that work.
"""
