//! The usual cautions where work on a disease can hurt someone or spread it. Local rules and
//! licensed practice come first; none of this replaces them. docs/cautions.md has all of them in
//! these words.

use language::{count, say};
use plot::{Disease, Plot, capital};

/// Ladders, shown where the work goes up a tree.
pub fn ladder() -> &'static str {
    say!("On a ladder: level ground, three points of contact, no telephone in hand.")
}

/// Sprays, shown where one is written down.
pub fn sprays() -> &'static str {
    say!(
        "The label is the law. Copper and antibiotics are restricted, and antibiotics are \
         forbidden in many countries. A sprayed tree's cleanliness proves nothing."
    )
}

/// The order of a walk, shown before one begins.
pub fn clean_first() -> &'static str {
    say!("Rate clean trees first and sick ones last, and clean hands and tools between them.")
}

/// What is to be kept in mind about a disease, by its profile.
pub fn of_disease(plot: &Plot, name: &str) -> Vec<String> {
    let Some(disease) = plot.disease(name) else { return Vec::new() };
    let graftwood = disease.is_in_grafting_wood.then(|| {
        say!(
            "Grafting wood of a tree with {disease} spreads it. Take none from such a tree.",
            disease = disease.label
        )
    });
    disease.cautions.iter().map(|it| language::said_of(it).to_owned()).chain(graftwood).collect()
}

/// Each disease that travels on tools and hands and was seen here: a sentence with how many trees,
/// and its cautions.
pub fn on_tools(plot: &Plot) -> Vec<(String, Vec<String>)> {
    let told = |(disease, trees): (&Disease, usize)| {
        let seen = count!(
            trees,
            "{disease} was seen on 1 tree of this plot.",
            "{disease} was seen on {trees} trees of this plot.",
            disease = capital(&disease.label),
        );
        (seen, of_disease(plot, &disease.id))
    };
    walk::seen_on_tools(plot).into_iter().map(told).collect()
}
