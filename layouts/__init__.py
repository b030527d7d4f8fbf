"""From what each package must show to paper: placed, imposed, drawn and written. No question of law is decided here.

record -> 1 read -> 2 decide -> 3 place -> 4 impose -> 5 draw -> 6 write -> sheets. Steps 1 and 2 are those of marks; step 3
puts every mark on a face (faces, place), step 4 lays the marks out on sheets as data (stock, cell, sheet, packing), step 5
draws artwork on pens (artwork, letters, draw), step 6 writes PDF and SVG, whole or not at all (pdf, svg, output).
``layouts.job`` is the whole road as one call; ``layouts.front`` is the command line, which only calls it. Lengths are mm,
y runs up.
"""
