"""What the kinds of diary entry and their fields are called, for forms and lists of them."""

from __future__ import annotations

from collections.abc import Mapping

KINDS_SAID: Mapping[str, str] = {
    "cut": "A cut, boxed or left lying.",
    "verticut": "A verticut: blades into the sward, with depth and direction.",
    "scarify": "A scarifying pass into thatch.",
    "tine": "Hollow or solid tining.",
    "dress": "A topdressing.",
    "brush": "Dew, casts, leaves or heads brushed or raked off.",
    "roll": "A rolling.",
    "strip": "Turf stripped off.",
    "sow": "A sowing, of a lot.",
    "refill": "Holes refilled with soil and seed.",
    "refill check": "Refills looked at again: how many have taken.",
    "pull": "Weed grass pulled, plant by plant, in one pass.",
    "dig clumps": "Clumps dug out with a margin.",
    "clump check": "Dug clumps looked at again: how many have come back.",
    "clean-down": "A machine or boots cleaned, so that no seed is carried.",
    "feed": "A feed, with what its label says.",
    "water": "A watering, by depth, litres or minutes.",
    "hold-off": "A job not done, and why.",
    "heads": "Seed heads looked for.",
    "tuft check": "Tufts looked at after a cut: how many still carry heads.",
    "tug test": "A seedling pulled: its leaf tears, or the roots give.",
    "frost": "Frost on the ground, or thawed.",
    "underfoot": "How wet the ground is to walk on.",
    "drought sign": "Footprints that stay, or colour gone off, looked for.",
    "disease": "A disease or pest seen.",
    "reading": "A measured number: rain, soil temperature, height, pH.",
    "germination test": "Seeds of a lot set to germinate.",
    "seedlings": "Seedlings seen or counted after a sowing.",
    "none found": "A walk that looked for a weed and found none.",
    "closure": "A zone or the site closed to some use.",
    "treatment": "The lawful record of a treatment that a certified person made.",
    "note": "Anything, in your own words.",
    "count": "A count, place by place.",
    "plot care": "Care that only some plots of a trial got.",
    "changed": "Something about the ground itself was set or changed.",
}
"""What each kind is, where a person can write or correct it."""

BY_ITSELF: Mapping[str, str] = {
    "parked": "A row that could not be taken in.",
    "worked out": "An answer that was kept.",
    "plot readings": "Readings of plots of a trial.",
    "photograph": "What a photograph of a plot says.",
    "attachment": "A picture or a voice note beside an entry.",
}
"""Kinds that other commands write, and that no form has."""

LABELS: Mapping[str, str] = {
    "after": "What it is now",
    "amount": "How much",
    "area_m2": "Area",
    "authorisation_number": "Authorisation number",
    "before": "What it was",
    "box_emptied": "The box was emptied",
    "boxed": "Clippings",
    "by": "With",
    "certificate": "Certificate",
    "clumps": "Clumps",
    "depth_mm": "Depth",
    "diameter_mm": "Diameter of a tine",
    "filled_box": "Was the box filled?",
    "first_seen": "Are these the first that were seen?",
    "germinated": "of them germinated",
    "heads_to": "Where heads and clippings went",
    "height_of_cut_mm": "Height of cut",
    "hole_mm": "Width of a hole",
    "hollow": "Tines",
    "hours": "Hours, all people together",
    "iron_percent": "Iron on the label",
    "k2o_percent": "K₂O on the label",
    "label_conditions": "Conditions on the label",
    "lifted_heads": "Did it lift heads?",
    "line_deg": "Direction against the long side",
    "litres": "Amount of water",
    "looked": "Looked at",
    "lot": "Lot of the seed",
    "margin_mm": "Margin beyond the last rooted node",
    "money": "What it cost",
    "nitrogen_percent": "Nitrogen on the label",
    "note": "Anything else",
    "number": "How many alike",
    "p2o5_percent": "P₂O₅ on the label",
    "pass_name": "Which pass",
    "people": "How many people",
    "per_m2": "Seedlings a m²",
    "place": "Where in the zone",
    "product_name": "Product, as on its label",
    "quantity": "What was measured",
    "rate_as_typed": "Rate, as the label has it",
    "rate_g_m2": "Rate",
    "reason": "Why",
    "regrown": "of them come back",
    "share_of_tufts": "Share of tufts with heads, 0 to 1",
    "sown_on": "Sown on",
    "spacing_mm": "Spacing of tines",
    "species": "Which grass",
    "spoil_m3": "What came off",
    "spoil_to": "Where it went",
    "standing": "Clumps standing in all",
    "taken": "of them taken",
    "text": "What you saw",
    "thing": "What was changed",
    "tufts": "Tufts looked at",
    "unit": "Unit",
    "used_g": "Weight used",
    "value": "The number",
    "watered": "Watered in?",
    "watered_in": "Watered in?",
    "weather_as_typed": "Weather",
    "what": "Closed to",
    "with_heads": "of them with heads",
    "who": "Who",
    "zone": "Zone",
}
"""By the field's name; any other is called by its name in plain letters."""

