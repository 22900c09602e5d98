//! The usual cautions where work on a disease can hurt someone or spread it. Local rules and
//! licensed practice come first; none of this replaces them.

/// Grafting wood, shown where wood of a tree might be given away.
pub const GRAFTWOOD: &str =
    "Grafting wood of a tree with fire blight or canker spreads it. Take none from such a tree.";

/// Ladders, shown where the work goes up a tree.
pub const LADDER: &str =
    "On a ladder: level ground, three points of contact, no telephone in hand.";

/// Sprays, shown where one is written down.
pub const SPRAYS: &str = "The label is the law. Copper and antibiotics are restricted, and \
    antibiotics are forbidden in many countries. A sprayed tree's cleanliness proves nothing.";

/// The order of a walk, shown before one begins.
pub const CLEAN_FIRST: &str =
    "Rate clean trees first and sick ones last, and clean hands and tools between them.";

/// What is to be kept in mind about a disease.
pub fn of_disease(disease: &str) -> &'static [&'static str] {
    match disease {
        "fire_blight" => &[
            "Fire blight must be reported in some countries, and moving cuttings may be unlawful. \
             Ask your plant-health authority.",
            "Cut well below the visible margin, 15 to 30 cm, in dry weather, and disinfect tools \
             between cuts in the growing season.",
            "Rate before cutting out strikes: the cut destroys the evidence.",
            GRAFTWOOD,
        ],
        "canker" => &[
            "Cut cankers out in dry weather, and disinfect tools between trees.",
            "A canker can come from the nursery and show up to three years later: it need not be \
             an infection of this place.",
            GRAFTWOOD,
        ],
        _ => &[],
    }
}
