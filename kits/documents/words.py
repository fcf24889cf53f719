"""What every build sheet says, whatever is on it."""

DEFERENCE = (
    "The figures on this sheet are estimates for planning. Check them with instruments in the finished "
    "enclosure before an animal moves in, and again with every season.",
    "Makers' instructions and local codes come before this sheet; in doubt ask a licensed electrician about "
    "mains electricity, a veterinarian about the animal, and the wildlife authority about keeping and moving it.",
    "Never release animals, plants or soil from an enclosure.",
)
