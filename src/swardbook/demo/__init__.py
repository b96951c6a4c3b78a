"""The made-up ground: everything a newcomer sees first.

Fennowick Croquet Club, its people, mixtures, prices and results are made up; the weather is a real
county series (`data/cambridge.csv`). What the tool says of it is worked out from these records.
"""