LABELS_IN: Mapping[tuple[str, str], str] = {
    ("brush", "tool"): "With",
    ("clean-down", "unit"): "What was cleaned",
    ("clean-down", "washed"): "Washed?",
    ("clump check", "looked"): "Dug clumps looked at",
    ("disease", "active"): "Is it spreading now?",
    ("disease", "name"): "What was seen",
    ("drought sign", "seen"): "Footprints or off-colour",
    ("frost", "state"): "The ground",
    ("heads", "seen"): "Heads",
    ("none found", "area_m2"): "Area walked",
    ("none found", "places"): "Places looked at",
    ("refill check", "looked"): "Refills looked at",
    ("sow", "area_m2"): "Area sown",
    ("sow", "method"): "Sown",
    ("sow", "watered"): "Watered?",
    ("tug test", "passed"): "What gave",
    ("verticut", "datum"): "Depth is measured",
    ("water", "place"): "What was watered",
    ("underfoot", "state"): "The ground",
}
"""Where a kind means something of its own by a field."""

YES_NO = (("yes", "Yes"), ("no", "No"))
_BOX = (("yes", "Boxed"), ("no", "Left lying"))
_SEEN = (("yes", "Seen"), ("no", "None seen"))


def same(*words: str) -> tuple[tuple[str, str], ...]:
    """Give words that stand for themselves as choices."""
    return tuple((word, word[:1].upper() + word[1:]) for word in words)


CHOICES: Mapping[tuple[str, str], tuple[tuple[str, str], ...]] = {
    ("", "boxed"): _BOX,
    ("brush", "tool"): same("brush", "rake"),
    ("drought sign", "seen"): _SEEN,
    ("heads", "seen"): _SEEN,
    ("pull", "pass_name"): same("A", "B"),
    ("sow", "method"): same("seedbed", "slit", "broadcast on scarified", "broadcast on sward"),
    ("tine", "hollow"): (("yes", "Hollow"), ("no", "Solid")),
    ("tug test", "passed"): (("yes", "The leaf tore"), ("no", "The roots gave")),
    ("verticut", "boxed"): (("yes", "Boxed off"), ("no", "Left lying")),
    ("verticut", "datum"): same("below height of cut", "above soil", "below surface"),
    ("water", "by"): same("hose", "can", "tank", "sprinkler"),
    ("water", "place"): (("", "The sward"), ("seedbed", "A seedbed"), ("refills", "Refills")),
}
"""Values that a field usually has, by kind and name, each with its word."""

QUANTITIES = (
    "rain", "soil temperature", "height", "infiltration", "thatch", "rooting", "pH",
)  # fmt: skip
"""What is usually measured; another name may be typed."""
