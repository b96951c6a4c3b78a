"""Every published or customary number, as data with unit, range, grade, source and place."""
