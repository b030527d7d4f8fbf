"""What can be printed of a record, and how it can be chosen."""

from __future__ import annotations

#: Sheets: the word of their files, as make_sheets names them, and the format.
SHEETS = {"labels": "pdf", "marks": "pdf", "packing": "pdf", "svg": "svg"}
#: The stocks offered by name; any other size is written.
STOCKS = ("A4", "A3", "Letter", "A6", "100x150 mm", "150x150 mm", "4x6 in")
#: The buttons: what each gives, and its words.
PRINTS = (
    ("labels", "Coloured labels, PDF"), ("marks", "Black marks, PDF"), ("packing", "Diagrams and checklists, PDF"),
    ("svg", "All sheets, SVG"), ("papers", "What the papers carry, PDF"), ("plan", "The plan, JSON"),
    ("record", "The record, YAML"),
)  # fmt: skip
#: What a sheet is printed with where nothing is chosen.
USUAL = {"stock": "A4", "stock_free": "", "inks": "rgb", "symbols": "white", "excepted": "red", "arrows": "black"}
