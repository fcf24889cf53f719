"""What every build sheet says, whatever is on it: each sentence with the sign that stands beside it."""

DEFERENCE = (
    (
        "general",
        "The figures on this sheet are estimates for planning. Check them with instruments in the finished "
        "enclosure before an animal moves in, and again with every season.",
    ),
    (
        "read",
        "Makers' instructions and local codes come before this sheet; in doubt ask a licensed electrician "
        "about mains electricity, a veterinarian about the animal, and the wildlife authority about keeping "
        "and moving it.",
    ),
    (
        "unplug",
        "Pull the plug before any work inside and before a lamp is changed; let hot lamps cool first.",
    ),
    ("release", "Never release animals, plants or soil from an enclosure."),
)
