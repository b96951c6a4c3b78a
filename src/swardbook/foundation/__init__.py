"""The floor: errors, quantities, dates, provenance and tables; imports nothing of ours."""
