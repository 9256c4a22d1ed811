"""The technician's worksheet: from readings taken at a pair's ends to a place on its record.

One file a method. What the methods share: `record.py` (the plant as recorded), `band.py` (how wrong
a place may be) and `tolerance.py` (what may be off, by how much, and who says so).
"""
