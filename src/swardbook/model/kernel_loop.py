"""The loop over days and lanes, copied at the end of the kernel's text; not run from here."""

# ruff: noqa
# mypy: ignore-errors
# ---- transcribed from here ----
@njit(nogil=True, cache=True, error_model="numpy", fastmath={"contract"})
def run_block(block, drivers, operations, seen, days, every):
    """Take one block of lanes through its days.

    `block` holds the rows of state, parameters and worst misses, LANES numbers each; it is changed
    in place. `drivers` and `operations` hold a day after another; `seen` gets the outputs.
    """
    at_driver, at_work, at_seen, since = U(0), U(0), U(0), 0
    for day in range(days):
        d = load_drivers(drivers, at_driver)
        o = load_operations(operations, at_work)
        for lane in range(U(LANES)):
            s = load_state(block, lane)
            n, g = day__step(s, load_parameters(block, lane), d, o)
            store_state(block, lane, n)
            store_gaps(block, lane, g)
        since += 1
        if since == every or day == days - 1:
            since = 0
            for lane in range(U(LANES)):
                s = load_state(block, lane)
                store_observed(seen, lane, at_seen, observe__observe(s, load_parameters(block, lane)))
            at_seen += U(N_OBSERVED * LANES)
        at_driver += U(N_DRIVERS)
        at_work += U(N_OPERATIONS)
