"""The kind of a thing that says none of its own."""

KIND_OF_CONTAINER = {
    "rooms": "room",
    "as_found": "space",
    "walls_clockwise": "wall",
    "partitions": "partition",
    "trades": "trade",
    "visits": "visit",
    "people": "person",
    "assemblies": "assembly",
    "from_room_outward": "layer",
    "finishes": "finish",
    "surroundings": "surrounding",
    "stacks": "stack",
    "bottom_to_top": "tier",
    "products": "product",
    "bottles": "bottle",
    "circuits": "circuit",
    "permits": "permit",
    "inspections": "inspection",
    "approvals": "approval",
    "purchases": "purchase",
    "allowances": "allowance",
    "exclusions": "exclusion",
    "promises": "promise",
    "waivers": "waiver",
    "changes": "change",
    "firms": "firm",
}
"""The kind of an entry that says no kind of its own, by the container it stands in."""

CONTINUES = "continues"
"""What stands in a run in place of a piece that another tier's run has: it goes on through here."""
